import { ellipticEFromComplement, ellipticHalfDifference, ellipticKFromComplement } from '../../numerics/elliptic.ts';
import { gaussLegendre } from '../../numerics/gauss-legendre.ts';
import { isFullCircle, pieceLength, piecePoint } from './piece-geometry.ts';
import type { ArcPiece, LinePiece, Piece, Winding } from './types.ts';

/** Magnetic field of a winding's filaments in its own frame. */
export interface WindingField {
  /**
   * H per ampere of coil current at a point, A/m, x y z into `out`, from all pieces but those numbered skipFrom up to
   * but not including skipTo. Pieces are numbered through all turns in order.
   */
  readonly at: (x: number, y: number, z: number, skipFrom: number, skipTo: number, out: Float64Array) => void;
  /** The same from the pieces numbered from up to but not including to only. */
  readonly of: (x: number, y: number, z: number, from: number, to: number, out: Float64Array) => void;
  /** Number of each turn's first piece, and after the last turn the number of pieces. */
  readonly firstPiece: readonly number[];
}

type Adder = (x: number, y: number, z: number, out: Float64Array) => void;

const FOUR_PI = 4 * Math.PI;
/** Widest arc that one rule covers, rad. */
const WIDEST_ARC = 0.8;
const ARC_ORDERS = [3, 4, 6, 8, 12, 16, 24, 32, 48, 64] as const;

/**
 * Prepares the field of a winding: straight pieces and full circles in closed form, arcs by Gauss-Legendre of an order
 * that fits the distance.
 *
 * @param tolerance relative accuracy of an arc's share, 1e-12 to 0.1
 * Accuracy: closed forms 1e-12 (reference-cases/loop-field); arcs as asked.
 * Source: finite straight wire in the form of Hanson and Hirshman, Phys. Plasmas 9 (2002) 4410; circular loop after
 * Smythe, Static and Dynamic Electricity, 7.10, the radial part without cancellation.
 */
export function windingField(winding: Winding, tolerance: number): WindingField {
  const adders: Adder[] = [];
  const firstPiece: number[] = [];
  for (const turn of winding.turns) {
    firstPiece.push(adders.length);
    for (const piece of turn.pieces) adders.push(pieceField(piece, turn.z, turn.weight, tolerance));
  }
  firstPiece.push(adders.length);
  return {
    firstPiece,
    at(x, y, z, skipFrom, skipTo, out) {
      out[0] = 0;
      out[1] = 0;
      out[2] = 0;
      for (let i = 0; i < adders.length; i++) {
        if (i < skipFrom || i >= skipTo) adders[i](x, y, z, out);
      }
    },
    of(x, y, z, from, to, out) {
      out[0] = 0;
      out[1] = 0;
      out[2] = 0;
      for (let i = from; i < to; i++) adders[i](x, y, z, out);
    },
  };
}

function pieceField(piece: Piece, z: number, weight: number, tolerance: number): Adder {
  if (piece.kind === 'line') return lineField(piece, z, weight);
  if (isFullCircle(piece)) return circleField(piece, z, weight);
  const parts = Math.ceil(Math.abs(piece.sweep) / WIDEST_ARC);
  const sweep = piece.sweep / parts;
  const arcs = Array.from({ length: parts }, (_, part) =>
    arcField({ ...piece, start: piece.start + part * sweep, sweep }, z, weight, tolerance),
  );
  if (parts === 1) return arcs[0];
  return (x, y, pz, out) => {
    for (const arc of arcs) arc(x, y, pz, out);
  };
}

function lineField(line: LinePiece, turnZ: number, weight: number): Adder {
  const z0 = turnZ + (line.dz0 ?? 0);
  const z1 = turnZ + (line.dz1 ?? 0);
  return (x, y, z, out) => {
    const ax = x - line.x0;
    const ay = y - line.y0;
    const az = z - z0;
    const bx = x - line.x1;
    const by = y - line.y1;
    const bz = z - z1;
    const r0 = Math.sqrt(ax * ax + ay * ay + az * az);
    const r1 = Math.sqrt(bx * bx + by * by + bz * bz);
    const product = r0 * r1;
    const base = product + ax * bx + ay * by + az * bz;
    if (base <= 1e-15 * product) return;
    const factor = (weight * (r0 + r1)) / (FOUR_PI * product * base);
    out[0] += factor * (ay * bz - az * by);
    out[1] += factor * (az * bx - ax * bz);
    out[2] += factor * (ax * by - ay * bx);
  };
}

