import {
  type Code,
  encodeModule,
  f32x4,
  f64,
  get,
  i32,
  loopWhile,
  sequence,
  set,
  type ValueType,
  v128,
} from '../../numerics/wasm-encoder.ts';
import { startModule } from '../../numerics/wasm-instance.ts';
import type { FilamentNodes } from '../coil/types.ts';

/** Sums a winding's potential over the points of a panel. Holds any number of node sets. */
export interface PotentialEngine {
  /** Takes a copy of a node set. @returns its handle */
  hold(nodes: FilamentNodes): number;
  /**
   * Sum over the points of weight times `windingPotential`.
   *
   * @param points x y z weight, [count, 4], metres
   */
  sum(handle: number, points: Float64Array, count: number): number;
}

/** Most points of one call. */
const POINT_CAPACITY = 144;
/** x y z side weight. */
const POINT_BYTES = 5 * 8;
/** Four nodes: x, y, z, dx, dy. */
const GROUP_BYTES = 5 * 16;
const PAGE_BYTES = 65536;
/** Nodes whose terms are added in single precision before they join the sum. */
const BLOCK_BYTES = GROUP_BYTES * 64;
/** Millimetres keep squares near one. */
const MM = 1e3;
/** Where padding stands; it carries no current. */
const FAR = 1e5;

/**
 * The function (nodes, nodesEnd, pointBytes) -> f64: four nodes at once in single precision, blocks of 256 and points in
 * double. The potential is a pure number, so that any unit of length serves.
 */
function potentialModule(): Uint8Array<ArrayBuffer> {
  const types: ValueType[] = [];
  const local = (type: ValueType): number => types.push(type) + 2;
  const [nodes, nodesEnd, pointBytes] = [0, 1, 2];
  const point = local('i32');
  const group = local('i32');
  const end = local('i32');
  const total = local('f64');
  const here = local('f64');
  const [x, y, z, side, rx, ry, d, r, dx, sum] = Array.from({ length: 10 }, () => local('v128')) as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const v = f32x4;
  const loaded = (k: number): Code => v128.load(get(group), 16 * k);
  const term = sequence(
    set(rx, v.subtract(loaded(0), get(x))),
    set(ry, v.subtract(loaded(1), get(y))),
    set(d, v.multiply(get(side), v.subtract(get(z), loaded(2)))),
    set(
      r,
      v.squareRoot(
        v.add(v.add(v.multiply(get(rx), get(rx)), v.multiply(get(ry), get(ry))), v.multiply(get(d), get(d))),
      ),
    ),
    set(dx, loaded(3)),
    set(
      sum,
      v.add(
        get(sum),
        v.divide(
          v.subtract(v.multiply(get(rx), loaded(4)), v.multiply(get(ry), get(dx))),
          v.multiply(get(r), v.add(get(r), get(d))),
        ),
      ),
    ),
    set(group, i32.add(get(group), i32.constant(GROUP_BYTES))),
  );
  const lanes = [0, 1, 2, 3].map((k) => f64.fromF32(f32x4.extract(get(sum), k)));
  const block = sequence(
    set(sum, v128.zero),
    set(end, i32.add(get(group), i32.constant(BLOCK_BYTES))),
    loopWhile(term, i32.and(i32.lessUnsigned(get(group), get(end)), i32.lessUnsigned(get(group), get(nodesEnd)))),
    set(
      here,
      lanes.reduce((a, b) => f64.add(a, b), get(here)),
    ),
  );
  const splat = (k: number): Code => f32x4.splat(f64.toF32(f64.load(get(point), 8 * k)));
  const onePoint = sequence(
    set(x, splat(0)),
    set(y, splat(1)),
    set(z, splat(2)),
    set(side, splat(3)),
    set(here, f64.constant(0)),
    set(group, get(nodes)),
    loopWhile(block, i32.lessUnsigned(get(group), get(nodesEnd))),
    set(total, f64.add(get(total), f64.multiply(get(here), f64.load(get(point), 32)))),
    set(point, i32.add(get(point), i32.constant(POINT_BYTES))),
  );
  return encodeModule(
    [
      {
        name: 'potential',
        parameters: ['i32', 'i32', 'i32'],
        result: 'f64',
        locals: types,
        body: sequence(loopWhile(onePoint, i32.lessUnsigned(get(point), get(pointBytes))), get(total)),
      },
    ],
    1,
  );
}

