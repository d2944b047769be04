import { gaussLegendre } from '../../numerics/gauss-legendre.ts';

/**
 * Flat quadrilateral panels, each carrying one uniform charge. Metres. All arrays belong to panel index p:
 * `corner` [n, 12] four corners x y z in order around the panel; `centre` [n, 3] centroid; `frame` [n, 9] rows
 * e1, e2, normal (right-handed); `edge` [n, 20] for each edge its start (2, in the frame, from the centroid), its
 * direction (2) and length; `area`; `moment` [n, 6] mean of (x - centre)(x - centre)^T as xx yy zz xy xz yz; `size`
 * longest edge.
 */
export interface PanelSet {
  readonly count: number;
  readonly corner: Float64Array;
  readonly centre: Float64Array;
  readonly frame: Float64Array;
  readonly edge: Float64Array;
  readonly area: Float64Array;
  readonly moment: Float64Array;
  readonly size: Float64Array;
}

/** An empty set with room for `count` panels. */
export function allocatePanels(count: number): PanelSet {
  return {
    count,
    corner: new Float64Array(12 * count),
    centre: new Float64Array(3 * count),
    frame: new Float64Array(9 * count),
    edge: new Float64Array(20 * count),
    area: new Float64Array(count),
    moment: new Float64Array(6 * count),
    size: new Float64Array(count),
  };
}

const work = new Float64Array(16);

/** Fills panel p from its four corners (flat, x y z); the panel must be flat and convex. */
export function setPanel(set: PanelSet, p: number, corners: ArrayLike<number>): void {
  for (let i = 0; i < 12; i++) set.corner[12 * p + i] = corners[i]!;
  const [x0, y0, z0] = [corners[0]!, corners[1]!, corners[2]!];
  // Frame: normal from the diagonals, e1 along the longer of the first two edges.
  const diagonal = (a: number, b: number, k: number) => corners[3 * b + k]! - corners[3 * a + k]!;
  const ux = diagonal(0, 2, 0);
  const uy = diagonal(0, 2, 1);
  const uz = diagonal(0, 2, 2);
  const vx = diagonal(1, 3, 0);
  const vy = diagonal(1, 3, 1);
  const vz = diagonal(1, 3, 2);
  let nx = uy * vz - uz * vy;
  let ny = uz * vx - ux * vz;
  let nz = ux * vy - uy * vx;
  const twice = Math.hypot(nx, ny, nz);
  nx /= twice;
  ny /= twice;
  nz /= twice;
  let ax = diagonal(0, 1, 0);
  let ay = diagonal(0, 1, 1);
  let az = diagonal(0, 1, 2);
  if (Math.hypot(diagonal(1, 2, 0), diagonal(1, 2, 1), diagonal(1, 2, 2)) > Math.hypot(ax, ay, az)) {
    ax = diagonal(1, 2, 0);
    ay = diagonal(1, 2, 1);
    az = diagonal(1, 2, 2);
  }
  const length = Math.hypot(ax, ay, az);
  ax /= length;
  ay /= length;
  az /= length;
  const bx = ny * az - nz * ay;
  const by = nz * ax - nx * az;
  const bz = nx * ay - ny * ax;
  set.frame.set([ax, ay, az, bx, by, bz, nx, ny, nz], 9 * p);
  // In-plane corners relative to the first, then area, centroid and second moments of the polygon.
  const local = work;
  for (let k = 0; k < 4; k++) {
    const dx = corners[3 * k]! - x0;
    const dy = corners[3 * k + 1]! - y0;
    const dz = corners[3 * k + 2]! - z0;
    local[2 * k] = dx * ax + dy * ay + dz * az;
    local[2 * k + 1] = dx * bx + dy * by + dz * bz;
  }
  let area = 0;
  let cu = 0;
  let cv = 0;
  for (let k = 0; k < 4; k++) {
    const m = (k + 1) % 4;
    const cross = local[2 * k]! * local[2 * m + 1]! - local[2 * m]! * local[2 * k + 1]!;
    area += cross / 2;
    cu += (cross * (local[2 * k]! + local[2 * m]!)) / 6;
    cv += (cross * (local[2 * k + 1]! + local[2 * m + 1]!)) / 6;
  }
  cu /= area;
  cv /= area;
  let uu = 0;
  let vv = 0;
  let uv = 0;
  let size = 0;
  for (let k = 0; k < 4; k++) {
    const m = (k + 1) % 4;
    const u = local[2 * k]! - cu;
    const v = local[2 * k + 1]! - cv;
    const s = local[2 * m]! - cu;
    const t = local[2 * m + 1]! - cv;
    const cross = u * t - s * v;
    uu += (cross * (u * u + u * s + s * s)) / 12;
    vv += (cross * (v * v + v * t + t * t)) / 12;
    uv += (cross * (2 * u * v + u * t + s * v + 2 * s * t)) / 24;
    const edge = Math.hypot(s - u, t - v);
    size = Math.max(size, edge);
    set.edge.set(edge > 0 ? [u, v, (s - u) / edge, (t - v) / edge, edge] : [u, v, 1, 0, 0], 20 * p + 5 * k);
  }
  uu /= area;
  vv /= area;
  uv /= area;
  set.area[p] = area;
  set.size[p] = size;
  set.centre.set([x0 + cu * ax + cv * bx, y0 + cu * ay + cv * by, z0 + cu * az + cv * bz], 3 * p);
  const second = (s: number, t: number, sb: number, tb: number) => uu * s * t + vv * sb * tb + uv * (s * tb + sb * t);
  set.moment.set(
    [
      second(ax, ax, bx, bx),
      second(ay, ay, by, by),
      second(az, az, bz, bz),
      second(ax, ay, bx, by),
      second(ax, az, bx, bz),
      second(ay, az, by, bz),
    ],
    6 * p,
  );
}

