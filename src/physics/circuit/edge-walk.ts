import {
  hasLevel,
  loadFromRectifier,
  neededRectifiedV,
  rectifierDemand,
  type Setting,
  targetRectifiedV,
} from './board-model.ts';
import { brokenLimit, windowNodes } from './control.ts';
import type { Delivery, LinkTier } from './delivery.ts';
import type { Boards, DriveLimit, SolverMethod } from './types.ts';

/** What the control can follow down the window. */
export interface Walk {
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

/**
 * Largest load on the walk of the control: the loads at which the rectified voltage is just what the regulator needs, from full drive
 * at the top of the window downwards, their running maximum, until a setting that would raise it breaks a limit. Where full drive at
 * the top already breaks one, the limit is met with less drive there.
 *
 * @param near frequencies at which another tier found the answer; sampled as well.
 */
export function walk(tier: LinkTier, boards: Boards, near: readonly number[]): Walk {
  const { drive } = boards;
  const span = Math.log(drive.frequencyMin / drive.frequencyMax);
  const frequencyAt = (x: number) => drive.frequencyMax * Math.exp(span * x);
  const exact = tier.method === 'periodic';
  let guess = 0;
  const edge = (x: number): EdgePoint => {
    const point = edgeAt(tier, boards, { frequency: frequencyAt(x), level: 1 }, guess, x);
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
      const steps = exact ? 14 : 45;
      const before = points[points.indexOf(point) - 1];
      const end = before ? limitPoint(edge, drive, before, point, steps) : limitAtTop(tier, boards, point, steps);
      limit = broken;
      reach = Math.max(reach, end.load);
      frequency = end.delivery.setting.frequency;
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

/**
 * Where a limit is met that full drive at the top of the window breaks: with less drive, rectified voltage still just sufficient; or,
 * where the least drive breaks it too, at a higher voltage, up to the target. Beyond the target the least drive overfeeds the receiver,
 * which the operating points of those loads judge.
 */
function limitAtTop(tier: LinkTier, boards: Boards, broken: EdgePoint, steps: number): EdgePoint {
  const { drive } = boards;
  let guess = broken.load;
  const keep = (point: EdgePoint): EdgePoint => {
    guess = point.load;
    return point;
  };
  let outside = broken;
  if (hasLevel(drive)) {
    const atLevel = (level: number) =>
      keep(edgeAt(tier, boards, { frequency: drive.frequencyMax, level }, guess, level));
    const least = atLevel(0);
    if (within(drive, least)) return limitPoint(atLevel, drive, least, { ...broken, x: 1 }, steps);
    outside = least;
  }
  const setting = { frequency: drive.frequencyMax, level: hasLevel(drive) ? 0 : 1 };
  const below = (x: number) => keep(held(tier, boards, setting, guess, x));
  const atTarget = below(0);
  if (!within(drive, atTarget)) return atTarget;
  return limitPoint(below, drive, atTarget, { ...outside, x: 1 }, steps);
}

/** Load and delivery at one setting, the rectified voltage a share of the way from the target (0) down to what the regulator needs (1). */
function held(tier: LinkTier, boards: Boards, setting: Setting, guess: number, share: number): EdgePoint {
  const { pickup } = boards;
  const loadAt = (delivery: Delivery) => loadFromRectifier(pickup, delivery.rectifierA, delivery.rectifiedV);
  // Both voltages change with the load: a secant on load in = load out.
  const deliverAt = (load: number) => {
    const target = targetRectifiedV(pickup, load);
    return tier.deliver(setting, target + share * (neededRectifiedV(pickup, load) - target));
  };
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
  return { x: share, load: delivery.rectifierA > 0 ? Math.max(0, Math.min(load, out)) : 0, delivery };
}

/** Load and delivery at one setting, with the rectified voltage just at what the regulator needs for that load. */
function edgeAt(tier: LinkTier, boards: Boards, setting: Setting, guess: number, x: number): EdgePoint {
  const { pickup } = boards;
  const loadAt = (delivery: Delivery) => loadFromRectifier(pickup, delivery.rectifierA, delivery.rectifiedV);
  const atNeeded = held(tier, boards, setting, guess, 1);
  const { delivery } = atNeeded;
  let best: EdgePoint = { ...atNeeded, x };
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

/** Last point within the limits (or without a load) between such a one and a broken one. */
function limitPoint(
  edge: (x: number) => EdgePoint,
  drive: Boards['drive'],
  good: EdgePoint,
  broken: EdgePoint,
  steps: number,
): EdgePoint {
  let inside = good;
  let outside = broken;
  for (let k = 0; k < steps && outside.x - inside.x > 1e-10; k++) {
    const point = edge((inside.x + outside.x) / 2);
    if (within(drive, point)) inside = point;
    else outside = point;
  }
  return inside;
}

function within(drive: Boards['drive'], point: EdgePoint): boolean {
  return !(point.load > 0) || brokenLimit(drive, point.delivery) === null;
}
