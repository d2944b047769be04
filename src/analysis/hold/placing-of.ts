/** The scatter of casual placements that a design states. */
import type { Design } from '../../design/types.ts';
import type { Placing } from './placements.ts';

const RADIANS = Math.PI / 180;

/** In mm and rad about the resting place. A list is taken as it stands. */
export function placingOf({ holding }: Pick<Design, 'holding'>): Placing {
  const { placing } = holding;
  switch (placing.kind) {
    case 'gaussian':
      return {
        kind: 'gaussian',
        sigmaXMm: placing.sigmaXMm,
        sigmaYMm: placing.sigmaYMm,
        sigmaYaw: placing.sigmaYawDeg * RADIANS,
      };
    case 'disc':
      return { kind: 'disc', radiusMm: placing.radiusMm, halfYaw: placing.halfYawDeg * RADIANS };
    case 'rectangle':
      return {
        kind: 'rectangle',
        halfXMm: placing.halfXMm,
        halfYMm: placing.halfYMm,
        halfYaw: placing.halfYawDeg * RADIANS,
      };
    case 'list': {
      const { placements } = placing;
      return {
        kind: 'list',
        xMm: Float64Array.from(placements, ({ xMm }) => xMm),
        yMm: Float64Array.from(placements, ({ yMm }) => yMm),
        yaw: Float64Array.from(placements, ({ yawDeg }) => yawDeg * RADIANS),
      };
    }
  }
}

/** Standard deviations of a bell that count as its widest turn. */
const WIDEST = 2.5;

/** The widest turn of the placements, rad: what the maps must cover. */
export function widestTurn(placing: Placing): number {
  if (placing.kind === 'gaussian') return WIDEST * placing.sigmaYaw;
  if (placing.kind !== 'list') return placing.halfYaw;
  return placing.yaw.reduce((most, yaw) => Math.max(most, Math.abs(yaw)), 0);
}
