import type { DesignDocument } from '../../src/design/schema.ts';
import { type RandomSource, randomSource } from '../../src/numerics/random.ts';

type Coil = DesignDocument['transmitter']['coil'];
type Plate = { outline: Outline; thicknessMm: number };
type Outline =
  | { shape: 'circle'; outerDiameterMm: number }
  | { shape: 'roundedRectangle'; outerWidthMm: number; outerHeightMm: number; outerCornerRadiusMm: number }
  | { shape: 'stadium'; outerWidthMm: number; outerHeightMm: number };

/** Draws of one design; four digits, so that a file can be typed again from a report. */
class Draws {
  readonly #random: RandomSource;
  constructor(seed: number) {
    this.#random = randomSource(seed);
  }
  chance(share: number): boolean {
    return this.#random.uniform() < share;
  }
  even(low: number, high: number): number {
    return tidy(low + (high - low) * this.#random.uniform());
  }
  /** Even in the logarithm; every tenth draw is one of the ends. */
  scale(low: number, high: number): number {
    const u = this.#random.uniform();
    if (u < 0.05) return low;
    if (u > 0.95) return high;
    return tidy(low * (high / low) ** ((u - 0.05) / 0.9));
  }
  whole(low: number, high: number): number {
    return Math.min(high, Math.max(low, Math.round(this.scale(low, high))));
  }
  of<T>(options: readonly T[]): T {
    return options[Math.min(options.length - 1, Math.floor(options.length * this.#random.uniform()))]!;
  }
}

function tidy(value: number): number {
  return Number(value.toPrecision(4));
}

function clamp(value: number, low: number, high: number): number {
  return Math.min(high, Math.max(low, value));
}

/** Sizes and turns that a stress run spans, mm. */
export const EXTREMES = Object.freeze({ sizeMm: [1, 1000], gapMm: [0.1, 1000], turns: [1, 200] } as const);

function randomCoil(draws: Draws, sizeMm: number): Coil {
  const shape = draws.of(['circle', 'circle', 'roundedRectangle', 'stadium', 'path'] as const);
  const turns = draws.whole(...EXTREMES.turns);
  const layers = draws.chance(0.6) ? 1 : draws.whole(1, Math.min(20, turns));
  const filars = draws.chance(0.85) ? 1 : draws.whole(1, 4);
  const aspect = draws.even(0.35, 1);
  const wanted = draws.even(0.02, 0.9);
  const short = shape === 'circle' ? sizeMm : sizeMm * aspect;
  const across = Math.ceil(turns / layers) * filars;
  // What the build leaves for one turn, mostly with room to spare.
  const share = (short * (1 - wanted)) / 2 / across;
  const widthMm = clamp(tidy(share * draws.even(0.3, 0.98)), 0.01, 30);
  // A single turn fills its build.
  const builtMm = across === 1 ? widthMm : (short * (1 - wanted)) / 2;
  const inner = 1 - (2 * builtMm) / short;
  const conductor = randomConductor(draws, widthMm);
  const common = { turns, layers, filars, conductor, winding: draws.chance(0.85) ? 'rings' : 'spiral' } as const;
  if (shape === 'circle')
    return { ...common, outline: { shape, outerDiameterMm: sizeMm, innerDiameterMm: tidy(sizeMm * inner) } };
  if (shape === 'path') {
    const corners = draws.whole(3, 12);
    const pointsMm = Array.from({ length: corners }, (_, i): [number, number] => {
      const angle = (2 * Math.PI * i) / corners;
      return [tidy((sizeMm / 2) * Math.cos(angle)), tidy((sizeMm / 2) * aspect * Math.sin(angle))];
    });
    return { ...common, outline: { shape, pointsMm, pitchMm: clamp(tidy(share), 0.01, 100) } };
  }
  const sides = {
    outerWidthMm: sizeMm,
    outerHeightMm: tidy(short),
    innerWidthMm: tidy(Math.max(0, sizeMm - 2 * builtMm)),
    innerHeightMm: tidy(Math.max(0, short - 2 * builtMm)),
  };
  if (shape === 'stadium') return { ...common, outline: { shape, ...sides } };
  const corner = tidy(draws.even(0, short / 2));
  return {
    ...common,
    outline: { shape, ...sides, outerCornerRadiusMm: Math.max(corner, Math.min(widthMm, short / 2)) },
  };
}

function randomConductor(draws: Draws, widthMm: number): Coil['conductor'] {
  const kind = draws.of(['litz', 'solid', 'trace'] as const);
  if (kind === 'trace') {
    return { kind, widthMm: Math.max(0.01, widthMm), thicknessMm: clamp(draws.scale(0.01, 0.5), 0.001, 5) };
  }
  if (kind === 'solid') {
    return { kind, diameterMm: Math.max(0.005, tidy(widthMm / 1.15)), insulatedDiameterMm: Math.max(0.006, widthMm) };
  }
  const strands = draws.whole(1, 400);
  const most = widthMm / Math.sqrt(1.3 * strands);
  return { kind, strands, strandDiameterMm: clamp(tidy(most * 0.9), 0.005, 2), bundleDiameterMm: widthMm };
}

function randomPlate(draws: Draws, sizeMm: number, thicknessMm: number): Plate {
  const wide = clamp(tidy(sizeMm * draws.scale(0.3, 3)), 0.5, 1000);
  const high = clamp(tidy(wide * draws.even(0.4, 1)), 0.5, 1000);
  const outline = draws.of<Outline>([
    { shape: 'circle', outerDiameterMm: wide },
    {
      shape: 'roundedRectangle',
      outerWidthMm: wide,
      outerHeightMm: high,
      outerCornerRadiusMm: draws.chance(0.5) ? 0 : tidy(0.3 * high),
    },
    { shape: 'stadium', outerWidthMm: wide, outerHeightMm: high },
  ]);
  return { outline, thicknessMm };
}

function randomFerrite(draws: Draws, sizeMm: number): DesignDocument['transmitter']['ferrite'] {
  if (draws.chance(0.4)) return null;
  return {
    ...randomPlate(draws, sizeMm, draws.scale(0.02, 50)),
    standoffMm: draws.chance(0.2) ? 0 : draws.scale(0.01, 20),
    relativePermeability: draws.scale(1.5, 20000),
    lossTangent: draws.even(0, 0.2),
  };
}

function randomMetal(draws: Draws, sizeMm: number): DesignDocument['transmitter']['metal'] {
  if (draws.chance(0.65)) return null;
  return {
    ...randomPlate(draws, sizeMm, draws.scale(0.001, 50)),
    standoffMm: draws.chance(0.2) ? 0 : draws.scale(0.01, 50),
    conductivityMsPerM: draws.scale(0.1, 70),
  };
}

/** Inductance to within a factor of some, H: enough to draw a capacitor that resonates somewhere near the window. */
function roughInductance(coil: Coil, sizeMm: number): number {
  return 4e-7 * Math.PI * coil.turns ** 2 * (sizeMm / 1000) * 0.8;
}

function seriesNf(draws: Draws, coil: Coil, sizeMm: number, frequencyHz: number): number {
  const farad = 1 / ((2 * Math.PI * frequencyHz) ** 2 * roughInductance(coil, sizeMm));
  return clamp(tidy(farad * 1e9 * draws.scale(0.3, 3)), 0.01, 1e6);
}

/** A design document with every key in its range, from hardly buildable to huge; the same seed gives the same one. @param plates false: coils in air */
export function randomDesign(seed: number, plates = true): DesignDocument {
  const draws = new Draws(seed);
  const size1 = draws.scale(...EXTREMES.sizeMm);
  const size2 = draws.chance(0.6)
    ? clamp(tidy(size1 * draws.scale(0.3, 3)), ...EXTREMES.sizeMm)
    : draws.scale(...EXTREMES.sizeMm);
  const coil1 = randomCoil(draws, size1);
  const coil2 = randomCoil(draws, size2);
  const smaller = Math.min(size1, size2);
  const gapMm = draws.chance(0.6)
    ? clamp(tidy(smaller * draws.scale(0.02, 2)), ...EXTREMES.gapMm)
    : draws.scale(...EXTREMES.gapMm);
  const low = draws.scale(1, 5000);
  const high = clamp(tidy(low * draws.scale(1.1, 3)), 1.1, 10000);
  const middle = Math.sqrt(low * high) * 1e3;
  const off = () => (draws.chance(0.5) ? 0 : clamp(tidy(smaller * draws.even(-1, 1)), -1000, 1000));
  const angle = (limit: number) => (draws.chance(0.7) ? 0 : draws.even(-limit, limit));
  const outputV = draws.scale(0.5, 60);
  const supplyV = draws.scale(0.5, 60);
  const bridge = draws.of(['full', 'half'] as const);
  const resistance = (share: number, most: number) => (draws.chance(share) ? 0 : draws.scale(0.001, most));
  return {
    format: 'offcentre-design',
    version: 1,
    title: `Draw ${seed}`,
    transmitter: {
      coil: coil1,
      ferrite: plates ? randomFerrite(draws, size1) : null,
      metal: plates ? randomMetal(draws, size1) : null,
      drive: {
        supplyV,
        supplyResistanceOhm: resistance(0.3, 10),
        supplyCurrentLimitA: draws.scale(0.01, 50),
        bridge,
        control: draws.of(['frequency', 'duty', 'supply'] as const),
        seriesCapacitanceNf: seriesNf(draws, coil1, size1, middle),
        frequencyMinKhz: low,
        frequencyMaxKhz: high,
        dutyMin: draws.even(0.01, bridge === 'full' ? 1 : 0.5),
        switchResistanceOhm: resistance(0.2, 10),
        coilCurrentLimitA: draws.scale(0.01, 100),
      },
    },
    receiver: {
      coil: coil2,
      ferrite: plates ? randomFerrite(draws, size2) : null,
      metal: plates ? randomMetal(draws, size2) : null,
      pickup: {
        seriesCapacitanceNf: seriesNf(draws, coil2, size2, middle),
        parallelCapacitanceNf: draws.chance(0.5) ? 0 : draws.scale(0.01, 100),
        wakeV: draws.scale(0.1, 100),
        rectifier: { kind: draws.of(['synchronous', 'diode'] as const) },
        regulator: {
          kind: draws.of(['linear', 'switching'] as const),
          outputV,
          currentLimitA: draws.scale(0.001, 50),
        },
      },
    },
    placement: {
      gapMm,
      offsetXMm: off(),
      offsetYMm: off(),
      yawDeg: angle(360),
      tiltXDeg: angle(20),
      tiltYDeg: angle(20),
    },
    demand: { loads: [{ name: 'load', currentA: draws.chance(0.1) ? 0 : draws.scale(1e-4, 10) }] },
  };
}
