import { directMargin } from '../../src/analysis/hold/hold-margins.ts';
import { drawPlacements } from '../../src/analysis/hold/placements.ts';
import type { CheckedRecess } from '../../src/analysis/hold/recess-report.ts';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { parseDesign } from '../../src/design/resolve.ts';
import { createLocalEngine } from '../../src/engine/local-engine.ts';
import { wilsonInterval } from '../../src/numerics/proportion-interval.ts';
import type { Row, Target } from './table.ts';
import type { Timing } from './timing.ts';

/** Casual placements solved directly, each on the fine grids with the exact circuit: 50 ms. */
const DIRECT_PLACEMENTS = 2000;

/**
 * The demo with its ferrite and cell: the recommended recess solved once more at its worst corner and all its images, and the
 * lottery against casual placements of another seed, solved one by one. Slow: a link model, then two minutes.
 * The same in air is in every run (tests/analysis/hold/hold-from-layers.test.ts and hold-margins.reference.test.ts).
 */
export async function holdRows(): Promise<{ rows: Row[]; targets: Target[] }> {
  const parsed = parseDesign(DEMO_DESIGN);
  if (!parsed.ok) throw new Error('the demo does not hold together');
  const { design } = parsed;
  const engine = createLocalEngine();
  const [first, again] = [await timed(() => engine.hold(design)), await timed(() => engine.hold(design))];
  const outcome = first.value;
  if (!outcome.ok) throw new Error(outcome.message);
  const { recess, lottery } = outcome.value;
  const wanted = recess.wantedMarginPercent;
  const direct = directMargin(design);
  const targets: Target[] = [];
  const rows: Row[] = [];
  const solved = ({ worst: { xMm, yMm, yaw } }: CheckedRecess): number =>
    Math.min(...[1, -1].flatMap((sx) => [1, -1].map((sy) => direct(sx * xMm, sy * yMm, sx * sy * yaw))));
  for (const [name, answer] of [
    ['all tolerances at their ends', recess.recommended],
    ['tolerances as rss', recess.recommendedRss],
  ] as const) {
    const margin = solved(answer);
    targets.push({
      name: `recess of the demo, ${name}: margin at its worst corner by direct solution`,
      wanted: `${wanted} to ${wanted + 0.5} %`,
      measured: `${margin.toFixed(3)} % at ${answer.clearanceMm?.toFixed(3)} mm, the ${answer.worst.name}; the model's own band ${answer.band?.low.toFixed(0)} to ${answer.band?.high.toFixed(0)} %`,
      met: margin >= wanted && margin <= wanted + 0.5,
    });
  }
  const [free] = lottery.byAid;
  if (!free) throw new Error('no lottery');
  const [typical] = free.answer.chances;
  const drawn = drawPlacements(lottery.placing, DIRECT_PLACEMENTS, 99, null);
  let hits = 0;
  const placements = await timed(async () => {
    for (let k = 0; k < DIRECT_PLACEMENTS; k += 1) if (direct(drawn.xMm[k], drawn.yMm[k], drawn.yaw[k]) >= 0) hits += 1;
  });
  const interval = wilsonInterval(hits, DIRECT_PLACEMENTS, lottery.confidence);
  targets.push({
    name: `lottery of the demo against ${DIRECT_PLACEMENTS} placements solved directly, ${typical.name}`,
    wanted: `inside their ${100 * lottery.confidence} % interval`,
    measured: `${(100 * typical.probability).toFixed(2)} % by the lottery; ${hits} hits, ${(100 * interval.low).toFixed(2)} to ${(100 * interval.high).toFixed(2)} %`,
    met: typical.probability >= interval.low && typical.probability <= interval.high,
  });
  const row = (name: string, time: Timing, note: string): Row => ({
    group: 'holding, demo with ferrite and cell',
    name,
    time,
    error: null,
    note,
    ratios: {},
  });
  rows.push(
    row('whole report, nothing known', first.time, 'link model included'),
    row('the same again', again.time, 'every part kept'),
    row('one direct placement', scaled(placements.time, 1 / DIRECT_PLACEMENTS), ''),
  );
  engine.dispose();
  return { rows, targets };
}

async function timed<T>(work: () => Promise<T>): Promise<{ readonly value: T; readonly time: Timing }> {
  const before = process.cpuUsage();
  const value = await work();
  const { user, system } = process.cpuUsage(before);
  const once = (user + system) / 1e3;
  return { value, time: { min: once, median: once, max: once, runs: 1 } };
}

function scaled({ min, median, max, runs }: Timing, by: number): Timing {
  return { min: min * by, median: median * by, max: max * by, runs };
}
