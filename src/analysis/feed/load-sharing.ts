import type { Cell } from './cell.ts';
import { chargeTime, type HeatLimit } from './charge-time.ts';

/**
 * What load sharing leaves for the cell, A: min(Iset, Imax - Isys), never below 0. The loads come first.
 *
 * @param setA charge current set. @param maxA what the link gives at this pose. @param systemA what the loads draw.
 */
export function sharedChargeA(setA: number, maxA: number, systemA: number): number {
  return Math.max(0, Math.min(setA, maxA - systemA));
}

export interface ChargeMapInputs {
  readonly cell: Cell;
  readonly setA: number;
  readonly systemA: number;
  /** Current into the cell for one ampere of the link's. */
  readonly gain: number;
  readonly limit: HeatLimit | null;
}

/**
 * Charge time from empty at every pose of a map, h; Infinity where nothing is left for the cell, NaN where the map has no
 * number.
 *
 * @param maxOutputA largest current at each pose, A. @param out filled and returned.
 */
export function chargeTimeOverMap(
  maxOutputA: Float64Array,
  inputs: ChargeMapInputs,
  out: Float64Array = new Float64Array(maxOutputA.length),
): Float64Array {
  const { cell, setA, systemA, gain, limit } = inputs;
  const full = chargeTime(cell, setA, 0, limit).totalS / 3600;
  for (let i = 0; i < maxOutputA.length; i++) {
    const max = maxOutputA[i];
    if (Number.isNaN(max)) out[i] = Number.NaN;
    else {
      const current = gain * sharedChargeA(setA / gain, max, systemA);
      // Where the link has enough the map is flat, and need not be worked out again.
      out[i] = current >= setA ? full : chargeTime(cell, current, 0, limit).totalS / 3600;
    }
  }
  return out;
}
