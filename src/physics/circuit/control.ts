import { bracketedRoot } from '../../numerics/bracketed-root.ts';
import { hasLevel, neededRectifiedV, rectifierDemand, type Setting, targetRectifiedV } from './board-model.ts';
import { type Delivery, type LinkTier, NO_DELIVERY } from './delivery.ts';
import type { Boards, Drive, DriveLimit } from './types.ts';

/** Where the control comes to rest for one load. */
export interface Steered {
  readonly delivery: Delivery;
  readonly targetV: number;
  readonly neededV: number;
  /**
   * onTarget: the target is met. belowTarget: as near as the window and the limits allow, still regulated. overfed: least drive gives
   * more than the target. starved: under what the regulator needs, or least drive already breaks a limit. collapsed: no rectified voltage carries this load.
   */
  readonly outcome: 'onTarget' | 'belowTarget' | 'overfed' | 'starved' | 'collapsed';
  /** What stopped the control short of its target: the link itself, the coil current, the supply's limit or its sag; null on target. */
  readonly limit: DriveLimit | null;
  /** Further settings that would also meet the target. */
  readonly furtherCrossings: number;
}

/** Limit that a delivery breaks, or null. */
export function brokenLimit(drive: Drive, delivery: Delivery): Exclude<DriveLimit, 'link'> | null {
  if (delivery.transmitterA > drive.coilCurrentLimit * (1 + 1e-9)) return 'coilCurrent';
  if (delivery.supplyA > drive.supplyCurrentLimit * (1 + 1e-9)) return 'supplyCurrent';
  if (delivery.overloaded) return 'supplySag';
  return null;
}

/** Frequencies from the top of the window down to its bottom, evenly in the logarithm. */
export function windowNodes(drive: Drive, count: number): number[] {
  const { frequencyMin: low, frequencyMax: high } = drive;
  if (high <= low * (1 + 1e-9)) return [high];
  return Array.from({ length: count }, (_, j) => high * (low / high) ** (j / (count - 1)));
}

/**
 * Lets the control settle for one load: least drive at the top of the window, then full drive, then down in frequency to the first
 * setting that meets the target within the coil's and the supply's current limits; where there is none, the setting of the largest
 * rectified voltage on the way within the limits.
 *
 * @param tier how the link is solved. @param boards the boards. @param loadA load at the regulator's output, A.
 * @param near settings at which another tier expects the answer; sampled as well.
 */
export function steer(tier: LinkTier, boards: Boards, loadA: number, near: readonly number[] = []): Steered {
  const { drive, pickup } = boards;
  const targetV = targetRectifiedV(pickup, loadA);
  const neededV = neededRectifiedV(pickup, loadA);
  const demand = (volts: number) => rectifierDemand(pickup, loadA, volts);
  const wanted = demand(targetV);
  const surplus = (delivery: Delivery) => delivery.rectifierA - wanted;
  const answer = (
    delivery: Delivery,
    outcome: Steered['outcome'],
    limit: Steered['limit'] = null,
    furtherCrossings = 0,
  ): Steered => ({ delivery, targetV, neededV, outcome, limit, furtherCrossings });

  const top: Setting = { frequency: drive.frequencyMax, level: 1 };
  const atTop = tier.deliver(top, targetV);
  let candidate: Delivery | null = null;
  let furtherCrossings = 0;
  if (surplus(atTop) >= 0) {
    candidate = atTop;
    if (surplus(atTop) > tier.tolerance * wanted) {
      const least: Setting = { frequency: drive.frequencyMax, level: 0 };
      const atLeast = hasLevel(drive) ? tier.deliver(least, targetV) : atTop;
      if (surplus(atLeast) >= 0) {
        const setting = hasLevel(drive) ? least : top;
        const settled = tier.settle(setting, demand, targetV) ?? atLeast;
        // There is no less drive to go to.
        const beyond = brokenLimit(drive, settled);
        if (beyond !== null) return answer(settled, 'starved', beyond);
        return answer(settled, settled.rectifiedV > targetV * (1 + 1e-6) ? 'overfed' : 'onTarget');
      }
      candidate = refine(
        tier,
        (level) => ({ frequency: drive.frequencyMax, level }),
        targetV,
        wanted,
        0,
        1,
        surplus(atLeast),
        surplus(atTop),
      );
    }
  } else {
    const nodes = [
      ...windowNodes(drive, tier.scan),
      ...near.filter((f) => f < drive.frequencyMax && f > drive.frequencyMin),
    ];
    nodes.sort((a, b) => b - a);
    let previous = surplus(atTop);
    for (let j = 1; j < nodes.length; j++) {
      const at = surplus(tier.deliver({ frequency: nodes[j], level: 1 }, targetV));
      if (previous < 0 && at >= 0) {
        if (candidate === null) {
          candidate = refine(
            tier,
            (frequency) => ({ frequency, level: 1 }),
            targetV,
            wanted,
            nodes[j - 1],
            nodes[j],
            previous,
            at,
          );
        } else furtherCrossings++;
      }
      previous = at;
    }
  }
  if (candidate !== null) {
    const broken = brokenLimit(drive, candidate);
    if (broken === null) return answer(candidate, 'onTarget', null, furtherCrossings);
    const lowest = candidate.setting;
    const best = followed(tier, boards, demand, targetV, near, lowest, neededV);
    return judge(best, broken, answer, neededV, candidate);
  }
  const best = followed(tier, boards, demand, targetV, near, null, neededV);
  return judge(best, best?.broken ?? 'link', answer, neededV, null);
}

