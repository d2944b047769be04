import { fitRests } from '../../analysis/prove/answer-words.ts';
import { benchSheets } from '../../analysis/prove/bench-sheet.ts';
import { withChanges } from '../../analysis/prove/design-changes.ts';
import type { FitReport, FittedValue } from '../../analysis/prove/fit-report.ts';
import type { Quantity } from '../../analysis/prove/meter-accuracy.ts';
import { worthOf } from '../../analysis/prove/reading-worth.ts';
import { parseReadings, rowFaultLine } from '../../analysis/prove/readings-table.ts';
import type { OffsetMap } from '../../analysis/types.ts';
import { documentAsGiven, documentOf, parseDesign } from '../../design/resolve.ts';
import type { Design } from '../../design/types.ts';
import { formatInBand, formatQuantity } from '../../units/format.ts';
import type { UnitName } from '../../units/unit-table.ts';
import type { Command } from '../command.ts';
import { showProgress, tellFailure } from '../engine.ts';
import { outDirectory, readText, writeTexts } from '../files.ts';
import { openEngine } from '../open-engine.ts';
import { type GivenOptions, numberOption } from '../options.ts';
import { FAULTS_SHOWN, readDesign, tellFaults } from '../read-design.ts';
import { table } from '../table.ts';
import { EXIT, jsonText, type Terminal } from '../terminal.ts';

const show = (value: number, unit: UnitName, digits = 4): string =>
  formatQuantity(value, unit, { space: ' ', digits, fixedUnit: true });

const UNITS: Readonly<Record<Quantity, UnitName>> = Object.freeze({
  supplyA: 'A',
  frequencyHz: 'Hz',
  rectifiedV: 'V',
  outputV: 'V',
  receiverC: 'degC',
  transmitterC: 'degC',
});

const WORDS: Readonly<Record<Quantity, string>> = Object.freeze({
  supplyA: 'supply current',
  frequencyHz: 'frequency',
  rectifiedV: 'rectified voltage',
  outputV: 'output voltage',
  receiverC: 'receiver temperature',
  transmitterC: 'transmitter temperature',
});

/** Residuals beyond this many standard deviations, from which single numbers count less with --robust. */
const ROBUST_BEYOND = 2;

function valueRow(value: FittedValue): string[] {
  const { name, unit, prior, fitted, decidedBy } = value;
  // As many digits as half the band leaves.
  const cells = ({ value, low, high }: { value: number; low: number; high: number }): [string, string] => {
    const half = (high - low) / 2;
    const text = (x: number, as: UnitName): string => formatInBand(x, 0, half, as, { space: ' ' });
    return [text(value, unit), `${text(low, '1')} to ${text(high, unit)}`];
  };
  return [name, ...cells(prior), ...cells(fitted), decidedBy];
}

function residualRows(report: FitReport): string[][] {
  return report.readings.flatMap(({ reading, residuals, regulated, maxOutputA, limitDistance, leftOut, flags }) => {
    const name = String(reading + 1);
    const rows = residuals.map(({ quantity, measured, predicted, distance }, k) => {
      const unit = UNITS[quantity];
      return [
        k === 0 ? name : '',
        WORDS[quantity],
        show(measured, unit),
        show(predicted, unit),
        distance.toFixed(1),
        '',
      ];
    });
    if (!regulated && maxOutputA !== null && limitDistance !== null)
      rows.push([
        name,
        'collapsed',
        '',
        `most ${show(maxOutputA, 'A')}`,
        limitDistance < 0 ? limitDistance.toFixed(1) : 'agrees',
        '',
      ]);
    if (rows.length === 0) rows.push([name, 'not used', '', '', '', '']);
    const note = [Number.isFinite(leftOut) ? `from the others ${leftOut.toFixed(1)}` : '', ...flags].filter(
      (text) => text !== '',
    );
    rows[0][5] = note.join('; ');
    return rows;
  });
}

