import { duration, type Report } from './table.ts';

/** A time grew, or an error, by more than this factor: worth a look. */
const SLOWER = 1.5;
const WORSE = 3;

/** Lines that say how each row of `current` stands to the baseline, and how many are slower or less exact. */
export function compare(
  baseline: Report,
  current: Report,
): { readonly lines: readonly string[]; readonly worse: number } {
  const lines: string[] = [];
  let worse = 0;
  for (const row of current.rows) {
    const before = baseline.rows.find((other) => other.group === row.group && other.name === row.name);
    if (!before) {
      lines.push(`new      ${row.group}: ${row.name}`);
      continue;
    }
    const factor = row.time.min / before.time.min;
    const lost = (row.error ?? 0) > WORSE * (before.error ?? 0) + 1e-15;
    const slow = factor > SLOWER;
    if (slow || lost) worse++;
    const mark = lost ? 'inexact' : slow ? 'slower ' : factor < 1 / SLOWER ? 'faster ' : 'same   ';
    const errors =
      row.error === null || before.error === null
        ? ''
        : `, error ${before.error.toExponential(1)} -> ${row.error.toExponential(1)}`;
    lines.push(
      `${mark}  ${row.group}: ${row.name}: ${duration(before.time.min)} -> ${duration(row.time.min)} (${factor.toFixed(2)})${errors}`,
    );
  }
  for (const row of baseline.rows) {
    if (!current.rows.some((other) => other.group === row.group && other.name === row.name)) {
      lines.push(`gone     ${row.group}: ${row.name}`);
    }
  }
  return { lines, worse };
}
