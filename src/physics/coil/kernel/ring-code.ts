import {
  type Code,
  f32x4,
  f64,
  f64x2,
  get,
  i32,
  loopWhile,
  sequence,
  set,
  type ValueType,
  v128,
  type WasmFunction,
} from '../../../numerics/wasm-encoder.ts';
import { layout, type Precision } from './neumann-code.ts';

/** Rows of a ring target: place in the rings' plane from their centre, squared height over it, line element. */
export const ringTargetRows = ['x', 'y', 'height2', 'dx', 'dy'] as const;

const lanes = {
  single: { v: f32x4, splat: (value: Code) => f32x4.splat(f64.toF32(value)), count: 4 },
  double: { v: f64x2, splat: (value: Code) => f64x2.splat(value), count: 2 },
} as const;

/** Steps of the arithmetic-geometric mean: enough for distances from a ring down to a thousandth of its radius. */
export const meanSteps = { single: 4, double: 5 } as const;

/**
 * The function (targetBytes, ringBytes) -> f64: sum over targets and coaxial rings of weight times the ring's closed line
 * integral of dl_ring . dl / distance. Targets lie in the source rows of `layout`, rings (radius, weight) in its target
 * rows.
 *
 * The integral over a ring of radius R seen from (rho, h) is, with the arithmetic-geometric mean a_n, b_n started from the
 * largest and smallest distances s, s' = sqrt((R +- rho)^2 + h^2) and c_(n+1) = (a_n - b_n) / 2,
 *   (x dy - y dx) (pi / 2) sum_(n >= 1) 2^n (c_n / rho)^2 / a_infinity.
 * The ratios q_n = c_n / rho follow without a difference: q_1 = R / a_1, q_(n+1) = q_n c_n / (4 a_(n+1)), so nothing
 * cancels near the axis or far away.
 * Source: Maxwell's A_phi of a circle with K and E by the arithmetic-geometric mean (Abramowitz and Stegun 17.6); the
 * regular form is ours, held by tests against Maxwell's formula.
 */
export function ringFunction(name: string, precision: Precision): WasmFunction {
  const { v, splat, count } = lanes[precision];
  const types: ValueType[] = [];
  const local = (type: ValueType): number => types.push(type) + 1;
  const vector = (): number => local('v128');
  const targetBytes = 0;
  const ringBytes = 1;
  const target = local('i32');
  const ring = local('i32');
  const total = vector();
  const rings = vector();
  const [x, y, height2, dx, dy] = ringTargetRows.map(vector) as [number, number, number, number, number];
  const [rho, radius, half, a, b, c] = [0, 0, 0, 0, 0, 0].map(vector) as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const q = Array.from({ length: meanSteps[precision] }, vector);
  const times = (left: number, right: number): Code => v.multiply(get(left), get(right));
  const twice = (value: Code, holder: number): Code => sequence(set(holder, value), v.add(get(holder), get(holder)));
  const distance = (along: Code): Code =>
    sequence(set(c, along), v.squareRoot(v.add(v.multiply(get(c), get(c)), get(height2))));
  const ringAt = (row: number): Code => splat(f64.load(get(ring), layout.targetStart + row * layout.targetRowBytes));

  const steps = q.flatMap((now, index): Code[] => {
    const last = q[index - 1];
    return [
      // `now` holds a + b until its own value is known.
      set(now, v.add(get(a), get(b))),
      set(b, v.squareRoot(times(a, b))),
      set(a, times(half, now)),
      last === undefined
        ? set(now, v.divide(get(radius), get(a)))
        : set(now, v.divide(times(last, c), v.add(get(now), get(now)))),
      set(c, times(rho, now)),
    ];
  });
  /** q_1^2 + 2 (q_2^2 + 2 (q_3^2 + ...)): half the wanted sum. */
  const series = q.reduceRight<Code>(
    (rest, one) => (rest.length === 0 ? times(one, one) : v.add(times(one, one), twice(rest, c))),
    [],
  );

  const inner = sequence(
    set(radius, ringAt(0)),
    set(a, distance(v.add(get(radius), get(rho)))),
    set(b, distance(v.subtract(get(radius), get(rho)))),
    ...steps,
    // One more mean, (a + b) / 2, without its q. The factors of two wait for the end.
    set(rings, v.add(get(rings), v.divide(v.multiply(ringAt(1), series), v.add(get(a), get(b))))),
    set(ring, i32.add(get(ring), i32.constant(8))),
  );
  const outer = sequence(
    ...[x, y, height2, dx, dy].map((row, index) => set(row, v128.load(get(target), index * layout.sourceRowBytes))),
    set(rho, v.squareRoot(v.add(times(x, x), times(y, y)))),
    set(rings, v128.zero),
    set(ring, i32.constant(0)),
    loopWhile(inner, i32.lessUnsigned(get(ring), get(ringBytes))),
    set(total, v.add(get(total), v.multiply(get(rings), v.subtract(times(x, dy), times(y, dx))))),
    set(target, i32.add(get(target), i32.constant(16))),
  );
  const laneSum = Array.from({ length: count }, (_, index) =>
    precision === 'single' ? f64.fromF32(f32x4.extract(get(total), index)) : f64x2.extract(get(total), index),
  ).reduce((left, right) => f64.add(left, right));
  return {
    name,
    parameters: ['i32', 'i32'],
    result: 'f64',
    locals: types,
    body: sequence(
      set(half, splat(f64.constant(0.5))),
      loopWhile(outer, i32.lessUnsigned(get(target), get(targetBytes))),
      // pi / 2, twice the series, and the limit (a + b) / 2.
      f64.multiply(f64.constant(2 * Math.PI), laneSum),
    ),
  };
}