function fitText(report: FitReport, map: OffsetMap | null): string {
  const { consequence, combinations, next, suggestions, notes, optima } = report;
  const lines: string[] = [report.title, report.sentence, fitRests(report)];
  for (const { sentence } of suggestions) lines.push(`  ${sentence}`);
  lines.push(
    '',
    table([['value', 'prior', '95 %', 'fitted', '95 %', 'decided by'], ...report.parameters.map(valueRow)]),
  );
  lines.push(
    '',
    combinations.length === 1
      ? 'The readings fix one combination:'
      : `The readings fix ${combinations.length} combinations:`,
  );
  for (const { words, shrink } of combinations)
    lines.push(`  ${words} (to ${(100 * shrink).toFixed(0)} % of its prior width)`);
  lines.push(
    '',
    table([['reading', 'number', 'measured', 'model', 'off by, in its accuracy', ''], ...residualRows(report)]),
  );
  const band = ({ low, high }: { low: number; high: number }, unit: UnitName): string =>
    `${show(low, '1', 3)} to ${show(high, unit, 3)}`;
  lines.push('');
  lines.push(
    table([
      ['', 'before', 'after'],
      ['reach by margin', band(consequence.reachMm.before, 'mm'), band(consequence.reachMm.after, 'mm')],
      ...consequence.supplies.map(({ supplyV, marginPercent, verdict }) => [
        `margin at ${show(supplyV, 'V', 3)}`,
        band(marginPercent.before, '%'),
        `${band(marginPercent.after, '%')}, ${verdict}`,
      ]),
      ...(map === null ? [] : [['reach on the map', '', band(map.reachMm, 'mm')]]),
    ]),
  );
  if (optima.length > 1) {
    lines.push('', 'Sets of values that explain the readings about equally well:');
    for (const { chi2, weight, starts } of optima)
      lines.push(
        `  chi-square ${chi2.toFixed(1)}, share ${(100 * weight).toFixed(0)} %, found by ${starts} of the searches`,
      );
  }
  lines.push(...takeOverLines(report));
  lines.push('', 'What to read next:');
  for (const reading of next) lines.push(`  ${reading.sentence} It ${worthOf(reading)}.`);
  for (const note of notes) lines.push(`  ${note}`);
  return `${lines.join('\n')}\n`;
}

/** What the fit would change in the design. */
function takeOverLines({ takeOver: { changes, left } }: FitReport): string[] {
  if (changes.length === 0) return [];
  const rows = changes.map(({ name, path, unit, from, to, wasComputed }) => [
    name,
    path,
    `${show(from, unit)}${wasComputed ? ' (computed)' : ''}`,
    show(to, unit),
  ]);
  const stay =
    left.length === 0 ? '' : ` ${left.length} guessed values stay: the readings say next to nothing of them.`;
  return [
    '',
    `Fitted values as the design would have them (--out writes it as ${FITTED_FILE}):${stay}`,
    table([['value', 'key', 'now', 'then'], ...rows]),
  ];
}

const FITTED_FILE = 'fitted-design.json';

/** The report for a reader of JSON: ensemble left out, it is large and for maps only. */
function jsonOf(report: FitReport, map: OffsetMap | null): string {
  const { ensemble: _, ...rest } = report;
  return `${jsonText(map === null ? rest : { ...rest, map }, 0)}\n`;
}

/** The design with the readings of a CSV file; null after telling its faults. */
function withReadings(design: Design, given: GivenOptions, terminal: Terminal): Design | number {
  const file = given.values.get('readings')?.[0];
  if (file === undefined) return design;
  const { readings, faults } = parseReadings(readText(file));
  if (faults.length > 0) {
    for (const fault of faults.slice(0, FAULTS_SHOWN)) terminal.err(`${file}: ${rowFaultLine(fault)}\n`);
    if (faults.length > FAULTS_SHOWN) terminal.err(`... and ${faults.length - FAULTS_SHOWN} more faults.\n`);
    if (given.values.has('json')) terminal.out(`${jsonText({ ok: false, faults })}\n`);
    return EXIT.wrongDesign;
  }
  const parsed = parseDesign({ ...documentOf(design), readings });
  if (!parsed.ok) return tellFaults(parsed.faults, given, terminal);
  const others = (design.assumed ?? []).filter((path) => !path.startsWith('readings'));
  return { ...parsed.design, assumed: [...others, ...parsed.defaultsTaken] };
}

/** Fits the bench readings of a design. */
export const fit: Command = async (given, terminal) => {
  const starts = numberOption(given, 'starts', { low: 1, high: 500, whole: true });
  const result = await readDesign(given);
  if (!result.ok) return tellFaults(result.faults, given, terminal);
  const design = withReadings(result.design, given, terminal);
  if (typeof design === 'number') return design;
  const directory = outDirectory(given);
  const engine = openEngine();
  try {
    const options = {
      ...(starts === null ? {} : { starts }),
      ...(given.values.has('robust') ? { robustBeyond: ROBUST_BEYOND } : {}),
    };
    const outcome = await engine.fit({ design, options }, undefined, showProgress());
    if (!outcome.ok) return tellFailure(outcome, given, terminal);
    const report = outcome.value;
    let map: OffsetMap | null = null;
    if (given.values.has('map')) {
      const mapped = await engine.fitMap({ design, ensemble: report.ensemble, points: 65 }, undefined, showProgress());
      if (!mapped.ok) return tellFailure(mapped, given, terminal);
      map = mapped.value;
    }
    const document = jsonOf(report, map);
    if (directory !== undefined) {
      const written = writeTexts(directory, {
        'fit.json': document,
        [FITTED_FILE]: `${jsonText(withChanges(documentAsGiven(design), report.takeOver.changes))}\n`,
        ...benchSheets(design),
      });
      terminal.err(`Wrote ${written.join(', ')}\n`);
    }
    terminal.out(given.values.has('json') ? document : fitText(report, map));
    if (report.converged) return EXIT.done;
    terminal.err('The last stage of the fit did not settle.\n');
    return EXIT.notConverged;
  } finally {
    engine.dispose();
  }
};
