import type { Design } from '../../design/types.ts';
import type { LinkElectrical } from '../../physics/circuit/types.ts';
import { type LinkAtPose, linkAtPose } from '../link/link-at-pose.ts';
import { linkContext, poseOfDesign } from '../link/link-context.ts';

/** A place at which readings were taken, or at which the fit's answer is asked for. */
export interface BenchPose {
  /** `5.9 mm gap, 10 mm off` */
  readonly name: string;
  readonly gapMm: number;
  readonly xMm: number;
  readonly yMm: number;
}

/** L1, L2 and M relative to their value here when something is shifted by s metres: 1 + linear s + square s^2. */
interface Answer {
  readonly linear: readonly [l1: number, l2: number, m: number];
  readonly square: readonly [l1: number, l2: number, m: number];
}

/** The link at one pose, and how it answers to small errors of the pose. Plain data. */
export interface BenchLink {
  readonly electrical: LinkElectrical;
  readonly gap: Answer;
  /** Along the direction of the offset (along x where the pose is centred). */
  readonly offset: Answer;
  /** Relative half-widths of the numerical error of L1, L2 and M. */
  readonly errors: readonly [l1: number, l2: number, m: number];
}

const short = (value: number): string => String(Number(value.toFixed(2)));

export function benchPose(gapMm: number, xMm: number, yMm: number): BenchPose {
  const off = Math.hypot(xMm, yMm);
  const beside = off < 1e-9 ? '' : `, ${short(off)} mm off`;
  return { name: `${short(gapMm)} mm gap${beside}`, gapMm, xMm, yMm };
}

const samePlace = (a: BenchPose, b: BenchPose): boolean =>
  Math.abs(a.gapMm - b.gapMm) < 1e-6 && Math.abs(a.xMm - b.xMm) < 1e-6 && Math.abs(a.yMm - b.yMm) < 1e-6;

/** The distinct places of a design's readings, in order of first use, and which one each reading was taken at. */
export function benchPoses(design: Design): { readonly poses: BenchPose[]; readonly poseOf: number[] } {
  const poses: BenchPose[] = [];
  const poseOf = design.readings.map((reading) => {
    const pose = benchPose(reading.gapMm, reading.offsetXMm, reading.offsetYMm);
    const known = poses.findIndex((other) => samePlace(other, pose));
    if (known >= 0) return known;
    poses.push(pose);
    return poses.length - 1;
  });
  return { poses, poseOf };
}

/** The design with its receiver put at a place of the bench. */
export function designAt(design: Design, pose: BenchPose): Design {
  const placement = { ...design.placement, gapMm: pose.gapMm, offsetXMm: pose.xMm, offsetYMm: pose.yMm };
  // A stack that no longer adds up to the gap would contradict it; the gap alone counts here.
  return { ...design, placement, stack: [] };
}

/** Shifts at which the answers are taken: some spacer errors, and some errors of placing, m. */
const GAP_STEP = 0.3e-3;
const OFFSET_STEP = 1e-3;

/**
 * Solves the link at a place once, and on coarser grids at the gap and the offset changed a little to each side: five solutions, after
 * which the fit scales and shifts without touching the field again.
 *
 * Accuracy: a shift up to twice its step within 1e-3 of a direct solution, both at once 2e-3, because what they do together is left out
 * (tests). @throws InputError where the coils touch.
 */
export function benchLink(design: Design, pose: BenchPose): BenchLink {
  const context = linkContext(design);
  const at = (gapShift: number, offsetShift: number, level: 'coarse' | 'fine'): LinkAtPose => {
    const off = Math.hypot(pose.xMm, pose.yMm);
    const [ux, uy] = off < 1e-9 ? [1, 0] : [pose.xMm / off, pose.yMm / off];
    const moved = designAt(design, {
      ...pose,
      gapMm: pose.gapMm + 1e3 * gapShift,
      xMm: pose.xMm + 1e3 * offsetShift * ux,
      yMm: pose.yMm + 1e3 * offsetShift * uy,
    });
    return linkAtPose(context, poseOfDesign(moved), level);
  };
  const fine = at(0, 0, 'fine');
  const here = at(0, 0, 'coarse');
  const gapStep = Math.min(GAP_STEP, 0.25e-3 * pose.gapMm);
  const { l1, l2, m } = fine.electrical;
  return {
    electrical: fine.electrical,
    gap: answer(here, at(gapStep, 0, 'coarse'), at(-gapStep, 0, 'coarse'), gapStep),
    offset: answer(here, at(0, OFFSET_STEP, 'coarse'), at(0, -OFFSET_STEP, 'coarse'), OFFSET_STEP),
    errors: [fine.errors.l1 / l1, fine.errors.l2 / l2, fine.errors.m / Math.max(Math.abs(m), 1e-15)],
  };
}

function answer(here: LinkAtPose, up: LinkAtPose, down: LinkAtPose, step: number): Answer {
  const pair = (key: 'l1' | 'l2' | 'm'): [number, number] => {
    const base = here.electrical[key];
    const plus = up.electrical[key] / base - 1;
    const minus = down.electrical[key] / base - 1;
    return [(plus - minus) / (2 * step), (plus + minus) / (2 * step * step)];
  };
  const [a, b, c] = [pair('l1'), pair('l2'), pair('m')];
  return { linear: [a[0], b[0], c[0]], square: [a[1], b[1], c[1]] };
}

/** What multiplies the inductances and resistances of a link. */
export interface LinkScales {
  readonly l1: number;
  readonly l2: number;
  /** Of the coupling at given inductances. */
  readonly coupling: number;
  readonly r1: number;
  readonly r2: number;
}

/** The link with its pose shifted (m) and its values scaled. */
export function shiftedLink(
  link: BenchLink,
  gapShift: number,
  offsetShift: number,
  scales: LinkScales,
): LinkElectrical {
  const factor = (index: 0 | 1 | 2): number => {
    const { gap, offset } = link;
    const byGap = 1 + (gap.linear[index] + gap.square[index] * gapShift) * gapShift;
    const byOffset = 1 + (offset.linear[index] + offset.square[index] * offsetShift) * offsetShift;
    return Math.max(0.02, byGap * byOffset);
  };
  const { electrical } = link;
  return {
    l1: electrical.l1 * scales.l1 * factor(0),
    l2: electrical.l2 * scales.l2 * factor(1),
    m: electrical.m * scales.coupling * Math.sqrt(scales.l1 * scales.l2) * factor(2),
    r1: scaledLaw(electrical.r1, scales.r1),
    r2: scaledLaw(electrical.r2, scales.r2),
  };
}

function scaledLaw(law: LinkElectrical['r1'], by: number): LinkElectrical['r1'] {
  if (by === 1) return law;
  return { dc: law.dc * by, linear: law.linear * by, quadratic: law.quadratic * by, quartic: law.quartic * by };
}