/**
 * Gauss points on panel p: order x order, weights adding up to one.
 *
 * @param out x y z weight, [order * order, 4], written from index 0
 */
export function panelPoints(set: PanelSet, p: number, order: number, out: Float64Array): void {
  const { nodes, weights } = gaussLegendre(order);
  const c = set.corner;
  const b = 12 * p;
  let sum = 0;
  let at = 0;
  for (let i = 0; i < order; i++) {
    const s = nodes[i]!;
    for (let j = 0; j < order; j++) {
      const t = nodes[j]!;
      const n0 = ((1 - s) * (1 - t)) / 4;
      const n1 = ((1 + s) * (1 - t)) / 4;
      const n2 = ((1 + s) * (1 + t)) / 4;
      const n3 = ((1 - s) * (1 + t)) / 4;
      let sx = 0;
      let sy = 0;
      let sz = 0;
      let tx = 0;
      let ty = 0;
      let tz = 0;
      for (let k = 0; k < 3; k++) {
        const c0 = c[b + k]!;
        const c1 = c[b + 3 + k]!;
        const c2 = c[b + 6 + k]!;
        const c3 = c[b + 9 + k]!;
        out[at + k] = n0 * c0 + n1 * c1 + n2 * c2 + n3 * c3;
        const ds = (1 - t) * (c1 - c0) + (1 + t) * (c2 - c3);
        const dt = (1 - s) * (c3 - c0) + (1 + s) * (c2 - c1);
        if (k === 0) {
          sx = ds;
          tx = dt;
        } else if (k === 1) {
          sy = ds;
          ty = dt;
        } else {
          sz = ds;
          tz = dt;
        }
      }
      const jacobian = Math.hypot(sy * tz - sz * ty, sz * tx - sx * tz, sx * ty - sy * tx);
      const w = weights[i]! * weights[j]! * jacobian;
      out[at + 3] = w;
      sum += w;
      at += 4;
    }
  }
  for (let i = 3; i < at; i += 4) out[i] = out[i]! / sum;
}

/**
 * The set moved by a pose matrix (rotation row-major, then translation; see coil `poseMatrix`).
 *
 * @param out written and returned; must hold as many panels
 */
export function transformPanels(set: PanelSet, matrix: Float64Array, out: PanelSet): PanelSet {
  const m = matrix;
  for (let i = 0; i < 4 * set.count; i++) movePoint(set.corner, 3 * i, m, out.corner);
  for (let i = 0; i < set.count; i++) movePoint(set.centre, 3 * i, m, out.centre);
  for (let i = 0; i < 3 * set.count; i++) {
    const x = set.frame[3 * i]!;
    const y = set.frame[3 * i + 1]!;
    const z = set.frame[3 * i + 2]!;
    out.frame[3 * i] = m[0]! * x + m[1]! * y + m[2]! * z;
    out.frame[3 * i + 1] = m[3]! * x + m[4]! * y + m[5]! * z;
    out.frame[3 * i + 2] = m[6]! * x + m[7]! * y + m[8]! * z;
  }
  for (let i = 0; i < set.count; i++) rotateMoment(set.moment, 6 * i, m, out.moment);
  out.edge.set(set.edge);
  out.area.set(set.area);
  out.size.set(set.size);
  return out;
}

function movePoint(from: Float64Array, at: number, m: Float64Array, to: Float64Array): void {
  const x = from[at]!;
  const y = from[at + 1]!;
  const z = from[at + 2]!;
  to[at] = m[0]! * x + m[1]! * y + m[2]! * z + m[9]!;
  to[at + 1] = m[3]! * x + m[4]! * y + m[5]! * z + m[10]!;
  to[at + 2] = m[6]! * x + m[7]! * y + m[8]! * z + m[11]!;
}

function rotateMoment(from: Float64Array, at: number, m: Float64Array, to: Float64Array): void {
  const xx = from[at]!;
  const yy = from[at + 1]!;
  const zz = from[at + 2]!;
  const xy = from[at + 3]!;
  const xz = from[at + 4]!;
  const yz = from[at + 5]!;
  const term = (i: number, j: number) => {
    const a = m[3 * i]!;
    const b = m[3 * i + 1]!;
    const c = m[3 * i + 2]!;
    const d = m[3 * j]!;
    const e = m[3 * j + 1]!;
    const f = m[3 * j + 2]!;
    return a * d * xx + b * e * yy + c * f * zz + (a * e + b * d) * xy + (a * f + c * d) * xz + (b * f + c * e) * yz;
  };
  to[at] = term(0, 0);
  to[at + 1] = term(1, 1);
  to[at + 2] = term(2, 2);
  to[at + 3] = term(0, 1);
  to[at + 4] = term(0, 2);
  to[at + 5] = term(1, 2);
}
