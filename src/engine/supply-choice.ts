import type { PlateSensitivity } from '../analysis/margin/plate-sensitivity.ts';
import type { PoseLinks } from '../analysis/margin/pose-answer.ts';
import type { SupplyChoice, SupplyOption, SupplyReach } from '../analysis/supply/supply-choice.ts';
import type { GapPoint } from '../analysis/supply/supply-gap.ts';
import type { Design } from '../design/types.ts';
import type { LinkElectrical } from '../physics/circuit/types.ts';
import type { HoldResources } from './hold.ts';
import { type Failed, inChunks } from './in-chunks.ts';
import type { Outcome, Progress, SupplyRequest } from './types.ts';

/** Points a side of the maps behind the reaches, loads per chunk of a curve, and solves that narrow a gap's reach. */
const MAP_POINTS = 41;
const LOADS_PER_CHUNK = 3;
const GAP_STEPS = 3;
/** Shares of the progress: circuits at the pose, link model, reaches. */
const SHARES = Object.freeze({ pose: 0.25, model: 0.45 });

interface GapLink {
  readonly gapMm: number;
  readonly link: LinkElectrical;
}

/**
 * The design under several supply voltages: circuits at the pose first, then the reaches, for which one link model serves
 * all supplies.
 */
export async function compareSupplies(
  tools: HoldResources,
  { design, suppliesV }: SupplyRequest,
  signal: AbortSignal,
  onProgress?: (progress: Progress) => void,
  onFirst?: (choice: SupplyChoice) => void,
): Promise<Outcome<SupplyChoice>> {
  const { runner, models, now } = tools;
  const began = now();
  const lane = { lane: 'back', signal } as const;
  const supplies = await runner.run('supplies', { design, suppliesV }, lane);
  if (!supplies.ok) return supplies;
  const links = await runner.run('poseLinks', { design }, lane);
  if (!links.ok) return links;
  const plates = await tools.plateAnswers(design, signal);
  if (!plates.ok) return plates;
  const designs = supplies.value;
  const options = new Array<SupplyOption>(designs.length);
  let done = 0;
  const failed = await inChunks(designs.length, 1, runner.width, async (index) => {
    const option = await atPose(designs[index]!, links.value, plates.value);
    if (!option.ok) return option;
    options[index] = option.value;
    done++;
    onProgress?.({ fraction: (SHARES.pose * done) / designs.length, stage: 'the circuit at each supply' });
    return null;
  });
  if (failed) return failed;
  const first = await runner.run('supplyChoice', { design, options }, lane);
  if (!first.ok) return first;
  onFirst?.(first.value);

  // The highest voltage reaches furthest: its box covers the others.
  const widest = designs.at(-1)!;
  const built = await models.obtain(widest, 'coarse', signal, ({ fraction, stage }) =>
    onProgress?.({ fraction: SHARES.pose + SHARES.model * fraction, stage }),
  );
  if (!built.ok) return built;
  const model = models.known(widest) ?? built.value;
  const grid = await runner.run('mapGrid', { design: widest, model, points: MAP_POINTS, spanMm: null }, lane);
  if (!grid.ok) return grid;
  const scan = await gapLinks();
  if (!scan.ok) return scan;
  // The choice given out first keeps its own options.
  const reached = [...options];
  for (const [index, supplied] of designs.entries()) {
    const reach = await reachOf(supplied, options[index]!);
    if (!reach.ok) return reach;
    reached[index] = { ...options[index]!, reach: reach.value };
    const share = (1 - SHARES.pose - SHARES.model) * ((index + 1) / designs.length);
    onProgress?.({ fraction: SHARES.pose + SHARES.model + share, stage: 'how far at each supply' });
  }
  const choice = await runner.run('supplyChoice', { design, options: reached }, lane);
  return choice.ok ? { ...choice, elapsedMs: now() - began } : choice;

  async function atPose(
    supplied: Design,
    at: PoseLinks,
    answers: readonly PlateSensitivity[],
  ): Promise<Outcome<SupplyOption>> {
    const report = await runner.run('supplyReport', { design: supplied, links: at, plates: answers }, lane);
    if (!report.ok) return report;
    const loadA = report.value.loads;
    const efficiency = new Float64Array(loadA.length);
    const states = new Array<SupplyOption['curve']['states'][number]>(loadA.length);
    const failure = await inChunks(loadA.length, LOADS_PER_CHUNK, 1, async (from): Promise<Failed | null> => {
      const loads = loadA.slice(from, from + LOADS_PER_CHUNK);
      const part = await runner.run('supplyPoints', { design: supplied, link: at.link.electrical, loads }, lane);
      if (!part.ok) return part;
      efficiency.set(part.value.efficiency, from);
      part.value.states.forEach((state, i) => {
        states[from + i] = state;
      });
      return null;
    });
    if (failure) return failure;
    const { supplyV } = report.value.report;
    const curve = { supplyV, loadA, efficiency, states };
    return { ok: true, elapsedMs: 0, value: { report: report.value.report, curve, reach: null } };
  }

  /** The link at the gaps of the scan: the same under every supply. */
  async function gapLinks(): Promise<Outcome<GapLink[]>> {
    const gaps = await runner.run('gapScan', { design }, lane);
    if (!gaps.ok) return gaps;
    const out = new Array<GapLink>(gaps.value.length);
    const failure = await inChunks(out.length, 1, runner.width, async (index) => {
      const gapMm = gaps.value[index]!;
      const link = await runner.run('linkAtGap', { design, model, gapMm }, lane);
      if (!link.ok) return link;
      out[index] = { gapMm, link: link.value };
      return null;
    });
    return failure ?? { ok: true, value: out, elapsedMs: 0 };
  }

  async function reachOf(supplied: Design, option: SupplyOption): Promise<Outcome<SupplyReach>> {
    if (!grid.ok || !scan.ok || !plates.ok) throw new Error('asked too early');
    const { xMm, yMm } = grid.value;
    const circuit = await runner.run(
      'mapCircuit',
      { design: supplied, grid: grid.value, from: 0, to: xMm.length * yMm.length },
      lane,
    );
    if (!circuit.ok) return circuit;
    const checks = await tools.checksOver(supplied, model, plates.value, xMm, yMm, signal);
    if (!checks.ok) return checks;
    const timing = { linkModelMs: 0, gridMs: 0, circuitMs: 0 };
    const map = await runner.run(
      'mapFinish',
      { design: supplied, model, grid: grid.value, circuit: circuit.value, checks: checks.value, timing },
      lane,
    );
    if (!map.ok) return map;
    const points: GapPoint[] = [];
    const solve = async ({ gapMm, link }: GapLink): Promise<Failed | null> => {
      const point = await runner.run('supplyGapPoint', { design: supplied, link, gapMm }, lane);
      if (!point.ok) return point;
      points.push(point.value);
      return null;
    };
    const failure = await inChunks(scan.value.length, 1, runner.width, (i) => solve(scan.value[i]!));
    if (failure) return failure;
    const { maxOutputA } = option.report;
    const less = maxOutputA.value > 0 ? 1 - maxOutputA.low / maxOutputA.value : 0;
    const more = maxOutputA.value > 0 ? maxOutputA.high / maxOutputA.value - 1 : 0;
    for (let step = 0; step < GAP_STEPS; step++) {
      const next = await runner.run('nextGap', { design: supplied, points }, lane);
      if (!next.ok) return next;
      if (next.value === null) break;
      const link = await runner.run('linkAtGap', { design, model, gapMm: next.value }, lane);
      if (!link.ok) return link;
      const missed = await solve({ gapMm: next.value, link: link.value });
      if (missed) return missed;
    }
    const gap = await runner.run('gapReach', { design: supplied, points, less, more }, lane);
    if (!gap.ok) return gap;
    const { reachMm, wakeReachMm, innerLimitMm } = map.value;
    const edge = xMm[xMm.length - 1]!;
    return {
      ok: true,
      elapsedMs: 0,
      value: {
        gap: gap.value,
        offsetMm: reachMm,
        offsetBeyond: reachMm.value > 0.999 * edge,
        wakeOffsetMm: wakeReachMm,
        innerLimitMm,
      },
    };
  }
}
