/**
 * Chebyshev interpolation at the extrema points, in one and in several variables. Nothing here needs a derivative: the
 * error comes from the decay of the coefficients (`tailBound`) and from values that were held out (`heldOutError`).
 */

/** Polynomial sum_k coefficients[k] T_k(t), t running from -1 at `lower` to 1 at `upper`. */
export interface ChebyshevSeries {
  readonly lower: number;
  readonly upper: number;
  readonly coefficients: Float64Array;
}

/** Product polynomial in several variables with several outputs. */
export interface ChebyshevTensor {
  readonly lower: readonly number[];
  readonly upper: readonly number[];
  /** Points along each axis. */
  readonly counts: readonly number[];
  readonly outputs: number;
  /** [counts[0], counts[1], ..., outputs] row-major. */
  readonly coefficients: Float64Array;
}

/**
 * The extrema of T_(count-1) on [lower, upper], ascending, both ends included; the midpoint for count 1.
 * Points for 2 count - 1 contain those for count.
 */
export function chebyshevPoints(count: number, lower: number, upper: number): Float64Array {
  const middle = (lower + upper) / 2;
  const half = (upper - lower) / 2;
  if (count === 1) return Float64Array.of(middle);
  return Float64Array.from({ length: count }, (_, index) => {
    if (index === 0) return lower;
    if (index === count - 1) return upper;
    return middle + half * Math.sin((Math.PI * (2 * index - count + 1)) / (2 * (count - 1)));
  });
}

/** Series through `values` at `chebyshevPoints(values.length, lower, upper)`. */
export function fitChebyshev(values: ArrayLike<number>, lower: number, upper: number): ChebyshevSeries {
  const coefficients = Float64Array.from(values);
  toCoefficients(coefficients, coefficients.length, 1, 1);
  return { lower, upper, coefficients };
}

/**
 * Value of a series (Clenshaw recurrence). Outside [lower, upper] it is the polynomial's continuation, which grows fast:
 * callers check the range.
 */
export function evaluateChebyshev(series: ChebyshevSeries, x: number): number {
  const { lower, upper, coefficients } = series;
  const t = upper > lower ? (2 * x - lower - upper) / (upper - lower) : 0;
  let after = 0;
  let next = 0;
  for (let k = coefficients.length - 1; k > 0; k--) {
    const value = 2 * t * next - after + coefficients[k]!;
    after = next;
    next = value;
  }
  return t * next - after + coefficients[0]!;
}

/**
 * Estimate of the interpolation error from the coefficients: the sum of a geometric tail that continues the decay seen
 * over the last half, twice (what is left out, and what interpolation folds back), times a safety factor of 4. The last
 * two coefficients are taken together, so that even and odd functions are judged alike.
 * Infinity for fewer than four coefficients or where they do not decay.
 * Held for log, Runge's function, arctan and exp with 6 to 40 points (tests/numerics/chebyshev.test.ts).
 */
export function tailBound(coefficients: ArrayLike<number>): number {
  const count = coefficients.length;
  if (count < 4) return Number.POSITIVE_INFINITY;
  const largestFrom = (from: number): number => {
    let best = from;
    for (let k = from + 1; k < count; k++) if (Math.abs(coefficients[k]!) > Math.abs(coefficients[best]!)) best = k;
    return best;
  };
  const late = largestFrom(count - 2);
  const early = largestFrom(count >> 1);
  const last = Math.abs(coefficients[late]!);
  if (last === 0) return 0;
  if (early >= late) return Number.POSITIVE_INFINITY;
  const ratio = (last / Math.abs(coefficients[early]!)) ** (1 / (late - early));
  return ratio < 1 ? (8 * last * ratio) / (1 - ratio) : Number.POSITIVE_INFINITY;
}

/** Points of the tensor grid, [product of counts, axes] row-major, last axis fastest. */
export function tensorPoints(
  lower: readonly number[],
  upper: readonly number[],
  counts: readonly number[],
): Float64Array {
  const axes = counts.length;
  const total = counts.reduce((product, count) => product * count, 1);
  const lines = counts.map((count, axis) => chebyshevPoints(count, lower[axis]!, upper[axis]!));
  const points = new Float64Array(total * axes);
  for (let index = 0; index < total; index++) {
    let rest = index;
    for (let axis = axes - 1; axis >= 0; axis--) {
      const count = counts[axis]!;
      points[index * axes + axis] = lines[axis]![rest % count]!;
      rest = Math.floor(rest / count);
    }
  }
  return points;
}

/**
 * Interpolant through values on `tensorPoints(lower, upper, counts)`.
 * @param values [product of counts, outputs] row-major in the order of `tensorPoints`
 */
