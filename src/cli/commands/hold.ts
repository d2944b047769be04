import { perMillimetre } from '../../analysis/hold/clearance-words.ts';
import { forcesCsv, lotteryCsv } from '../../analysis/hold/exports/hold-csv.ts';
import { type Paper, placementTemplate } from '../../analysis/hold/exports/placement-template.ts';
import { planDxf } from '../../analysis/hold/exports/plan-dxf.ts';
import { planShapes } from '../../analysis/hold/exports/plan-shapes.ts';
import { planSvg } from '../../analysis/hold/exports/plan-svg.ts';
import type { HoldReport } from '../../analysis/hold/hold-report.ts';
import { parsePlacements, placementFaultLine } from '../../analysis/hold/placements-table.ts';
import type { CheckedRecess } from '../../analysis/hold/recess-report.ts';
import { endsAtOnce } from '../../analysis/hold/recess-words.ts';
import { allowedWords, checkWords } from '../../analysis/hold/region-words.ts';
import { shareText } from '../../analysis/hold/share-text.ts';
import type { Uncertain } from '../../analysis/types.ts';
import type { Design } from '../../design/types.ts';
import { InputError } from '../../numerics/errors.ts';
import { formatQuantity } from '../../units/format.ts';
import type { Command } from '../command.ts';
import { showProgress, tellFailure } from '../engine.ts';
import { outDirectory, readText, writeTexts } from '../files.ts';
import { openEngine } from '../open-engine.ts';
import type { GivenOptions } from '../options.ts';
import { FAULTS_SHOWN, readDesign, tellFaults } from '../read-design.ts';
import { table } from '../table.ts';
import { EXIT, jsonText, type Terminal } from '../terminal.ts';

const mm = (value: number | null): string =>
  value === null ? 'none' : formatQuantity(value, 'mm', { space: ' ', fixedUnit: true });
const newton = (value: number): string => formatQuantity(value, 'N', { space: ' ' });

/** `(3.1 to 4.2 mm) ` where a band is known. */
function bandText(reach: Uncertain | null): string {
  return reach && reach.high > reach.low ? `(${reach.low.toFixed(1)} to ${mm(reach.high)}) ` : '';
}

/** Clearance, and how its worst corner was judged. */
export function recessRow(name: string, wanted: number, recess: CheckedRecess): string[] {
  const { clearanceMm, directPercent, worst, band } = recess;
  const margin = directPercent ?? worst.marginPercent;
  const sure = band ? `, the model's own band ${band.low.toFixed(0)} to ${band.high.toFixed(0)} %` : '';
  const ends = recess.clearanceBandMm;
  const end = (value: number | null) => (value === null ? 'none' : value.toFixed(2));
  const wide = ends !== null && (end(ends.low) !== end(clearanceMm) || end(ends.high) !== end(clearanceMm));
  const range = wide ? `(${end(ends.low)} to ${end(ends.high)} mm) ` : '';
  return [
    name,
    clearanceMm === null ? 'none' : `${end(clearanceMm)} mm`,
    `${range}${margin.toFixed(2)} % at the ${worst.name}${sure}${endsAtOnce(recess, wanted)}`,
  ];
}

