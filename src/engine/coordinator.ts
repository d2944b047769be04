import { Lru } from '../analysis/lru.ts';
import type { PlateSensitivity } from '../analysis/margin/plate-sensitivity.ts';
import { sensitivityKey } from '../analysis/margin/sensitivity-key.ts';
import type { ExactPoint } from '../analysis/place/line-exact.ts';
import type { SweepPoint } from '../analysis/place/line-sweep.ts';
import type { MapCheck } from '../analysis/place/map-check.ts';
import type { MapCircuit } from '../analysis/place/map-circuit.ts';
import type { OffsetMap, PoseAnswer } from '../analysis/types.ts';
import type { Design } from '../design/types.ts';
import { LatestWins } from './abort.ts';
import type { HoldSequence } from './hold.ts';
import { type Failed, inChunks } from './in-chunks.ts';
import { createMapChecks } from './map-checks.ts';
import { ModelStore } from './model-store.ts';
import { coilRow } from './row.ts';
import type { Runner } from './runner.ts';
import type { Engine, MapRequest, Outcome, Progress, QuickAnswer } from './types.ts';

/** Points a side up to which a map is a first look and made from the coarse link model. */
const FIRST_LOOK_POINTS = 48;
/** Map points per chunk of circuit work: some tens of milliseconds. */
const CIRCUIT_CHUNK = 4096;
const LINES_KEPT = 12;

