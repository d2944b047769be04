import type { PlateSensitivity } from '../analysis/margin/plate-sensitivity.ts';
import { firstMembers, type Population, survivors, trialsOf } from '../analysis/pair/differential-evolution.ts';
import { paretoFront } from '../analysis/pair/pareto-front.ts';
import { type ConfirmedDesign, type FoundDesign, gainOf, type SearchAnswer } from '../analysis/pair/search-answer.ts';
import { ownTrial, SEARCH_DIMENSIONS, type SearchRequest } from '../analysis/pair/search-space.ts';
import type { SearchBase, TrialResult } from '../analysis/pair/search-trial.ts';
import type { Design } from '../design/types.ts';
import { inChunks } from './in-chunks.ts';
import { judgeDesign } from './judge-design.ts';
import type { Runner } from './runner.ts';
import type { Outcome, Progress } from './types.ts';

/** Trials per chunk: some tens of milliseconds each. */
const TRIAL_CHUNK = 3;
/** Points of the front that are kept, and how many at a time are confirmed by direct solutions, the best first. */
const MOST_FRONT = 14;
const CONFIRMED = 3;
/** Share of the time that goes into the trials. */
const TRIAL_SHARE = 0.6;

/** A stop lets the search end with what it has found; an abort drops it. */
export interface SearchHooks {
  readonly onProgress?: ((progress: Progress) => void) | undefined;
  /** The front so far, after each generation. */
  readonly onFront?: ((front: readonly FoundDesign[]) => void) | undefined;
}

interface Archive {
  readonly x: Float64Array[];
  readonly results: TrialResult[];
}

