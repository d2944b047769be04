import { gapStep } from '../analysis/hold/gap-steps.ts';
import type { HoldPartsDone, MagnetPieces } from '../analysis/hold/hold-from-layers.ts';
import type { HoldInputs } from '../analysis/hold/hold-inputs.ts';
import type { LotteryPieces } from '../analysis/hold/lottery-report.ts';
import type { MagnetReport } from '../analysis/hold/magnet-report.ts';
import type { Stacking } from '../analysis/hold/recess.ts';
import type { CheckedRecess } from '../analysis/hold/recess-report.ts';
import { leastOf, type SettleTry } from '../analysis/hold/recess-settle.ts';
import type { WorstCheck } from '../analysis/hold/region-report.ts';
import type { GapLimits } from '../analysis/hold/tolerance-stack.ts';
import { worstCheckOf } from '../analysis/hold/worst-check-sum.ts';
import { Lru } from '../analysis/lru.ts';
import type { Design } from '../design/types.ts';
import type { GridChange } from '../physics/field/field-model.ts';
import type { SaturationState } from '../physics/magnet/saturation.ts';
import { type Failed, inChunks } from './in-chunks.ts';
import type { JobArguments, JobName, JobResult } from './jobs.ts';
import type { Lane, Runner } from './runner.ts';
import type { Outcome, Progress } from './types.ts';

/** Everything that maps over offset depend on; not the recess, the magnets, the scatter. */
export function linkText({ transmitter, receiver, placement, demand, assumed = [] }: Design): string {
  const guesses = assumed.filter((path) => !/^(holding|readings|meters)\b/.test(path));
  return JSON.stringify([transmitter, receiver, placement, demand, guesses]);
}

/** A part kept under its key. */
const obtained = <T>(value: T): Outcome<T> => ({ ok: true, value, elapsedMs: 0 });

/** Offsets in one chunk at which the magnets' forces between the plates are worked out: some tens of milliseconds each. */
const FORCES_AT_ONCE = 2;
/** Of the lottery, see `LotteryPieces`. */
const PIECES = ['free', 'walled', 'curve'] as const;
/** See `SATURATION_CASES`, which lies beside physics. */
const CASES = ['none', 'mean', 'along', 'across'] as const;

/** Gaps judged in one chunk: the exact circuit takes some tens of milliseconds each. */
const GAPS_AT_ONCE = 3;

/**
 * Recess, magnets, gaps and the check of the worst region: each kept by what it depends on, and worked out in chunks short
 * enough to be stopped between.
 */
