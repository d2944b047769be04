import type { HoldReport } from '../../analysis/hold/hold-report.ts';
import { formatQuantity } from '../../units/format.ts';
import type { Command } from '../command.ts';
import { progressTo, tellFailure } from '../engine.ts';
import { writeTexts } from '../files.ts';
import { openEngine } from '../open-engine.ts';
import { readDesign, tellFaults } from '../read-design.ts';
import { table } from '../table.ts';
import { EXIT, jsonText } from '../terminal.ts';

const mm = (value: number | null): string =>
  value === null ? 'none' : formatQuantity(value, 'mm', { space: ' ', fixedUnit: true });
const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;

function holdText(report: HoldReport): string {
  const { recess, magnets, stack, lottery } = report;
  const rows: string[][] = [
    [
      'recess clearance',
      mm(recess.recommended.clearanceMm),
      `all tolerances at their ends; ${recess.wantedMarginPercent} % wanted`,
    ],
    ['  tolerances as rss', mm(recess.recommendedRss.clearanceMm), ''],
  ];
  if (stack.limits)
    rows.push(['gap that keeps the margin', `${mm(stack.limits.thinnestMm)} to ${mm(stack.limits.thickestMm)}`, '']);
  if (magnets)
    rows.push(
      ['pull at home', formatQuantity(magnets.holding.pullN, 'N', { space: ' ' }), `${magnets.pairs} pairs`],
      ['capture radius', mm(magnets.holding.captureRadiusMm), ''],
      ['rest band', mm(magnets.holding.restBandMm), ''],
    );
  for (const { aid, answer } of lottery.byAid)
    for (const chance of answer.chances)
      rows.push([
        `casual placement, ${aid}`,
        percent(chance.probability),
        `${percent(chance.wilson.low)} to ${percent(chance.wilson.high)} hold ${chance.name}`,
      ]);
  const notes = [...report.notes, ...recess.notes, ...(magnets?.notes ?? []), ...(magnets?.cautions ?? [])];
  return `${report.title}\n${report.sentence}\n${table(rows)}\n${notes.map((note) => `  ${note}\n`).join('')}`;
}

/** What keeps the device in place. */
export const hold: Command = async (given, terminal) => {
  const result = await readDesign(given);
  if (!result.ok) return tellFaults(result.faults, given, terminal);
  const engine = openEngine();
  const outcome = await engine.hold(result.design, undefined, progressTo(terminal));
  engine.dispose();
  if (!outcome.ok) return tellFailure(outcome, given, terminal);
  const document = `${jsonText(outcome.value, 0)}\n`;
  const directory = given.values.get('out')?.[0];
  if (directory !== undefined) {
    const written = writeTexts(directory, { 'hold.json': document });
    terminal.err(`Wrote ${written.join(', ')}\n`);
  }
  terminal.out(given.values.has('json') ? document : holdText(outcome.value));
  return EXIT.done;
};
