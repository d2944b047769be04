import type { TemplateResult } from 'lit';
import type { Design } from '../design/types.ts';
import type { Side } from '../scene/types.ts';
import { type CoilQuantity, coilPath, setCoil } from '../state/commands/set-coil.ts';
import type { Session } from '../state/session.ts';
import { dimension } from './dimension.ts';
import type { TermId } from './labels.ts';

interface CoilField {
  readonly anchor: string;
  readonly quantity: CoilQuantity;
  readonly term: TermId;
  readonly value: number;
}

/** The sizes that a coil's outline has, each with the handle it belongs to. */
export function coilQuantities(design: Design, side: Side): readonly CoilField[] {
  const { outline, turns } = design[side].coil;
  const fields: CoilField[] = [];
  const add = (handle: string, quantity: CoilQuantity, term: TermId, value: number): void => {
    fields.push({ anchor: `${side}${handle}`, quantity, term, value });
  };
  if (outline.shape === 'circle') {
    add('Outer', 'outerDiameterMm', 'outerDiameter', outline.outerDiameterMm);
    add('Inner', 'innerDiameterMm', 'innerDiameter', outline.innerDiameterMm);
  } else if (outline.shape !== 'path') {
    add('OuterWidth', 'outerWidthMm', 'outerWidth', outline.outerWidthMm);
    add('OuterHeight', 'outerHeightMm', 'outerHeight', outline.outerHeightMm);
    add('InnerWidth', 'innerWidthMm', 'innerWidth', outline.innerWidthMm);
    add('InnerHeight', 'innerHeightMm', 'innerHeight', outline.innerHeightMm);
    if (outline.shape === 'roundedRectangle') {
      add('CornerRadius', 'outerCornerRadiusMm', 'cornerRadius', outline.outerCornerRadiusMm);
    }
  }
  add('Turns', 'turns', 'turns', turns);
  return fields;
}

/** Signs before a dimension, as on any technical drawing. */
const SIGNS: Partial<Record<CoilQuantity, string>> = Object.freeze({
  outerDiameterMm: 'ø',
  innerDiameterMm: 'ø',
  outerCornerRadiusMm: 'R',
});

/** Numbers of one coil, on the drawing beside their handles, or in a row where there are none. */
export function coilFields(session: Session, design: Design, side: Side, anchored: boolean): TemplateResult[] {
  return coilQuantities(design, side).map(({ anchor, quantity, term, value }) =>
    dimension(session, {
      ...(anchored ? { anchor, onDrawing: true, caption: SIGNS[quantity] ?? '' } : {}),
      side,
      term,
      of: side,
      unit: quantity === 'turns' ? 'turns' : 'mm',
      path: coilPath(side, quantity),
      value,
      commit: (next) => session.store.run(setCoil, { side, quantity, value: next }),
    }),
  );
}
