import { walk } from './edge-walk.ts';
import { firstHarmonicTier } from './first-harmonic-tier.ts';
import { type SolvedLoad, solveLoad, verdict } from './operating-point.ts';
import { periodicTier } from './periodic-tier.ts';
import type { Boards, Limit, LinkElectrical, MaxOutput, SolverMethod } from './types.ts';
import { wakingAt } from './wake.ts';

export interface MaxOutputOptions {
  readonly tier: 'fast' | 'exact';
  /** Leave out shut-down, cell and touch: short peaks. */
  readonly ignoreThermal: boolean;
  /** The load charges the cell: its temperature limit counts. */
  readonly charging: boolean;
  /** A link that does not wake delivers nothing. */
  readonly mustWake: boolean;
  /** Load at which the interval must begin, A: the lightest the receiver runs at. */
  readonly fromA: number;
}

export const MAX_OUTPUT_DEFAULTS: MaxOutputOptions = Object.freeze({
  tier: 'exact',
  ignoreThermal: false,
  charging: false,
  mustWake: false,
  fromA: 0,
});

const HOTTEST_COPPER_C = 300;
/** Temperatures are taken just inside the limit, where the control still holds. */
const EDGE_SHARE = 0.999;

/** Loads between idle and the link's limit at which every verdict is sampled. */
const LOAD_SAMPLES = 10;
const HUMP_STEPS = 8;
const GOLDEN = (Math.sqrt(5) - 1) / 2;

/**
 * Largest load that the control follows in regulation, coming from idle, and the limit that ends it.
 *
 * For each frequency the current that the link delivers at the least voltage the regulator needs is found; walking down from the top of
 * the window, the largest so far is what the control can follow until a setting that would raise it breaks the coil's or the supply's
 * current limit. Then the loads below are sampled for overvoltage, temperature and gaps.
 *
 * @returns the current with every limit's own value; `furtherBranch` where larger loads are possible beyond a gap.
 * Accuracy: as the operating point; the link's limit itself to 1e-4 (exact) or 1e-8 (fast, of its own model).
 */
export function maxOutput(
  link: LinkElectrical,
  boards: Boards,
  options: Partial<MaxOutputOptions> = MAX_OUTPUT_DEFAULTS,
): MaxOutput {
  // A board that stops below some load is asked from that load on, not refused because idle is lighter.
  if (boards.pickup.stop?.minimumLoadA != null) {
    const stop = { ...boards.pickup.stop, minimumLoadA: null };
    return maxOutput(link, { ...boards, pickup: { ...boards.pickup, stop } }, options);
  }
  const settings = { ...MAX_OUTPUT_DEFAULTS, ...options };
  const { ambient } = boards.thermal;
  if (settings.mustWake && !wakingAt(link, boards, settings.tier).wakes) return nothing('asleep', 'firstHarmonic');

  // Copper warms with the load: walk cold, then at the temperatures of the limit found, until both agree.
  let warm = { transmitterC: ambient, receiverC: ambient };
  let swept = walk(firstHarmonicTier(link, boards, warm), boards, []);
  for (let k = 0; k < 12; k++) {
    const load = Math.min(Math.max(swept.reach, settings.fromA), boards.pickup.regulator.currentLimit);
    const heat = solveLoad(link, boards, load * EDGE_SHARE, 'fast').temperatures;
    const change = Math.max(Math.abs(heat.transmitterC - warm.transmitterC), Math.abs(heat.receiverC - warm.receiverC));
    if (change < 0.05) break;
    // Halved later on: a limit that comes and goes with the temperature would make it swing for ever.
    const step = k < 4 ? 1 : 0.5;
    const toward = (from: number, to: number) => Math.min(from + step * (to - from), HOTTEST_COPPER_C);
    warm = {
      transmitterC: toward(warm.transmitterC, heat.transmitterC),
      receiverC: toward(warm.receiverC, heat.receiverC),
    };
    swept = walk(firstHarmonicTier(link, boards, warm), boards, []);
  }
  let method: SolverMethod = 'firstHarmonic';
  const fastReach = swept.reach;
  if (settings.tier === 'exact') {
    const exact = walk(
      periodicTier(link, boards, warm),
      boards,
      Number.isFinite(swept.frequency) ? [swept.frequency] : [],
    );
    swept = exact;
    method = exact.method;
  }
  const { regulator } = boards.pickup;
  const limits = {
    link: swept.link,
    regulatorCurrent: regulator.currentLimit,
    ...swept.alone,
    shutdown: Number.POSITIVE_INFINITY,
    cell: Number.POSITIVE_INFINITY,
    touch: Number.POSITIVE_INFINITY,
  };
  let current = swept.reach;
  let limitedBy: Limit = swept.limit;
  if (regulator.currentLimit < current) {
    current = regulator.currentLimit;
    limitedBy = 'regulatorCurrent';
  }
  let furtherBranch = swept.furtherBranch;

  // Verdicts between idle and there, by the fast tier scaled to the exact one's reach where they differ.
  const scale = fastReach > 0 && current > 0 ? Math.min(1, (fastReach / swept.reach) * 0.9999) : 1;
  const verdictAt = (load: number): Verdict =>
    judge(solveLoad(link, boards, load * scale, 'fast'), boards, load, settings);
  const exactlyCarried = (load: number): boolean =>
    judge(solveLoad(link, boards, load, 'exact'), boards, load, settings).limit === null;
  if (!(current > 0)) return { ...nothing(limitedBy, method), limits, furtherBranch, frequency: swept.frequency };
  const start = Math.min(settings.fromA, current);
  let good = start;
  let failure: Verdict | null = null;
  let bad = Number.NaN;
  let humpEnd = Number.NaN;
  for (let k = 0; k <= LOAD_SAMPLES; k++) {
    const load = start + ((current - start) * k) / LOAD_SAMPLES;
    const at = verdictAt(Math.min(load, current * (1 - 1e-9)));
    if (at.limit === null) {
      if (failure !== null) {
        furtherBranch = true;
        break;
      }
      good = load;
      if (at.overfed && failure === null) humpEnd = Math.min(current, load + (current - start) / LOAD_SAMPLES);
    } else if (failure === null) {
      failure = at;
      bad = load;
    }
  }
  if (!Number.isNaN(humpEnd) && !settings.ignoreThermal) {
    // An overfed receiver is hottest at a load inside: loss (V - output) I rises, then falls as the voltage comes down.
    let a = start;
    let b = humpEnd;
    for (let k = 0; k < HUMP_STEPS; k++) {
      const c = b - GOLDEN * (b - a);
      const d = a + GOLDEN * (b - a);
      const atC = verdictAt(c);
      if (atC.limit !== null) {
        failure = atC;
        good = a;
        bad = c;
        furtherBranch = true;
        break;
      }
      if (atC.receiverC >= verdictAt(d).receiverC) b = d;
      else a = c;
    }
  }
  if (failure !== null && failure.limit !== null) {
    if (bad === start) {
      return {
        ...nothing(failure.limit, method),
        limits: withLimit(limits, failure.limit, 0),
        furtherBranch,
        frequency: swept.frequency,
      };
    }
    let limit: Limit = failure.limit;
    for (let k = 0; k < 40 && bad - good > 1e-7; k++) {
      const middle = (good + bad) / 2;
      const at = verdictAt(middle);
      if (at.limit === null) good = middle;
      else {
        bad = middle;
        limit = at.limit;
      }
    }
    if (settings.tier === 'exact' && limit in swept.alone) good = narrowed(good, current, exactlyCarried);
    // A gap right below the sweep's own limit is that limit, seen by the other tier.
    if (limit === 'link' && current - good < 0.02 * current) good = current;
    if (good < current) {
      current = good;
      limitedBy = limit;
      Object.assign(limits, withLimit(limits, limit, good));
    }
  }
  return { current, limitedBy, furtherBranch, limits, frequency: swept.frequency, method };
}

