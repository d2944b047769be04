import { tensorPoints } from '../../numerics/chebyshev.ts';
import { isMirrored } from '../../physics/coil/mirrored.ts';
import type { LinkSide } from '../../physics/field/types.ts';
import { type AttitudeSamples, attitudeSamples } from './attitude-samples.ts';
import type { LinkContext } from './link-context.ts';
import { type Attitude, type LinkDomain, sideRadius } from './link-domain.ts';

/** The two halves of a part, each solved when it is first asked for: turns of the level receiver, and what tilts add. */
export type AttitudeHalf = 'turned' | 'tilted';

/** Nodes along x and y over the half box, and over the gap: of the turn, and of the tilt, which does less. */
const COUNTS = Object.freeze({ turned: [5, 4], tilted: [3, 4] } as const);
/** Largest tilt, rad, and the share of the gap that it may take at the receiver's rim. */
const MOST_TILT = 0.1;
const SHARE_OF_GAP = 0.4;

/**
 * Largest tilt about x, or about y, at a gap: about 6 degrees where there is room, rad.
 * @param radius within which the receiver lies, m
 */
export function largestTilt(radius: number, gap: number): number {
  return 1 / Math.hypot(1 / MOST_TILT, radius / (SHARE_OF_GAP * gap));
}

/** Least gap at which a tilt is no larger than the largest, m; infinite where it never is. */
export function leastGapFor(radius: number, { tiltX, tiltY }: Attitude): number {
  const tilt = Math.max(Math.abs(tiltX), Math.abs(tiltY));
  if (tilt === 0) return 0;
  if (tilt >= MOST_TILT) return Number.POSITIVE_INFINITY;
  return radius / SHARE_OF_GAP / Math.sqrt(1 / tilt ** 2 - 1 / MOST_TILT ** 2);
}

/** A grid of poses of one half. */
interface Grid {
  readonly samples: AttitudeSamples;
  readonly lower: readonly number[];
  readonly upper: readonly number[];
  readonly counts: readonly number[];
  /** x y gap yaw tiltX tiltY of every value, node by node and sample by sample. */
  readonly poses: Float64Array;
}

function gridOf(context: LinkContext, domain: LinkDomain, which: AttitudeHalf): Grid {
  const samples = attitudeSamples(context.receiver)[which];
  const [side, gaps] = COUNTS[which];
  const lower = [-1, -1, Math.log(domain.gapMin)];
  const upper = [1, 1, Math.log(domain.gapMax)];
  const counts = [2 * side - 1, 2 * side - 1, gaps];
  const points = tensorPoints(lower, upper, counts);
  const radius = sideRadius(context.receiver);
  const poses: number[] = [];
  for (let i = 0; i < points.length; i += 3) {
    const gap = Math.exp(points[i + 2]!);
    const most = largestTilt(radius, gap);
    for (let k = 0; k < samples.turns; k++) {
      for (const [tiltX, tiltY] of samples.tilts) {
        const yaw = (k * samples.period) / samples.turns;
        poses.push(domain.halfX * points[i]!, domain.halfY * points[i + 1]!, gap, yaw, most * tiltX, most * tiltY);
      }
    }
  }
  return { samples, lower, upper, counts, poses: Float64Array.from(poses) };
}

/** Mirror images of a pose under which the link stays as it is. */
function images(transmitter: LinkSide, receiver: LinkSide, pose: Float64Array): number[][] {
  const [x, y, gap, yaw, tiltX, tiltY] = pose as unknown as [number, number, number, number, number, number];
  const same = [[x, y, gap, yaw, tiltX, tiltY]];
  if (!isMirrored(transmitter.winding) || !isMirrored(receiver.winding)) return same;
  return [
    ...same,
    [-x, y, gap, -yaw, tiltX, -tiltY],
    [x, -y, gap, -yaw, -tiltX, tiltY],
    [-x, -y, gap, yaw, -tiltX, -tiltY],
  ];
}

/** The same text for poses that are images of each other. */
function canonical(context: LinkContext, period: number, pose: Float64Array): string {
  const rounded = (value: number) => Math.round(value * 1e9) + 0;
  const texts = images(context.transmitter, context.receiver, pose).map((image) => {
    const turn = Math.round((image[3]! / period) * 1e9);
    const yaw = ((turn % 1e9) + 1e9) % 1e9;
    return [image[2]!, image[0]!, image[1]!, image[4]!, image[5]!].map(rounded).concat(yaw).join();
  });
  return texts.sort()[0]!;
}

/** What has to be solved for one half of a part: each pose once, images left out. */
export interface AttitudeWork extends Grid {
  /** Row of `distinct` for each of `poses`. */
  readonly rows: Int32Array;
  /** [n, 6] row-major, neighbours in gap together. */
  readonly distinct: Float64Array;
}

/** The work of one half of the attitude part of a link over a box. */
export function attitudeWork(context: LinkContext, domain: LinkDomain, which: AttitudeHalf): AttitudeWork {
  const grid = gridOf(context, domain, which);
  const { samples, poses } = grid;
  const pose = (k: number) => poses.subarray(6 * k, 6 * k + 6);
  const texts = Array.from({ length: poses.length / 6 }, (_, k) => canonical(context, samples.period, pose(k)));
  const first = new Map<string, Float64Array>();
  texts.forEach((text, k) => {
    if (!first.has(text)) first.set(text, pose(k));
  });
  const order = [...first].sort(([, one], [, two]) => one[2]! - two[2]!);
  const rowOf = new Map(order.map(([text], row) => [text, row]));
  return {
    ...grid,
    rows: Int32Array.from(texts, (text) => rowOf.get(text)!),
    distinct: Float64Array.from(order.flatMap(([, values]) => [...values])),
  };
}
