import {
  type ChebyshevTensor,
  evaluateChebyshevTensor,
  fitChebyshevTensor,
  tensorPoints,
} from '../../numerics/chebyshev.ts';
import { randomSource } from '../../numerics/random.ts';
import type { Pose } from '../../physics/coil/types.ts';
import { assembleLink, type LinkAtPose } from './link-at-pose.ts';
import type { LinkContext } from './link-context.ts';
import { type Attitude, type LinkDomain, mirrorSymmetry } from './link-domain.ts';
import { LINK_PASSES, type LinkPass, ROUGH_PASS } from './link-passes.ts';
import {
  NO_PLATE_CHANGE,
  PLATE_OUTPUTS,
  type PlateChange,
  type PlateLevel,
  packChange,
  unpackChange,
} from './plates.ts';

/** What the plates do to the link over a box of offsets and gaps: plain data, ready for another thread. */
export interface LinkModel {
  readonly key: string;
  readonly domain: LinkDomain;
  readonly attitude: Attitude;
  /** Distance of the mid-planes beyond the gap, m. */
  readonly thickness: number;
  readonly even: { readonly x: boolean; readonly y: boolean };
  /** Axes x, y, log gap; an even axis runs over the square of x / half. Null: no plates. */
  readonly tensor: ChebyshevTensor | null;
  readonly level: PlateLevel;
  /**
   * Largest difference of L1, L2 and M from direct solves at held-out poses, H; zero in the coarse model, whose
   * grids' own error is larger.
   * A sample, not a proof: it is added to the stated errors.
   */
  readonly bound: readonly [number, number, number];
}

/** Key of a model: the link, the attitude and the box. */
export function linkModelKey(context: { readonly key: string }, attitude: Attitude, domain: LinkDomain): string {
  return JSON.stringify([context.key, attitude, domain]);
}

interface Axes {
  readonly lower: number[];
  readonly upper: number[];
  readonly counts: number[];
}

function axesOf(domain: LinkDomain, even: { readonly x: boolean; readonly y: boolean }, pass: LinkPass): Axes {
  const side = (isEven: boolean, count: number): [number, number, number] =>
    isEven ? [0, 1, count] : [-1, 1, 2 * count - 1];
  const x = side(even.x, pass.counts[0]);
  const y = side(even.y, pass.counts[1]);
  return {
    lower: [x[0], y[0], Math.log(domain.gapMin)],
    upper: [x[1], y[1], Math.log(domain.gapMax)],
    counts: [x[2], y[2], pass.counts[2]],
  };
}

/** Poses of a pass, [n, 3] row-major x, y, gap in metres. */
export function passPoses(context: LinkContext, attitude: Attitude, domain: LinkDomain, pass: LinkPass): Float64Array {
  const even = mirrorSymmetry(context.transmitter, context.receiver, attitude);
  const { lower, upper, counts } = axesOf(domain, even, pass);
  const points = tensorPoints(lower, upper, counts);
  for (let i = 0; i < points.length; i += 3) {
    const u = points[i]!;
    const v = points[i + 1]!;
    points[i] = domain.halfX * (even.x ? Math.sqrt(u) : u);
    points[i + 1] = domain.halfY * (even.y ? Math.sqrt(v) : v);
    points[i + 2] = Math.exp(points[i + 2]!);
  }
  return points;
}

/**
 * Solves poses of a pass, [n, 3]. One call is one chunk of work for a worker.
 * @returns [n, PLATE_OUTPUTS] row-major
 */
