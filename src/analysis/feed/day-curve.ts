import type { CellDocument } from '../../design/types.ts';
import { cellOf, HOUR_S } from './cell.ts';
import { chargeTime } from './charge-time.ts';
import { type DayBalance, type DayInputs, dayBalance } from './day.ts';

/** One stretch of a day, in the order in which it is drawn: use, off, dock. */
export interface DayStretch {
  readonly kind: 'use' | 'off' | 'dock';
  readonly name: string;
  readonly fromH: number;
  readonly toH: number;
}

export interface DayCurve {
  readonly stretches: readonly DayStretch[];
  /** 0 to 24, `DAY_POINTS` of them. */
  readonly hours: Float64Array;
  /** Charge of the cell, 0..1 of its capacity; 0 once it is flat. */
  readonly charge: Float64Array;
}

export const DAY_POINTS = 193;
/** Nodes of the charging curve; between them it is taken as straight. */
const DOCK_NODES = 40;

/** The cell's charge from one morning to the next: the loads one after the other, then off, then on the dock. */
export function dayCurve(inputs: DayInputs): DayCurve {
  const balance = dayBalance(inputs);
  const stretches: DayStretch[] = [];
  let hour = 0;
  const add = (kind: DayStretch['kind'], name: string, length: number): void => {
    const to = Math.min(24, hour + length);
    if (to > hour) stretches.push({ kind, name, fromH: hour, toH: to });
    hour = to;
  };
  for (const use of balance.uses) add('use', use.name, Math.min(use.hours, 24 - inputs.dockHours - hour));
  add('off', 'off', 24 - inputs.dockHours - hour);
  add('dock', 'dock', inputs.dockHours);
  const hours = Float64Array.from({ length: DAY_POINTS }, (_, i) => (24 * i) / (DAY_POINTS - 1));
  return { stretches, hours, charge: chargeOver(inputs, balance, stretches, hours) };
}

function chargeOver(
  inputs: DayInputs,
  balance: DayBalance,
  stretches: readonly DayStretch[],
  hours: Float64Array,
): Float64Array {
  const { cell } = inputs;
  const out = new Float64Array(hours.length);
  const full = balance.eveningCharge + (balance.usedAh + balance.standbyAh) / cell.capacityAh;
  let charge = Math.min(1, Number.isFinite(full) ? full : 1);
  let i = 0;
  for (const stretch of stretches) {
    const length = stretch.toH - stretch.fromH;
    const at =
      stretch.kind === 'dock' ? dockCharge(inputs, cell, charge) : falling(charge, spent(stretch, balance, cell));
    for (; i < hours.length && hours[i] <= stretch.toH + 1e-9; i++)
      out[i] = at((hours[i] - stretch.fromH) / length, length);
    charge = at(1, length);
  }
  return out;
}

/** Share of the capacity that a stretch takes in an hour. */
function spent(stretch: DayStretch, balance: DayBalance, cell: CellDocument): number {
  if (stretch.kind === 'off') {
    return balance.hoursOff > 0 ? balance.standbyAh / balance.hoursOff / cell.capacityAh : 0;
  }
  const use = balance.uses.find((entry) => entry.name === stretch.name);
  return use ? use.cellA / cell.capacityAh : 0;
}

function falling(from: number, perHour: number): (part: number, length: number) => number {
  return (part, length) => (part === 0 ? from : Math.max(0, from - perHour * part * length));
}

function dockCharge(inputs: DayInputs, cell: CellDocument, from: number): (part: number, length: number) => number {
  const model = cellOf(cell);
  const whole = chargeTime(model, inputs.chargeA, from, inputs.limit);
  if (!(whole.totalS > 0) || !Number.isFinite(whole.totalS)) return () => from;
  const node = (n: number): number => from + ((whole.endCharge - from) * n) / DOCK_NODES;
  const at = Float64Array.from({ length: DOCK_NODES + 1 }, (_, n) =>
    n === DOCK_NODES ? whole.totalS : whole.totalS - chargeTime(model, inputs.chargeA, node(n), inputs.limit).totalS,
  );
  return (part, length) => {
    const seconds = part * length * HOUR_S;
    if (seconds >= whole.totalS) return whole.endCharge;
    let n = 0;
    while (n < DOCK_NODES - 1 && at[n + 1] < seconds) n++;
    const span = at[n + 1] - at[n];
    return node(n) + (span > 0 ? (seconds - at[n]) / span : 0) * (node(n + 1) - node(n));
  };
}
