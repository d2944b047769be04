import { transformEven2d } from '../../../numerics/fft.ts';
import { matrixProduct } from '../../../numerics/matrix-product.ts';
import type { PlaneLayer } from './plane-layers.ts';
import { type PlaneSpectrum, planeSpectrum, type SpectralBox } from './plane-spectrum.ts';

/**
 * The cross-spectrum of two planforms, folded onto ky >= 0: what multiplies the cosine and the sine of ky y in the real
 * and in the imaginary part. Arrays are [modes + 1, modes + 1] row-major, ky first.
 */
export interface CrossSpectrum {
  readonly cosRe: Float64Array;
  readonly sinRe: Float64Array;
  readonly sinIm: Float64Array;
  readonly cosIm: Float64Array;
  /** Heights of the first and second planform's planes, m. */
  readonly heightsA: readonly number[];
  readonly heightsB: readonly number[];
}

/** Cross-spectra of all planform pairs of two windings. */
export function crossSpectra(
  a: readonly PlaneLayer[],
  b: readonly PlaneLayer[],
  box: SpectralBox,
): readonly CrossSpectrum[] {
  const flat = (layers: readonly PlaneLayer[]) => layers.map((layer) => planeSpectrum(layer.currents, box));
  const rising = (layers: readonly PlaneLayer[]) =>
    layers.map(({ currents: { x, y }, rising: dz }) =>
      dz ? planeSpectrum({ x, y, dx: dz, dy: new Float64Array(dz.length) }, box) : null,
    );
  const flatA = flat(a);
  const flatB = flat(b);
  const risingA = rising(a);
  const risingB = rising(b);
  return a.flatMap((layerA, i) =>
    b.map((layerB, j) => ({
      ...cross(flatA[i]!, flatB[j]!, risingA[i] ?? null, risingB[j] ?? null, box.modes),
      heightsA: layerA.heights,
      heightsB: layerB.heights,
    })),
  );
}

function cross(
  a: PlaneSpectrum,
  b: PlaneSpectrum,
  riseA: PlaneSpectrum | null,
  riseB: PlaneSpectrum | null,
  modes: number,
): Omit<CrossSpectrum, 'heightsA' | 'heightsB'> {
  const width = modes + 1;
  const row = () => new Float64Array(width * width);
  const out = { cosRe: row(), sinRe: row(), sinIm: row(), cosIm: row() };
  const real = (k: number): number => {
    let sum = a.xRe[k]! * b.xRe[k]! + a.xIm[k]! * b.xIm[k]! + a.yRe[k]! * b.yRe[k]! + a.yIm[k]! * b.yIm[k]!;
    if (riseA && riseB) sum += riseA.xRe[k]! * riseB.xRe[k]! + riseA.xIm[k]! * riseB.xIm[k]!;
    return sum;
  };
  const imaginary = (k: number): number => {
    let sum = a.xIm[k]! * b.xRe[k]! - a.xRe[k]! * b.xIm[k]! + a.yIm[k]! * b.yRe[k]! - a.yRe[k]! * b.yIm[k]!;
    if (riseA && riseB) sum += riseA.xIm[k]! * riseB.xRe[k]! - riseA.xRe[k]! * riseB.xIm[k]!;
    return sum;
  };
  for (let m = 0; m <= modes; m++) {
    for (let n = 0; n <= modes; n++) {
      const k = m * width + n;
      const plus = (modes + m) * width + n;
      const minus = (modes - m) * width + n;
      // kx = 0 stands for itself, kx > 0 also for -kx.
      const fold = n === 0 ? 1 : 2;
      const re = fold * real(plus);
      const im = fold * imaginary(plus);
      const other = m === 0 ? 0 : fold;
      const reMinus = other * real(minus);
      const imMinus = other * imaginary(minus);
      out.cosRe[k] = re + reMinus;
      out.sinRe[k] = imMinus - im;
      out.sinIm[k] = re - reMinus;
      out.cosIm[k] = im + imMinus;
    }
  }
  return out;
}

/**
 * Spectrum of sum 1 / sqrt(rho^2 + h^2) over the heights, sampled on the box's grid (not its own Fourier integral: on
 * the box the samples are exact, whereas the integral's periodic copies overlap). Beyond the separations that occur the
 * coordinates bend until they are level at the box's edge, so that the periodic field has no kink there.
 * [grid / 2 + 1]^2 row-major, in m.
 */
export function sampledKernel(heights: readonly number[], box: SpectralBox): Float64Array {
  const edge = box.grid / 2 + 1;
  const step = box.side / box.grid;
  const quarter = new Float64Array(edge * edge);
  const squares = Float64Array.from({ length: edge }, (_, k) => bent(k * step, box) ** 2);
  for (const height of heights) {
    const height2 = height * height;
    for (let r = 0; r < edge; r++) {
      const base = squares[r]! + height2;
      for (let c = 0; c <= r; c++) quarter[r * edge + c]! += 1 / Math.sqrt(base + squares[c]!);
    }
  }
  for (let r = 0; r < edge; r++) for (let c = 0; c < r; c++) quarter[c * edge + r] = quarter[r * edge + c]!;
  transformEven2d(quarter, box.grid);
  for (let k = 0; k < quarter.length; k++) quarter[k]! *= step * step;
  return quarter;
}