function judge(
  best: { delivery: Delivery; broken: Steered['limit'] } | null,
  limit: Steered['limit'],
  answer: (delivery: Delivery, outcome: Steered['outcome'], limit: Steered['limit']) => Steered,
  neededV: number,
  otherwise: Delivery | null,
): Steered {
  if (best === null) return answer(otherwise ?? NO_DELIVERY, 'collapsed', limit);
  const regulated = best.delivery.rectifiedV >= neededV * (1 - 1e-9);
  return answer(best.delivery, regulated ? 'belowTarget' : 'starved', best.broken ?? limit);
}

/** Root of delivered minus wanted current along one actuator. */
function refine(
  tier: LinkTier,
  settingAt: (x: number) => Setting,
  targetV: number,
  wanted: number,
  a: number,
  b: number,
  atA: number,
  atB: number,
): Delivery {
  let last: Delivery | null = null;
  const f = (x: number): number => {
    last = tier.deliver(settingAt(x), targetV);
    return last.rectifierA - wanted;
  };
  const root = bracketedRoot(f, a, b, atA, atB, {
    xTolerance: 1e-12 * Math.max(Math.abs(a), Math.abs(b)),
    fTolerance: tier.tolerance * Math.max(wanted, 1e-3),
    maxEvaluations: 60,
  });
  const held = last as Delivery | null;
  const setting = settingAt(root.value);
  if (held !== null && held.setting.frequency === setting.frequency && held.setting.level === setting.level)
    return held;
  return tier.deliver(setting, targetV);
}

interface Best {
  readonly delivery: Delivery;
  /** The limit at which the walk ended, or null where the voltage itself has its peak. */
  readonly broken: Steered['limit'];
}

/**
 * The largest rectified voltage of a walk with the load drawn from the start; where a limit ends that below what the regulator needs, of
 * one that comes from lighter loads and so enters where the regulator is satisfied.
 */
function followed(
  tier: LinkTier,
  boards: Boards,
  demand: (volts: number) => number,
  guessV: number,
  near: readonly number[],
  end: Setting | null,
  neededV: number,
): Best | null {
  const best = highest(tier, boards, demand, guessV, near, end, 0);
  if (best !== null && (best.broken === null || best.delivery.rectifiedV >= neededV * (1 - 1e-9))) return best;
  return highest(tier, boards, demand, guessV, near, end, neededV * (1 - 1e-9)) ?? best;
}

/**
 * Setting of the largest rectified voltage within the limits for a fixed load, on the walk from the top of the window to `end` (or to
 * its bottom). The walk ends where a setting that would raise the voltage breaks a limit. Settings of less than `leastV` are passed over.
 */
