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

/** Shape parameter of the spreading function for an oversampling ratio: Barnett et al. (2019), section 3. */
const shape = (ratio: number): number => 0.976 * Math.PI * SPREAD * (1 - 1 / (2 * ratio));

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
  const beta = shape(grid / (2 * modes + 1));
  const field = new Float64Array(2 * grid * grid);
  const occupied = spread(currents, side / grid, grid, beta, field);
  const columns: number[] = [];
  for (let n = -modes; n <= modes; n++) columns.push((n + grid) % grid);
  transform2d(field, grid, occupied, columns);

  const correction = spreadTransform(grid, modes, beta);
  const width = modes + 1;
  const row = () => new Float64Array((2 * modes + 1) * width);
  const out = { xRe: row(), xIm: row(), yRe: row(), yIm: row() };
  for (let m = -modes; m <= modes; m++) {
    const line = ((m + grid) % grid) * grid;
    const mirror = ((grid - m) % grid) * grid;
    for (let n = 0; n <= modes; n++) {
      const here = 2 * (line + n);
      const there = 2 * (mirror + ((grid - n) & (grid - 1)));
      const scale = 0.5 / (correction[Math.abs(m)]! * correction[n]!);
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

/** Spreads dx + i dy; returns the rows that received anything. */
function spread(currents: PlaneCurrents, step: number, grid: number, beta: number, field: Float64Array): number[] {
  const { x, y, dx, dy } = currents;
  const alongX = new Float64Array(SPREAD);
  const alongY = new Float64Array(SPREAD);
  const columns = new Int32Array(SPREAD);
  const touched = new Uint8Array(grid);
  const wrap = grid - 1;
  for (let i = 0; i < x.length; i++) {
    const px = x[i]! / step;
    const py = y[i]! / step;
    const firstX = Math.ceil(px - SPREAD / 2);
    const firstY = Math.ceil(py - SPREAD / 2);
    for (let k = 0; k < SPREAD; k++) {
      alongX[k] = semicircle((firstX + k - px) * (2 / SPREAD), beta);
      alongY[k] = semicircle((firstY + k - py) * (2 / SPREAD), beta);
      columns[k] = 2 * ((firstX + k) & wrap);
    }
    const u = dx[i]!;
    const v = dy[i]!;
    for (let r = 0; r < SPREAD; r++) {
      const line = (firstY + r) & wrap;
      touched[line] = 1;
      const base = 2 * grid * line;
      const wu = alongY[r]! * u;
      const wv = alongY[r]! * v;
      for (let c = 0; c < SPREAD; c++) {
        const at = base + columns[c]!;
        field[at]! += wu * alongX[c]!;
        field[at + 1]! += wv * alongX[c]!;
      }
    }
  }
  const occupied: number[] = [];
  for (let line = 0; line < grid; line++) if (touched[line]) occupied.push(line);
  return occupied;
}

function semicircle(t: number, beta: number): number {
  const inside = 1 - t * t;
  return inside <= 0 ? 0 : Math.exp(beta * (Math.sqrt(inside) - 1));
}

/** Fourier integral of the spreading function, in grid steps, at modes 0..modes of the grid. */
function spreadTransform(grid: number, modes: number, beta: number): Float64Array {
  const { nodes, weights } = gaussLegendre(3 * SPREAD + 16);
  const out = new Float64Array(modes + 1);
  nodes.forEach((t, i) => {
    const value = weights[i]! * semicircle(t, beta) * (SPREAD / 2);
    const turn = ((2 * Math.PI) / grid) * t * (SPREAD / 2);
    for (let m = 0; m <= modes; m++) out[m]! += value * Math.cos(turn * m);
  });
  return out;
}