export function solvePassPoses(
  context: LinkContext,
  attitude: Attitude,
  poses: Float64Array,
  level: LinkPass['level'],
): Float64Array {
  const count = poses.length / 3;
  const out = new Float64Array(count * PLATE_OUTPUTS);
  if (!context.plates) return out;
  for (let i = 0; i < count; i++) {
    const pose = poseAt(context, attitude, poses[3 * i]!, poses[3 * i + 1]!, poses[3 * i + 2]!);
    const row = out.subarray(i * PLATE_OUTPUTS, (i + 1) * PLATE_OUTPUTS);
    packChange(context.plates.at(pose, level === 'correction' ? 'fine' : level), row);
    if (level === 'correction') {
      const coarse = new Float64Array(PLATE_OUTPUTS);
      packChange(context.plates.at(pose, 'coarse'), coarse);
      for (let j = 0; j < PLATE_OUTPUTS; j++) row[j]! -= coarse[j]!;
    }
  }
  return out;
}

export function poseAt(context: LinkContext, attitude: Attitude, x: number, y: number, gap: number): Pose {
  return { x, y, z: gap + thicknessOf(context), ...attitude };
}

function thicknessOf(context: LinkContext): number {
  return context.transmitter.winding.halfThickness + context.receiver.winding.halfThickness;
}

/** The model from the values of its passes, in the order of LINK_PASSES; fewer passes give a coarser model. */
export function assembleLinkModel(
  context: LinkContext,
  attitude: Attitude,
  domain: LinkDomain,
  passes: readonly Float64Array[],
): LinkModel {
  // Without plates there is nothing to refine.
  const level = !context.plates || passes.length >= LINK_PASSES.length ? 'fine' : 'coarse';
  return assemble(context, attitude, domain, passes, LINK_PASSES, level);
}

/** A first model from the values of ROUGH_PASS. */
export function assembleRoughModel(
  context: LinkContext,
  attitude: Attitude,
  domain: LinkDomain,
  values: Float64Array,
): LinkModel {
  return assemble(context, attitude, domain, [values], [ROUGH_PASS], context.plates ? 'rough' : 'fine');
}

function assemble(
  context: LinkContext,
  attitude: Attitude,
  domain: LinkDomain,
  passes: readonly Float64Array[],
  of: readonly LinkPass[],
  level: PlateLevel,
): LinkModel {
  const even = mirrorSymmetry(context.transmitter, context.receiver, attitude);
  let tensor: ChebyshevTensor | null = null;
  passes.forEach((values, index) => {
    const { lower, upper, counts } = axesOf(domain, even, of[index]!);
    const fitted = fitChebyshevTensor(values, lower, upper, counts, PLATE_OUTPUTS);
    tensor = tensor ? addTensor(tensor, fitted) : fitted;
  });
  return {
    key: linkModelKey(context, attitude, domain),
    domain,
    attitude,
    thickness: thicknessOf(context),
    even,
    tensor: context.plates ? tensor : null,
    level,
    bound: [0, 0, 0],
  };
}

/** Held-out poses of a check, and the seed they are drawn with. */
const HELD_OUT = Object.freeze({ poses: 4, seed: 20 });

/**
 * The model with its bound: direct solves at poses drawn inside the box (seeded, so that results repeat), which were no
 * nodes of it, on the grids of the model's own level.
 */
export function boundLinkModel(context: LinkContext, model: LinkModel): LinkModel {
  const { plates } = context;
  if (!plates || !model.tensor) return model;
  const random = randomSource(HELD_OUT.seed);
  const { halfX, halfY, gapMin, gapMax } = model.domain;
  const bound: [number, number, number] = [0, 0, 0];
  for (let n = 0; n < HELD_OUT.poses; n++) {
    const x = halfX * (2 * random.uniform() - 1);
    const y = halfY * (2 * random.uniform() - 1);
    const gap = gapMin * (gapMax / gapMin) ** random.uniform();
    const pose = poseAt(context, model.attitude, x, y, gap);
    const direct = plates.at(pose, model.level);
    const fitted = modelChange(model, pose);
    (['dL1', 'dL2', 'dM'] as const).forEach((key, i) => {
      bound[i] = Math.max(bound[i]!, Math.abs(direct[key] - fitted[key]));
    });
  }
  return { ...model, bound };
}

