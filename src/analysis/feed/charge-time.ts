import { boostInputA } from '../../design/demand.ts';
import { gaussLegendre } from '../../numerics/gauss-legendre.ts';
import { type Cell, chargeAtRest, restVoltage } from './cell.ts';

/** What a linear charger may turn into heat before it folds its current back. */
export interface HeatLimit {
  /** In front of the charger, V. */
  readonly inputV: number;
  /** W */
  readonly powerW: number;
}

export interface ChargeTime {
  /** Held back by the charger's heat, s. */
  readonly foldedS: number;
  readonly constantCurrentS: number;
  readonly constantVoltageS: number;
  /** Infinity where no current flows. */
  readonly totalS: number;
  /** Charge at which the current falls to the cut-off, 0..1. */
  readonly endCharge: number;
  /** Current at the start, A. */
  readonly startA: number;
}

/** Nodes for the folded part of each piece of the curve: its integrand is smooth, and 12 leave less than 1e-10. */
const RULE = gaussLegendre(12);

/**
 * Time to charge a cell by constant current, then constant voltage, from a given charge to the cut-off.
 *
 * @param currentA set current, A; 0 or less: never. @param fromCharge 0..1
 * @param limit a linear charger's heat; null: it never folds back
 *
 * Method: the current is the least of three: set; what the heat limit lets through, (Vin - E - R I) I = P; what the held
 * voltage drives, (Vcv - E) / R. As the voltage at rest E rises with charge the regimes follow each other in that order.
 * On a straight piece of the curve: t = C dq / I, and t = (R C / a) ln(I1 / I2) with a the slope in V over the whole
 * charge; the folded part by quadrature. Source: textbook first-order circuit (from memory).
 * Accuracy: reference-cases/chain, charge-time; a brute-force integration agrees to 1e-6 (seeded).
 */
export function chargeTime(cell: Cell, currentA: number, fromCharge = 0, limit: HeatLimit | null = null): ChargeTime {
  const { capacity, chargeV, resistance, cutoffA } = cell;
  // A charger that never gives more than the cut-off ends when the held voltage is reached.
  const heldA = limit === null ? currentA : Math.min(currentA, limit.powerW / Math.max(limit.inputV - chargeV, 1e-12));
  const endCharge = chargeAtRest(cell, chargeV - Math.min(cutoffA, heldA) * resistance);
  const folded = limit === null ? Number.POSITIVE_INFINITY : foldedA(cell, limit, fromCharge);
  const driven = resistance === 0 ? Number.POSITIVE_INFINITY : (chargeV - restVoltage(cell, fromCharge)) / resistance;
  const startA = Math.max(0, Math.min(currentA, folded, driven));
  const none = { foldedS: 0, constantCurrentS: 0, constantVoltageS: 0, endCharge, startA };
  if (fromCharge >= endCharge) return { ...none, totalS: 0 };
  if (!(currentA > 0) || folded <= 0 || (limit !== null && limit.inputV <= chargeV))
    return { ...none, endCharge: fromCharge, totalS: Number.POSITIVE_INFINITY };

  const foldEndV = limit === null ? Number.NEGATIVE_INFINITY : foldEnd(cell, currentA, limit);
  const holdV = Math.max(foldEndV, chargeV - currentA * resistance);
  const between = (charge: number) => Math.min(Math.max(charge, fromCharge), endCharge);
  const free = between(chargeAtRest(cell, foldEndV));
  const hold = Math.max(free, between(chargeAtRest(cell, holdV)));
  const foldedS = limit === null ? 0 : foldedTime(cell, limit, fromCharge, free);
  const constantCurrentS = (capacity * (hold - free)) / currentA;
  const constantVoltageS = heldTime(cell, hold, endCharge);
  return {
    foldedS,
    constantCurrentS,
    constantVoltageS,
    totalS: foldedS + constantCurrentS + constantVoltageS,
    endCharge,
    startA,
  };
}

/** Voltage at rest from which the heat no longer holds the current back, V. */
function foldEnd({ chargeV, resistance }: Cell, currentA: number, { inputV, powerW }: HeatLimit): number {
  const end =
    currentA * currentA * resistance <= powerW
      ? inputV - currentA * resistance - powerW / currentA
      : inputV - 2 * Math.sqrt(resistance * powerW);
  // Where the held voltage takes over while the charger still folds back.
  const over = inputV - chargeV;
  return over * over >= resistance * powerW ? Math.min(end, chargeV - (resistance * powerW) / over) : end;
}

/** Current that the heat limit lets through at a charge, A: the smaller root of (Vin - E - R I) I = P. */
function foldedA(cell: Cell, limit: HeatLimit, charge: number): number {
  const over = limit.inputV - restVoltage(cell, charge);
  return over > 0 ? boostInputA(over, cell.resistance, limit.powerW) : 0;
}

function foldedTime(cell: Cell, limit: HeatLimit, from: number, to: number): number {
  let sum = 0;
  pieces(cell, from, to, (a, b) => {
    for (let n = 0; n < RULE.nodes.length; n++) {
      const at = (a + b + (b - a) * RULE.nodes[n]) / 2;
      sum += (RULE.weights[n] * (b - a)) / 2 / foldedA(cell, limit, at);
    }
  });
  return cell.capacity * sum;
}

/** Time under the held voltage, s; 0 where the cell has no resistance: it then fills at once. */
function heldTime(cell: Cell, from: number, to: number): number {
  const { capacity, chargeV, resistance } = cell;
  if (resistance === 0) return 0;
  let sum = 0;
  pieces(cell, from, to, (a, b) => {
    const first = (chargeV - restVoltage(cell, a)) / resistance;
    const last = (chargeV - restVoltage(cell, b)) / resistance;
    const x = first / last - 1;
    // ln(1 + x) / x, also where the curve is flat.
    sum += ((b - a) / last) * (Math.abs(x) < 1e-9 ? 1 - x / 2 : Math.log1p(x) / x);
  });
  return capacity * sum;
}

/** The straight pieces of the curve between two charges. */
function pieces(cell: Cell, from: number, to: number, visit: (a: number, b: number) => void): void {
  const { charge } = cell;
  for (let i = 1; i < charge.length; i++) {
    const a = Math.max(from, charge[i - 1]);
    const b = Math.min(to, charge[i]);
    if (b > a) visit(a, b);
  }
}

/**
 * Charge reached after a time on the charger, 0..1, never above the end of charge.
 *
 * Method: bisection on `chargeTime`, whose remainder falls as the start rises.
 */
export function chargeAfter(
  cell: Cell,
  currentA: number,
  fromCharge: number,
  seconds: number,
  limit: HeatLimit | null = null,
): number {
  const whole = chargeTime(cell, currentA, fromCharge, limit);
  if (whole.totalS <= seconds) return Math.max(fromCharge, whole.endCharge);
  if (!Number.isFinite(whole.totalS)) return fromCharge;
  const left = whole.totalS - seconds;
  let low = fromCharge;
  let high = whole.endCharge;
  for (let k = 0; k < 60; k++) {
    const middle = (low + high) / 2;
    if (chargeTime(cell, currentA, middle, limit).totalS > left) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
