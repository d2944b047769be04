/** Forces over offset and turn as tables, for pictures and files. */
import type { SidewaysForce } from '../../physics/magnet/pair-profile.ts';
import { checkBody, GRAVITY, type HoldingBody } from './holding.ts';

/** Forces over the offset in one direction, for the picture and the table. SI in, mm and N out. */
export interface ForceTable {
  readonly offsetMm: Float64Array;
  readonly pullN: Float64Array;
  /** Towards home, N. */
  readonly restoringN: Float64Array;
  /** Friction that must be overcome there, N. */
  readonly frictionN: Float64Array;
  /** Tipping torque about the middle of the magnets, N mm: positive presses down the side it was moved to. */
  readonly tippingNmm: Float64Array;
}

/** Tipping torque at an offset in m about the horizontal axis across the direction (cosine, sine), N m. */
export type TippingAt = (x: number, y: number, c: number, s: number) => number;

/**
 * Forces from home outwards along `direction` (rad from +x) to `reach` (m), `points` values.
 * @param tipping null: not asked, zeros.
 */
export function forceTable(
  force: SidewaysForce,
  body: HoldingBody,
  direction: number,
  reach: number,
  points: number,
  tipping: TippingAt | null = null,
): ForceTable {
  checkBody(body);
  const c = Math.cos(direction);
  const s = Math.sin(direction);
  const across = body.massKg * GRAVITY * Math.cos(body.slope);
  const f = new Float64Array(4);
  const table: ForceTable = {
    offsetMm: new Float64Array(points),
    pullN: new Float64Array(points),
    restoringN: new Float64Array(points),
    frictionN: new Float64Array(points),
    tippingNmm: new Float64Array(points),
  };
  for (let k = 0; k < points; k += 1) {
    const r = (reach * k) / (points - 1);
    force(r * c, r * s, 0, f);
    table.offsetMm[k] = r * 1e3;
    table.pullN[k] = f[2];
    table.restoringN[k] = 0 - (f[0] * c + f[1] * s);
    table.frictionN[k] = body.friction * Math.max(0, across + f[2]);
    table.tippingNmm[k] = tipping ? 1e3 * tipping(r * c, r * s, c, s) : 0;
  }
  return table;
}

/** Torque of the magnets against a turn at home, and friction's against it. rad in, degrees and N mm out. */
export interface TurnTable {
  readonly turnDeg: Float64Array;
  /** Towards no turn, N mm. */
  readonly restoringNmm: Float64Array;
  readonly frictionNmm: Float64Array;
}

/** Torques from no turn to `reach` (rad), `points` values; friction at its mean radius. */
export function turnTable(force: SidewaysForce, body: HoldingBody, reach: number, points: number): TurnTable {
  checkBody(body);
  const across = body.massKg * GRAVITY * Math.cos(body.slope);
  const f = new Float64Array(4);
  const table: TurnTable = {
    turnDeg: new Float64Array(points),
    restoringNmm: new Float64Array(points),
    frictionNmm: new Float64Array(points),
  };
  for (let k = 0; k < points; k += 1) {
    const turn = (reach * k) / (points - 1);
    force(0, 0, turn, f);
    table.turnDeg[k] = (turn * 180) / Math.PI;
    table.restoringNmm[k] = 0 - 1e3 * f[3];
    table.frictionNmm[k] = 1e3 * body.friction * Math.max(0, across + f[2]) * body.contactRadius;
  }
  return table;
}
