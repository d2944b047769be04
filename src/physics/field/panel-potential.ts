import type { PanelSet } from './panel-set.ts';

/**
 * Integral of 1/r over panel p seen from (x, y, z), metres.
 *
 * Divided by 4 pi times the area it is the scalar potential of a unit magnetic charge spread evenly over the panel.
 * Exact for every point, on the panel and its edges too (the limit); relative rounding about 1e-13 beyond 100 panel
 * sizes, where the two terms cancel.
 * Method: closed form edge by edge, one logarithm and one angle each.
 * Source: D. R. Wilton et al., IEEE Trans. Antennas Propag. 32 (1984) 276, eq. 5 (from memory; checked against
 * cubature in tests/physics/field/panel-potential.test.ts).
 */
export function panelPotential(set: PanelSet, p: number, x: number, y: number, z: number): number {
  const c = set.centre;
  const f = set.frame;
  const rx = x - c[3 * p]!;
  const ry = y - c[3 * p + 1]!;
  const rz = z - c[3 * p + 2]!;
  const b = 9 * p;
  const u = rx * f[b]! + ry * f[b + 1]! + rz * f[b + 2]!;
  const v = rx * f[b + 3]! + ry * f[b + 4]! + rz * f[b + 5]!;
  const height = Math.abs(rx * f[b + 6]! + ry * f[b + 7]! + rz * f[b + 8]!);
  const h2 = height * height;
  const edge = set.edge;
  let sum = 0;
  let at = 20 * p;
  for (let k = 0; k < 4; k++, at += 5) {
    const length = edge[at + 4]!;
    const tu = edge[at + 2]!;
    const tv = edge[at + 3]!;
    const au = edge[at]! - u;
    const av = edge[at + 1]! - v;
    const before = au * tu + av * tv;
    const after = before + length;
    const away = au * tv - av * tu;
    const r02 = away * away + h2;
    const rm = Math.sqrt(r02 + before * before);
    const rp = Math.sqrt(r02 + after * after);
    const total = rm + rp;
    // On the edge itself the logarithm is infinite and its factor zero.
    if (away !== 0 && total > length) sum += away * Math.log((total + length) / (total - length));
    if (height > 0 && away !== 0) {
      const s1 = away * after;
      const c1 = r02 + height * rp;
      const s2 = away * before;
      const c2 = r02 + height * rm;
      sum -= height * Math.atan2(s1 * c2 - s2 * c1, c1 * c2 + s1 * s2);
    }
  }
  return sum;
}

/**
 * Minus the gradient of `panelPotential`: the field of a unit charge density on panel p, times 4 pi.
 *
 * @param out x y z, added to (not cleared) after multiplication with `scale`
 * On the panel itself the normal part is that of the side the point lies on (0 exactly in the plane).
 */
export function addPanelField(
  set: PanelSet,
  p: number,
  x: number,
  y: number,
  z: number,
  scale: number,
  out: Float64Array,
): void {
  const c = set.centre;
  const f = set.frame;
  const rx = x - c[3 * p]!;
  const ry = y - c[3 * p + 1]!;
  const rz = z - c[3 * p + 2]!;
  const b = 9 * p;
  const u = rx * f[b]! + ry * f[b + 1]! + rz * f[b + 2]!;
  const v = rx * f[b + 3]! + ry * f[b + 4]! + rz * f[b + 5]!;
  const w = rx * f[b + 6]! + ry * f[b + 7]! + rz * f[b + 8]!;
  const height = Math.abs(w);
  const edge = set.edge;
  let eu = 0;
  let ev = 0;
  let angle = 0;
  let at = 20 * p;
  for (let k = 0; k < 4; k++, at += 5) {
    const length = edge[at + 4]!;
    if (length === 0) continue;
    const tu = edge[at + 2]!;
    const tv = edge[at + 3]!;
    const au = edge[at]! - u;
    const av = edge[at + 1]! - v;
    const before = au * tu + av * tv;
    const after = before + length;
    const away = au * tv - av * tu;
    const r02 = away * away + height * height;
    const rm = Math.sqrt(r02 + before * before);
    const rp = Math.sqrt(r02 + after * after);
    const total = rm + rp;
    const log = Math.log((total + length) / Math.max(total - length, 1e-15 * total));
    // Outward edge normal (tv, -tu): the potential falls across it by the logarithm.
    eu += tv * log;
    ev -= tu * log;
    const s1 = away * after;
    const c1 = r02 + height * rp;
    const s2 = away * before;
    const c2 = r02 + height * rm;
    angle += Math.atan2(s1 * c2 - s2 * c1, c1 * c2 + s1 * s2);
  }
  const ew = w > 0 ? angle : w < 0 ? -angle : 0;
  out[0] = out[0]! + scale * (eu * f[b]! + ev * f[b + 3]! + ew * f[b + 6]!);
  out[1] = out[1]! + scale * (eu * f[b + 1]! + ev * f[b + 4]! + ew * f[b + 7]!);
  out[2] = out[2]! + scale * (eu * f[b + 2]! + ev * f[b + 5]! + ew * f[b + 8]!);
}
