import { type ChebyshevTensor, evaluateChebyshevTensor, fitChebyshevTensor } from '../../numerics/chebyshev.ts';
import { randomSource } from '../../numerics/random.ts';
import type { Pose } from '../../physics/coil/types.ts';
import { type AttitudeHalf, attitudeWork, largestTilt, leastGapFor } from './attitude-grid.ts';
import { type AttitudeSamples, sampleWeights } from './attitude-samples.ts';
import type { LinkContext } from './link-context.ts';
import { type Attitude, type LinkDomain, sideRadius } from './link-domain.ts';
import { assembleLinkModel, type LinkModel, modelChange, passPoses, poseAt } from './link-model.ts';
import { LINK_PASSES } from './link-passes.ts';
import { NO_PLATE_CHANGE, PLATE_OUTPUTS, type PlateChange, packChange, unpackChange } from './plates.ts';

/** Values at every sample attitude over a box of offsets and gaps. */
interface Sampled {
  readonly samples: AttitudeSamples;
  /** Axes x, y (both over the whole box), log gap; outputs [turns, tilts, PLATE_OUTPUTS]. */
  readonly tensor: ChebyshevTensor;
}

/**
 * How what the plates add changes with the attitude, over a link model's box: plain data. Belongs to the link and the box,
 * not to one attitude: a model built at any attitude is carried to any other by the difference.
 */
export interface AttitudePart {
  readonly key: string;
  readonly domain: LinkDomain;
  readonly thickness: number;
  /** Radius within which the receiver's parts lie, m: sets the largest tilt. */
  readonly radius: number;
  /** Null where there are no plates, or not solved yet. */
  readonly turned: Sampled | null;
  readonly tilted: Sampled | null;
  /** Whether tilts are known. */
  readonly tilts: boolean;
  /** Largest difference of L1, L2 and M from direct fine solves at held-out poses and attitudes, H. */
  readonly bound: readonly [number, number, number];
}

/** Key of the attitude part of a link over a box. */
export function attitudePartKey(context: { readonly key: string }, domain: LinkDomain): string {
  return JSON.stringify(['attitude', context.key, domain]);
}

/** Poses to be solved for one half, [n, 6] row-major x, y, gap (m), yaw, tiltX, tiltY (rad), by gap. */
export function attitudePoses(context: LinkContext, domain: LinkDomain, which: AttitudeHalf): Float64Array {
  return context.plates ? attitudeWork(context, domain, which).distinct : new Float64Array(0);
}

/** Solves poses of `attitudePoses` on the coarse grids. One call is one chunk of work. @returns [n, PLATE_OUTPUTS] */
export function solveAttitudePoses(context: LinkContext, poses: Float64Array): Float64Array {
  const count = poses.length / 6;
  const out = new Float64Array(count * PLATE_OUTPUTS);
  const thickness = thicknessOf(context);
  for (let i = 0; i < count; i++) {
    const [x, y, gap, yaw, tiltX, tiltY] = poses.subarray(6 * i, 6 * i + 6) as unknown as number[];
    const change = context.plates!.at(
      { x: x!, y: y!, z: gap! + thickness, yaw: yaw!, tiltX: tiltX!, tiltY: tiltY! },
      'coarse',
    );
    // Errors are the model's own; what this part may be off is measured.
    packChange(
      { ...change, errorL1: 0, errorL2: 0, errorM: 0 },
      out.subarray(i * PLATE_OUTPUTS, (i + 1) * PLATE_OUTPUTS),
    );
  }
  return out;
}

const thicknessOf = (context: LinkContext) =>
  context.transmitter.winding.halfThickness + context.receiver.winding.halfThickness;

