import { ConvergenceError } from '../../numerics/errors.ts';
import { gaussLegendre, type QuadratureRule } from '../../numerics/gauss-legendre.ts';
import { pieceDistance, pieceLength, piecePoint } from './piece-geometry.ts';
import type { ArcPiece, LinePiece, Piece } from './types.ts';

/**
 * Double line integrals of dl.dl' / sqrt(|r - r'|^2 + g^2) over two pieces of one coil, metres. g = 0 gives Neumann's
 * integral; g the geometric mean distance of the section gives a wire's own share.
 */

const QUICK_ORDERS = [2, 3, 4, 6] as const;
const MOST_SPLITS = 60;
/** The same along a line that another piece may touch with an end: nearer than this share its distance is rounding. */
const MOST_LINE_SPLITS = 26;
/** Parts of one pair: pieces that lie on each other would go on for ever. */
const MOST_PARTS = 300_000;
let partsLeft = 0;

function countPart(): void {
  partsLeft -= 1;
  if (partsLeft >= 0) return;
  throw new ConvergenceError(
    'pieces-touch',
    'Two parts of a coil’s wire lie on each other: its inductance has no value.',
    {
      parts: MOST_PARTS,
    },
  );
}

/** A piece and what repeated integrals over it need; heights count from its turn's plane. */
export interface PlacedPiece {
  readonly piece: Piece;
  readonly length: number;
  readonly middle: readonly [number, number, number];
  /** Half the reach of the piece from its middle. */
  readonly half: number;
  /** Distance from the middle from which on each quick order is good enough. */
  readonly farEnough: readonly number[];
  /** x y z dx dy dz of each node, per quick order. */
  readonly quick: (Float64Array | undefined)[];
}

/** @param aim relative error wanted of each pair, 1e-14 to 1e-2 */
export function placePiece(piece: Piece, aim: number): PlacedPiece {
  const [x, y, dz] = piecePoint(piece, 0.5);
  const length = pieceLength(piece);
  const farEnough = QUICK_ORDERS.map((order) => {
    const rho = (20 / aim) ** (1 / (2 * order));
    const t = (rho + 1 / rho) / 2;
    return piece.kind === 'line' ? (t * length) / 2 : piece.radius * Math.expm1((t * length) / 2 / piece.radius);
  });
  return { piece, length, middle: [x, y, dz], half: length / 2, farEnough, quick: [] };
}

/**
 * The integral over two different pieces; finite only if they do not touch, or with `soft` above 0.
 * @throws ConvergenceError `pieces-touch` where they lie on each other and `soft` is 0
 *
 * @param height of b's plane over a's, m
 * @param soft g, m
 */
export function pairIntegral(a: PlacedPiece, b: PlacedPiece, height: number, soft: number, aim: number): number {
  const dx = a.middle[0] - b.middle[0];
  const dy = a.middle[1] - b.middle[1];
  const dz = a.middle[2] - b.middle[2] - height;
  const apart = Math.sqrt(dx * dx + dy * dy + dz * dz);
  for (let k = 0; k < QUICK_ORDERS.length; k++) {
    if (apart - b.half >= a.farEnough[k] && apart - a.half >= b.farEnough[k]) {
      a.quick[k] ??= quickNodes(a.piece, QUICK_ORDERS[k]);
      b.quick[k] ??= quickNodes(b.piece, QUICK_ORDERS[k]);
      return nodeSum(a.quick[k] as Float64Array, b.quick[k] as Float64Array, height, soft * soft);
    }
  }
  const digits = Math.log(20 / aim);
  partsLeft = MOST_PARTS;
  if (a.piece.kind === 'line') {
    const closed = b.piece.kind === 'line' ? linePair(a.piece, b.piece, height, soft) : null;
    return closed ?? lineAgainst(a.piece, b.piece, -height, soft, digits);
  }
  if (b.piece.kind === 'line') return lineAgainst(b.piece, a.piece, height, soft, digits);
  return arcPair(a.piece, b.piece, height, soft, digits, 0);
}

/** The integral of a piece over itself; g must be above 0. */
export function selfIntegral(piece: Piece, soft: number): number {
  const length = pieceLength(piece);
  if (piece.kind === 'line') return 2 * (length * Math.asinh(length / soft) - Math.hypot(length, soft) + soft);
  const { radius } = piece;
  const sweep = Math.abs(piece.sweep);
  const small = soft / radius;
  // u = small sinh v flattens the peak at u = 0.
  const top = Math.asinh(sweep / small);
  const { nodes, weights } = gaussLegendre(12 + Math.ceil(3 * top));
  let sum = 0;
  for (let i = 0; i < nodes.length; i++) {
    const v = (top * (nodes[i] + 1)) / 2;
    const u = small * Math.sinh(v);
    const chord = 2 * Math.sin(u / 2);
    sum += (weights[i] * (sweep - u) * Math.cos(u) * small * Math.cosh(v)) / Math.sqrt(chord * chord + small * small);
  }
  return radius * top * sum;
}

