import { mapCsv } from '../../analysis/hold/exports/map-csv.ts';
import { mapDocument } from '../../analysis/hold/exports/map-json.ts';
import { planDxf } from '../../analysis/hold/exports/plan-dxf.ts';
import { planShapes } from '../../analysis/hold/exports/plan-shapes.ts';
import { mapSvg } from '../../analysis/hold/exports/plan-svg.ts';
import type { OffsetMap } from '../../analysis/types.ts';
import type { Design } from '../../design/types.ts';
import { formatBand, formatQuantity } from '../../units/format.ts';
import type { Command } from '../command.ts';
import { showProgress, tellFailure } from '../engine.ts';
import { outDirectory, writeTexts } from '../files.ts';
import { openEngine } from '../open-engine.ts';
import { numberOption } from '../options.ts';
import { readDesign, tellFaults } from '../read-design.ts';
import { table } from '../table.ts';
import { EXIT, jsonText } from '../terminal.ts';

function mapText(map: OffsetMap, design: Design): string {
  const mm = (value: number) => formatQuantity(value, 'mm', { space: ' ', fixedUnit: true });
  const reach = map.reachMm;
  const band =
    mm(reach.low) === mm(reach.high)
      ? ''
      : ` (${formatBand(reach.low, reach.high, 'mm', { space: ' ', fixedUnit: true })})`;
  const sentence =
    reach.value > 0
      ? `Safe up to ${mm(reach.value)} off centre${band} at ${map.wantedMarginPercent} % margin.`
      : map.innerLimitMm > 0
        ? `Not safe when centred; the safe region starts ${mm(map.innerLimitMm)} off centre.`
        : 'Not safe at any offset of this map.';
  const rows = [
    ['gap', mm(map.gapMm)],
    ['asked for', formatQuantity(map.demandA, 'A', { space: ' ' })],
    ['holds up to', mm(map.holdReachMm)],
    ['wakes up to', mm(map.wakeReachMm)],
    ...map.peakReachMm.map((peak) => [`${peak.name} up to`, mm(peak.reachMm)]),
    ['ends first towards', `${Math.round(map.tightestDeg)}° from x`],
    ['grid', `${map.xMm.length} x ${map.yMm.length}, ± ${mm(map.xMm[map.xMm.length - 1])}`],
    ['time', `${Math.round(map.timing.totalMs)} ms`],
  ];
  return `${design.title}\n${sentence}\n${table(rows)}\n`;
}

/** Margin over sideways offset. */
export const map: Command = async (given, terminal) => {
  const points = numberOption(given, 'points', { low: 3, high: 1025, whole: true }) ?? 129;
  const spanMm = numberOption(given, 'span', { low: 0.1, high: 1000, unit: 'mm' });
  const result = await readDesign(given);
  if (!result.ok) return tellFaults(result.faults, given, terminal);
  const { design, defaultsTaken } = result;
  const directory = outDirectory(given);
  const engine = openEngine();
  const outcome = await engine.map({ design, points, spanMm }, undefined, showProgress());
  engine.dispose();
  if (!outcome.ok) return tellFailure(outcome, given, terminal);
  const document = `${jsonText({ ...mapDocument(outcome.value, design.title), defaultsTaken }, 0)}\n`;
  if (directory !== undefined) {
    const shapes = planShapes(design, outcome.value);
    const written = writeTexts(directory, {
      'map.csv': mapCsv(outcome.value),
      'map.json': document,
      'map.svg': mapSvg(outcome.value, shapes, design.title),
      'map.dxf': planDxf(shapes, design.title),
    });
    terminal.err(`Wrote ${written.join(', ')}\n`);
  }
  terminal.out(given.values.has('json') ? document : mapText(outcome.value, design));
  return EXIT.done;
};
