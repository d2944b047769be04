import { MU0 } from '../constants.ts';

/** A flat round object of metal. SI. */
export interface MetalDisc {
  readonly radius: number;
  readonly thickness: number;
  /** S/m */
  readonly conductivity: number;
  /** 1 for all but iron and nickel. */
  readonly relativePermeability: number;
}

export interface DiscHeating {
  /** W, good to about a factor of three. */
  readonly powerW: number;
  /** What it would be without skin effect and without the currents' own field, W: an upper bound for metals that are not magnetic. */
  readonly resistiveW: number;
  /** Depth of the currents, m. */
  readonly skinDepth: number;
  /** Own field over the applied one: well below 1 the resistive form holds, well above it the field no longer enters. */
  readonly screening: number;
}

/**
 * Heat that an even alternating field across its face makes in a disc: an order of magnitude.
 *
 * @param frequency Hz, above 0. @param peakT peak flux density across the face, T.
 *
 * Resistive form (currents too weak to disturb the field): P = pi w^2 B^2 a^4 / (16 Rs), Rs = 1/(sigma t): exact for a thin disc
 * while `screening` < 0.1. Skin-limited form (the field is driven out): currents of a perfectly conducting disc, of moment
 * 8 a^3 B / (3 mu0), in the surface resistance 1/(2 sigma delta) of both faces, P = (8 / pi) ln(12 x) Rs (a B / mu0)^2: the
 * logarithm is the crowding at the rim, which ends at what the resistance or the thickness spreads. Between them one mode:
 * P = resistive / (1 + x^2 / s), x = 3 pi mu0 w a / (64 Rs), s = max(1, 0.281 ln(12 min(x, a / t))), Rs the real part of the
 * sheet impedance with skin effect.
 * Valid for a disc thinner than wide, field even over it; against rings solved together within 15 % for x below 300 (tests).
 * A real coin lies in an uneven field, tilts, and changes the currents in the coils: hence an order of magnitude.
 * A magnetic disc: the skin's resistance with its permeability; that it gathers the field is left out.
 *
 * Source: resistive form: textbook problem (disc of radius a, thickness b in B0 sin wt), for example W. J. Duffin, Electricity and
 * Magnetism, ch. 9 (problem seen, answer derived); moment of a perfectly conducting disc: L. D. Landau, E. M. Lifshitz,
 * Electrodynamics of Continuous Media, on superconducting discs (from memory).
 */
export function discHeating(disc: MetalDisc, frequency: number, peakT: number): DiscHeating {
  const { radius, thickness, conductivity, relativePermeability } = disc;
  const omega = 2 * Math.PI * frequency;
  const skinDepth = Math.sqrt(2 / (omega * MU0 * relativePermeability * conductivity));
  const drive = (Math.PI * omega * omega * peakT * peakT * radius ** 4) / 16;
  const sheet = 1 / (conductivity * skinDepth * depthShare(thickness / skinDepth));
  const screening = (3 * Math.PI * MU0 * omega * radius) / (64 * sheet);
  // (8 / pi) ln(12 x) over the 256 * 16 / (144 pi) that one mode alone would give.
  const crowding = Math.max(1, 0.2812 * Math.log(12 * Math.min(screening, radius / thickness)));
  return {
    powerW: drive / sheet / (1 + (screening * screening) / crowding),
    resistiveW: drive * conductivity * thickness,
    skinDepth,
    screening,
  };
}

/** Thickness over skin depth that carries the current of both faces: u for thin, 2 for thick. Real part of (1+j)/2 coth((1+j)u/2), inverted. */
function depthShare(u: number): number {
  if (u < 1e-3) return u;
  const rise = u > 30 ? 1 : (Math.sinh(u) + Math.sin(u)) / (Math.cosh(u) - Math.cos(u));
  return 2 / rise;
}

/** Objects that end up on a charger, with handbook conductivities (from memory), to name an order of magnitude. */
export const COMMON_OBJECTS = Object.freeze({
  coin: {
    words: 'a coin of 23 mm of brass',
    disc: { radius: 0.0115, thickness: 0.002, conductivity: 15e6, relativePermeability: 1 },
  },
  steelCoin: {
    words: 'a coin of 23 mm of steel',
    disc: { radius: 0.0115, thickness: 0.002, conductivity: 6e6, relativePermeability: 200 },
  },
  foil: {
    words: 'a scrap of aluminium foil of 30 mm',
    disc: { radius: 0.015, thickness: 15e-6, conductivity: 35e6, relativePermeability: 1 },
  },
} as const satisfies Record<string, { readonly words: string; readonly disc: MetalDisc }>);
