import type { BoostDocument, CellDocument } from '../../design/types.ts';

/** Mean length of a month, days. */
const MONTH_DAYS = 365.25 / 12;

export interface Standby {
  readonly selfDischargeA: number;
  /** What the converter draws while the device is off, A. */
  readonly converterA: number;
  readonly drainA: number;
  /** From full until flat, days; Infinity without any drain. */
  readonly days: number;
}

/**
 * Drain of a device that is off and lies away from its dock.
 *
 * @param boost the converter between cell and loads; null: none
 * @param switchBefore where the switch stands: before the converter it draws nothing when off, after it its own current
 */
export function standbyOf(cell: CellDocument, boost: BoostDocument | null, switchBefore: boolean): Standby {
  const selfDischargeA = (cell.capacityAh * cell.selfDischargePercentPerMonth) / 100 / (MONTH_DAYS * 24);
  const converterA = boost !== null && !switchBefore ? boost.idleCurrentA : 0;
  const drainA = selfDischargeA + converterA;
  return { selfDischargeA, converterA, drainA, days: cell.capacityAh / drainA / 24 };
}