function holdText(report: HoldReport): string {
  const { recess, magnets, stack, lottery, safeHere, safeHereReachMm, region } = report;
  const rows: string[][] = [
    recessRow('recess clearance', recess.wantedMarginPercent, recess.recommended),
    recessRow('  tolerances as rss', recess.wantedMarginPercent, recess.recommendedRss),
  ];
  if (recess.asDesigned) {
    const { clearanceMm, worst } = recess.asDesigned;
    rows.push(['  as designed', mm(clearanceMm), `${worst.marginPercent.toFixed(1)} % at the ${worst.name}`]);
  }
  for (const { fromMm, toMm } of stack.limits?.intervals ?? [])
    rows.push(['gap that keeps the margin', `${mm(fromMm)} to ${mm(toMm)}`, '']);
  if (stack.thickness) {
    const { thinnestMm, thickestMm } = stack.thickness.worst;
    const keeps = stack.worstKeepsMargin ? 'keeps the margin' : 'does not keep the margin';
    rows.push(['stack, tolerances at their ends', `${mm(thinnestMm)} to ${mm(thickestMm)}`, keeps]);
    const { rss } = stack.thickness;
    const rssKeeps = stack.rssKeepsMargin ? 'keeps the margin' : 'does not keep the margin';
    rows.push(['stack, root of squares', `${mm(rss.thinnestMm)} to ${mm(rss.thickestMm)}`, rssKeeps]);
  }
  if (safeHere)
    rows.push(['safe within', mm(safeHere.reachMm), `${bandText(safeHereReachMm)}of home, at the design's own gap`]);
  if (region) {
    rows.push([
      '',
      mm(region.worst.reachMm),
      `${bandText(region.reachMm)}of home, at the worst ${allowedWords(region)}`,
    ]);
    if (region.check) rows.push(['', '', checkWords(region.check)]);
    const volume = `${(region.volumeMm3 / 1e3).toFixed(1)} cm3`;
    rows.push(['safe over all gaps', volume, `${region.cutOff ? 'at least; ' : ''}level and not turned`]);
  }
  if (magnets) {
    const { holding, spread, heating } = magnets;
    const to = (low: number, high: string): string => `${low.toFixed(1)} to ${high}`;
    rows.push(
      [
        'pull at home',
        newton(holding.pullN),
        `(${to(spread.pullN.low, newton(spread.pullN.high))}) ${magnets.pairs} pairs; lifted off with ${newton(holding.pullOffN)}`,
      ],
      ['capture radius', mm(holding.captureRadiusMm), `(${to(spread.captureMm.low, mm(spread.captureMm.high))})`],
      [
        'rest band',
        mm(holding.restBandMm),
        [
          spread.restMm
            ? `(${to(spread.restMm.low, spread.restMm.high === null ? 'anywhere' : mm(spread.restMm.high))})`
            : '',
          magnets.restBandIsSafe === false ? 'not all of it safe' : '',
        ].join(' '),
      ],
      [
        'pair snapped together',
        newton(magnets.contactPerPairN),
        `the most a finger or the cell's case should see; from ${magnets.pinchFromN} N it pinches`,
      ],
    );
    if (heating)
      rows.push([
        'heat in one magnet',
        formatQuantity(heating.powerW, 'W', { space: ' ', digits: 1 }),
        'an order of magnitude',
      ]);
  }
  for (const { aid, answer } of lottery.byAid)
    for (const chance of answer.chances)
      rows.push([
        `casual placement, ${aid}`,
        shareText(chance.probability),
        `${shareText(chance.wilson.low)} to ${shareText(chance.wilson.high)} hold ${chance.name}`,
      ]);
  const worth = perMillimetre(lottery).replace(/\u00a0/g, ' ');
  const notes = [
    ...(worth === '' ? [] : [worth]),
    ...report.notes,
    ...recess.notes,
    ...(magnets?.saturation ? [magnets.saturation.sentence] : []),
    ...(magnets?.notes ?? []),
    ...(magnets?.cautions ?? []),
  ];
  return `${report.title}\n${report.sentence}\n${table(rows)}\n${notes.map((note) => `  ${note}\n`).join('')}`;
}

/** Files for whoever draws the enclosure, beside the report itself. */
function holdTexts(report: HoldReport, design: Design, document: string, terminal: Terminal): Record<string, string> {
  const { offsetXMm, offsetYMm } = design.placement;
  const shapes = planShapes(design, null, {
    safeOutline: report.safeHere?.outline ?? null,
    restBand: report.magnets?.restBandMm.map((v, k) => v + (k % 2 === 0 ? offsetXMm : offsetYMm)) ?? null,
  });
  const texts: Record<string, string> = {
    'hold.json': document,
    'forces.csv': forcesCsv(report),
    'lottery.csv': lotteryCsv(report),
    'plan.svg': planSvg(shapes, design.title),
    'plan.dxf': planDxf(shapes, design.title),
  };
  for (const paper of ['a4', 'letter'] satisfies Paper[])
    try {
      texts[`template-${paper}.svg`] = placementTemplate(shapes, { paper, title: design.title, lines: [] });
    } catch (error) {
      // Too large for the sheet: the plan is there all the same.
      if (!(error instanceof InputError)) throw error;
      terminal.err(`No template for ${paper} paper: ${error.message}\n`);
    }
  return texts;
}

/** The design with the placements of a file as its scatter; the exit code after telling its faults. */
function withPlacements(design: Design, given: GivenOptions, terminal: Terminal): Design | number {
  const file = given.values.get('placements')?.[0];
  if (file === undefined) return design;
  const { placements, faults } = parsePlacements(readText(file));
  if (faults.length > 0) {
    for (const fault of faults.slice(0, FAULTS_SHOWN)) terminal.err(`${file}: ${placementFaultLine(fault)}\n`);
    if (faults.length > FAULTS_SHOWN) terminal.err(`... and ${faults.length - FAULTS_SHOWN} more faults.\n`);
    if (given.values.has('json')) terminal.out(`${jsonText({ ok: false, faults })}\n`);
    return EXIT.wrongDesign;
  }
  const { holding } = design;
  return { ...design, holding: { ...holding, placing: { ...holding.placing, kind: 'list', placements } } };
}

/** What keeps the device in place. */
export const hold: Command = async (given, terminal) => {
  const result = await readDesign(given);
  if (!result.ok) return tellFaults(result.faults, given, terminal);
  const design = withPlacements(result.design, given, terminal);
  if (typeof design === 'number') return design;
  const directory = outDirectory(given);
  const engine = openEngine();
  const outcome = await engine.hold(design, undefined, showProgress());
  engine.dispose();
  if (!outcome.ok) return tellFailure(outcome, given, terminal);
  const document = `${jsonText(outcome.value, 0)}\n`;
  if (directory !== undefined) {
    const written = writeTexts(directory, holdTexts(outcome.value, design, document, terminal));
    terminal.err(`Wrote ${written.join(', ')}\n`);
  }
  terminal.out(given.values.has('json') ? document : holdText(outcome.value));
  return EXIT.done;
};