/** Closed form for lines in parallel planes that are parallel, perpendicular or side by side; null for all others. */
function linePair(a: LinePiece, b: LinePiece, height: number, soft: number): number | null {
  if ((a.dz0 ?? 0) !== (a.dz1 ?? 0) || (b.dz0 ?? 0) !== (b.dz1 ?? 0)) return null;
  const ux = a.x1 - a.x0;
  const uy = a.y1 - a.y0;
  const vx = b.x1 - b.x0;
  const vy = b.y1 - b.y0;
  const lengthA = Math.hypot(ux, uy);
  const lengthB = Math.hypot(vx, vy);
  const dot = (ux * vx + uy * vy) / (lengthA * lengthB);
  if (Math.abs(dot) < 1e-15) return 0;
  const cross = (ux * vy - uy * vx) / (lengthA * lengthB);
  if (Math.abs(cross) > 1e-13) return runsBeside(a, b, height, soft) ? skewLines(a, b, height, soft) : null;
  const rise = height + (b.dz0 ?? 0) - (a.dz0 ?? 0);
  const across = ((b.x0 - a.x0) * uy - (b.y0 - a.y0) * ux) / lengthA;
  const d = Math.max(Math.sqrt(across * across + rise * rise + soft * soft), 1e-12 * lengthA);
  const start = ((b.x0 - a.x0) * ux + (b.y0 - a.y0) * uy) / lengthA;
  const end = start + dot * lengthB;
  const g = (u: number) => u * Math.asinh(u / d) - Math.sqrt(u * u + d * d);
  return g(end) - g(start) - g(end - lengthA) + g(start - lengthA);
}

/** How many times longer than its distance a line may be before its integral by parts costs more than it is worth. */
const BESIDE = 8;

/** Whether two lines run side by side at so small a distance that many parts would be needed. */
function runsBeside(a: LinePiece, b: LinePiece, height: number, soft: number): boolean {
  const rise = height + (b.dz0 ?? 0) - (a.dz0 ?? 0);
  const length = Math.min(Math.hypot(a.x1 - a.x0, a.y1 - a.y0), Math.hypot(b.x1 - b.x0, b.y1 - b.y0));
  return BESIDE * Math.hypot(pieceDistance(a, b), rise, soft) < length;
}

/**
 * Two straight lines at any angle in parallel planes, in closed form; null where it is not finite.
 * Source: G. A. Campbell, Phys. Rev. 5 (1915) 452, as in F. W. Grover, Inductance Calculations, ch. 7 (from memory; tested
 * against the integral by parts). The softened kernel only makes the distance of the planes larger.
 * Accuracy: 1e-9 of the lengths for angles above 1e-7; the feet of the common perpendicular move away as its inverse.
 */
function skewLines(a: LinePiece, b: LinePiece, height: number, soft: number): number | null {
  const l = Math.hypot(a.x1 - a.x0, a.y1 - a.y0);
  const m = Math.hypot(b.x1 - b.x0, b.y1 - b.y0);
  const ux = (a.x1 - a.x0) / l;
  const uy = (a.y1 - a.y0) / l;
  const vx = (b.x1 - b.x0) / m;
  const vy = (b.y1 - b.y0) / m;
  const cos = ux * vx + uy * vy;
  const sin = ux * vy - uy * vx;
  if (Math.abs(sin) < 1e-7) return null;
  // Where the lines, made endless, cross in plan: mu and nu from there to their starts.
  const wx = b.x0 - a.x0;
  const wy = b.y0 - a.y0;
  const mu = -(wx * vy - wy * vx) / sin;
  const nu = -(wx * uy - wy * ux) / sin;
  const d = Math.hypot(height + (b.dz0 ?? 0) - (a.dz0 ?? 0), soft);
  // Not from mu and nu, which are huge against the distances where the angle is small.
  const r1 = Math.hypot(b.x1 - a.x1, b.y1 - a.y1, d);
  const r2 = Math.hypot(b.x0 - a.x1, b.y0 - a.y1, d);
  const r3 = Math.hypot(b.x0 - a.x0, b.y0 - a.y0, d);
  const r4 = Math.hypot(b.x1 - a.x0, b.y1 - a.y0, d);
  const angle = (p: number, q: number, r: number) => Math.atan((d * d * cos + p * q * sin * sin) / (d * r * sin));
  const omega =
    d > 0 ? angle(mu + l, nu + m, r1) - angle(mu + l, nu, r2) + angle(mu, nu, r3) - angle(mu, nu + m, r4) : 0;
  const value =
    cos *
    (2 *
      ((mu + l) * Math.atanh(m / (r1 + r2)) +
        (nu + m) * Math.atanh(l / (r1 + r4)) -
        mu * Math.atanh(m / (r3 + r4)) -
        nu * Math.atanh(l / (r2 + r3))) -
      (omega * d) / sin);
  return Number.isFinite(value) ? value : null;
}

