import type { CoilDocument, Design } from '../../design/types.ts';
import { InputError } from '../../numerics/errors.ts';

/** What a reading says of a coil. Half-widths are 95 %. */
export interface CoilReading {
  readonly inductanceH: number;
  readonly inductanceTolerancePercent: number;
  /** Series resistance at the reading's frequency, ohm; null where the reading does not tell. */
  readonly resistanceOhm: number | null;
  readonly quality: number | null;
  /** What the reading leaves open. */
  readonly leaves: string;
}

function positive(path: string, value: number, unit: string): void {
  if (!(value > 0 && Number.isFinite(value)))
    throw new InputError({
      code: 'not-positive',
      path,
      required: `a number above 0 ${unit}`,
      received: `${value} ${unit}`,
    });
}

/** From an inductance meter. @param percent the meter's error at that range, its data sheet's */
export function fromInductanceMeter(inductanceH: number, percent: number): CoilReading {
  positive('inductance', inductanceH * 1e6, 'uH');
  return {
    inductanceH,
    inductanceTolerancePercent: percent,
    resistanceOhm: null,
    quality: null,
    leaves: 'Meters measure at their own frequency: on ferrite the value may differ by some per cent at the link’s.',
  };
}

export interface ResonanceReading {
  readonly frequencyHz: number;
  readonly capacitanceF: number;
  /** Half-widths, %. */
  readonly frequencyPercent: number;
  readonly capacitancePercent: number;
  /** Width between the half-power points, Hz; null: not read. */
  readonly bandwidthHz: number | null;
}

/**
 * From a resonance with a known capacitor: L = 1 / (w^2 C); with the width between the half-power points Q = f / width.
 * Error: dL/L = 2 df/f + dC/C, as independent. Source: series resonance, any textbook (from memory).
 */
export function fromResonance(reading: ResonanceReading): CoilReading {
  positive('frequency', reading.frequencyHz, 'Hz');
  positive('capacitance', reading.capacitanceF * 1e9, 'nF');
  const omega = 2 * Math.PI * reading.frequencyHz;
  const inductanceH = 1 / (omega * omega * reading.capacitanceF);
  const quality = reading.bandwidthHz === null ? null : reading.frequencyHz / reading.bandwidthHz;
  return {
    inductanceH,
    inductanceTolerancePercent: Math.hypot(2 * reading.frequencyPercent, reading.capacitancePercent),
    resistanceOhm: quality === null ? null : (omega * inductanceH) / quality,
    quality,
    leaves: 'The resistance holds the capacitor’s and the leads’ as well.',
  };
}

export interface RingDownReading {
  readonly capacitanceF: number;
  readonly capacitancePercent: number;
  /** Time of `periods` full swings, s. */
  readonly periods: number;
  readonly durationS: number;
  readonly durationPercent: number;
  /** First peak over the peak that many periods later, above 1. */
  readonly ratio: number;
}

/**
 * From a ring-down with a known capacitor: damping a = ln(ratio) / duration, swing frequency wd = 2 pi periods / duration,
 * L = 1 / (C (wd^2 + a^2)), R = 2 a L, Q = sqrt(wd^2 + a^2) / (2 a).
 * Source: damped series circuit, any textbook (from memory).
 */
export function fromRingDown(reading: RingDownReading): CoilReading {
  positive('capacitance', reading.capacitanceF * 1e9, 'nF');
  positive('duration', reading.durationS * 1e6, 'us');
  positive('periods', reading.periods, 'periods');
  if (!(reading.ratio > 1))
    throw new InputError({
      code: 'no-decay',
      path: 'ratio',
      required: 'above 1: the first peak over a later one',
      received: `${reading.ratio}`,
    });
  const damping = Math.log(reading.ratio) / reading.durationS;
  const swing = (2 * Math.PI * reading.periods) / reading.durationS;
  const square = swing * swing + damping * damping;
  const inductanceH = 1 / (reading.capacitanceF * square);
  return {
    inductanceH,
    inductanceTolerancePercent: Math.hypot(2 * reading.durationPercent, reading.capacitancePercent),
    resistanceOhm: 2 * damping * inductanceH,
    quality: Math.sqrt(square) / (2 * damping),
    leaves: 'The resistance holds the capacitor’s and the leads’ as well, and what the probe draws.',
  };
}

/** The design with a reading put to one of its coils: measured inductance, its tolerance and, where told, resistance. */
export function withReading(design: Design, side: 'transmitter' | 'receiver', reading: CoilReading): Design {
  const part = design[side];
  const round = (value: number): number => Number(value.toPrecision(5));
  const coil: CoilDocument = {
    ...part.coil,
    inductanceUh: round(reading.inductanceH * 1e6),
    inductanceTolerancePercent: round(reading.inductanceTolerancePercent),
    ...(reading.resistanceOhm === null ? {} : { resistanceMohm: round(reading.resistanceOhm * 1e3) }),
  };
  return { ...design, [side]: { ...part, coil } } as Design;
}