function highest(
  tier: LinkTier,
  boards: Boards,
  demand: (volts: number) => number,
  guessV: number,
  near: readonly number[],
  end: Setting | null,
  leastV: number,
): Best | null {
  const { drive } = boards;
  const exact = tier.method === 'periodic';
  // Position on the walk: -1 least drive at the top, 0 full drive at the top, 1 bottom of the window.
  const span = Math.log(drive.frequencyMin / drive.frequencyMax);
  const settingAt = (x: number): Setting =>
    x <= 0
      ? { frequency: drive.frequencyMax, level: 1 + x }
      : { frequency: drive.frequencyMax * Math.exp(span * x), level: 1 };
  const positionOf = (frequency: number) => (span === 0 ? 0 : Math.log(frequency / drive.frequencyMax) / span);
  const last = end === null ? (span === 0 ? 0 : 1) : end.level < 1 ? end.level - 1 : positionOf(end.frequency);
  const first = hasLevel(drive) ? -1 : 0;
  const positions = new Set<number>([0, last]);
  for (let j = 0; j < tier.scan; j++) positions.add(j / (tier.scan - 1));
  for (const frequency of near) positions.add(positionOf(frequency));
  if (first < 0) for (const x of [-1, -0.75, -0.5, -0.25]) positions.add(x);
  const nodes = [...positions].filter((x) => x >= first && x <= last).sort((a, b) => a - b);

  // A constant-power load can also rest far above the target, where the receiver keeps asking for less: the control does not stay there.
  const solve = (x: number, guess: number): Delivery | null => {
    const at = tier.settle(settingAt(x), demand, guess);
    return at !== null && at.rectifiedV <= guessV * 1.001 && at.rectifiedV >= leastV ? at : null;
  };
  let best: Best | null = null;
  let bestX = Number.NaN;
  let guess = guessV;
  let currentX = first;
  let previousX = first;
  for (const x of nodes) {
    previousX = currentX;
    currentX = x;
    const at = solve(x, guess);
    if (at === null) continue;
    guess = at.rectifiedV;
    if (best !== null && at.rectifiedV <= best.delivery.rectifiedV) continue;
    const broken = brokenLimit(drive, at);
    if (broken === null) {
      best = { delivery: at, broken: null };
      bestX = x;
      continue;
    }
    // The limit lies between the best so far (or the node before, where nothing settled) and here: move up to it.
    let inside = best === null ? previousX : bestX;
    let outside = x;
    for (let k = 0; k < (exact ? 12 : 40) && outside - inside > 1e-9; k++) {
      const middle = (inside + outside) / 2;
      const there: Delivery | null = solve(middle, best?.delivery.rectifiedV ?? guess);
      if (there !== null && brokenLimit(drive, there) !== null) {
        outside = middle;
        continue;
      }
      inside = middle;
      if (there !== null && (best === null || there.rectifiedV > best.delivery.rectifiedV)) {
        best = { delivery: there, broken };
        bestX = middle;
      }
    }
    return best === null ? null : { delivery: best.delivery, broken };
  }
  if (best === null) return null;
  // Peak of the voltage: golden section between the neighbours.
  const index = nodes.indexOf(bestX);
  let a = nodes[Math.max(0, index - 1)];
  let b = nodes[Math.min(nodes.length - 1, index + 1)];
  const ratio = (Math.sqrt(5) - 1) / 2;
  const steps = exact ? 6 : 30;
  let c = b - ratio * (b - a);
  let d = a + ratio * (b - a);
  const value = (x: number): number => {
    const at = solve(x, guess);
    if (at === null || brokenLimit(drive, at) !== null) return Number.NEGATIVE_INFINITY;
    if (best !== null && at.rectifiedV > best.delivery.rectifiedV) best = { delivery: at, broken: null };
    return at.rectifiedV;
  };
  let atC = value(c);
  let atD = value(d);
  for (let k = 0; k < steps && b - a > 1e-7; k++) {
    if (atC >= atD) {
      b = d;
      d = c;
      atD = atC;
      c = b - ratio * (b - a);
      atC = value(c);
    } else {
      a = c;
      c = d;
      atC = atD;
      d = a + ratio * (b - a);
      atD = value(d);
    }
  }
  return best;
}
