/** Heat that the coil's alternating field makes in a magnet: an order of magnitude. */
import { MU0 } from '../constants.ts';
import type { DiscMagnet } from './types.ts';

/** Conductivity of sintered rare-earth magnets, S/m (resistivity 1.5 uohm m). Common practice, no source. */
export const MAGNET_CONDUCTIVITY = 0.67e6;

export interface MagnetHeating {
  /** W, good to about a factor of three. */
  readonly powerW: number;
  /** Skin depth, m. */
  readonly skinDepth: number;
  /** What was left out, for the reader. */
  readonly note: string;
}

/**
 * Eddy-current loss of a disc in an even axial field of peak flux density `peakT`.
 *
 * A long cylinder's loss per length (exact, Bessel functions) times the thickness: per length
 * P = (pi R / (sigma mu0^2)) B^2 Re[k I1(kR)/I0(kR)], k = (1 + j)/delta. It has the right limits for a cylinder: pi sigma w^2 B^2 R^4 / 16 at
 * low frequency, the surface resistance at high frequency. A flat disc lets the field round its faces and has plating of
 * other conductivity: hence an order of magnitude only.
 * @param frequency Hz. @param peakT peak flux density of the coil's field at the magnet, T.
 * Source: textbook (eddy currents in a cylinder, for example J. Lammeraner, M. Stafl, Eddy Currents, 1966, from memory).
 */
export function magnetHeating(
  disc: DiscMagnet,
  frequency: number,
  peakT: number,
  conductivity = MAGNET_CONDUCTIVITY,
): MagnetHeating {
  const omega = 2 * Math.PI * frequency;
  const skinDepth = Math.sqrt(2 / (omega * MU0 * conductivity));
  const ratio = disc.radius / skinDepth;
  const perLength =
    ((Math.PI * disc.radius * peakT * peakT) / (conductivity * MU0 * MU0 * skinDepth)) * realPart(ratio);
  return {
    powerW: perLength * disc.thickness,
    skinDepth,
    note: 'Order of magnitude: an even field, a long cylinder, no plating. Measure the magnet after ten minutes of charging.',
  };
}

/** Re[(1 + j) I1(z)/I0(z)] with z = (1 + j) ratio: by the continued fraction of I1/I0, evaluated from deep inside. */
function realPart(ratio: number): number {
  // I1(z)/I0(z) = 1/(2/z + 1/(4/z + 1/(6/z + ...))).
  const size = 2 * ratio * ratio;
  let re = 0;
  let im = 0;
  const levels = 40 + Math.ceil(4 * ratio);
  for (let n = levels; n >= 1; n -= 1) {
    // 2n / z with z = (1 + j) ratio: 2n (1 - j) ratio / |z|^2.
    const a = (2 * n * ratio) / size + re;
    const b = (-2 * n * ratio) / size + im;
    const d = a * a + b * b;
    re = a / d;
    im = -b / d;
  }
  return re - im;
}
