import type { TemplateResult } from 'lit';
import type { Design } from '../design/types.ts';
import { moveReceiver } from '../state/commands/move-receiver.ts';
import { setGap } from '../state/commands/set-gap.ts';
import { turnReceiver } from '../state/commands/turn-receiver.ts';
import type { Session } from '../state/session.ts';
import { type DimensionSpec, dimension } from './dimension.ts';

export type PoseFieldId = 'offsetX' | 'offsetY' | 'gap' | 'yaw' | 'tiltX' | 'tiltY';

/** One number of the receiver's place. */
export function poseField(
  session: Session,
  design: Design,
  id: PoseFieldId,
  where: Pick<DimensionSpec, 'slot' | 'anchor' | 'caption' | 'onDrawing' | 'side'>,
): TemplateResult {
  const { store } = session;
  const { offsetXMm: xMm, offsetYMm: yMm, gapMm, yawDeg, tiltXDeg, tiltYDeg } = design.placement;
  const base = { ...where, term: id };
  switch (id) {
    case 'offsetX':
      return dimension(session, {
        ...base,
        unit: 'mm',
        path: 'placement.offsetXMm',
        value: xMm,
        commit: (value) => store.run(moveReceiver, { xMm: value, yMm }),
      });
    case 'offsetY':
      return dimension(session, {
        ...base,
        unit: 'mm',
        path: 'placement.offsetYMm',
        value: yMm,
        commit: (value) => store.run(moveReceiver, { xMm, yMm: value }),
      });
    case 'gap':
      return dimension(session, {
        ...base,
        unit: 'mm',
        path: 'placement.gapMm',
        value: gapMm,
        // With a stack a gap is made by changing layers, which cannot make one that is no gap.
        min: 0.05,
        max: 1000,
        commit: (value) => store.run(setGap, { gapMm: value }),
      });
    case 'yaw':
      return dimension(session, {
        ...base,
        unit: 'deg',
        path: 'placement.yawDeg',
        value: yawDeg,
        commit: (value) => store.run(turnReceiver, { yawDeg: value }),
      });
    case 'tiltX':
      return dimension(session, {
        ...base,
        unit: 'deg',
        path: 'placement.tiltXDeg',
        value: tiltXDeg,
        commit: (value) => store.run(turnReceiver, { tiltXDeg: value }),
      });
    case 'tiltY':
      return dimension(session, {
        ...base,
        unit: 'deg',
        path: 'placement.tiltYDeg',
        value: tiltYDeg,
        commit: (value) => store.run(turnReceiver, { tiltYDeg: value }),
      });
  }
}
