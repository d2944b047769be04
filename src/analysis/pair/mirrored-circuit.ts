import type { Design } from '../../design/types.ts';
import { mapCircuit } from '../place/map-circuit.ts';
import type { OffsetGrid } from '../place/offset-grid.ts';

/** Which grid points stand for all: `rows` are solved, `from` says which of them each point takes its answer from. */
export interface MirrorRows {
  readonly rows: Int32Array;
  readonly from: Int32Array;
}

export function mirrorRows(even: { readonly x: boolean; readonly y: boolean }, nx: number, ny: number): MirrorRows {
  const rows: number[] = [];
  const placed = new Map<number, number>();
  const from = new Int32Array(nx * ny);
  for (let j = 0, at = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++, at++) {
      const column = even.x ? Math.max(i, nx - 1 - i) : i;
      const row = even.y ? Math.max(j, ny - 1 - j) : j;
      const source = row * nx + column;
      let index = placed.get(source);
      if (index === undefined) {
        index = rows.length;
        placed.set(source, index);
        rows.push(source);
      }
      from[at] = index;
    }
  }
  return { rows: Int32Array.from(rows), from };
}

/** The circuit over the grid; points that mirror each other are solved once. */
export function mirroredCircuit(
  design: Design,
  grid: OffsetGrid,
  { rows, from }: MirrorRows,
): { readonly maxOutputA: Float64Array; readonly wakeV: Float64Array } {
  const pick = (values: Float64Array): Float64Array => Float64Array.from(rows, (row) => values[row]!);
  const pickLaw = (values: Float64Array): Float64Array =>
    Float64Array.from({ length: 4 * rows.length }, (_, i) => values[4 * rows[i >> 2]! + (i & 3)]!);
  const few: OffsetGrid = {
    ...grid,
    l1: pick(grid.l1),
    l2: pick(grid.l2),
    m: pick(grid.m),
    r1: pickLaw(grid.r1),
    r2: pickLaw(grid.r2),
  };
  const solved = mapCircuit(design, few, 0, rows.length);
  const spreadOut = (values: Float64Array): Float64Array => Float64Array.from(from, (index) => values[index]!);
  return { maxOutputA: spreadOut(solved.maxOutputA), wakeV: spreadOut(solved.wakeV) };
}
