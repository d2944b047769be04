/** Force of a pair against offset, tabulated once and looked up in a fraction of a microsecond. */
import { chebyshevPoints, fitChebyshev } from '../../numerics/chebyshev.ts';
import { discPairForce } from './disc-pair.ts';
import { checkLayout, type MagnetLayout } from './magnet-layout.ts';
import { steelDiscProfile } from './steel-disc.ts';
import { steelPlatePull } from './steel-plate.ts';
import { type DiscMagnet, type PairProfile, PROFILE_NODES } from './types.ts';

/**
 * Tabulates a pair at a fixed gap.
 * @param reach largest offset, m. Beyond it the profile is zero.
 *
 * Accuracy: 1e-8 of the aligned pull for gaps from a fiftieth of the radius (tests/physics/magnet); cost about 1 ms a panel,
 * 20 to 60 panels.
 */
export function pairProfile(lower: DiscMagnet, upper: DiscMagnet, gap: number, reach: number): PairProfile {
  const edge = lower.radius + upper.radius;
  const finest = Math.max(gap, 0.02 * upper.radius);
  const ends = [0];
  for (let r = 0; r < reach; ) {
    // The force changes within one gap near the edges of overlap, and more slowly outside.
    const near = Math.min(Math.abs(r - edge), Math.abs(r - Math.abs(lower.radius - upper.radius)));
    const beyond = Math.max(0, r - edge);
    r = Math.min(reach, r + Math.min(edge / 4 + beyond, Math.max(finest, near / 2, beyond / 2)));
    ends.push(r);
  }
  const panels = ends.length - 1;
  const coefficients = new Float64Array(panels * 3 * PROFILE_NODES);
  for (let p = 0; p < panels; p += 1) {
    const points = chebyshevPoints(PROFILE_NODES, ends[p], ends[p + 1]);
    const forces = Array.from(points, (offset) => discPairForce(lower, upper, offset, gap));
    const put = (which: number, values: number[]) => {
      coefficients.set(fitChebyshev(values, ends[p], ends[p + 1]).coefficients, (3 * p + which) * PROFILE_NODES);
    };
    put(
      0,
      forces.map((f) => f.pull),
    );
    put(
      1,
      forces.map((f) => f.restoring),
    );
    put(
      2,
      forces.map((f) => f.tipping),
    );
  }
  return { ends: Float64Array.from(ends), coefficients };
}

/** Pull, restoring force (N) and tipping torque (N m) at an offset, m, written to `out`. Zero beyond the reach. */
export function profileAt(profile: PairProfile, offset: number, out: Float64Array): Float64Array {
  const { ends, coefficients } = profile;
  const last = ends.length - 1;
  if (!(offset <= ends[last])) {
    out[0] = 0;
    out[1] = 0;
    out[2] = 0;
    return out;
  }
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if (ends[mid] <= offset) low = mid;
    else high = mid;
  }
  const t = (2 * (offset - ends[low])) / (ends[low + 1] - ends[low]) - 1;
  for (let which = 0; which < 3; which += 1) {
    const base = (3 * low + which) * PROFILE_NODES;
    let after = 0;
    let next = 0;
    for (let k = PROFILE_NODES - 1; k > 0; k -= 1) {
      const value = 2 * t * next - after + coefficients[base + k];
      after = next;
      next = value;
    }
    out[which] = t * next - after + coefficients[base];
  }
  return out;
}

/** Sideways force on the device (x, y, N), pull (N) and turning torque about its centre (N m). */
export type SidewaysForce = (x: number, y: number, yaw: number, out: Float64Array) => Float64Array;

/**
 * The parallel force of a whole layout from one tabulated pair: x, y in m, yaw in rad; `out` receives fx, fy, pull, torque.
 * @param reach largest offset of the device from home that will be asked for, m.
 */
export function layoutProfile(layout: MagnetLayout, reach: number): SidewaysForce {
  checkLayout(layout);
  const { positions, polarity } = layout;
  const count = positions.length / 2;
  let spread = 0;
  for (let i = 0; i < count; i += 1) spread = Math.max(spread, Math.hypot(positions[2 * i], positions[2 * i + 1]));
  if (layout.facing === 'steel' && !layout.steel) {
    // A steel plate without edges pulls and leaves the device free to slide.
    const pull = count * steelPlatePull(layout.upper, layout.gap, 10 * layout.upper.radius).pull;
    return (_x, _y, _yaw, out) => {
      out.fill(0);
      out[2] = pull;
      return out;
    };
  }
  const far = reach + 2 * spread;
  const profile = layout.steel
    ? steelDiscProfile(layout.upper, layout.steel, layout.gap, far)
    : pairProfile(layout.lower, layout.upper, layout.gap, far);
  const part = new Float64Array(3);
  return (x, y, yaw, out) => {
    const c = Math.cos(yaw);
    const s = Math.sin(yaw);
    let fx = 0;
    let fy = 0;
    let pull = 0;
    let torque = 0;
    for (let i = 0; i < count; i += 1) {
      const ax = c * positions[2 * i] - s * positions[2 * i + 1];
      const ay = s * positions[2 * i] + c * positions[2 * i + 1];
      for (let j = 0; j < count; j += 1) {
        const dx = x + ax - positions[2 * j];
        const dy = y + ay - positions[2 * j + 1];
        const offset = Math.hypot(dx, dy);
        profileAt(profile, offset, part);
        const sign = polarity && !layout.steel ? polarity[i] * polarity[j] : 1;
        pull += sign * part[0];
        if (offset === 0) continue;
        const px = (-sign * part[1] * dx) / offset;
        const py = (-sign * part[1] * dy) / offset;
        fx += px;
        fy += py;
        torque += ax * py - ay * px;
      }
    }
    out[0] = fx;
    out[1] = fy;
    out[2] = pull;
    out[3] = torque;
    return out;
  };
}
