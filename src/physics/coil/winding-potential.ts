import { ellipticHalfDifference } from '../../numerics/elliptic.ts';
import { gaussLegendre } from '../../numerics/gauss-legendre.ts';
import { isFullCircle, pieceLength, piecePoint } from './piece-geometry.ts';
import type { ArcPiece, Winding } from './types.ts';

/** Orders of the rules used on arcs. */
const ARC_ORDERS = [2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 24, 32, 48, 64, 96, 128, 192, 256, 384, 512] as const;

/** Vector potential of a winding per ampere, and how near a point is to its centre lines. Coil frame, metres. */
export interface WindingPotential {
  /** Sum of weighted dl/r, so that mu0/4pi times it is the vector potential per ampere; x y z into `out`. */
  readonly at: (x: number, y: number, z: number, out: Float64Array) => void;
  /** Least distance from a point to any centre line, m. */
  readonly distance: (x: number, y: number, z: number) => number;
}

/** Widest arc that one rule covers, rad. */
const WIDEST_ARC = 0.8;

interface Arc {
  readonly piece: ArcPiece;
  readonly z: number;
  readonly weight: number;
  readonly middle: readonly [number, number];
  /** Unit vector from the centre to the middle, and the cosine of half the sweep. */
  readonly ux: number;
  readonly uy: number;
  readonly cosHalf: number;
  readonly ends: readonly [readonly [number, number, number], readonly [number, number, number]];
  /** x y dx dy of each node, per order. */
  readonly rules: (Float64Array | undefined)[];
  /** Squared distance from the arc's middle, and from the arc, from which on an order is good enough. */
  readonly farEnough: Float64Array;
  readonly nearEnough: Float64Array;
}

/**
 * Prepares a winding as a source: full circles by elliptic integrals, straight pieces by their logarithm, other arcs by
 * Gauss-Legendre of an order that fits the distance.
 *
 * @param tolerance relative accuracy wanted of each arc's share, 1e-14 to 0.1
 */
export function windingPotential(winding: Winding, tolerance: number): WindingPotential {
  const circles: number[] = [];
  const lines: number[] = [];
  const arcs: Arc[] = [];
  for (const turn of winding.turns) {
    for (const piece of turn.pieces) {
      if (piece.kind === 'arc' && isFullCircle(piece)) {
        circles.push(piece.cx, piece.cy, turn.z + (piece.dz ?? 0), piece.radius, turn.weight * Math.sign(piece.sweep));
      } else if (piece.kind === 'line') {
        const length = pieceLength(piece);
        const dz0 = piece.dz0 ?? 0;
        lines.push(piece.x0, piece.y0, turn.z + dz0);
        lines.push((piece.x1 - piece.x0) / length, (piece.y1 - piece.y0) / length, ((piece.dz1 ?? 0) - dz0) / length);
        lines.push(length, turn.weight);
      } else {
        const parts = Math.ceil(Math.abs(piece.sweep) / WIDEST_ARC);
        const sweep = piece.sweep / parts;
        for (let part = 0; part < parts; part++) {
          const arc = { ...piece, start: piece.start + part * sweep, sweep };
          arcs.push(prepareArc(arc, turn.z + (piece.dz ?? 0), turn.weight, tolerance));
        }
      }
    }
  }
  const circleData = Float64Array.from(circles);
  const lineData = Float64Array.from(lines);
  return {
    at(x, y, z, out) {
      let ax = 0;
      let ay = 0;
      let az = 0;
      for (let i = 0; i < circleData.length; i += 5) {
        const px = x - circleData[i];
        const py = y - circleData[i + 1];
        const pz = z - circleData[i + 2];
        const radius = circleData[i + 3];
        const rho2 = px * px + py * py;
        if (rho2 < 1e-24 * radius * radius) continue;
        const rho = Math.sqrt(rho2);
        const sum2 = (radius + rho) ** 2 + pz * pz;
        const difference2 = (radius - rho) ** 2 + pz * pz;
        const factor =
          ((2 * circleData[i + 4] * Math.sqrt(sum2)) / rho2) *
          ellipticHalfDifference((4 * radius * rho) / sum2, difference2 / sum2);
        ax -= py * factor;
        ay += px * factor;
      }
      for (let i = 0; i < lineData.length; i += 8) {
        const px = x - lineData[i];
        const py = y - lineData[i + 1];
        const pz = z - lineData[i + 2];
        const tx = lineData[i + 3];
        const ty = lineData[i + 4];
        const tz = lineData[i + 5];
        const length = lineData[i + 6];
        const along = px * tx + py * ty + pz * tz;
        const rest = length - along;
        const cx = py * tz - pz * ty;
        const cy = pz * tx - px * tz;
        const cz = px * ty - py * tx;
        const across2 = cx * cx + cy * cy + cz * cz;
        const r0 = Math.sqrt(across2 + along * along);
        const r1 = Math.sqrt(across2 + rest * rest);
        // asinh(rest/d) + asinh(along/d), written so that neither end cancels.
        let ratio: number;
        if (along < 0) ratio = (rest + r1) / (r0 - along);
        else if (rest < 0) ratio = (along + r0) / (r1 - rest);
        else ratio = ((rest + r1) * (along + r0)) / across2;
        const factor = lineData[i + 7] * Math.log(ratio);
        ax += tx * factor;
        ay += ty * factor;
        az += tz * factor;
      }
      for (const arc of arcs) {
        const pz = z - arc.z;
        const pz2 = pz * pz;
        const mx = x - arc.middle[0];
        const my = y - arc.middle[1];
        const fromMiddle2 = mx * mx + my * my + pz2;
        let k = 0;
        while (k < 5 && fromMiddle2 < arc.farEnough[k]) k++;
        if (k === 5) {
          const near = arcDistance(arc, x, y, pz2);
          const near2 = near * near;
          k = 0;
          while (k < ARC_ORDERS.length - 1 && fromMiddle2 < arc.farEnough[k] && near2 < arc.nearEnough[k]) k++;
        }
        arc.rules[k] ??= arcRule(arc, ARC_ORDERS[k]);
        const nodes = arc.rules[k] as Float64Array;
        for (let i = 0; i < nodes.length; i += 4) {
          const px = x - nodes[i];
          const py = y - nodes[i + 1];
          const inverse = 1 / Math.sqrt(px * px + py * py + pz2);
          ax += nodes[i + 2] * inverse;
          ay += nodes[i + 3] * inverse;
        }
      }
      out[0] = ax;
      out[1] = ay;
      out[2] = az;
    },
    distance(x, y, z) {
      let least2 = Number.POSITIVE_INFINITY;
      for (let i = 0; i < circleData.length; i += 5) {
        const px = x - circleData[i];
        const py = y - circleData[i + 1];
        const pz = z - circleData[i + 2];
        const off = Math.sqrt(px * px + py * py) - circleData[i + 3];
        least2 = Math.min(least2, off * off + pz * pz);
      }
      for (let i = 0; i < lineData.length; i += 8) {
        const px = x - lineData[i];
        const py = y - lineData[i + 1];
        const pz = z - lineData[i + 2];
        const along = px * lineData[i + 3] + py * lineData[i + 4] + pz * lineData[i + 5];
        const excess = along - Math.min(Math.max(along, 0), lineData[i + 6]);
        const across2 = Math.max(0, px * px + py * py + pz * pz - along * along);
        least2 = Math.min(least2, across2 + excess * excess);
      }
      let least = Math.sqrt(least2);
      for (const arc of arcs) {
        const pz = z - arc.z;
        least = Math.min(least, arcDistance(arc, x, y, pz * pz));
      }
      return least;
    },
  };
}

