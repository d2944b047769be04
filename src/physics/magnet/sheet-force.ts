/** Force between two disc magnets in any pose: the sheet current of one in the closed-form field of the other. */
import { InputError } from '../../numerics/errors.ts';
import { gaussLegendre } from '../../numerics/gauss-legendre.ts';
import { MU0 } from '../constants.ts';
import { discField } from './disc-field.ts';
import { checkDisc } from './disc-pair.ts';
import { rotationOf } from './rotation.ts';
import type { BodyPose, DiscMagnet, Wrench } from './types.ts';

export interface SheetForceOptions {
  /** Digits wanted of the aligned contact force; nodes grow with it. */
  readonly digits: number;
  /** Most nodes around the sheet. */
  readonly maximumNodes: number;
}

export const SHEET_FORCE_DEFAULTS: SheetForceOptions = Object.freeze({ digits: 8, maximumNodes: 1024 });

export interface WrenchEstimate extends Wrench {
  /** Half-width of the numerical error of each force component, N: difference to the rule with two digits less. */
  readonly errorEstimate: number;
  /** Field evaluations. */
  readonly evaluations: number;
}

const field = new Float64Array(2);
const turn = new Float64Array(9);
const total = new Float64Array(6);

/**
 * Force on `upper` and torque about its own centre, in the frame of `lower`.
 * @param lower disc centred at the origin, axis z. @param upper disc whose centre and turn `pose` gives; the yaw of a disc
 * does not matter. @param options see SHEET_FORCE_DEFAULTS.
 * @throws InputError where the two discs cross each other.
 *
 * Accuracy: 1e-8 of the aligned pull down to gaps of a fiftieth of the radius, tilted or not; touching edges 1e-5 (the
 * returned estimate says so). Method: trapezoid rule around the sheet (spectral), Gauss-Legendre panels along it, graded
 * towards both edges; nodes around follow each panel's distance from the other disc's edges. 2 to 20 ms.
 */
export function discForce(
  lower: DiscMagnet,
  upper: DiscMagnet,
  pose: BodyPose,
  options: Partial<SheetForceOptions> = {},
): WrenchEstimate {
  const { digits, maximumNodes } = { ...SHEET_FORCE_DEFAULTS, ...options };
  checkDisc(lower, 'lower');
  checkDisc(upper, 'upper');
  rotationOf(pose, turn);
  if (discsCross(lower, upper, pose))
    throw new InputError({
      code: 'magnets-cross',
      path: 'pose',
      required: 'a pose in which the two discs do not cross',
      received: `centre (${pose.x}, ${pose.y}, ${pose.z}) m, tilt (${pose.tiltX}, ${pose.tiltY}) rad`,
      hint: 'Enlarge the gap or reduce the tilt.',
    });
  const coarse = integrate(lower, upper, pose, digits - 2, maximumNodes >> 1);
  const rough = Float64Array.from(total);
  const fine = integrate(lower, upper, pose, digits, maximumNodes);
  let difference = 0;
  for (let i = 0; i < 3; i += 1) difference = Math.max(difference, Math.abs(total[i] - rough[i]));
  return {
    fx: total[0],
    fy: total[1],
    fz: total[2],
    tx: total[3],
    ty: total[4],
    tz: total[5],
    errorEstimate: difference,
    evaluations: coarse + fine,
  };
}

/** Panel ends along a sheet of this half-height, graded towards both edges down to `smallest`. */
function gradedPanels(half: number, smallest: number): number[] {
  const ends = [half];
  for (let d = half / 3; ends.length < 24 && d > smallest / 3; d /= 3) ends.push(d);
  ends.push(0);
  const up = ends.map((d) => half - d);
  return [...up.map((z) => -z).reverse(), ...up.slice(1)];
}

function integrate(lower: DiscMagnet, upper: DiscMagnet, pose: BodyPose, digits: number, most: number): number {
  total.fill(0);
  const half = upper.thickness / 2;
  const rule = gaussLegendre(Math.max(4, digits));
  const nearest = Math.max(
    Math.min(edgeDistance(lower, upper, pose, half), edgeDistance(lower, upper, pose, -half)),
    1e-7 * upper.radius,
  );
  const ends = gradedPanels(half, Math.min(nearest, half));
  let evaluations = 0;
  for (let k = 0; k + 1 < ends.length; k += 1) {
    const mid = (ends[k] + ends[k + 1]) / 2;
    const length = (ends[k + 1] - ends[k]) / 2;
    const clear = Math.max(
      Math.min(edgeDistance(lower, upper, pose, ends[k]), edgeDistance(lower, upper, pose, ends[k + 1])),
      length,
    );
    // The trapezoid error falls like exp(-nodes * clear / radius) in the worst direction.
    const nodes = Math.min(most, Math.ceil(24 + digits * (2 + (2.5 * upper.radius) / clear)));
    for (let i = 0; i < rule.nodes.length; i += 1) {
      addRing(lower, upper, pose, mid + length * rule.nodes[i], length * rule.weights[i], nodes);
      evaluations += nodes;
    }
  }
  return evaluations;
}

