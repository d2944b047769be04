import type { FilamentNodes } from '../types.ts';
import type { FilamentRule } from './filament-rule.ts';
import { type NodeForm, type Precision, rows } from './neumann-code.ts';
import type { NeumannEngine, RingBlock, SourceBlock } from './neumann-engine.ts';

/** Millimetres keep single-precision sums of squares near one. */
const MM = 1e3;
/** Padding nodes carry no current and stand far away (sources and targets on opposite sides), so that nothing divides by zero. */
const FAR = 1e5;

/** Source nodes of a rule: one block per plane, one for what slopes. Or whole rings, one block per plane. */
export type Source = NodeSource | RingSource;

export interface RingSource {
  readonly kind: 'rings';
  readonly planes: readonly { readonly z: number; readonly block: RingBlock }[];
  /** Of the rings, m. */
  readonly axis: { readonly x: number; readonly y: number };
}

export interface NodeSource {
  readonly kind: 'nodes';
  readonly planes: readonly { readonly z: number; readonly block: SourceBlock }[];
  readonly loose: SourceBlock | null;
}

export function nodeSource(rule: FilamentRule): NodeSource {
  return {
    kind: 'nodes',
    planes: rule.planes.map(({ z, from, to }) => ({ z, block: block(rule.nodes, 'planar', from, to) })),
    loose: rule.looseFrom < rule.nodes.count ? block(rule.nodes, 'spatial', rule.looseFrom, rule.nodes.count) : null,
  };
}

/** Rows of x y (z) dx dy (dz) in millimetres, padded to a multiple of four nodes. */
function block(nodes: FilamentNodes, form: NodeForm, from: number, to: number): SourceBlock {
  const count = (to - from + 3) & ~3;
  const names = rows[form].source;
  const double = new Float64Array(names.length * count);
  names.forEach((name, row) => {
    const values = nodes[name];
    for (let k = from; k < to; k++) double[row * count + k - from] = MM * values[k]!;
    if (!name.startsWith('d')) double.fill(-FAR, row * count + to - from, (row + 1) * count);
  });
  return { form, count, double, single: Float32Array.from(double) };
}

/** Room for the target nodes of one rule; reused from pose to pose. */
export interface TargetRoom {
  readonly nodes: FilamentNodes;
  readonly count: number;
  /** Rows x y dx dy height2, then z dz for the spatial form. Millimetres. */
  readonly planar: Float64Array;
  readonly z: Float64Array;
  readonly spatial: Float64Array | null;
}

/** @param spatial whether sources with sloping pieces will be summed against it */
export function targetRoom(nodes: FilamentNodes, spatial: boolean): TargetRoom {
  const count = (nodes.count + 3) & ~3;
  const planar = new Float64Array(5 * count);
  planar.fill(FAR, nodes.count, count);
  planar.fill(FAR, count + nodes.count, 2 * count);
  return {
    nodes,
    count,
    planar,
    z: new Float64Array(count),
    spatial: spatial ? new Float64Array(6 * count) : null,
  };
}

/** Moves the target nodes by a `poseMatrix` into the room's rows. */
export function moveTargets(room: TargetRoom, m: Float64Array): void {
  const { nodes, count: n, planar, z, spatial } = room;
  const { x: px, y: py, z: pz, dx: pu, dy: pv, dz: pw } = nodes;
  for (let k = 0; k < nodes.count; k++) {
    const x = MM * px[k]!;
    const y = MM * py[k]!;
    const height = MM * pz[k]!;
    const u = MM * pu[k]!;
    const v = MM * pv[k]!;
    const w = MM * pw[k]!;
    planar[k] = m[0]! * x + m[1]! * y + m[2]! * height + MM * m[9]!;
    planar[n + k] = m[3]! * x + m[4]! * y + m[5]! * height + MM * m[10]!;
    z[k] = m[6]! * x + m[7]! * y + m[8]! * height + MM * m[11]!;
    planar[2 * n + k] = m[0]! * u + m[1]! * v + m[2]! * w;
    planar[3 * n + k] = m[3]! * u + m[4]! * v + m[5]! * w;
    if (spatial) spatial[5 * n + k] = m[6]! * u + m[7]! * v + m[8]! * w;
  }
  if (spatial) {
    spatial.set(planar.subarray(0, 2 * n));
    spatial.set(z, 2 * n);
    spatial.set(planar.subarray(2 * n, 4 * n), 3 * n);
  }
}

/** sum dl_i . dl_j / |r_i - r_j| of all source nodes and the moved target nodes, m. */
export function neumannSum(engine: NeumannEngine, source: Source, room: TargetRoom, precision: Precision): number {
  const { count, planar } = room;
  const target = { form: 'planar', count, values: planar } as const;
  let total = 0;
  if (source.kind === 'rings') {
    for (const { z, block: rings } of source.planes) {
      setHeights(room, z);
      total += engine.ringSum(rings, target, precision);
    }
    return total / MM;
  }
  for (const { z, block: sources } of source.planes) {
    setHeights(room, z);
    total += engine.sum(sources, target, precision);
  }
  if (source.loose && room.spatial) {
    total += engine.sum(source.loose, { form: 'spatial', count, values: room.spatial }, precision);
  }
  return total / MM;
}

function setHeights({ count, planar, z }: TargetRoom, plane: number): void {
  for (let k = 0; k < count; k++) {
    const height = z[k]! - MM * plane;
    planar[4 * count + k] = height * height;
  }
}