/** The engine over any runner: the same sequence of jobs in workers, in Node threads and in this thread. */
export function createEngine(runner: Runner, now: () => number): Engine {
  const models = new ModelStore(runner);
  const checksOver = createMapChecks(runner);
  const sensitivities = new Lru<readonly PlateSensitivity[]>(24);
  const latest = {
    quick: new LatestWins(),
    solve: new LatestWins(),
    map: new LatestWins(),
    sweep: new LatestWins(),
    hold: new LatestWins(),
    holdFirst: new LatestWins(),
    rivals: new LatestWins(),
    retune: new LatestWins(),
    coilSizes: new LatestWins(),
    bounds: new LatestWins(),
    row: new LatestWins(),
    search: new LatestWins(),
    field: new LatestWins(),
    spread: new LatestWins(),
    exposure: new LatestWins(),
    supplies: new LatestWins(),
    sensitivity: new LatestWins(),
    fit: new LatestWins(),
    fitMap: new LatestWins(),
  };

  async function quick(design: Design, signal?: AbortSignal): Promise<Outcome<QuickAnswer>> {
    const mine = latest.quick.next(signal);
    return runner.run('quick', { design, model: models.known(design) }, { lane: 'front', signal: mine });
  }

  async function solve(
    design: Design,
    signal?: AbortSignal,
    onFirst?: (answer: PoseAnswer) => void,
  ): Promise<Outcome<PoseAnswer>> {
    const mine = latest.solve.next(signal);
    const known = sensitivities.get(sensitivityKey(design));
    const run = (plates: readonly PlateSensitivity[]) =>
      runner.run('solve', { design, plates }, { lane: 'front', signal: mine });
    if (known) return run(known);
    // The numbers first; how far the plates' tolerances move them takes longer and follows.
    let first: Outcome<PoseAnswer> | null = null;
    if (onFirst) {
      first = await run([]);
      if (!first.ok) return first;
      onFirst(first.value);
    }
    const plates = await plateAnswers(design, mine);
    if (!plates.ok) return plates;
    // Where no plate has a tolerance the first answer is the whole one.
    return first !== null && plates.value.length === 0 ? first : run(plates.value);
  }

  async function plateAnswers(design: Design, signal: AbortSignal): Promise<Outcome<readonly PlateSensitivity[]>> {
    const key = sensitivityKey(design);
    const known = sensitivities.get(key);
    if (known) return { ok: true, value: known, elapsedMs: 0 };
    const outcome = await runner.run('sensitivity', { design }, { lane: 'back', signal });
    if (outcome.ok) sensitivities.set(key, outcome.value);
    return outcome;
  }

  /** What is known without waiting: a first look goes without the rest. */
  function knownAnswers(design: Design): Outcome<readonly PlateSensitivity[]> {
    return { ok: true, value: sensitivities.get(sensitivityKey(design)) ?? [], elapsedMs: 0 };
  }

  async function map(
    request: MapRequest,
    signal?: AbortSignal,
    onProgress?: (progress: Progress) => void,
  ): Promise<Outcome<OffsetMap>> {
    const mine = latest.map.next(signal);
    const began = now();
    const { design, points, spanMm } = request;
    const level = request.level ?? (points <= FIRST_LOOK_POINTS ? 'coarse' : 'fine');
    const model = await models.obtain(design, level, mine, onProgress);
    if (!model.ok) return model;
    const modelled = now();
    onProgress?.({ fraction: 0, stage: 'the map' });
    const grid = await runner.run(
      'mapGrid',
      { design, model: model.value, points, spanMm },
      { lane: 'back', signal: mine },
    );
    if (!grid.ok) return grid;
    const gridded = now();
    const total = grid.value.xMm.length * grid.value.yMm.length;
    const circuit: MapCircuit = {
      maxOutputA: new Float64Array(total),
      peakOutputA: new Float64Array(total),
      wakeV: new Float64Array(total),
    };
    let done = 0;
    const chunk = async (from: number): Promise<Failed | null> => {
      const to = Math.min(total, from + CIRCUIT_CHUNK);
      const part = await runner.run(
        'mapCircuit',
        { design, grid: grid.value, from, to },
        { lane: 'back', signal: mine },
      );
      if (!part.ok) return part;
      circuit.maxOutputA.set(part.value.maxOutputA, from);
      circuit.peakOutputA.set(part.value.peakOutputA, from);
      circuit.wakeV.set(part.value.wakeV, from);
      done += to - from;
      onProgress?.({ fraction: done / total, stage: 'the map' });
      return null;
    };
    // The checks are as long as all the rest; side by side no worker waits for another.
    const checked = async (): Promise<Outcome<MapCheck[]>> => {
      const plates = model.value.level === 'rough' ? knownAnswers(design) : await plateAnswers(design, mine);
      if (!plates.ok) return plates;
      const { xMm, yMm } = grid.value;
      return checksOver(design, model.value, plates.value, xMm, yMm, mine, level === 'rough');
    };
    const [failed, checks] = await Promise.all([inChunks(total, CIRCUIT_CHUNK, runner.width, chunk), checked()]);
    if (failed) return failed;
    if (!checks.ok) return checks;
    const circuitMs = now() - gridded;
    const timing = { linkModelMs: modelled - began, gridMs: gridded - modelled, circuitMs };
    const finished = await runner.run(
      'mapFinish',
      { design, model: model.value, grid: grid.value, circuit, checks: checks.value, timing },
      { lane: 'back', signal: mine },
    );
    if (!finished.ok) return finished;
    const totalMs = now() - began;
    return {
      ok: true,
      elapsedMs: totalMs,
      value: { ...finished.value, timing: { ...finished.value.timing, totalMs } },
    };
  }

  const tools = { runner, models, now, plateAnswers, checksOver };
  let holding: Promise<HoldSequence> | null = null;
  const holdSequence = (): Promise<HoldSequence> => {
    holding ??= import('./hold.ts').then(({ createHold }) => createHold(tools));
    // A script that did not arrive is asked for again the next time.
    holding.catch(() => {
      holding = null;
    });
    return holding;
  };
  const hold: Engine['hold'] = async (design, signal, onProgress, onFirst) => {
    const latestSignal = latest.hold.next(signal);
    return (await holdSequence()).full(design, latestSignal, onProgress, onFirst);
  };
  const holdFirst: Engine['holdFirst'] = async (design, signal, onProgress) => {
    const latestSignal = latest.holdFirst.next(signal);
    return (await holdSequence()).first(design, latestSignal, onProgress);
  };

  const kept = {
    points: new Lru<readonly SweepPoint[]>(LINES_KEPT),
    exact: new Lru<ReadonlyMap<number, ExactPoint>>(LINES_KEPT),
  };
  const sweepTools = { runner, models, now, plateAnswers, knownAnswers, kept };
  // Each of these has a sequence of its own, which is fetched when it is first asked for.
  const sweep: Engine['sweep'] = async (request, signal, onProgress) => {
    const mine = latest.sweep.next(signal);
    const { sweepLine } = await import('./sweep.ts');
    return sweepLine(sweepTools, request, mine, onProgress);
  };

  const field: Engine['field'] = async (design, signal, onProgress) => {
    const mine = latest.field.next(signal);
    const { fieldLinesInChunks } = await import('./field-lines.ts');
    return fieldLinesInChunks(runner, now, design, mine, onProgress);
  };

  const rivals: Engine['rivals'] = async (request, signal, onProgress) => {
    const mine = latest.rivals.next(signal);
    const { compareRivals } = await import('./rivals.ts');
    return compareRivals(runner, plateAnswers, request, mine, now, onProgress);
  };

  const spread: Engine['spread'] = async (design, signal) => {
    const mine = latest.spread.next(signal);
    const { spreadOf } = await import('./spread.ts');
    return spreadOf(runner, plateAnswers, design, mine);
  };

  const exposure: Engine['exposure'] = async (design, source, signal) => {
    const mine = latest.exposure.next(signal);
    const { exposureOf } = await import('./spread.ts');
    return exposureOf(runner, plateAnswers, design, source, mine);
  };

  const retune: Engine['retune'] = (design, signal) =>
    runner.run('retune', { design }, { lane: 'back', signal: latest.retune.next(signal) });

  const bounds: Engine['bounds'] = async (design, signal, onProgress) => {
    const mine = latest.bounds.next(signal);
    const { boundsOf } = await import('./bounds.ts');
    return boundsOf(runner, plateAnswers, design, mine, now, onProgress);
  };

  const coilSizes: Engine['coilSizes'] = (question, signal) =>
    runner.run('coilSizes', question, { lane: 'back', signal: latest.coilSizes.next(signal) });

  const search: Engine['search'] = async (request, signal, onProgress, onFront) => {
    const mine = latest.search.next(signal);
    const { searchDesigns } = await import('./search.ts');
    return searchDesigns(runner, plateAnswers, request, mine, now, { onProgress, onFront });
  };

  const supplies: Engine['supplies'] = async (request, signal, onProgress, onFirst) => {
    const mine = latest.supplies.next(signal);
    const { compareSupplies } = await import('./supply-choice.ts');
    return compareSupplies(tools, request, mine, onProgress, onFirst);
  };

  const sensitivity: Engine['sensitivity'] = async (design, signal, onProgress) => {
    const mine = latest.sensitivity.next(signal);
    const { sensitivityOf } = await import('./sensitivity.ts');
    return sensitivityOf(runner, plateAnswers, now, design, mine, onProgress);
  };

  const fitTools = { runner, models, now };
  const fit: Engine['fit'] = async (request, signal, onProgress) => {
    const mine = latest.fit.next(signal);
    const { fitReadings } = await import('./fit.ts');
    return fitReadings(fitTools, request, mine, onProgress);
  };

  const fitMap: Engine['fitMap'] = async (request, signal, onProgress) => {
    const mine = latest.fitMap.next(signal);
    const { mapOfFit } = await import('./fit.ts');
    return mapOfFit(fitTools, request, mine, onProgress);
  };

  const lesson: Engine['lesson'] = (number, signal) => runner.run('lesson', { number }, { lane: 'back', signal });

  const row: Engine['row'] = (design, signal, onProgress) =>
    coilRow(runner, plateAnswers, design, latest.row.next(signal), now, onProgress);

  return {
    quick,
    solve,
    map,
    sweep,
    hold,
    holdFirst,
    field,
    rivals,
    retune,
    coilSizes,
    bounds,
    row,
    lesson,
    search,
    spread,
    exposure,
    supplies,
    sensitivity,
    fit,
    fitMap,
    dispose: () => runner.dispose(),
  };
}
