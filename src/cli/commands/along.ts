import { tableCsv } from '../../analysis/hold/exports/map-csv.ts';
import type { LineSweep, SweepAxis } from '../../analysis/types.ts';
import { nearest } from '../../design/nearest.ts';
import type { Design } from '../../design/types.ts';
import { linkSidesOf } from '../../design/wind.ts';
import { formatQuantity } from '../../units/format.ts';
import type { Command } from '../command.ts';
import { showProgress, tellFailure } from '../engine.ts';
import { outDirectory, writeTexts } from '../files.ts';
import { openEngine } from '../open-engine.ts';
import { type GivenOptions, numberOption } from '../options.ts';
import { readDesign, tellFaults } from '../read-design.ts';
import { table } from '../table.ts';
import { EXIT, jsonText, UsageError } from '../terminal.ts';

const AXES: readonly SweepAxis[] = ['gap', 'offsetX', 'offsetY', 'yaw', 'tiltX', 'tiltY'];

function axisOf(given: GivenOptions): SweepAxis {
  const text = given.values.get('axis')?.[0] ?? 'gap';
  const axis = AXES.find((known) => known === text);
  if (axis !== undefined) return axis;
  const meant = nearest(text, AXES);
  throw new UsageError(
    `Option --axis must be one of ${AXES.join(', ')}; received "${text.slice(0, 40)}".${meant === null ? '' : ` Did you mean ${meant}?`}`,
  );
}

/** Where a line starts and ends if nobody says: far enough to see the margin fall, near enough that nothing touches. */
function defaultRange(design: Design, axis: SweepAxis): readonly [number, number] {
  const gapMm = design.placement.gapMm;
  const { transmitter, receiver } = linkSidesOf(design);
  const halfMm = 1e3 * Math.max(receiver.winding.halfWidth, receiver.winding.halfHeight);
  switch (axis) {
    case 'gap':
      return [Math.max(0.1, gapMm / 3), Math.max(3 * gapMm, 15)];
    case 'offsetX':
    case 'offsetY': {
      const reach = Math.ceil(1e3 * Math.max(transmitter.winding.halfWidth, receiver.winding.halfWidth));
      return [-reach, reach];
    }
    case 'yaw':
      return [-90, 90];
    default: {
      // The tilt at which the receiver's rim has used up half the gap.
      const most = Math.floor((Math.atan(gapMm / 2 / halfMm) * 180) / Math.PI);
      return [-Math.min(Math.max(most, 1), 30), Math.min(Math.max(most, 1), 30)];
    }
  }
}

const LIMITS: Readonly<Record<SweepAxis, { low: number; high: number; unit: string }>> = {
  gap: { low: 0.05, high: 1000, unit: 'mm' },
  offsetX: { low: -1000, high: 1000, unit: 'mm' },
  offsetY: { low: -1000, high: 1000, unit: 'mm' },
  yaw: { low: -360, high: 360, unit: 'degrees' },
  tiltX: { low: -60, high: 60, unit: 'degrees' },
  tiltY: { low: -60, high: 60, unit: 'degrees' },
};

const unitOf = (axis: SweepAxis) => (LIMITS[axis].unit === 'mm' ? 'mm' : 'deg');

/** The columns of along.csv: name with unit, values. */
function columns(line: LineSweep): readonly (readonly [string, ArrayLike<number | string>])[] {
  return [
    [`${line.axis}_${unitOf(line.axis)}`, line.at],
    ['max_output_A', line.maxOutputA],
    ['margin_percent', line.marginPercent],
    ['margin_low_percent', line.marginLowPercent],
    ['margin_high_percent', line.marginHighPercent],
    ['coupling', line.coupling],
    ['mutual_inductance_H', line.mutualInductanceH],
    ['transmitter_inductance_H', line.transmitterInductanceH],
    ['receiver_inductance_H', line.receiverInductanceH],
    ['efficiency', line.efficiency],
    ['frequency_Hz', line.frequencyHz],
    ['state', line.states.map((state) => state ?? '')],
  ];
}

export function lineCsv(line: LineSweep): string {
  const parts = columns(line);
  const rows = Array.from(line.at, (_, i) => parts.map(([, values]) => values[i]));
  return tableCsv(
    parts.map(([name]) => name),
    rows,
  );
}

const NO_STATE =
  'transmitter and receiver would touch there, or come too close to be solved; solve with --set tells why.';

const whole = (value: number) => String(Math.round(value)).replace('-', '−');

function lineText(line: LineSweep, design: Design): string {
  const show = (value: number, unit: 'A' | '%' | '1' | 'mm' | 'deg', digits = 3) =>
    formatQuantity(value, unit, { space: ' ', digits, fixedUnit: true });
  const rows = Array.from(line.at, (at, i) => [
    show(at, unitOf(line.axis)),
    show(line.coupling[i], '1'),
    show(line.maxOutputA[i], 'A'),
    show(line.marginPercent[i], '%', 2),
    Number.isNaN(line.marginLowPercent[i])
      ? '–'
      : `${whole(line.marginLowPercent[i])} to ${whole(line.marginHighPercent[i])}`,
    line.states[i] ?? 'none',
  ]);
  const head = [line.axis, 'k', 'most', 'margin', 'band %', 'state'];
  const note = line.states.includes(null) ? `  none: ${NO_STATE}\n` : '';
  return `${design.title}: ${show(line.demandA, 'A')} asked for\n${table([head, ...rows], true)}\n${note}`;
}

/** Margin along a line. */
export const along: Command = async (given, terminal) => {
  const axis = axisOf(given);
  const givenFrom = numberOption(given, 'from', LIMITS[axis]);
  const givenTo = numberOption(given, 'to', LIMITS[axis]);
  const points = numberOption(given, 'points', { low: 2, high: 2001, whole: true }) ?? 33;
  const result = await readDesign(given);
  if (!result.ok) return tellFaults(result.faults, given, terminal);
  const range = defaultRange(result.design, axis);
  const from = givenFrom ?? range[0];
  const to = givenTo ?? range[1];
  if (!(from < to)) {
    const said = (value: number, by: number | null) =>
      `${Number(value.toPrecision(4))}${by === null ? ' by default' : ''}`;
    throw new UsageError(`Option --from (${said(from, givenFrom)}) must be less than --to (${said(to, givenTo)}).`);
  }
  const directory = outDirectory(given);
  const engine = openEngine();
  const outcome = await engine.sweep({ design: result.design, axis, from, to, points }, undefined, showProgress());
  engine.dispose();
  if (!outcome.ok) return tellFailure(outcome, given, terminal);
  const line = outcome.value;
  const document = `${jsonText({ unit: unitOf(axis), ...line, defaultsTaken: result.defaultsTaken })}\n`;
  if (directory !== undefined) {
    const written = writeTexts(directory, { 'along.csv': lineCsv(line), 'along.json': document });
    terminal.err(`Wrote ${written.join(', ')}\n`);
  }
  terminal.out(given.values.has('json') ? document : lineText(line, result.design));
  return EXIT.done;
};
