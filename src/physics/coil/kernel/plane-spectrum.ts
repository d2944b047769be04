import { transform2d } from '../../../numerics/fft.ts';
import { gaussLegendre } from '../../../numerics/gauss-legendre.ts';

/** Current elements in one plane, metres. */
export interface PlaneCurrents {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly dx: Float64Array;
  readonly dy: Float64Array;
}

/** The square box of a transform. Wave numbers are 2 pi / side times whole numbers. */
export interface SpectralBox {
  readonly side: number;
  /** Largest separation along an axis that occurs, m: under half the side. */
  readonly inner: number;
  /** Points of the grid along a side, a power of two. */
  readonly grid: number;
  /** Largest mode number kept. */
  readonly modes: number;
}

/**
 * Fourier integrals of the current, sum dl exp(-i k . r), at kx = n and ky = m times 2 pi / side, n = 0..modes,
 * m = -modes..modes (the rest follows, as currents are real). Arrays are [2 modes + 1, modes + 1] row-major, index
 * (m + modes) * (modes + 1) + n.
 */
export interface PlaneSpectrum {
  readonly xRe: Float64Array;
  readonly xIm: Float64Array;
  readonly yRe: Float64Array;
  readonly yIm: Float64Array;
}

/** Grid points that one current element is spread over, along each axis. */
const SPREAD = 12;
/** Least ratio of grid points to modes kept. */
const OVERSAMPLING = 1.6;

/** Largest mode number that a grid carries. */
export function modesOfGrid(grid: number): number {
  return Math.floor(grid / (2 * OVERSAMPLING));
}

/** Shape parameter of the spreading function for that ratio: Barnett et al. (2019), section 3. */
const SHAPE = 0.976 * Math.PI * SPREAD * (1 - 1 / (2 * OVERSAMPLING));
/** Steps of the table of the spreading function to one grid step; quadratic interpolation then errs by 1e-10. */
const TABLE_STEPS = 1024;

/**
 * Spectrum of a set of current elements by a non-uniform fast Fourier transform: spread on the grid with a smooth
 * function, transform, divide by the function's own transform. Both components ride in one complex transform.
 *
 * Accuracy: 3e-9 of the sum of |dl| (tests/physics/coil/kernel/plane-spectrum.test.ts).
 * Source: Barnett, Magland and af Klinteberg, A parallel nonuniform fast Fourier transform library based on an
 * "exponential of semicircle" kernel, SIAM J. Sci. Comput. 41 (2019) C479 (from memory).
 */
export function planeSpectrum(currents: PlaneCurrents, box: SpectralBox): PlaneSpectrum {
  const { side, grid, modes } = box;
  const field = emptyField(grid);
  const occupied = spread(currents, side / grid, grid, field);
  const columns: number[] = [];
  for (let n = -modes; n <= modes; n++) columns.push((n + grid) % grid);
  transform2d(field, grid, occupied, columns);

  const inverse = inverseSpread(grid, modes);
  const width = modes + 1;
  const row = () => new Float64Array((2 * modes + 1) * width);
  const out = { xRe: row(), xIm: row(), yRe: row(), yIm: row() };
  for (let m = -modes; m <= modes; m++) {
    const line = ((m + grid) % grid) * grid;
    const mirror = ((grid - m) % grid) * grid;
    // The field's origin is the middle of the grid: every other mode changes sign.
    let half = (m & 1 ? -0.5 : 0.5) * inverse[Math.abs(m)]!;
    for (let n = 0; n <= modes; n++) {
      const here = 2 * (line + n);
      const there = 2 * (mirror + ((grid - n) & (grid - 1)));
      const scale = half * inverse[n]!;
      half = -half;
      const k = (m + modes) * width + n;
      // x + i y was transformed: the spectra of the two real parts are its Hermitian and anti-Hermitian parts.
      out.xRe[k] = (field[here]! + field[there]!) * scale;
      out.xIm[k] = (field[here + 1]! - field[there + 1]!) * scale;
      out.yRe[k] = (field[here + 1]! + field[there + 1]!) * scale;
      out.yIm[k] = (field[there]! - field[here]!) * scale;
    }
  }
  return out;
}

