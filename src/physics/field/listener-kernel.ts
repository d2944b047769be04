import { panelPotential } from './panel-potential.ts';
import { type PanelSet, panelPoints } from './panel-set.ts';
import type { Skeleton } from './skeleton.ts';

/** Distances over the larger panel beyond which second moments do, and beyond which 2 x 2 points on both panels do. */
const FAR = 2;
const MIDDLE = 1.1;
/** Numbers per panel in the packed tables: centre, second moments, size, four points. */
const STRIDE = 26;

const scratchPoints = new Float64Array(64);

function pack(panels: PanelSet): Float64Array {
  const out = new Float64Array(STRIDE * panels.count);
  for (let p = 0; p < panels.count; p++) {
    const at = STRIDE * p;
    for (let k = 0; k < 3; k++) out[at + k] = panels.centre[3 * p + k]!;
    for (let k = 0; k < 6; k++) out[at + 3 + k] = panels.moment[6 * p + k]!;
    out[at + 9] = panels.size[p]!;
    panelPoints(panels, p, 2, scratchPoints);
    for (let k = 0; k < 16; k++) out[at + 10 + k] = scratchPoints[k]!;
  }
  return out;
}

/**
 * What a unit charge on each listener of side 2 makes each listener of side 1 hear, 1/m, [listeners 1, listeners 2].
 *
 * @param there panels of side 2 in the frame of side 1
 * Accuracy: mean potentials to 5e-4 of the largest at two panel sizes, better elsewhere; 1e-5 in the inductances.
 * Method: second moments of both panels beyond FAR panel sizes, 2 x 2 points on both beyond MIDDLE, the exact potential
 * of one panel at 4 x 4 points of the other nearer than that.
 */
export function listenerKernel(one: Skeleton, two: Skeleton, there: PanelSet, out: Float64Array): Float64Array {
  const n1 = one.second.length;
  const n2 = two.second.length;
  const from = pack(one.panels);
  const to = pack(there);
  const loopsFrom = two.second.every((k) => k < 0) ? n2 : 0;
  for (let i = 0; i < n1; i++) {
    const otherI = one.second[i]!;
    const row = i * n2;
    if (otherI < 0 && loopsFrom === n2) {
      panelRow(from, i, one.panels, to, there, n2, row, out);
      continue;
    }
    for (let j = 0; j < n2; j++) {
      const otherJ = two.second[j]!;
      let value = mean(from, i, one.panels, to, j, there);
      if (otherI >= 0) value -= mean(from, otherI, one.panels, to, j, there);
      if (otherJ >= 0) {
        value -= mean(from, i, one.panels, to, otherJ, there);
        if (otherI >= 0) value += mean(from, otherI, one.panels, to, otherJ, there);
        value *= two.weight[j]!;
      }
      out[row + j] = otherI >= 0 ? value * one.weight[i]! : value;
    }
  }
  return out;
}

/** One row where all listeners are panels: far pairs here, the others as below. */
function panelRow(
  from: Float64Array,
  i: number,
  one: PanelSet,
  to: Float64Array,
  two: PanelSet,
  count: number,
  row: number,
  out: Float64Array,
): void {
  const a = STRIDE * i;
  const x = from[a]!;
  const y = from[a + 1]!;
  const z = from[a + 2]!;
  const mxx = from[a + 3]!;
  const myy = from[a + 4]!;
  const mzz = from[a + 5]!;
  const mxy = from[a + 6]!;
  const mxz = from[a + 7]!;
  const myz = from[a + 8]!;
  const own = from[a + 9]!;
  for (let j = 0, b = 0; j < count; j++, b += STRIDE) {
    const rx = x - to[b]!;
    const ry = y - to[b + 1]!;
    const rz = z - to[b + 2]!;
    const r2 = rx * rx + ry * ry + rz * rz;
    const size = Math.max(own, to[b + 9]!);
    if (r2 > FAR * FAR * size * size) {
      const xx = mxx + to[b + 3]!;
      const yy = myy + to[b + 4]!;
      const zz = mzz + to[b + 5]!;
      const along =
        rx * (rx * xx + 2 * ry * (mxy + to[b + 6]!)) +
        ry * (ry * yy + 2 * rz * (myz + to[b + 8]!)) +
        rz * (rz * zz + 2 * rx * (mxz + to[b + 7]!));
      const inverse2 = 1 / r2;
      out[row + j] = QUARTER * Math.sqrt(inverse2) * (1 + inverse2 * (1.5 * along * inverse2 - 0.5 * (xx + yy + zz)));
    } else {
      out[row + j] = mean(from, i, one, to, j, two);
    }
  }
}

/** Mean potential on panel i of a unit charge on panel j, tables first. */
function mean(from: Float64Array, i: number, one: PanelSet, to: Float64Array, j: number, two: PanelSet): number {
  const a = STRIDE * i;
  const b = STRIDE * j;
  const rx = from[a]! - to[b]!;
  const ry = from[a + 1]! - to[b + 1]!;
  const rz = from[a + 2]! - to[b + 2]!;
  const r2 = rx * rx + ry * ry + rz * rz;
  const size = Math.max(from[a + 9]!, to[b + 9]!);
  const s2 = size * size;
  if (r2 > FAR * FAR * s2) {
    const xx = from[a + 3]! + to[b + 3]!;
    const yy = from[a + 4]! + to[b + 4]!;
    const zz = from[a + 5]! + to[b + 5]!;
    const along =
      rx * (rx * xx + 2 * ry * (from[a + 6]! + to[b + 6]!)) +
      ry * (ry * yy + 2 * rz * (from[a + 8]! + to[b + 8]!)) +
      rz * (rz * zz + 2 * rx * (from[a + 7]! + to[b + 7]!));
    const inverse = 1 / Math.sqrt(r2);
    const inverse2 = inverse * inverse;
    return QUARTER * inverse * (1 + inverse2 * (1.5 * along * inverse2 - 0.5 * (xx + yy + zz)));
  }
  if (r2 > MIDDLE * MIDDLE * s2) {
    let sum = 0;
    for (let p = a + 10; p < a + 26; p += 4) {
      const x = from[p]!;
      const y = from[p + 1]!;
      const z = from[p + 2]!;
      let part = 0;
      for (let q = b + 10; q < b + 26; q += 4) {
        const dx = x - to[q]!;
        const dy = y - to[q + 1]!;
        const dz = z - to[q + 2]!;
        part += to[q + 3]! / Math.sqrt(dx * dx + dy * dy + dz * dz);
      }
      sum += from[p + 3]! * part;
    }
    return QUARTER * sum;
  }
  panelPoints(one, i, 4, scratchPoints);
  let sum = 0;
  for (let k = 0; k < 64; k += 4) {
    sum +=
      scratchPoints[k + 3]! * panelPotential(two, j, scratchPoints[k]!, scratchPoints[k + 1]!, scratchPoints[k + 2]!);
  }
  return (QUARTER * sum) / two.area[j]!;
}

const QUARTER = 1 / (4 * Math.PI);
