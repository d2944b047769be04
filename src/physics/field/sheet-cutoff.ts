import { piecePoint } from '../coil/piece-geometry.ts';
import type { Pose, Winding } from '../coil/types.ts';
import { MU0 } from '../constants.ts';
import type { SideModel } from './side-model.ts';
import type { GridChange } from './types.ts';

/**
 * What the part of a large sheet that is not modelled may do to the inductances, H. As if the coils were dipoles in air:
 * with ferrite before the sheet less comes there, so it is an upper bound.
 */
export function sheetCutoff(one: SideModel, two: SideModel, pose: Pose): GridChange {
  const moments = [one, two].map(({ side }) => turnsArea(side.winding)) as [number, number];
  const offset = Math.hypot(pose.x, pose.y);
  const sum = { dL1: 0, dL2: 0, dM: 0 };
  for (const [own, ownKey, farKey, m, far] of [
    [one, 'dL1', 'dL2', moments[0], moments[1]],
    [two, 'dL2', 'dL1', moments[1], moments[0]],
  ] as const) {
    const radius = own.cutOff;
    if (radius === null) continue;
    // A coil off centre comes nearer to the end on one side.
    const nearer = Math.max(radius - offset, radius / 3);
    const depth = own.sheetDepth;
    const away = depth + Math.abs(pose.z);
    sum[ownKey] += beyond(m, m, depth, depth, radius);
    sum[farKey] += beyond(far, far, away, away, nearer);
    sum.dM += beyond(m, far, depth, away, nearer);
  }
  return sum;
}

/**
 * Mutual inductance of two dipoles of turns-areas m1 and m2 at heights h1 and h2 over a sheet by way of the currents beyond a
 * radius: the first drives 3 m1 h1 r / (2 pi (r2 + h1^2)^(5/2)) per metre, of which a ring sends
 * mu0 r^2 m2 / (2 (r2 + h2^2)^(3/2)) through the second.
 */
function beyond(m1: number, m2: number, h1: number, h2: number, radius: number): number {
  // r = radius / t; the integrand is smooth on 0..1 and vanishes at 0: Simpson's rule.
  const at = (t: number): number => {
    if (t === 0) return 0;
    const r2 = (radius / t) ** 2;
    return (r2 * r2) / (t * (r2 + h1 * h1) ** 2.5 * (r2 + h2 * h2) ** 1.5);
  };
  const steps = 16;
  let sum = 0;
  for (let i = 0; i <= steps; i++) sum += at(i / steps) * (i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2);
  return ((MU0 * 3 * h1 * m1 * m2) / (4 * Math.PI)) * (sum / (3 * steps));
}

const CHORDS = 24;

/** Sum of the areas of all turns, m2, by chords. */
function turnsArea({ turns }: Winding): number {
  let sum = 0;
  for (const { pieces, weight } of turns) {
    for (const piece of pieces) {
      for (let k = 0; k < CHORDS; k++) {
        const [x0, y0] = piecePoint(piece, k / CHORDS);
        const [x1, y1] = piecePoint(piece, (k + 1) / CHORDS);
        sum += (weight * (x0 * y1 - x1 * y0)) / 2;
      }
    }
  }
  return Math.abs(sum);
}