/**
 * The closed-form potential of a line, integrated along another piece whose plane lies `height` below the line's. Parts
 * are halved until none is longer than its middle's distance from the line: Bernstein ellipse 2 + sqrt 3.
 */
function lineAgainst(line: LinePiece, along: Piece, height: number, soft: number, digits: number): number {
  const order = Math.max(2, Math.ceil(digits / (2 * Math.log(2 + Math.sqrt(3)))));
  const { nodes, weights } = gaussLegendre(order);
  const length = pieceLength(line);
  const ux = (line.x1 - line.x0) / length;
  const uy = (line.y1 - line.y0) / length;
  const uz = ((line.dz1 ?? 0) - (line.dz0 ?? 0)) / length;
  // A step between layers stands at right angles to whatever lies flat, even where it touches it.
  if (Math.hypot(ux, uy) < 1e-9 && (along.kind === 'arc' || (along.dz0 ?? 0) === (along.dz1 ?? 0))) return 0;
  const z0 = (line.dz0 ?? 0) + height;
  const soft2 = soft * soft;
  const least2 = (1e-10 * length) ** 2;
  const whole = pieceLength(along);
  const alongX = along.kind === 'line' ? along.x1 - along.x0 : 0;
  const alongY = along.kind === 'line' ? along.y1 - along.y0 : 0;
  const dz0 = along.kind === 'line' ? (along.dz0 ?? 0) : (along.dz ?? 0);
  const alongZ = along.kind === 'line' ? (along.dz1 ?? 0) - dz0 : 0;

  const part = (from: number, to: number, depth: number): number => {
    const half = (to - from) / 2;
    const middle = from + half;
    let cos = 1;
    let sin = 0;
    let x: number;
    let y: number;
    const z = dz0 + alongZ * middle - z0;
    let needed = 2 * half * whole;
    if (along.kind === 'arc') {
      const angle = along.start + along.sweep * middle;
      cos = Math.cos(angle);
      sin = Math.sin(angle);
      x = along.cx + along.radius * cos - line.x0;
      y = along.cy + along.radius * sin - line.y0;
      needed = along.radius * Math.expm1(needed / along.radius);
    } else {
      x = along.x0 + alongX * middle - line.x0;
      y = along.y0 + alongY * middle - line.y0;
    }
    const at = x * ux + y * uy + z * uz;
    const beyond = at - Math.min(Math.max(at, 0), length);
    const distance2 = Math.max(0, x * x + y * y + z * z - at * at) + beyond * beyond + soft2;
    if (distance2 < needed * needed && depth < MOST_LINE_SPLITS) {
      countPart();
      return part(from, middle, depth + 1) + part(middle, to, depth + 1);
    }
    let sum = 0;
    for (let i = 0; i < order; i++) {
      const s = half * nodes[i];
      let px: number;
      let py: number;
      let dot: number;
      const pz = z + alongZ * s;
      if (along.kind === 'arc') {
        const c = Math.cos(along.sweep * s);
        const d = Math.sin(along.sweep * s);
        const rx = along.radius * (cos * c - sin * d);
        const ry = along.radius * (sin * c + cos * d);
        px = along.cx + rx - line.x0;
        py = along.cy + ry - line.y0;
        dot = (rx * uy - ry * ux) * along.sweep;
      } else {
        px = x + alongX * s;
        py = y + alongY * s;
        dot = alongX * ux + alongY * uy + alongZ * uz;
      }
      const a = px * ux + py * uy + pz * uz;
      const rest = length - a;
      const across2 = Math.max(least2, px * px + py * py + pz * pz - a * a) + soft2;
      const r0 = Math.sqrt(across2 + a * a);
      const r1 = Math.sqrt(across2 + rest * rest);
      let ratio: number;
      if (a < 0) ratio = (rest + r1) / (r0 - a);
      else if (rest < 0) ratio = (a + r0) / (r1 - rest);
      else ratio = ((rest + r1) * (a + r0)) / across2;
      sum += weights[i] * dot * Math.log(ratio);
    }
    return half * sum;
  };
  return part(0, 1, 0);
}