/** The part from the values at its poses, in their order; a half that has not been solved is null. No bound yet. */
export function assembleAttitudePart(
  context: LinkContext,
  domain: LinkDomain,
  values: Readonly<Record<AttitudeHalf, Float64Array | null>>,
): AttitudePart {
  const half = (which: AttitudeHalf): Sampled | null => {
    const solved = values[which];
    if (!context.plates || !solved) return null;
    const { samples, lower, upper, counts, rows } = attitudeWork(context, domain, which);
    const spread = new Float64Array(rows.length * PLATE_OUTPUTS);
    rows.forEach((row, k) => {
      spread.set(solved.subarray(row * PLATE_OUTPUTS, (row + 1) * PLATE_OUTPUTS), k * PLATE_OUTPUTS);
    });
    const outputs = samples.turns * samples.tilts.length * PLATE_OUTPUTS;
    return { samples, tensor: fitChebyshevTensor(spread, lower, upper, counts, outputs) };
  };
  return {
    key: attitudePartKey(context, domain),
    domain,
    thickness: thicknessOf(context),
    radius: sideRadius(context.receiver),
    turned: half('turned'),
    tilted: half('tilted'),
    tilts: !context.plates || values.tilted !== null,
    bound: [0, 0, 0],
  };
}

/** Whether a part holds at a pose: in its box, and tilted by no more than it knows there. */
export function attitudeCovers(part: AttitudePart, pose: Pose): boolean {
  const gap = pose.z - part.thickness;
  const { halfX, halfY, gapMin, gapMax } = part.domain;
  const slack = 1 + 1e-9;
  const most = part.tilts ? largestTilt(part.radius, gap) * slack : 0;
  return (
    Math.abs(pose.x) <= halfX * slack &&
    Math.abs(pose.y) <= halfY * slack &&
    gap >= gapMin / slack &&
    gap <= gapMax * slack &&
    Math.abs(pose.tiltX) <= most &&
    Math.abs(pose.tiltY) <= most
  );
}

/** What the plates add at each of several attitudes at one place, on the coarse grids; tilts beyond the largest as that. */
function valuesAt(
  part: AttitudePart,
  x: number,
  y: number,
  gap: number,
  attitudes: readonly Attitude[],
): Float64Array[] {
  const outs = attitudes.map(() => new Float64Array(PLATE_OUTPUTS));
  const most = largestTilt(part.radius, gap);
  for (const which of ['turned', 'tilted'] as const) {
    const sampled = part[which];
    if (!sampled) continue;
    const values = evaluateChebyshevTensor(sampled.tensor, [
      x / part.domain.halfX,
      y / part.domain.halfY,
      Math.log(gap),
    ]);
    attitudes.forEach(({ yaw, tiltX, tiltY }, a) => {
      if (which === 'tilted' && tiltX === 0 && tiltY === 0) return;
      const share = (tilt: number) => Math.max(-1, Math.min(1, tilt / most));
      const weights = sampleWeights(sampled.samples, yaw, share(tiltX), share(tiltY), which === 'tilted');
      for (const [s, weight] of weights.entries()) {
        for (let j = 0; j < PLATE_OUTPUTS; j++) outs[a]![j]! += weight * values[s * PLATE_OUTPUTS + j]!;
      }
    });
  }
  return outs;
}

/** Change from one attitude to another at a place (m) of the box, PLATE_OUTPUTS numbers; errors are none of its business. */
export function attitudeStep(
  part: AttitudePart,
  x: number,
  y: number,
  gap: number,
  from: Attitude,
  to: Attitude,
): Float64Array {
  const [before, after] = valuesAt(part, x, y, gap, [from, to]) as [Float64Array, Float64Array];
  return after.map((value, j) => value - before[j]!);
}

/**
 * What the plates add at a pose of any attitude that the part covers: the model's value at its own attitude, carried over.
 *
 * Accuracy: errors hold the model's own and the part's bound.
 */
export function changeAtAttitude(model: LinkModel, part: AttitudePart, pose: Pose): PlateChange {
  if (!model.tensor) return NO_PLATE_CHANGE;
  const own = packChange(modelChange(model, { ...pose, ...model.attitude }), new Float64Array(PLATE_OUTPUTS));
  const step = attitudeStep(part, pose.x, pose.y, pose.z - part.thickness, model.attitude, pose);
  for (let j = 0; j < PLATE_OUTPUTS; j++) own[j]! += step[j]!;
  return unpackChange(own, part.bound);
}

