import { Lru } from '../analysis/lru.ts';
import { checkNodes } from '../analysis/place/check-nodes.ts';
import type { CheckKind, MapCheck } from '../analysis/place/map-check.ts';
import { type FitLinks, type FitWork, fitBench, fitLinks, fitPlacesKey } from '../analysis/prove/fit-bench.ts';
import type { FitReport } from '../analysis/prove/fit-report.ts';
import type { OffsetMap } from '../analysis/types.ts';
import { InputError } from '../numerics/errors.ts';
import { STOPPED } from './abort.ts';
import { type Failed, inChunks } from './in-chunks.ts';
import type { JobArguments, JobName, JobResult } from './jobs.ts';
import { lineChecks } from './map-checks.ts';
import type { ModelStore } from './model-store.ts';
import type { Runner } from './runner.ts';
import type { FitMapRequest, FitRequest, Outcome, Progress } from './types.ts';

/** A job that came back with a failure, on its way out of the fit's own sequence. */
class JobFailed extends Error {
  readonly failure: Failed;
  constructor(failure: Failed) {
    super(failure.message);
    this.failure = failure;
  }
}

export interface FitTools {
  readonly runner: Runner;
  readonly models: ModelStore;
  readonly now: () => number;
}

/** Fields at a bench's places, so that a fit of other readings at the same places begins at once. */
const knownLinks = new Lru<FitLinks>(4);

/** Rejects at once when the signal fires, though a job already begun is left to end in its worker. */
function untilAborted<T>(work: Promise<T>, signal: AbortSignal): Promise<T> {
  return new Promise((resolve, reject) => {
    if (signal.aborted) reject(STOPPED);
    signal.addEventListener('abort', () => reject(STOPPED), { once: true });
    work.then(resolve, reject);
  });
}

/** Fits the readings of a design. The field is solved once for each place and kept. */
export async function fitReadings(
  { runner, now }: FitTools,
  { design, options }: FitRequest,
  signal: AbortSignal,
  onProgress?: (progress: Progress) => void,
): Promise<Outcome<FitReport>> {
  const began = now();
  const job = async <K extends JobName>(name: K, args: JobArguments<K>): Promise<JobResult<K>> => {
    const outcome = await runner.run(name, args, { lane: 'back', signal });
    if (!outcome.ok) throw new JobFailed(outcome);
    return outcome.value;
  };
  const work: FitWork = {
    link: (at, pose) => job('benchLink', { design: at, pose }),
    facts: (at, home) => job('benchFacts', { design: at, home }),
    search: (bench, start, fit) => job('fitSearch', { bench, start, options: fit }),
    exact: (bench, z, from, to) => job('fitExact', { bench, z, from, to }),
    settle: (bench, z, corrections, fit) => job('fitSettle', { bench, z, corrections, options: fit }),
    optimum: (bench, z, corrections, predictions, converged) =>
      job('fitOptimum', { bench, z, corrections, predictions, converged }),
    answers: (asked, draws, by) => job('fitAnswers', { asked, draws, by }),
    curve: (bench, z, group) => job('fitCurve', { bench, z, group }),
  };
  const whole = async (): Promise<FitReport> => {
    const key = fitPlacesKey(design);
    let links = knownLinks.get(key) ?? null;
    if (links === null && design.readings.length > 0) {
      links = await fitLinks(design, work, (done, of) =>
        onProgress?.({ fraction: (0.35 * done) / of, stage: 'the field at each measured place' }),
      );
      knownLinks.set(key, links);
    }
    return fitBench(design, work, options, onProgress, links);
  };
  try {
    const value = await untilAborted(whole(), signal);
    return { ok: true, value, elapsedMs: now() - began };
  } catch (error) {
    if (error instanceof JobFailed) return error.failure;
    if (error instanceof InputError) return { ok: false, faults: error.faults, message: error.message };
    throw error;
  }
}

/** The margin map of the fitted link, with the bands of what the fit leaves open. */
export async function mapOfFit(
  { runner, models, now }: FitTools,
  { design, ensemble, points }: FitMapRequest,
  signal: AbortSignal,
  onProgress?: (progress: Progress) => void,
): Promise<Outcome<OffsetMap>> {
  const began = now();
  const lane = { lane: 'back', signal } as const;
  const built = await models.obtain(design, 'coarse', signal, onProgress);
  if (!built.ok) return built;
  const model = models.known(design) ?? built.value;
  const modelled = now();
  const fitted = await runner.run('fittedDesign', { design, ensemble }, lane);
  if (!fitted.ok) return fitted;
  const grid = await runner.run('fittedGrid', { design, ensemble, model, points }, lane);
  if (!grid.ok) return grid;
  const gridded = now();
  const { xMm, yMm } = grid.value;
  const circuit = await runner.run(
    'mapCircuit',
    { design: fitted.value, grid: grid.value, from: 0, to: xMm.length * yMm.length },
    lane,
  );
  if (!circuit.ok) return circuit;
  const nodes = checkNodes(model, xMm, yMm);
  let done = 0;
  const ask = async (places: readonly (readonly [number, number])[], kind: CheckKind): Promise<Failed | MapCheck[]> => {
    const out = new Array<MapCheck>(places.length);
    const failed = await inChunks(places.length, 1, runner.width, async (index) => {
      const [x, y] = places[index];
      const check = await runner.run('fittedCheck', { design, ensemble, model, x, y, kind }, lane);
      if (!check.ok) return check;
      out[index] = check.value;
      done++;
      onProgress?.({ fraction: Math.min(1, done / nodes.length), stage: 'the map after the fit' });
      return null;
    });
    return failed ?? out;
  };
  const lattice = await ask(nodes, 'band');
  if (!Array.isArray(lattice)) return lattice;
  const line = await lineChecks(fitted.value, xMm, yMm, (places) => ask(places, 'mutual'));
  if (!Array.isArray(line)) return line;
  const checks = [...lattice, ...line];
  const timing = { linkModelMs: modelled - began, gridMs: gridded - modelled, circuitMs: now() - gridded };
  const finished = await runner.run(
    'mapFinish',
    { design: fitted.value, model, grid: grid.value, circuit: circuit.value, checks, timing },
    lane,
  );
  if (!finished.ok) return finished;
  const totalMs = now() - began;
  const value = { ...finished.value, timing: { ...finished.value.timing, totalMs } };
  return { ok: true, elapsedMs: totalMs, value };
}