function circleField(circle: ArcPiece, turnZ: number, weight: number): Adder {
  const a = circle.radius;
  const z0 = turnZ + (circle.dz ?? 0);
  const current = weight * Math.sign(circle.sweep);
  return (x, y, z, out) => {
    const px = x - circle.cx;
    const py = y - circle.cy;
    const h = z - z0;
    const rho = Math.hypot(px, py);
    const sum2 = (a + rho) ** 2 + h * h;
    const difference2 = (a - rho) ** 2 + h * h;
    const m1 = difference2 / sum2;
    const e = ellipticEFromComplement(m1);
    const scale = current / (2 * Math.PI * Math.sqrt(sum2));
    out[2] += scale * (ellipticKFromComplement(m1) + ((a * a - rho * rho - h * h) / difference2) * e);
    if (rho < 1e-12 * a || h === 0) return;
    // -K + (a^2 + rho^2 + h^2) E / difference2 = 2 a rho E / difference2 - [K - E], K - E = m K / 2 + half difference.
    const m = (4 * a * rho) / sum2;
    const kMinusE = (m / 2) * ellipticKFromComplement(m1) + ellipticHalfDifference(m, m1);
    const radial = ((scale * h) / rho) * ((2 * a * rho * e) / difference2 - kMinusE);
    out[0] += (radial * px) / rho;
    out[1] += (radial * py) / rho;
  };
}

function arcField(arc: ArcPiece, turnZ: number, weight: number, tolerance: number): Adder {
  const z0 = turnZ + (arc.dz ?? 0);
  const [mx, my] = piecePoint(arc, 0.5);
  const half = Math.abs(arc.sweep) / 2;
  const reach = pieceLength(arc) / 2;
  const ux = (mx - arc.cx) / arc.radius;
  const uy = (my - arc.cy) / arc.radius;
  const cosHalf = Math.cos(half);
  const [x0, y0] = piecePoint(arc, 0);
  const [x1, y1] = piecePoint(arc, 1);
  // Same bound as in winding-potential; the cube in the denominator costs about one order more.
  const nearEnough = ARC_ORDERS.map((order) => {
    const rho = (100 / tolerance) ** (1 / (2 * order - 1));
    return arc.radius * Math.expm1((half * (rho - 1 / rho)) / 2);
  });
  const rules: (Float64Array | undefined)[] = [];
  return (x, y, z, out) => {
    const pz = z - z0;
    const fromMiddle = Math.sqrt((x - mx) ** 2 + (y - my) ** 2 + pz * pz);
    let distance = fromMiddle - reach;
    if (distance < nearEnough[0]) {
      const px = x - arc.cx;
      const py = y - arc.cy;
      const rho = Math.sqrt(px * px + py * py);
      const flat2 =
        px * ux + py * uy >= rho * cosHalf
          ? (rho - arc.radius) ** 2
          : Math.min((x - x0) ** 2 + (y - y0) ** 2, (x - x1) ** 2 + (y - y1) ** 2);
      distance = Math.sqrt(flat2 + pz * pz);
    }
    let k = 0;
    while (k < ARC_ORDERS.length - 1 && distance < nearEnough[k]) k++;
    rules[k] ??= arcNodes(arc, weight, ARC_ORDERS[k]);
    const nodes = rules[k] as Float64Array;
    for (let i = 0; i < nodes.length; i += 4) {
      const px = x - nodes[i];
      const py = y - nodes[i + 1];
      const r2 = px * px + py * py + pz * pz;
      const factor = 1 / (FOUR_PI * r2 * Math.sqrt(r2));
      const dx = nodes[i + 2] * factor;
      const dy = nodes[i + 3] * factor;
      out[0] += dy * pz;
      out[1] -= dx * pz;
      out[2] += dx * py - dy * px;
    }
  };
}

function arcNodes(arc: ArcPiece, weight: number, order: number): Float64Array {
  const { nodes, weights } = gaussLegendre(order);
  const out = new Float64Array(4 * order);
  for (let i = 0; i < order; i++) {
    const angle = arc.start + (arc.sweep * (nodes[i] + 1)) / 2;
    const element = (arc.radius * arc.sweep * weights[i] * weight) / 2;
    out[4 * i] = arc.cx + arc.radius * Math.cos(angle);
    out[4 * i + 1] = arc.cy + arc.radius * Math.sin(angle);
    out[4 * i + 2] = -Math.sin(angle) * element;
    out[4 * i + 3] = Math.cos(angle) * element;
  }
  return out;
}