/** Share of the load within which an overfed receiver's limit is found again by the exact waveform, and how finely. */
const EXACT_STRIDE = 0.06;
const EXACT_HALVINGS = 6;

/** Largest load carried near `start`, up to `most`: the first harmonic's currents are off by some per cent where the receiver is overfed. */
function narrowed(start: number, most: number, carried: (load: number) => boolean): number {
  const stride = EXACT_STRIDE * start;
  const upwards = carried(start);
  let good = start;
  let bad = start;
  for (let k = 0; k < 8; k++) {
    const next = upwards ? Math.min(most, good + stride) : Math.max(0, bad - stride);
    if (carried(next)) {
      good = next;
      if (!upwards || next === most) break;
    } else {
      bad = next;
      if (upwards || next === 0) break;
    }
  }
  if (upwards && bad <= good) return good;
  if (!upwards && good >= bad) return 0;
  for (let k = 0; k < EXACT_HALVINGS; k++) {
    const middle = (good + bad) / 2;
    if (carried(middle)) good = middle;
    else bad = middle;
  }
  return good;
}

function withLimit(limits: MaxOutput['limits'], limit: Limit, value: number): MaxOutput['limits'] {
  return limit in limits ? { ...limits, [limit]: value } : limits;
}

function nothing(limitedBy: Limit, method: SolverMethod): MaxOutput {
  const none = Number.POSITIVE_INFINITY;
  return {
    current: 0,
    limitedBy,
    furtherBranch: false,
    limits: {
      link: limitedBy === 'link' ? 0 : none,
      regulatorCurrent: none,
      coilCurrent: none,
      supplyCurrent: none,
      supplySag: none,
      shutdown: none,
      cell: none,
      touch: none,
    },
    frequency: Number.NaN,
    method,
  };
}

interface Verdict {
  /** null: this load is carried. */
  readonly limit: Limit | null;
  readonly overfed: boolean;
  readonly receiverC: number;
}

function judge(solved: SolvedLoad, boards: Boards, load: number, settings: MaxOutputOptions): Verdict {
  // Heat that does not count must not hide what does.
  const judged = settings.ignoreThermal
    ? { ...boards, thermal: { ...boards.thermal, shutdown: Number.POSITIVE_INFINITY } }
    : boards;
  const { state, limit } = verdict(solved, judged, load, settings.charging && !settings.ignoreThermal);
  const { receiverC, caseC } = solved.temperatures;
  const answer = (broken: Limit | null): Verdict => ({
    limit: broken,
    overfed: solved.steered.outcome === 'overfed',
    receiverC,
  });
  if (state === 'overvoltage' || state === 'stopped') return answer(state);
  if (state === 'starved') return answer(limit ?? 'link');
  if (settings.ignoreThermal) return answer(null);
  if (state === 'hot') return answer(limit);
  return answer(caseC > boards.thermal.touchMax ? 'touch' : null);
}