/** Grids up to this size are kept: 4 MB. */
const KEPT_GRID = 512;
const kept = new Map<number, Float64Array>();

function emptyField(grid: number): Float64Array {
  const known = kept.get(grid);
  if (known) return known.fill(0);
  const field = new Float64Array(2 * grid * grid);
  if (grid <= KEPT_GRID) kept.set(grid, field);
  return field;
}

/** Spreads dx + i dy about the middle of the grid, so that nothing wraps; returns the rows that received anything. */
function spread(currents: PlaneCurrents, step: number, grid: number, field: Float64Array): number[] {
  const { x, y, dx, dy } = currents;
  const alongX = new Float64Array(SPREAD);
  const alongY = new Float64Array(SPREAD);
  const touched = new Uint8Array(grid);
  const middle = grid / 2 - SPREAD / 2;
  for (let i = 0; i < x.length; i++) {
    const px = x[i]! / step + middle;
    const py = y[i]! / step + middle;
    const firstX = Math.ceil(px);
    const firstY = Math.ceil(py);
    weights(firstX - px, alongX);
    weights(firstY - py, alongY);
    const u = dx[i]!;
    const v = dy[i]!;
    for (let r = 0; r < SPREAD; r++) {
      touched[firstY + r] = 1;
      let at = 2 * (grid * (firstY + r) + firstX);
      const wu = alongY[r]! * u;
      const wv = alongY[r]! * v;
      for (let c = 0; c < SPREAD; c++) {
        const weight = alongX[c]!;
        field[at]! += wu * weight;
        field[at + 1]! += wv * weight;
        at += 2;
      }
    }
  }
  const occupied: number[] = [];
  for (let line = 0; line < grid; line++) if (touched[line]) occupied.push(line);
  return occupied;
}

/** The spreading function, 1 at 0, on -1 <= t <= 1: exp(shape (sqrt(1 - t^2) - 1)), the "exponential of semicircle". */
function semicircle(t: number): number {
  const inside = 1 - t * t;
  return inside <= 0 ? 0 : Math.exp(SHAPE * (Math.sqrt(inside) - 1));
}

let table: Float64Array | null = null;

/** Values at the points k + share, k = 0 .. SPREAD - 1, of the SPREAD wide function; 0 <= share < 1. */
function weights(share: number, out: Float64Array): void {
  // Row q holds share = (q - 1) / TABLE_STEPS, so that both neighbours of every share exist.
  table ??= Float64Array.from({ length: (TABLE_STEPS + 3) * SPREAD }, (_, at) => {
    const place = (at % SPREAD) + (Math.floor(at / SPREAD) - 1) / TABLE_STEPS;
    return semicircle((place - SPREAD / 2) * (2 / SPREAD));
  });
  const exact = share * TABLE_STEPS;
  const nearest = Math.round(exact);
  const t = exact - nearest;
  const before = 0.5 * t * (t - 1);
  const here = 1 - t * t;
  const after = 0.5 * t * (t + 1);
  const row = (nearest + 1) * SPREAD;
  for (let k = 0; k < SPREAD; k++) {
    out[k] = before * table[row - SPREAD + k]! + here * table[row + k]! + after * table[row + SPREAD + k]!;
  }
}

const inverses = new Map<number, Float64Array>();

/** One over the Fourier integral of the spreading function, in grid steps, at modes 0..modes of the grid. */
function inverseSpread(grid: number, modes: number): Float64Array {
  const known = inverses.get(grid);
  if (known && known.length > modes) return known;
  const { nodes, weights: shares } = gaussLegendre(3 * SPREAD + 16);
  const sums = new Float64Array(modes + 1);
  nodes.forEach((t, i) => {
    const value = shares[i]! * semicircle(t) * (SPREAD / 2);
    const turn = ((2 * Math.PI) / grid) * t * (SPREAD / 2);
    for (let m = 0; m <= modes; m++) sums[m]! += value * Math.cos(turn * m);
  });
  const inverse = sums.map((sum) => 1 / sum);
  inverses.set(grid, inverse);
  return inverse;
}