/** Searches for a better coil: differential evolution over quick trials, then direct solutions of the best. */
export async function searchDesigns(
  runner: Runner,
  plateAnswers: (design: Design, signal: AbortSignal) => Promise<Outcome<readonly PlateSensitivity[]>>,
  request: SearchRequest,
  signal: AbortSignal,
  now: () => number,
  hooks: SearchHooks,
): Promise<Outcome<SearchAnswer>> {
  const began = now();
  const lane = { lane: 'back', signal } as const;
  const { design } = request;
  hooks.onProgress?.({ fraction: 0, stage: 'looking at the present pair' });
  const base = await runner.run('searchBase', { design }, lane);
  if (!base.ok) return base;
  const options = { seed: request.seed };
  const archive: Archive = { x: [], results: [] };
  const start = ownTrial(request);
  let trials = firstMembers(SEARCH_DIMENSIONS, start, options);
  let population: Population | null = null;
  for (let generation = 0; generation <= request.generations; generation++) {
    const results = await judged(trials, base.value, generation);
    if (!results.ok) return results;
    archiveOf(archive, trials, results.value);
    population = population
      ? survivors(population, trials, results.value)
      : { dimensions: SEARCH_DIMENSIONS, generation: 0, members: trials, fitness: results.value };
    if (hooks.onFront) {
      const front = await frontOf(base.value);
      if (!front.ok) return front;
      hooks.onFront(front.value);
    }
    trials = trialsOf(population, options);
  }
  const front = await frontOf(base.value);
  if (!front.ok) return front;
  const queue = [...front.value].sort((a, b) => a.result.value - b.result.value);
  hooks.onProgress?.({ fraction: TRIAL_SHARE, stage: 'confirming the best' });
  const own = await judgeDesign(runner, plateAnswers, design, signal, () => undefined);
  if (!own.ok) return own;
  const confirmed: ConfirmedDesign[] = [];
  let next = 0;
  while (next < queue.length) {
    // As many again, as long as one not yet solved promises more than the best that was: the quick values rank, but the
    // highest of them may have gone too far (too hot, overvoltage), all alike.
    const best = Math.min(...confirmed.map((entry) => directValue(request, entry)));
    if (next > 0 && best <= queue[next]!.result.value) break;
    const round = queue.slice(next, next + CONFIRMED);
    const from = next;
    const reports: (ConfirmedDesign['report'] | null)[] = round.map(() => null);
    const told = new Float64Array(round.length);
    const failed = await inChunks(round.length, 1, runner.width, async (index) => {
      const report = await judgeDesign(runner, plateAnswers, round[index]!.design, signal, (share) => {
        told[index] = share;
        const done = from + told.reduce((sum, value) => sum + value, 0);
        const fraction = TRIAL_SHARE + (1 - TRIAL_SHARE) * Math.min(1, done / Math.max(CONFIRMED, queue.length));
        hooks.onProgress?.({ fraction, stage: `confirming the best, ${from + 1} and on of ${queue.length}` });
      });
      // A found design that cannot be solved directly is left out.
      if (report.ok) reports[index] = report.value;
      return null;
    });
    if (failed) return failed;
    next += round.length;
    round.forEach((found, i) => {
      const report = reports[i];
      if (report) confirmed.push({ ...found, report });
    });
  }
  confirmed.sort((a, b) => directValue(request, a) - directValue(request, b));
  return {
    ok: true,
    elapsedMs: now() - began,
    value: {
      goal: request.goal,
      own: own.value,
      ownResult: archive.results[0] ?? null,
      front: front.value,
      confirmed,
      trials: archive.results.length,
    },
  };

  async function judged(all: Float64Array, from: SearchBase, generation: number): Promise<Outcome<TrialResult[]>> {
    const count = all.length / SEARCH_DIMENSIONS;
    const results = new Array<TrialResult>(count);
    let done = 0;
    const failure = await inChunks(count, TRIAL_CHUNK, runner.width, async (first) => {
      const part = all.slice(first * SEARCH_DIMENSIONS, Math.min(count, first + TRIAL_CHUNK) * SEARCH_DIMENSIONS);
      const outcome = await runner.run('searchTrials', { request, base: from, trials: part }, lane);
      if (!outcome.ok) return outcome;
      outcome.value.forEach((result, i) => {
        results[first + i] = result;
      });
      done += outcome.value.length;
      const fraction = (TRIAL_SHARE * (generation + done / count)) / (request.generations + 1);
      hooks.onProgress?.({ fraction, stage: `trying coils, round ${generation + 1} of ${request.generations + 1}` });
      return null;
    });
    return failure ?? { ok: true, value: results, elapsedMs: 0 };
  }

  async function frontOf(from: SearchBase): Promise<Outcome<FoundDesign[]>> {
    const good = archive.results.flatMap((result, i) => (result.violation === 0 ? [i] : []));
    const gains = good.map((i) => gainOf(request.goal, archive.results[i]!));
    const losses = good.map((i) => archive.results[i]!.lossW);
    const front_ = thinned(paretoFront(gains, losses).map((i) => good[i]!));
    const all = new Float64Array(front_.length * SEARCH_DIMENSIONS);
    front_.forEach((at, i) => {
      all.set(archive.x[at]!, i * SEARCH_DIMENSIONS);
    });
    const designs = await runner.run('searchDesigns', { request, base: from, trials: all }, lane);
    if (!designs.ok) return designs;
    const value = designs.value.flatMap((found, i): FoundDesign[] =>
      found ? [{ design: found, result: archive.results[front_[i]!]! }] : [],
    );
    return { ok: true, value, elapsedMs: 0 };
  }
}

function archiveOf(archive: Archive, trials: Float64Array, results: readonly TrialResult[]): void {
  results.forEach((result, i) => {
    archive.x.push(trials.slice(i * SEARCH_DIMENSIONS, (i + 1) * SEARCH_DIMENSIONS));
    archive.results.push(result);
  });
}

/** At most MOST_FRONT of them, both ends among them, evenly by rank. */
function thinned(front: readonly number[]): number[] {
  if (front.length <= MOST_FRONT) return [...front];
  return Array.from({ length: MOST_FRONT }, (_, i) => front[Math.round((i * (front.length - 1)) / (MOST_FRONT - 1))]!);
}

/** The goal's value by direct solution, to be made small. */
function directValue({ goal }: SearchRequest, { report }: ConfirmedDesign): number {
  if (goal === 'reach') return -report.at.reachMm;
  if (goal === 'current') return -report.at.maxOutputA;
  const { transmitterCoil, receiverCoil, rectifier, regulator } = report.operatingPoint.losses;
  return transmitterCoil + receiverCoil + rectifier + regulator;
}