/** Most nodes on an arc before it is halved instead. */
const MOST_NODES = 24;
const scratchA = new Float64Array(6 * MOST_NODES);
const scratchB = new Float64Array(6 * MOST_NODES);

/** Tensor Gauss-Legendre on two arcs, halving whichever is too long for its distance. */
function arcPair(a: ArcPiece, b: ArcPiece, height: number, soft: number, digits: number, depth: number): number {
  const rise = height + (b.dz ?? 0) - (a.dz ?? 0);
  const gap = Math.hypot(pieceDistance(a, b), rise, soft);
  const m = orderFor(a, gap, digits);
  const n = orderFor(b, gap, digits);
  if ((m <= MOST_NODES && n <= MOST_NODES) || depth > MOST_SPLITS) {
    const nodesA = fill(a, gaussLegendre(Math.min(m, MOST_NODES)), scratchA);
    const nodesB = fill(b, gaussLegendre(Math.min(n, MOST_NODES)), scratchB);
    return nodeSum(nodesA, nodesB, height, soft * soft);
  }
  countPart();
  if (m >= n) {
    const sweep = a.sweep / 2;
    const second = { ...a, start: a.start + sweep, sweep };
    return (
      arcPair({ ...a, sweep }, b, height, soft, digits, depth + 1) + arcPair(second, b, height, soft, digits, depth + 1)
    );
  }
  const sweep = b.sweep / 2;
  const second = { ...b, start: b.start + sweep, sweep };
  return (
    arcPair(a, { ...b, sweep }, height, soft, digits, depth + 1) + arcPair(a, second, height, soft, digits, depth + 1)
  );
}

/** Order of the Gauss rule on an arc whose nearest singularity is `gap` away; see winding-potential for the bound. */
function orderFor(arc: ArcPiece, gap: number, digits: number): number {
  const delta = (2 * Math.log1p(gap / arc.radius)) / Math.abs(arc.sweep);
  return Math.max(2, Math.ceil(digits / (2 * Math.log(delta + Math.sqrt(1 + delta * delta)))));
}

function quickNodes(piece: Piece, order: number): Float64Array {
  return fill(piece, gaussLegendre(order), new Float64Array(6 * order));
}

/** Writes x y z dx dy dz of each node; returns the part of `out` that was written. */
function fill(piece: Piece, rule: QuadratureRule, out: Float64Array): Float64Array {
  for (let i = 0; i < rule.nodes.length; i++) {
    const s = (rule.nodes[i] + 1) / 2;
    const w = rule.weights[i] / 2;
    const k = 6 * i;
    if (piece.kind === 'arc') {
      const angle = piece.start + piece.sweep * s;
      const rx = piece.radius * Math.cos(angle);
      const ry = piece.radius * Math.sin(angle);
      out[k] = piece.cx + rx;
      out[k + 1] = piece.cy + ry;
      out[k + 2] = piece.dz ?? 0;
      out[k + 3] = -ry * piece.sweep * w;
      out[k + 4] = rx * piece.sweep * w;
      out[k + 5] = 0;
    } else {
      const dz0 = piece.dz0 ?? 0;
      const rise = (piece.dz1 ?? 0) - dz0;
      out[k] = piece.x0 + (piece.x1 - piece.x0) * s;
      out[k + 1] = piece.y0 + (piece.y1 - piece.y0) * s;
      out[k + 2] = dz0 + rise * s;
      out[k + 3] = (piece.x1 - piece.x0) * w;
      out[k + 4] = (piece.y1 - piece.y0) * w;
      out[k + 5] = rise * w;
    }
  }
  return out.subarray(0, 6 * rule.nodes.length);
}

function nodeSum(a: Float64Array, b: Float64Array, height: number, soft2: number): number {
  let sum = 0;
  for (let i = 0; i < a.length; i += 6) {
    const x = a[i];
    const y = a[i + 1];
    const z = a[i + 2] - height;
    let inner = 0;
    for (let j = 0; j < b.length; j += 6) {
      const dx = x - b[j];
      const dy = y - b[j + 1];
      const dz = z - b[j + 2];
      inner +=
        (a[i + 3] * b[j + 3] + a[i + 4] * b[j + 4] + a[i + 5] * b[j + 5]) /
        Math.sqrt(dx * dx + dy * dy + dz * dz + soft2);
    }
    sum += inner;
  }
  return sum;
}
