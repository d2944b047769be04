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

/** Says so where placements are turned by more than the maps reach; else nothing. @param most of the maps, rad */
export function turnNote(placing: Placing, most: number): string | null {
  if (widestTurn(placing) <= most * (1 + 1e-9)) return null;
  const degrees = Math.round(most / RADIANS);
  if (placing.kind !== 'list')
    return `Placements turned by more than ${degrees} degrees are judged as if turned by ${degrees}.`;
  const count = placing.yaw.reduce((sum, yaw) => sum + (Math.abs(yaw) > most ? 1 : 0), 0);
  return `${count} of ${placing.yaw.length} placements of the list are turned by more than ${degrees} degrees and judged as if turned by ${degrees}.`;
}