/** Adds K x B over the ring of the upper sheet at its own height `w`. */
function addRing(lower: DiscMagnet, upper: DiscMagnet, pose: BodyPose, w: number, weight: number, nodes: number): void {
  const r = upper.radius;
  const current = (upper.remanence / MU0) * weight * ((2 * Math.PI * r) / nodes);
  for (let j = 0; j < nodes; j += 1) {
    const angle = (2 * Math.PI * (j + 0.5)) / nodes;
    const c = Math.cos(angle);
    const s = Math.sin(angle);
    // Arm from the upper disc's centre, and direction of the current.
    const ax = r * (turn[0] * c + turn[1] * s) + w * turn[2];
    const ay = r * (turn[3] * c + turn[4] * s) + w * turn[5];
    const az = r * (turn[6] * c + turn[7] * s) + w * turn[8];
    const kx = current * (turn[1] * c - turn[0] * s);
    const ky = current * (turn[4] * c - turn[3] * s);
    const kz = current * (turn[7] * c - turn[6] * s);
    const x = pose.x + ax;
    const y = pose.y + ay;
    const rho = Math.hypot(x, y);
    discField(lower, rho, pose.z + az, field);
    const bx = rho > 0 ? (field[0] * x) / rho : 0;
    const by = rho > 0 ? (field[0] * y) / rho : 0;
    const bz = field[1];
    const fx = ky * bz - kz * by;
    const fy = kz * bx - kx * bz;
    const fz = kx * by - ky * bx;
    total[0] += fx;
    total[1] += fy;
    total[2] += fz;
    total[3] += ay * fz - az * fy;
    total[4] += az * fx - ax * fz;
    total[5] += ax * fy - ay * fx;
  }
}

/** Smallest distance of 64 points of the upper sheet's ring at height `w` from the two edges of the lower sheet. */
function edgeDistance(lower: DiscMagnet, upper: DiscMagnet, pose: BodyPose, w: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let j = 0; j < 64; j += 1) {
    const c = upper.radius * Math.cos((Math.PI * j) / 32);
    const s = upper.radius * Math.sin((Math.PI * j) / 32);
    const rho = Math.hypot(
      pose.x + turn[0] * c + turn[1] * s + w * turn[2],
      pose.y + turn[3] * c + turn[4] * s + w * turn[5],
    );
    const z = Math.abs(pose.z + turn[6] * c + turn[7] * s + w * turn[8]);
    least = Math.min(least, Math.hypot(rho - lower.radius, z - lower.thickness / 2));
  }
  return least;
}

/** Whether a point of one disc's faces lies inside the other (rims, and rings at half the radius). */
function discsCross(lower: DiscMagnet, upper: DiscMagnet, pose: BodyPose): boolean {
  const slack = 1e-9 * (lower.radius + upper.radius);
  for (const share of [1, 0.5, 0]) {
    for (let j = 0; j < 64; j += 1) {
      const c = share * Math.cos((Math.PI * j) / 32);
      const s = share * Math.sin((Math.PI * j) / 32);
      for (const side of [-0.5, 0.5]) {
        const w = side * upper.thickness;
        const u = upper.radius * c;
        const v = upper.radius * s;
        const rho = Math.hypot(
          pose.x + turn[0] * u + turn[1] * v + w * turn[2],
          pose.y + turn[3] * u + turn[4] * v + w * turn[5],
        );
        const z = pose.z + turn[6] * u + turn[7] * v + w * turn[8];
        if (rho < lower.radius - slack && Math.abs(z) < lower.thickness / 2 - slack) return true;
        // The lower disc's points in the upper disc's frame.
        const x = lower.radius * c - pose.x;
        const y = lower.radius * s - pose.y;
        const q = side * lower.thickness - pose.z;
        const a = turn[0] * x + turn[3] * y + turn[6] * q;
        const b = turn[1] * x + turn[4] * y + turn[7] * q;
        const h = turn[2] * x + turn[5] * y + turn[8] * q;
        if (Math.hypot(a, b) < upper.radius - slack && Math.abs(h) < upper.thickness / 2 - slack) return true;
      }
    }
  }
  return false;
}
