import { tableCsv } from '../analysis/hold/exports/map-csv.ts';
import type { Sensitivity } from '../analysis/sensitivity/sensitivity.ts';
import type { SupplyChoice } from '../analysis/supply/supply-choice.ts';

/** The curves as one table; each row names its supply. */
export function supplyCsv({ options }: SupplyChoice): string {
  const rows = options.flatMap(({ curve }) =>
    Array.from(curve.loadA, (load, i) => [curve.supplyV, load, curve.efficiency[i], curve.states[i] ?? '']),
  );
  return tableCsv(['supply_V', 'load_A', 'efficiency', 'state'], rows);
}

/** What moves the margin as a table; shares of the largest current. */
export function sensitivityCsv({ rows }: Sensitivity): string {
  return tableCsv(
    ['input', 'path', 'tolerance', 'change_at_upper_end', 'change_at_lower_end', 'change_for_one_percent_more'],
    rows.map(({ name, path, tolerance, up, down, perPercent }) => [
      name,
      path,
      tolerance ?? '',
      up,
      down,
      Number.isFinite(perPercent) ? perPercent : '',
    ]),
  );
}
