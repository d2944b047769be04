import type { LinkModel } from '../analysis/link/link-model.ts';
import type { Lru } from '../analysis/lru.ts';
import type { PlateSensitivity } from '../analysis/margin/plate-sensitivity.ts';
import { contradicted, correctPoints, nextExact } from '../analysis/place/line-correction.ts';
import type { ExactPoint } from '../analysis/place/line-exact.ts';
import type { SweepPoint } from '../analysis/place/line-sweep.ts';
import { lineSweepOf } from '../analysis/place/sweep-columns.ts';
import type { LineSweep } from '../analysis/types.ts';
import type { Design } from '../design/types.ts';
import { type Failed, inChunks } from './in-chunks.ts';
import type { ModelStore } from './model-store.ts';
import type { Runner } from './runner.ts';
import type { Outcome, Progress, SweepRequest } from './types.ts';

/** Points per chunk: some tens of milliseconds. */
const CHUNK = 6;
export interface SweepTools {
  readonly runner: Runner;
  readonly models: ModelStore;
  readonly now: () => number;
  readonly plateAnswers: (design: Design, signal: AbortSignal) => Promise<Outcome<readonly PlateSensitivity[]>>;
  /** What is known of them without waiting. */
  readonly knownAnswers: (design: Design) => Outcome<readonly PlateSensitivity[]>;
  readonly kept: LinesKept;
}

/** Lines kept. A first look and the whole line that follows share their points; where the receiver moves along a line, it stays the same. */
export interface LinesKept {
  readonly points: Lru<readonly SweepPoint[]>;
  readonly exact: Lru<ReadonlyMap<number, ExactPoint>>;
}

/** A line by first harmonic, then, but for a first look, corrected by the exact circuit where that is needed. */
export async function sweepLine(
  tools: SweepTools,
  request: SweepRequest,
  signal: AbortSignal,
  onProgress?: (progress: Progress) => void,
): Promise<Outcome<LineSweep>> {
  const { models, now } = tools;
  const began = now();
  const { design, axis } = request;
  // Turning changes the attitude, for which each model is built: those lines are solved pose by pose.
  let model: LinkModel | null = null;
  if (axis === 'gap' || axis === 'offsetX' || axis === 'offsetY') {
    const built = await models.obtain(design, request.level ?? 'coarse', signal, onProgress);
    if (!built.ok) return built;
    model = models.known(design) ?? built.value;
  }
  const plates = model?.level === 'rough' ? tools.knownAnswers(design) : await tools.plateAnswers(design, signal);
  if (!plates.ok) return plates;
  const fast = await fastLine(tools, request, model, plates.value, signal, onProgress);
  if (!Array.isArray(fast)) return fast;
  const firstLook = model?.level === 'rough' || request.level === 'rough';
  const line = firstLook ? fast : await exactLine(tools, design, fast, signal);
  if (!Array.isArray(line)) return line;
  return { ok: true, elapsedMs: now() - began, value: lineSweepOf(design, axis, line, firstLook) };
}

/** The points of a line by first harmonic, with their bands. */
async function fastLine(
  { runner, kept }: SweepTools,
  { design, axis, from, to, points }: SweepRequest,
  model: LinkModel | null,
  plates: readonly PlateSensitivity[],
  signal: AbortSignal,
  onProgress?: (progress: Progress) => void,
): Promise<Failed | SweepPoint[]> {
  const { transmitter, receiver, placement, demand } = design;
  const shape = [axis, from, to, points, model?.key, model?.level];
  const key = JSON.stringify([transmitter, receiver, placement, demand, plates, shape]);
  const known = kept.points.get(key);
  if (known) return [...known];
  const step = points > 1 ? (to - from) / (points - 1) : 0;
  const at = Float64Array.from({ length: points }, (_, index) => from + step * index);
  const solved: SweepPoint[] = new Array<SweepPoint>(points);
  let done = 0;
  const failed = await inChunks(points, CHUNK, runner.width, async (start) => {
    const values = at.slice(start, start + CHUNK);
    const part = await runner.run('sweepPart', { design, axis, at: values, model, plates }, { lane: 'back', signal });
    if (!part.ok) return part;
    part.value.forEach((point, index) => {
      solved[start + index] = point;
    });
    done += values.length;
    onProgress?.({ fraction: done / points, stage: 'the line' });
    return null;
  });
  if (failed) return failed;
  kept.points.set(key, solved);
  return solved;
}

/** The line with the exact circuit at as many of its points as it takes; equal links, as on both sides of a symmetric pair, once. */
async function exactLine(
  { runner, kept }: SweepTools,
  design: Design,
  points: readonly SweepPoint[],
  signal: AbortSignal,
): Promise<Failed | SweepPoint[]> {
  const { transmitter, receiver, demand } = design;
  const key = JSON.stringify([transmitter, receiver, demand, points.map(({ link }) => link)]);
  const exact = new Map<number, ExactPoint>(kept.exact.get(key));
  const twins = twinsOf(points);
  const ask = async (indices: readonly number[], whole: boolean): Promise<Failed | null> => {
    const asked = [...new Set(indices.map((index) => twins[index]!))].filter((index) => !exact.has(index) || whole);
    const failed = await inChunks(asked.length, 1, runner.width, async (at) => {
      const link = points[asked[at]!]!.link!;
      const outcome = await runner.run('sweepExact', { design, link, whole }, { lane: 'back', signal });
      if (!outcome.ok) return outcome;
      exact.set(asked[at]!, outcome.value);
      return null;
    });
    for (const index of indices) exact.set(index, exact.get(twins[index]!)!);
    return failed;
  };
  for (const [next, whole] of [
    [nextExact, false],
    [contradicted, true],
  ] as const) {
    for (let indices = next(design, points, exact); indices.length > 0; indices = next(design, points, exact)) {
      const failed = await ask(indices, whole);
      if (failed) return failed;
    }
  }
  kept.exact.set(key, exact);
  return correctPoints(design, points, exact);
}

/** For each point the first one whose link is the same to eight digits. */
function twinsOf(points: readonly SweepPoint[]): number[] {
  const first = new Map<string, number>();
  return points.map(({ link }, index) => {
    if (!link) return index;
    const { l1, l2, m, r1, r2 } = link;
    const values = [l1, l2, m, r1.dc, r1.linear, r1.quadratic, r1.quartic, r2.dc, r2.linear, r2.quadratic, r2.quartic];
    const key = values.map((value) => value.toPrecision(8)).join();
    if (!first.has(key)) first.set(key, index);
    return first.get(key)!;
  });
}
