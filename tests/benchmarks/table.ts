import type { Timing } from './timing.ts';

/** One line of the result: always a time together with what it is worth. */
export interface Row {
  readonly group: string;
  readonly name: string;
  /** Milliseconds. */
  readonly time: Timing;
  /** Worst error found, as a share of the value at the centre; null where the row computes nothing (a machine limit). */
  readonly error: number | null;
  /** How the error was found, or what was extrapolated. */
  readonly note: string;
  /** Named ratios: this row's advantage over another of the same run, or its distance from a limit. */
  readonly ratios: Readonly<Record<string, number>>;
}

/** A requirement and whether this run meets it. */
export interface Target {
  readonly name: string;
  readonly wanted: string;
  readonly measured: string;
  readonly met: boolean;
}

export interface Report {
  readonly machine: { readonly node: string; readonly processor: string; readonly load: number };
  readonly rows: readonly Row[];
  readonly targets: readonly Target[];
}

export function duration(milliseconds: number): string {
  const [value, unit] =
    milliseconds >= 60_000
      ? [milliseconds / 60_000, 'min']
      : milliseconds >= 1000
        ? [milliseconds / 1000, 's']
        : milliseconds >= 1
          ? [milliseconds, 'ms']
          : milliseconds >= 1e-3
            ? [1e3 * milliseconds, 'us']
            : [1e6 * milliseconds, 'ns'];
  return `${value.toPrecision(3)} ${unit}`;
}

const times = (value: number): string => (value >= 100 ? Math.round(value).toString() : value.toPrecision(3));

export function print({ machine, rows, targets }: Report): string {
  const lines = [
    `${machine.processor}, Node ${machine.node}, load ${machine.load.toFixed(1)}. Processor time: best (median); ratios from the best.`,
  ];
  const cells = rows.map((row) => [
    row.name,
    `${duration(row.time.min)} (${duration(row.time.median)})`,
    row.error === null ? '-' : row.error.toExponential(1),
    Object.entries(row.ratios)
      .map(([name, value]) => `${times(value)}x ${name}`)
      .join(', '),
    row.note,
  ]);
  const heads = ['', 'time', 'error', 'ratio', 'note'];
  const widths = heads.slice(0, 4).map((head, k) => Math.max(head.length, ...cells.map((cell) => cell[k]!.length)));
  const line = (cell: readonly string[]) =>
    cell
      .map((text, k) => text.padEnd(widths[k] ?? 0))
      .join('  ')
      .trimEnd();
  let group = '';
  rows.forEach((row, k) => {
    if (row.group !== group) {
      group = row.group;
      lines.push('', group, line(heads));
    }
    lines.push(line(cells[k]!));
  });
  if (targets.length > 0) lines.push('', 'targets', printTargets(targets));
  return lines.join('\n');
}

export function printTargets(targets: readonly Target[]): string {
  return targets
    .map(({ name, wanted, measured, met }) => `${met ? 'met   ' : 'MISSED'}  ${name}: ${measured} (wanted ${wanted})`)
    .join('\n');
}