/** x up to the box's `inner`, then a smooth curve (slope 1 minus a septic step) that is level at half the side. */
function bent(x: number, { side, inner }: SpectralBox): number {
  if (x <= inner) return x;
  const width = side / 2 - inner;
  const s = (x - inner) / width;
  return inner + width * (s - s ** 5 * (7 - 14 * s + 10 * s * s - 2.5 * s ** 3));
}

/** Sums over modes 0..modes of a cross-spectrum with the kernel, at all (xs, ys): [ys, xs] row-major, 1/m * m^2. */
export interface SpectralSum {
  readonly values: Float64Array;
  /** Sum of absolute terms in the outermost tenth of the modes, continued: what the modes left out can amount to. */
  readonly tail: number;
}

export function spectralSum(
  spectra: readonly CrossSpectrum[],
  z: number,
  box: SpectralBox,
  used: number,
  xs: ArrayLike<number>,
  ys: ArrayLike<number>,
): SpectralSum {
  const width = used + 1;
  const stride = box.modes + 1;
  const edge = box.grid / 2 + 1;
  const area = box.side * box.side;
  const re = new Float64Array(2 * width * width);
  const im = new Float64Array(2 * width * width);
  const outer = Math.floor(0.9 * used);
  let ring = 0;
  let least = Number.POSITIVE_INFINITY;
  for (const spectrum of spectra) {
    const heights = spectrum.heightsA.flatMap((below) => spectrum.heightsB.map((above) => z + above - below));
    least = Math.min(least, ...heights.map(Math.abs));
    const kernel = sampledKernel(heights, box);
    for (let m = 0; m <= used; m++) {
      for (let n = 0; n <= used; n++) {
        const k = m * stride + n;
        const weight = kernel[m * edge + n]! / area;
        const at = m * width + n;
        const below = (width + m) * width + n;
        const cosRe = weight * spectrum.cosRe[k]!;
        const cosIm = weight * spectrum.cosIm[k]!;
        re[at]! += cosRe;
        re[below]! += weight * spectrum.sinRe[k]!;
        im[at]! += weight * spectrum.sinIm[k]!;
        im[below]! += cosIm;
        if (m > outer || n > outer) ring += Math.abs(cosRe) + Math.abs(cosIm);
      }
    }
  }
  const multiply = matrixProduct();
  const along = (values: ArrayLike<number>) => phases(values, box.side, used);
  const y = along(ys);
  const realRows = new Float64Array(2 * width * ys.length);
  const imaginaryRows = new Float64Array(2 * width * ys.length);
  for (let j = 0; j < ys.length; j++) {
    for (let m = 0; m <= used; m++) {
      const at = 2 * width * j + m;
      realRows[at] = y.cos[m * ys.length + j]!;
      realRows[at + width] = y.sin[m * ys.length + j]!;
      imaginaryRows[at] = y.sin[m * ys.length + j]!;
      imaginaryRows[at + width] = y.cos[m * ys.length + j]!;
    }
  }
  const columnRe = multiply(realRows, re, ys.length, 2 * width, width, new Float64Array(ys.length * width));
  const columnIm = multiply(imaginaryRows, im, ys.length, 2 * width, width, new Float64Array(ys.length * width));
  const both = new Float64Array(2 * width * ys.length);
  for (let j = 0; j < ys.length; j++) {
    for (let n = 0; n <= used; n++) {
      both[2 * width * j + n] = columnRe[j * width + n]!;
      both[2 * width * j + width + n] = -columnIm[j * width + n]!;
    }
  }
  const x = along(xs);
  const basis = new Float64Array(2 * width * xs.length);
  basis.set(x.cos);
  basis.set(x.sin, width * xs.length);
  const values = multiply(both, basis, ys.length, 2 * width, xs.length, new Float64Array(xs.length * ys.length));
  const decay = Math.exp((-0.1 * used * 2 * Math.PI * least) / box.side);
  return { values, tail: decay < 1 ? (ring * decay) / (1 - decay) : Number.POSITIVE_INFINITY };
}

/** cos and sin of 2 pi m p / side: [used + 1, points] row-major, by rotation from mode to mode. */
function phases(points: ArrayLike<number>, side: number, used: number): { cos: Float64Array; sin: Float64Array } {
  const count = points.length;
  const cos = new Float64Array((used + 1) * count);
  const sin = new Float64Array((used + 1) * count);
  for (let j = 0; j < count; j++) {
    const turn = (2 * Math.PI * points[j]!) / side;
    const c = Math.cos(turn);
    const s = Math.sin(turn);
    let re = 1;
    let im = 0;
    for (let m = 0; m <= used; m++) {
      cos[m * count + j] = re;
      sin[m * count + j] = im;
      const next = re * c - im * s;
      im = re * s + im * c;
      re = next;
    }
  }
  return { cos, sin };
}
