import type { ChargerDocument } from '../../design/types.ts';
import type { HeatLimit } from './charge-time.ts';

/** A charger at one cell voltage. */
export interface ChargerPoint {
  /** Into the cell, A. */
  readonly chargeA: number;
  /** From what stands in front of it, A. */
  readonly inputA: number;
  readonly heatW: number;
  /** Its own temperature, C. */
  readonly temperatureC: number;
  /** Held back by its temperature. */
  readonly folded: boolean;
}

/** Heat at which a charger begins to fold back, W. */
function foldbackW(charger: ChargerDocument, aroundC: number): number {
  return Math.max(0, (charger.foldbackC - aroundC) / charger.resistanceKPerW);
}

/** What a linear charger's heat allows; null for a switching one, whose heat is small and which is not followed. */
export function heatLimitOf(charger: ChargerDocument, inputV: number, aroundC: number): HeatLimit | null {
  return charger.topology === 'linear' ? { inputV, powerW: foldbackW(charger, aroundC) } : null;
}

/**
 * A charger that feeds a cell: linear, heat (Vin - Vcell) I, current on both sides the same; switching, power over its
 * efficiency.
 *
 * @param currentA wanted into the cell, at most the set current, A. @param cellV at the cell's terminals, V.
 * @param aroundC temperature around the charger, C.
 *
 * Source: power balance. Fold-back at a fixed temperature: common practice, no source.
 */
export function chargerPoint(
  charger: ChargerDocument,
  currentA: number,
  inputV: number,
  cellV: number,
  aroundC: number,
): ChargerPoint {
  const wanted = Math.max(0, Math.min(currentA, charger.setCurrentA));
  const linear = charger.topology === 'linear';
  const perAmpere = linear ? Math.max(0, inputV - cellV) : cellV * (1 / charger.efficiency - 1);
  const allowed = perAmpere > 0 ? foldbackW(charger, aroundC) / perAmpere : Number.POSITIVE_INFINITY;
  // A linear charger cannot push current uphill.
  const chargeA = linear && inputV <= cellV ? 0 : Math.min(wanted, allowed);
  const heatW = perAmpere * chargeA;
  return {
    chargeA,
    inputA: linear ? chargeA : (chargeA * cellV) / (charger.efficiency * inputV),
    heatW,
    temperatureC: aroundC + charger.resistanceKPerW * heatW,
    folded: allowed < wanted,
  };
}

/** Current into the cell that an input current allows, A. */
export function chargeFromInputA(charger: ChargerDocument, inputA: number, inputV: number, cellV: number): number {
  return charger.topology === 'linear' ? inputA : (inputA * charger.efficiency * inputV) / cellV;
}