/** On WebAssembly SIMD, to 1e-6 of the sum of what is added; null where the machine has none. */
export function createSimdPotential(): PotentialEngine | null {
  const started = startModule(potentialModule());
  if (!started) return null;
  const { memory, functions } = started;
  const run = functions.potential!;
  let free = Math.ceil((POINT_CAPACITY * POINT_BYTES) / 16) * 16;
  let room = new Float64Array(memory.buffer);
  const sets: { readonly start: number; readonly end: number }[] = [];
  return {
    hold(nodes) {
      const start = free;
      const groups = Math.ceil(nodes.count / 4);
      free += groups * GROUP_BYTES;
      const missing = free - memory.buffer.byteLength;
      if (missing > 0) {
        memory.grow(Math.ceil(missing / PAGE_BYTES));
        room = new Float64Array(memory.buffer);
      }
      const held = new Float32Array(memory.buffer, start, 20 * groups);
      [nodes.x, nodes.y, nodes.z, nodes.dx, nodes.dy].forEach((values, row) => {
        for (let k = 0; k < 4 * groups; k++) {
          held[20 * (k >> 2) + 4 * row + (k & 3)] = k < nodes.count ? MM * values[k]! : row < 3 ? FAR : 0;
        }
      });
      sets.push({ start, end: free });
      return sets.length - 1;
    },
    sum(handle, points, count) {
      const { start, end } = sets[handle]!;
      for (let i = 0; i < count; i++) {
        const z = points[4 * i + 2]!;
        const side = z < 0 ? -1 : 1;
        room[5 * i] = MM * points[4 * i]!;
        room[5 * i + 1] = MM * points[4 * i + 1]!;
        room[5 * i + 2] = MM * z;
        room[5 * i + 3] = side;
        room[5 * i + 4] = side * points[4 * i + 3]!;
      }
      return run(start, end, count * POINT_BYTES) / (4 * Math.PI);
    },
  };
}

/** In plain JavaScript and double precision: the reference, and the fallback. */
export function createScalarPotential(): PotentialEngine {
  const sets: FilamentNodes[] = [];
  return {
    hold: (nodes) => sets.push(nodes) - 1,
    sum(handle, points, count) {
      let sum = 0;
      for (let i = 0; i < 4 * count; i += 4) {
        sum += points[i + 3]! * windingPotential(sets[handle]!, points[i]!, points[i + 1]!, points[i + 2]!);
      }
      return sum;
    },
  };
}

/**
 * Scalar magnetic potential per ampere (1): the solid angle of every turn over 4 pi, H = -grad.
 *
 * @param nodes of the winding, in a frame whose z is the coil's axis, its mid-plane at z = 0
 * @returns positive above the winding (z > 0), negative below
 * Valid outside the flat hull of the winding, whose turns' discs are the cut of the potential; beside the winding it is
 * continuous through z = 0. No check is made.
 * Method: solid angle as a line integral about the axis through the point, (rho x dl) / (r (r + d)): regular wherever
 * the point lies off the wire, so it converges with the nodes as their rule does.
 * Source: vector potential of a monopole, its string turned away from the winding (P. Dirac 1931, from memory);
 * checked against the closed solid angle of a polygon and the on-axis loop in tests.
 */
export function windingPotential(nodes: FilamentNodes, x: number, y: number, z: number): number {
  const { count, x: nx, y: ny, z: nz, dx, dy } = nodes;
  const side = z < 0 ? -1 : 1;
  let sum = 0;
  for (let k = 0; k < count; k++) {
    const rx = nx[k]! - x;
    const ry = ny[k]! - y;
    const d = side * (z - nz[k]!);
    const r = Math.sqrt(rx * rx + ry * ry + d * d);
    sum += (rx * dy[k]! - ry * dx[k]!) / (r * (r + d));
  }
  return (side * sum) / (4 * Math.PI);
}