/** Adds a tensor of fewer points to one of more, coefficient by coefficient. */
function addTensor(large: ChebyshevTensor, small: ChebyshevTensor): ChebyshevTensor {
  const coefficients = Float64Array.from(large.coefficients);
  const [nx, ny, nz] = small.counts as [number, number, number];
  const [, my, mz] = large.counts as [number, number, number];
  const outputs = large.outputs;
  for (let i = 0; i < nx; i++) {
    for (let j = 0; j < ny; j++) {
      for (let k = 0; k < nz; k++) {
        for (let o = 0; o < outputs; o++) {
          coefficients[((i * my + j) * mz + k) * outputs + o]! +=
            small.coefficients[((i * ny + j) * nz + k) * outputs + o]!;
        }
      }
    }
  }
  return { ...large, coefficients };
}

/** Whether a pose lies in the model's box and attitude. */
export function modelCovers(model: LinkModel, pose: Pose): boolean {
  const gap = pose.z - model.thickness;
  const { halfX, halfY, gapMin, gapMax } = model.domain;
  const slack = 1 + 1e-9;
  return (
    Math.abs(pose.x) <= halfX * slack &&
    Math.abs(pose.y) <= halfY * slack &&
    gap >= gapMin / slack &&
    gap <= gapMax * slack &&
    pose.yaw === model.attitude.yaw &&
    pose.tiltX === model.attitude.tiltX &&
    pose.tiltY === model.attitude.tiltY
  );
}

/** Cuts a model at one gap, so that a map evaluates two axes instead of three. */
export function modelAtGap(model: LinkModel, gap: number): (x: number, y: number) => PlateChange {
  const { tensor, domain, even, bound } = model;
  if (!tensor) return () => NO_PLATE_CHANGE;
  const [nx, ny, nz] = tensor.counts as [number, number, number];
  const slice = new Float64Array(nx * ny * tensor.outputs);
  const line: ChebyshevTensor = {
    lower: [tensor.lower[2]!],
    upper: [tensor.upper[2]!],
    counts: [nz],
    outputs: tensor.outputs,
    coefficients: tensor.coefficients,
  };
  const at = [Math.log(gap)];
  for (let block = 0; block < nx * ny; block++) {
    const coefficients = tensor.coefficients.subarray(block * nz * tensor.outputs, (block + 1) * nz * tensor.outputs);
    evaluateChebyshevTensor(
      { ...line, coefficients },
      at,
      slice.subarray(block * tensor.outputs, (block + 1) * tensor.outputs),
    );
  }
  const plane: ChebyshevTensor = {
    lower: tensor.lower.slice(0, 2),
    upper: tensor.upper.slice(0, 2),
    counts: [nx, ny],
    outputs: tensor.outputs,
    coefficients: slice,
  };
  const out = new Float64Array(tensor.outputs);
  const point = [0, 0];
  return (x, y) => {
    const u = x / domain.halfX;
    const v = y / domain.halfY;
    point[0] = even.x ? u * u : u;
    point[1] = even.y ? v * v : v;
    evaluateChebyshevTensor(plane, point, out);
    return unpackChange(out, bound);
  };
}

/** The plates' change at a pose inside the model's box. */
export function modelChange(model: LinkModel, pose: Pose): PlateChange {
  const { tensor, domain, even, bound } = model;
  if (!tensor) return NO_PLATE_CHANGE;
  const u = pose.x / domain.halfX;
  const v = pose.y / domain.halfY;
  const out = evaluateChebyshevTensor(tensor, [
    even.x ? u * u : u,
    even.y ? v * v : v,
    Math.log(pose.z - model.thickness),
  ]);
  return unpackChange(out, bound);
}

/** The link at a pose of the box: exact integral in air, the model's plates. */
export function linkFromModel(context: LinkContext, model: LinkModel, pose: Pose): LinkAtPose {
  const air = context.kernel.mutual(pose);
  return assembleLink(context, air.value, air.errorEstimate, modelChange(model, pose));
}
