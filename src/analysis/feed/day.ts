import type { BoostDocument, CellDocument, LoadDocument } from '../../design/types.ts';
import { boostPoint } from './boost.ts';
import { cellOf, HOUR_S } from './cell.ts';
import { chargeAfter, chargeTime, type HeatLimit } from './charge-time.ts';
import { standbyOf } from './standby.ts';

/** One load off the dock. */
export interface AwayUse {
  readonly name: string;
  /** From the cell, A; Infinity where the converter collapses. */
  readonly cellA: number;
  readonly hours: number;
  readonly usedAh: number;
  /** From a full cell until flat with this load alone, h. */
  readonly runtimeH: number;
}

export interface DayInputs {
  readonly cell: CellDocument;
  /** Between cell and loads off the dock; null: they run from the cell directly. */
  readonly boost: BoostDocument | null;
  readonly loads: readonly LoadDocument[];
  readonly dockHours: number;
  /** Into the cell while docked, A. */
  readonly chargeA: number;
  readonly limit: HeatLimit | null;
}

export interface DayBalance {
  readonly uses: readonly AwayUse[];
  readonly hoursUsed: number;
  readonly hoursOff: number;
  readonly usedAh: number;
  /** Lost while the device is off, Ah. */
  readonly standbyAh: number;
  /** What the hours on the dock put back at most, starting from what the day leaves, Ah. */
  readonly restoredAh: number;
  /** On the dock until the day is made up for, h; Infinity where it never is. */
  readonly neededHours: number;
  /** Charge left in the evening, 0..1 of the capacity; below 0: the cell does not last the day. */
  readonly eveningCharge: number;
  readonly verdict: 'lasts' | 'flatDuringDay' | 'losesEachDay';
  /** Days until flat where each loses some; Infinity where the dock makes up for all. */
  readonly daysUntilFlat: number;
}

/** Current that a load off the dock draws from the cell at its voltage at rest, A. */
export function awayCellA(load: LoadDocument, cell: CellDocument, boost: BoostDocument | null): number {
  const watts = load.currentA * load.atV;
  const point = boostPoint(cell.voltageV, cell.resistanceOhm, watts, boost?.efficiency ?? 1);
  return point.inputA + (boost?.idleCurrentA ?? 0);
}

/**
 * A day of use against the hours on the dock. The cell starts the day full, is used for each load's hours, loses its
 * standby drain in the hours left over, and then goes on the dock. Currents are taken at the cell's voltage at rest.
 */
export function dayBalance(inputs: DayInputs): DayBalance {
  const { cell, boost, loads, dockHours, chargeA, limit } = inputs;
  const model = cellOf(cell);
  const full = chargeTime(model, Math.max(chargeA, cell.cutoffA), 0, limit).endCharge;
  const fullAh = cell.capacityAh * (full > 0 ? full : 1);
  const uses = loads
    .filter((load) => load.kind !== 'peak' && load.kind !== 'charging')
    .map((load): AwayUse => {
      const cellA = awayCellA(load, cell, boost);
      const usedAh = load.hoursPerDay > 0 ? cellA * load.hoursPerDay : 0;
      return {
        name: load.name,
        cellA,
        hours: load.hoursPerDay,
        usedAh,
        runtimeH: cellA > 0 ? fullAh / cellA : Number.POSITIVE_INFINITY,
      };
    });
  const hoursUsed = uses.reduce((sum, use) => sum + use.hours, 0);
  const hoursOff = Math.max(0, 24 - dockHours - hoursUsed);
  const standbyAh = standbyOf(cell, boost, boost?.switchBefore ?? true).drainA * hoursOff;
  const usedAh = uses.reduce((sum, use) => sum + use.usedAh, 0);
  const eveningCharge = (fullAh - usedAh - standbyAh) / cell.capacityAh;
  const start = Math.max(0, eveningCharge);
  const neededHours = chargeTime(model, chargeA, start, limit).totalS / HOUR_S;
  const reached = chargeAfter(model, chargeA, start, dockHours * HOUR_S, limit);
  const restoredAh = Math.max(0, reached - start) * cell.capacityAh;
  const lost = usedAh + standbyAh - restoredAh;
  const makesUp = eveningCharge >= 0 && neededHours <= dockHours;
  return {
    uses,
    hoursUsed,
    hoursOff,
    usedAh,
    standbyAh,
    restoredAh,
    neededHours,
    eveningCharge,
    verdict: eveningCharge < 0 ? 'flatDuringDay' : makesUp ? 'lasts' : 'losesEachDay',
    daysUntilFlat: makesUp || !(lost > 0) ? Number.POSITIVE_INFINITY : fullAh / lost,
  };
}
