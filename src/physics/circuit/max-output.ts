import { loadFromRectifier, neededRectifiedV, rectifierDemand, targetRectifiedV } from './board-model.ts';
import { brokenLimit, windowNodes } from './control.ts';
import type { Delivery, LinkTier } from './delivery.ts';
import { firstHarmonicTier } from './first-harmonic-tier.ts';
import { type SolvedLoad, solveLoad, verdict } from './operating-point.ts';
import { periodicTier } from './periodic-tier.ts';
import type { Boards, DriveLimit, Limit, LinkElectrical, MaxOutput, SolverMethod } from './types.ts';
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
  for (let k = 0; k < 6; k++) {
    const load = Math.min(Math.max(swept.reach, settings.fromA), boards.pickup.regulator.currentLimit);
    const heat = solveLoad(link, boards, load * EDGE_SHARE, 'fast').temperatures;
    const change = Math.max(Math.abs(heat.transmitterC - warm.transmitterC), Math.abs(heat.receiverC - warm.receiverC));
    if (change < 0.05) break;
    warm = {
      transmitterC: Math.min(heat.transmitterC, HOTTEST_COPPER_C),
      receiverC: Math.min(heat.receiverC, HOTTEST_COPPER_C),
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
  const { state, limit } = verdict(solved, boards, load, settings.charging);
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

interface Walk {
  /** Largest load followed within coil and supply limits, and what ended it. */
  readonly reach: number;
  readonly limit: DriveLimit;
  /** Largest load without those limits. */
  readonly link: number;
  readonly alone: Readonly<Record<Exclude<DriveLimit, 'link'>, number>>;
  readonly frequency: number;
  readonly furtherBranch: boolean;
  readonly method: SolverMethod;
}

/** One point of the curve "load at which the rectified voltage is just what the regulator needs" over frequency. */
interface EdgePoint {
  readonly x: number;
  readonly load: number;
  readonly delivery: Delivery;
}

function walk(tier: LinkTier, boards: Boards, near: readonly number[]): Walk {
  const { drive } = boards;
  const span = Math.log(drive.frequencyMin / drive.frequencyMax);
  const frequencyAt = (x: number) => drive.frequencyMax * Math.exp(span * x);
  const exact = tier.method === 'periodic';
  let guess = 0;
  const edge = (x: number): EdgePoint => {
    const point = edgeAt(tier, boards, frequencyAt(x), guess, x);
    guess = point.load;
    return point;
  };
  const positions = windowNodes(drive, tier.scan).map((f) =>
    span === 0 ? 0 : Math.log(f / drive.frequencyMax) / span,
  );
  for (const frequency of near) {
    const x = span === 0 ? 0 : Math.log(frequency / drive.frequencyMax) / span;
    positions.push(...[x - 0.03, x, x + 0.03].filter((p) => p > 0 && p < 1));
  }
  positions.sort((a, b) => a - b);
  const points = positions.map(edge);

  // Refine the peak of the curve.
  let peak = points.reduce((best, point) => (point.load > best.load ? point : best));
  if (peak.load > 0 && points.length > 1) {
    const index = points.indexOf(peak);
    const a = points[Math.max(0, index - 1)].x;
    const b = points[Math.min(points.length - 1, index + 1)].x;
    peak = goldenPeak(edge, a, b, exact ? 7 : 40, peak);
    const at = points.findIndex((point) => point.x >= peak.x);
    if (points[at]?.x !== peak.x) points.splice(at < 0 ? points.length : at, 0, peak);
  }

  let reach = 0;
  let frequency = drive.frequencyMax;
  let limit: Walk['limit'] = 'link';
  const none = Number.POSITIVE_INFINITY;
  const alone = { coilCurrent: none, supplyCurrent: none, supplySag: none };
  let furtherBranch = false;
  let running: EdgePoint | null = null;
  for (const point of points) {
    if (!(point.load > 0) || (running !== null && point.load <= running.load)) continue;
    const broken = brokenLimit(drive, point.delivery);
    if (broken !== null && limit === 'link') {
      const end = limitPoint(edge, drive, points[points.indexOf(point) - 1] ?? null, point, exact ? 14 : 45);
      limit = broken;
      reach = Math.max(reach, end?.load ?? 0);
      if (end !== null) frequency = end.delivery.setting.frequency;
      alone[broken] = reach;
    } else if (broken === null && limit !== 'link') furtherBranch = true;
    else if (broken === null) {
      reach = point.load;
      frequency = point.delivery.setting.frequency;
    }
    running = point;
  }
  return {
    reach,
    limit,
    link: peak.load,
    alone,
    frequency,
    furtherBranch,
    method: peak.delivery.method,
  };
}

/** Load and delivery at one frequency, full drive, with the rectified voltage just at what the regulator needs for that load. */
function edgeAt(tier: LinkTier, boards: Boards, frequency: number, guess: number, x: number): EdgePoint {
  const { pickup } = boards;
  const setting = { frequency, level: 1 };
  const loadAt = (delivery: Delivery) => loadFromRectifier(pickup, delivery.rectifierA, delivery.rectifiedV);
  // The needed voltage rises a little with the load: a secant on load in = load out.
  const deliverAt = (load: number) => tier.deliver(setting, neededRectifiedV(pickup, load));
  const tolerance = tier.method === 'periodic' ? 1e-5 : 1e-11;
  let load = Math.max(guess, 0);
  let delivery = deliverAt(load);
  let out = loadAt(delivery);
  let previous = load;
  let previousOut = out;
  for (let k = 0; k < 25 && Math.abs(out - load) > tolerance * (1 + load); k++) {
    const slope = load === previous ? 0 : (out - previousOut) / (load - previous);
    const next = slope < 0.9 ? load + (out - load) / (1 - slope) : out;
    previous = load;
    previousOut = out;
    load = Math.max(0, next);
    delivery = deliverAt(load);
    out = loadAt(delivery);
  }
  let best: EdgePoint = { x, load: delivery.rectifierA > 0 ? Math.max(0, Math.min(load, out)) : 0, delivery };
  if (delivery.rectifierA > 0 && out < -pickup.regulator.idleCurrent) best = { x, load: 0, delivery };
  if (pickup.regulator.kind === 'switching' && delivery.rectifierA > 0) {
    // A constant-power load may be larger at a higher voltage, up to the target.
    const low = neededRectifiedV(pickup, best.load);
    for (const share of [0.25, 0.5, 0.75, 1]) {
      const volts = low + share * (targetRectifiedV(pickup, best.load) - low);
      const at = tier.deliver(setting, volts);
      const carried = loadAt(at);
      if (carried > best.load && rectifierDemand(pickup, carried, volts) > 0) best = { x, load: carried, delivery: at };
    }
  }
  return best;
}

function goldenPeak(
  edge: (x: number) => EdgePoint,
  from: number,
  to: number,
  steps: number,
  start: EdgePoint,
): EdgePoint {
  const ratio = (Math.sqrt(5) - 1) / 2;
  let best = start;
  let a = from;
  let b = to;
  const look = (x: number): EdgePoint => {
    const point = edge(x);
    if (point.load > best.load) best = point;
    return point;
  };
  let c = look(b - ratio * (b - a));
  let d = look(a + ratio * (b - a));
  for (let k = 0; k < steps && b - a > 1e-9; k++) {
    if (c.load >= d.load) {
      b = d.x;
      d = c;
      c = look(b - ratio * (b - a));
    } else {
      a = c.x;
      c = d;
      d = look(a + ratio * (b - a));
    }
  }
  return best;
}

/** Last point within the limits between a good (or loadless) and a broken one; null where the first of all is broken. */
function limitPoint(
  edge: (x: number) => EdgePoint,
  drive: Boards['drive'],
  good: EdgePoint | null,
  broken: EdgePoint,
  steps: number,
): EdgePoint | null {
  if (good === null) return null;
  let inside = good;
  let outside = broken;
  for (let k = 0; k < steps && outside.x - inside.x > 1e-10; k++) {
    const point = edge((inside.x + outside.x) / 2);
    if (!(point.load > 0) || brokenLimit(drive, point.delivery) === null) inside = point;
    else outside = point;
  }
  return inside;
}