/**
 * The integrand's singularities lie where the complex distance vanishes: at an angle eta above the arc with
 * cosh eta = 1 + d^2 / (2 R rho), so eta >= ln(1 + d / R). A rule of order n leaves about rho^-2n, rho the Bernstein
 * ellipse through them in units of half the sweep.
 */
function prepareArc(piece: ArcPiece, z: number, weight: number, tolerance: number): Arc {
  const [mx, my] = piecePoint(piece, 0.5);
  const half = Math.abs(piece.sweep) / 2;
  const farEnough = new Float64Array(ARC_ORDERS.length);
  const nearEnough = new Float64Array(ARC_ORDERS.length);
  ARC_ORDERS.forEach((order, k) => {
    const rho = (20 / tolerance) ** (1 / (2 * order));
    farEnough[k] = (piece.radius * Math.expm1((half * (rho + 1 / rho)) / 2)) ** 2;
    nearEnough[k] = (piece.radius * Math.expm1((half * (rho - 1 / rho)) / 2)) ** 2;
  });
  return {
    piece,
    z,
    weight,
    middle: [mx, my],
    ux: (mx - piece.cx) / piece.radius,
    uy: (my - piece.cy) / piece.radius,
    cosHalf: Math.cos(half),
    ends: [piecePoint(piece, 0), piecePoint(piece, 1)],
    rules: [],
    farEnough,
    nearEnough,
  };
}

function arcRule(arc: Arc, order: number): Float64Array {
  const { nodes, weights } = gaussLegendre(order);
  const { piece } = arc;
  const out = new Float64Array(4 * order);
  for (let i = 0; i < order; i++) {
    const angle = piece.start + (piece.sweep * (nodes[i] + 1)) / 2;
    const element = (piece.radius * piece.sweep * weights[i] * arc.weight) / 2;
    out[4 * i] = piece.cx + piece.radius * Math.cos(angle);
    out[4 * i + 1] = piece.cy + piece.radius * Math.sin(angle);
    out[4 * i + 2] = -Math.sin(angle) * element;
    out[4 * i + 3] = Math.cos(angle) * element;
  }
  return out;
}

function arcDistance(arc: Arc, x: number, y: number, pz2: number): number {
  const px = x - arc.piece.cx;
  const py = y - arc.piece.cy;
  const rho = Math.sqrt(px * px + py * py);
  if (px * arc.ux + py * arc.uy >= rho * arc.cosHalf) {
    const off = rho - arc.piece.radius;
    return Math.sqrt(off * off + pz2);
  }
  const [[x0, y0], [x1, y1]] = arc.ends;
  return Math.sqrt(Math.min((x - x0) ** 2 + (y - y0) ** 2, (x - x1) ** 2 + (y - y1) ** 2) + pz2);
}

/** Rough cost of evaluating a winding's potential at one point, to choose which of two coils acts as the source. */
export function potentialCost(winding: Winding): number {
  let cost = 0;
  for (const turn of winding.turns) {
    for (const piece of turn.pieces) {
      if (isFullCircle(piece)) cost += 10;
      else cost += piece.kind === 'line' ? 4 : 6 * Math.ceil(Math.abs(piece.sweep) / WIDEST_ARC);
    }
  }
  return cost;
}
