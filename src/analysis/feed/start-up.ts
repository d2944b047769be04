/** What a peak asks of the capacitor that carries it. */
export interface PeakStep {
  /** Current beyond what the source gives, A. */
  readonly stepA: number;
  readonly durationS: number;
  /** Dip that the load bears, V. */
  readonly droopV: number;
  /** Series resistance of the capacitor, ohm. */
  readonly resistanceOhm: number;
}

/**
 * How a size strikes whoever has to solder it. Common practice, no source: up to 1 mF is an ordinary part, up to 10 mF a can
 * as large as the cell; above that only double-layer capacitors are made, and their resistance is too high for a peak.
 */
export type CapacitorVerdict = 'none' | 'ordinary' | 'bulky' | 'absurd' | 'impossible';

const BULKY_F = 1e-3;
const ABSURD_F = 1e-2;

export interface PeakCapacitor {
  /** F; Infinity where its series resistance alone breaks the dip. */
  readonly capacitanceF: number;
  readonly verdict: CapacitorVerdict;
}

/**
 * Least capacitor that carries a peak: C = dI t / (dV - dI ESR).
 *
 * Source: charge balance over the peak. Accuracy: reference-cases/chain, start-up-capacitor.
 */
export function peakCapacitor(step: PeakStep): PeakCapacitor {
  const { stepA, durationS, droopV, resistanceOhm } = step;
  if (!(stepA > 0) || durationS === 0) return { capacitanceF: 0, verdict: 'none' };
  const left = droopV - stepA * resistanceOhm;
  if (left <= 0) return { capacitanceF: Number.POSITIVE_INFINITY, verdict: 'impossible' };
  const capacitanceF = (stepA * durationS) / left;
  const verdict = capacitanceF > ABSURD_F ? 'absurd' : capacitanceF > BULKY_F ? 'bulky' : 'ordinary';
  return { capacitanceF, verdict };
}

export interface Inrush {
  /** First instant of an empty capacitor on a source without a limit, A. */
  readonly firstA: number;
  /** Time to fill it where the source limits its current, s; Infinity where the source has nothing left. */
  readonly fillS: number;
  /** Energy it holds, J. */
  readonly energyJ: number;
}

/**
 * What filling a capacitor asks of the source.
 *
 * @param limitA current the source has left for it, A. @param sourceOhm resistance in front of it, capacitor's own included.
 */
export function inrushOf(capacitanceF: number, volts: number, limitA: number, sourceOhm: number): Inrush {
  return {
    firstA: sourceOhm > 0 ? volts / sourceOhm : Number.POSITIVE_INFINITY,
    fillS: limitA > 0 ? (capacitanceF * volts) / limitA : Number.POSITIVE_INFINITY,
    energyJ: (capacitanceF * volts * volts) / 2,
  };
}