export function createHoldParts(runner: Runner) {
  const recesses = new Lru<CheckedRecess>(24);
  const magnets = new Lru<{ readonly report: MagnetReport | null }>(24);
  const limits = new Lru<GapLimits>(24);
  const checks = new Lru<{ readonly check: WorstCheck | null }>(24);

  const recessKey = (design: Design, stacking: Stacking): string => {
    const { recess } = design.holding;
    // The recommendation does not depend on the clearance that the design has now.
    return `${linkText(design)} ${stacking} ${JSON.stringify(recess ? { ...recess, clearanceMm: 0 } : null)}`;
  };
  const magnetKey = (design: Design): string => {
    const { magnets: given, deviceMassG, friction, tableAngleDeg, recess } = design.holding;
    return `${linkText(design)} ${JSON.stringify([given, deviceMassG, friction, tableAngleDeg, recess?.outline ?? null])}`;
  };
  const checkKey = (design: Design): string =>
    `${linkText(design)} ${JSON.stringify([design.stack, design.holding.recess])}`;

  type Ask = <K extends JobName>(name: K, args: JobArguments<K>) => Promise<Outcome<JobResult<K>>>;

  /** Several jobs of one kind side by side, their answers in order. */
  async function all<K extends JobName>(
    ask: Ask,
    name: K,
    list: readonly JobArguments<K>[],
  ): Promise<Outcome<JobResult<K>[]>> {
    const found = new Array<JobResult<K>>(list.length);
    const failed = await inChunks(list.length, 1, runner.width, async (index) => {
      const outcome = await ask(name, list[index]!);
      if (!outcome.ok) return outcome;
      found[index] = outcome.value;
      return null;
    });
    return failed ?? obtained(found);
  }

  async function settle(ask: Ask, inputs: HoldInputs, stacking: Stacking): Promise<Outcome<CheckedRecess>> {
    const turns = { ...inputs, layers: inputs.layers.filter((layer) => layer.use === 'turns'), stacking };
    const quick = await ask('holdRecessQuick', turns);
    if (!quick.ok) return quick;
    const tries: SettleTry[] = [];
    for (;;) {
      const next = await ask('holdRecessStep', { ...turns, quick: quick.value, tries });
      if (!next.ok) return next;
      if (next.value.kind === 'settled') {
        const band = await ask('holdRecessBand', turns);
        return band.ok ? obtained({ ...next.value.recess, clearanceBandMm: band.value }) : band;
      }
      const { clearanceMm, worst, places } = next.value;
      const { design } = inputs;
      const margins = await all(
        ask,
        'holdRecessDirect',
        places.map((place) => ({ design, place })),
      );
      if (!margins.ok) return margins;
      tries.push({ clearanceMm, worst, direct: leastOf(margins.value) });
    }
  }

  async function magnetReport(ask: Ask, { design, layers }: HoldInputs): Promise<Outcome<MagnetReport | null>> {
    const count = await ask('holdMagnetCount', { design });
    if (!count.ok) return count;
    const spans: { design: Design; from: number; to: number }[] = [];
    for (let from = 0; from < count.value; from += FORCES_AT_ONCE)
      spans.push({ design, from, to: Math.min(count.value, from + FORCES_AT_ONCE) });
    const forces = await all(ask, 'holdMagnetForces', spans);
    if (!forces.ok) return forces;
    let flux: SaturationState | null = null;
    while (count.value > 0 && !flux?.settled) {
      const round: Outcome<SaturationState> = await ask('holdMagnetFlux', { design, before: flux });
      if (!round.ok) return round;
      flux = round.value;
    }
    let changes: MagnetPieces['changes'] = null;
    if (flux) {
      const settled = flux;
      const solved = await all(
        ask,
        'holdSaturated',
        CASES.map((which) => ({ design, flux: settled, which })),
      );
      if (!solved.ok) return solved;
      const [none, mean, along, across] = solved.value as [GridChange, GridChange, GridChange, GridChange];
      changes = { none, mean, along, across };
    }
    const heat = await ask('holdMagnetHeat', { design });
    if (!heat.ok) return heat;
    const samples = Float64Array.from(forces.value.flatMap((chunk) => [...chunk]));
    const turns = layers.filter((layer) => layer.use === 'turns');
    const pieces = { samples, flux, changes, coilField: heat.value };
    return ask('holdMagnets', { design, layers: turns, pieces });
  }

  async function keptGaps(ask: Ask, { design, model }: HoldInputs): Promise<Outcome<GapLimits>> {
    const known = new Map<number, number>();
    const range = [model.domain.gapMin * 1e3, model.domain.gapMax * 1e3] as const;
    for (;;) {
      const next = gapStep(design, range, known);
      if (next.kind === 'kept') return obtained(next.limits);
      const groups: number[][] = [];
      for (let k = 0; k < next.gapsMm.length; k += GAPS_AT_ONCE) groups.push(next.gapsMm.slice(k, k + GAPS_AT_ONCE));
      const margins = await all(
        ask,
        'holdGapMargins',
        groups.map((gapsMm) => ({ design, model, gapsMm })),
      );
      if (!margins.ok) return margins;
      margins.value.flat().forEach((margin, k) => {
        known.set(next.gapsMm[k]!, margin);
      });
    }
  }

  async function checkWorst(ask: Ask, { design, layers }: HoldInputs): Promise<Outcome<WorstCheck | null>> {
    const worst = layers.filter((layer) => layer.use === 'worst');
    const places = await ask('holdWorstPlaces', { design, layers: worst });
    if (!places.ok) return places;
    const direct = await all(
      ask,
      'holdWorstDirect',
      places.value.map((place) => ({ design, place })),
    );
    return direct.ok ? obtained(worstCheckOf(places.value, direct.value)) : direct;
  }

  /** What is known of this very recess, these magnets, this stack. */
  function known(design: Design): HoldPartsDone {
    const worst = recesses.get(recessKey(design, 'worst'));
    const rss = recesses.get(recessKey(design, 'rss'));
    return {
      advice: worst && rss ? { worst, rss } : null,
      magnets: magnets.get(magnetKey(design))?.report ?? null,
      limits: limits.get(linkText(design)) ?? null,
      check: checks.get(checkKey(design))?.check ?? null,
      // Depends on everything; worked out each time.
      lottery: null,
    };
  }

  /** Works out what is not known yet, side by side. */
  async function obtain(
    inputs: HoldInputs,
    lane: Lane,
    signal: AbortSignal,
    onProgress?: (progress: Progress) => void,
  ): Promise<Failed | null> {
    const { design } = inputs;
    const ask: Ask = (name, args) => runner.run(name, args, { lane, signal });
    const part =
      <T extends object>(store: Lru<T>, key: string, work: () => Promise<Outcome<T>>) =>
      async (): Promise<Failed | null> => {
        if (store.get(key)) return null;
        const outcome = await work();
        if (!outcome.ok) return outcome;
        store.set(key, outcome.value);
        return null;
      };
    const parts = [
      part(recesses, recessKey(design, 'worst'), () => settle(ask, inputs, 'worst')),
      part(recesses, recessKey(design, 'rss'), () => settle(ask, inputs, 'rss')),
      async () =>
        design.holding.magnets
          ? part(magnets, magnetKey(design), async () => {
              const outcome = await magnetReport(ask, inputs);
              return outcome.ok ? obtained({ report: outcome.value }) : outcome;
            })()
          : null,
      part(limits, linkText(design), () => keptGaps(ask, inputs)),
      part(checks, checkKey(design), async () => {
        const outcome = await checkWorst(ask, inputs);
        return outcome.ok ? obtained({ check: outcome.value }) : outcome;
      }),
    ];
    let done = 0;
    return inChunks(parts.length, 1, runner.width, async (index) => {
      const failed = await parts[index]!();
      done++;
      onProgress?.({ fraction: done / (parts.length + 1), stage: 'recess and magnets' });
      return failed;
    });
  }

  /** The lotteries, piece by piece; with what is known of recess and magnets. */
  async function lottery(inputs: HoldInputs, signal: AbortSignal): Promise<Outcome<LotteryPieces>> {
    const turns = { ...inputs, layers: inputs.layers.filter((layer) => layer.use === 'turns') };
    const { advice, magnets: report } = known(inputs.design);
    const ask: Ask = (name, args) => runner.run(name, args, { lane: 'back', signal });
    const pieces = PIECES.map((which) => ({ ...turns, done: { advice, magnets: report }, which }));
    const found = await all(ask, 'holdLottery', pieces);
    if (!found.ok) return found;
    const [free, walled, curve] = found.value as [
      LotteryPieces['free'],
      LotteryPieces['walled'],
      LotteryPieces['curve'],
    ];
    return obtained({ free, walled, curve });
  }

  return { known, obtain, lottery };
}