export function fitChebyshevTensor(
  values: ArrayLike<number>,
  lower: readonly number[],
  upper: readonly number[],
  counts: readonly number[],
  outputs = 1,
): ChebyshevTensor {
  const coefficients = Float64Array.from(values);
  let stride = outputs;
  for (let axis = counts.length - 1; axis >= 0; axis--) {
    const count = counts[axis]!;
    toCoefficients(coefficients, count, stride, coefficients.length / count);
    stride *= count;
  }
  return { lower: [...lower], upper: [...upper], counts: [...counts], outputs, coefficients };
}

/**
 * All outputs of a tensor interpolant at one point. Contracts the last axis first.
 * @param point one coordinate per axis, inside the box
 * @param out length `outputs`; written and returned
 */
export function evaluateChebyshevTensor(
  tensor: ChebyshevTensor,
  point: ArrayLike<number>,
  out = new Float64Array(tensor.outputs),
): Float64Array {
  const { lower, upper, counts, outputs } = tensor;
  let source = tensor.coefficients;
  for (let axis = counts.length - 1; axis >= 0; axis--) {
    const count = counts[axis]!;
    const from = lower[axis]!;
    const to = upper[axis]!;
    const t = to > from ? (2 * point[axis]! - from - to) / (to - from) : 0;
    const blocks = source.length / (count * outputs);
    const target = axis === 0 ? out : new Float64Array(blocks * outputs);
    for (let block = 0; block < blocks; block++) {
      for (let output = 0; output < outputs; output++) {
        const base = block * count * outputs + output;
        let after = 0;
        let next = 0;
        for (let k = count - 1; k > 0; k--) {
          const value = 2 * t * next - after + source[base + k * outputs]!;
          after = next;
          next = value;
        }
        target[block * outputs + output] = t * next - after + source[base]!;
      }
    }
    source = target;
  }
  return out;
}

/**
 * Estimate of the interpolation error of one output: the sum over the axes of `tailBound` of that axis' envelope.
 * Infinity where an axis has two or three points; an axis of one point is constant by intent and adds nothing.
 */
export function tensorTailBound(tensor: ChebyshevTensor, output = 0): number {
  const { counts, outputs, coefficients } = tensor;
  let bound = 0;
  let stride = outputs;
  for (let axis = counts.length - 1; axis >= 0; axis--) {
    const count = counts[axis]!;
    if (count > 1) {
      // Envelope of the axis: for each degree, the sum of |coefficient| over all lines (|T_k| <= 1 on the others).
      const envelope = new Float64Array(count);
      for (let index = output; index < coefficients.length; index += outputs) {
        envelope[Math.floor(index / stride) % count]! += Math.abs(coefficients[index]!);
      }
      bound += tailBound(envelope);
    }
    stride *= count;
  }
  return bound;
}

/** Largest |approximate - exact| over `points` ([n, axes] row-major); NaN where either is. */
export function heldOutError(
  approximate: (point: Float64Array) => number,
  exact: (point: Float64Array) => number,
  points: Float64Array,
  axes: number,
): number {
  let largest = 0;
  for (let at = 0; at + axes <= points.length; at += axes) {
    const point = points.subarray(at, at + axes);
    const error = Math.abs(approximate(point) - exact(point));
    if (Number.isNaN(error)) return Number.NaN;
    if (error > largest) largest = error;
  }
  return largest;
}

/** Values to coefficients along one axis of a row-major array, in place: a discrete cosine sum of the extrema points. */
function toCoefficients(data: Float64Array, count: number, stride: number, lines: number): void {
  if (count === 1) return;
  const degree = count - 1;
  // cosine[i] = cos(pi i / degree), i modulo 2 degree.
  const cosine = Float64Array.from({ length: 2 * degree }, (_, index) => Math.cos((Math.PI * index) / degree));
  const line = new Float64Array(count);
  for (let index = 0; index < lines; index++) {
    const base = Math.floor(index / stride) * stride * count + (index % stride);
    // Points ascend, so point j is cos(pi (degree - j) / degree).
    for (let j = 0; j < count; j++) line[j] = data[base + (degree - j) * stride]!;
    for (let k = 0; k < count; k++) {
      let sum = 0;
      for (let j = 0; j < count; j++) {
        const share = j === 0 || j === degree ? 0.5 : 1;
        sum += share * line[j]! * cosine[(j * k) % (2 * degree)]!;
      }
      data[base + k * stride] = (sum * (k === 0 || k === degree ? 1 : 2)) / degree;
    }
  }
}