/** Held-out poses of a check, and the seed they are drawn with. */
const HELD_OUT = Object.freeze({ poses: 8, seed: 33 });

/** Poses drawn inside the box and the attitudes of a part, every other one level (all, where tilts are not known). */
export function heldOutPoses(part: AttitudePart): Pose[] {
  const random = randomSource(HELD_OUT.seed);
  const { halfX, halfY, gapMin, gapMax } = part.domain;
  const either = (half: number) => half * (2 * random.uniform() - 1);
  return Array.from({ length: HELD_OUT.poses }, (_, n) => {
    const gap = gapMin * (gapMax / gapMin) ** random.uniform();
    const most = part.tilts && n % 2 === 1 ? largestTilt(part.radius, gap) : 0;
    const place = { x: either(halfX), y: either(halfY), z: gap + part.thickness };
    return { ...place, yaw: either(Math.PI), tiltX: either(most), tiltY: either(most) };
  });
}

/** The part with its bound: the largest error of the model carried over to held-out poses, against direct solves there. */
export function boundAttitudePart(context: LinkContext, model: LinkModel, part: AttitudePart): AttitudePart {
  const { plates } = context;
  if (!plates || !model.tensor) return part;
  const bound: [number, number, number] = [0, 0, 0];
  for (const pose of heldOutPoses(part)) {
    const direct = plates.at(pose, model.level);
    const carried = changeAtAttitude(model, part, pose);
    (['dL1', 'dL2', 'dM'] as const).forEach((key, i) => {
      bound[i] = Math.max(bound[i]!, Math.abs(direct[key] - carried[key]));
    });
  }
  return { ...part, bound };
}

/** Least gap of a model's box at which its own tilt and another attitude's are both known. */
function leastGap(radius: number, model: LinkModel, attitude: Attitude): number {
  return Math.max(model.domain.gapMin, leastGapFor(radius, attitude), leastGapFor(radius, model.attitude));
}

/** Room that a carried model's box must leave below the design's gap, as a share. */
const ROOM_BELOW = 0.8;

/** Whether a part that knows tilts can carry a model to an attitude, for a gap (m) and somewhat below. */
export function carriesTo(context: LinkContext, model: LinkModel, attitude: Attitude, gap: number): boolean {
  return leastGap(sideRadius(context.receiver), model, attitude) <= ROOM_BELOW * gap;
}

/**
 * A link model at another attitude without a solve: the given one carried over, on its own box cut below at the gap where
 * both attitudes' tilts are known. Tens of milliseconds.
 *
 * @returns null where the part does not know one of the attitudes at any gap of the box up to `gap` (m)
 * Accuracy: the model's bound or the part's, whichever is larger.
 */
export function modelAtAttitude(
  context: LinkContext,
  model: LinkModel,
  part: AttitudePart,
  attitude: Attitude,
  gap: number,
): LinkModel | null {
  if (!part.tilts && [attitude, model.attitude].some(({ tiltX, tiltY }) => tiltX !== 0 || tiltY !== 0)) return null;
  const gapMin = leastGap(part.radius, model, attitude);
  if (gapMin > gap) return null;
  const domain = { ...model.domain, gapMin };
  const pass = LINK_PASSES[0]!;
  const places = passPoses(context, attitude, domain, pass);
  const values = new Float64Array((places.length / 3) * PLATE_OUTPUTS);
  const plain = { ...model, bound: [0, 0, 0] as const };
  for (let i = 0; i < places.length / 3; i++) {
    const [x, y, at] = places.subarray(3 * i, 3 * i + 3) as unknown as [number, number, number];
    const row = values.subarray(i * PLATE_OUTPUTS, (i + 1) * PLATE_OUTPUTS);
    packChange(modelChange(plain, poseAt(context, model.attitude, x, y, at)), row);
    attitudeStep(part, x, y, at, model.attitude, attitude).forEach((step, j) => {
      row[j]! += step;
    });
  }
  const carried = assembleLinkModel(context, attitude, domain, [values]);
  const bound = model.bound.map((own, i) => Math.max(own, part.bound[i]!)) as [number, number, number];
  return { ...carried, level: model.level, bound };
}
