import type { Design } from '../../design/types.ts';
import { TWO_SIDED_95 } from './fit-parameters.ts';

/** What a reading can show beside its place. */
export type Quantity = 'supplyA' | 'frequencyHz' | 'rectifiedV' | 'outputV' | 'receiverC' | 'transmitterC';

/**
 * How well instruments without a stated accuracy read, 95 %: a counter or scope on a coil's lead, and a probe on a board. Common practice,
 * no source. Voltages and currents follow the design's `meters`.
 */
export const INSTRUMENTS = Object.freeze({ frequencyShare: 0.005, temperatureK: 3 });

/** How far the model itself may be off where every value is right, one standard deviation, relative (K for temperatures). */
const MODEL = Object.freeze({
  supplyA: 0.003,
  frequencyHz: 0.002,
  rectifiedV: 0.002,
  outputV: 0.001,
  heatK: 0.7,
});

/** The same of the largest current. */
export const LIMIT_MODEL = 0.01;

const half = (value: number, percent: number, counts: number): number =>
  (Math.abs(value) * percent) / 100 + counts / 1e3;

/** Standard deviation of a voltage or current as the stated meters read it; their limits are taken as 95 %. */
export function meterSigma(meters: Design['meters'], kind: 'voltage' | 'current', value: number): number {
  const limit =
    kind === 'voltage'
      ? half(value, meters.voltagePercent, meters.voltageCountsMv)
      : half(value, meters.currentPercent, meters.currentCountsMa);
  return Math.max(limit / TWO_SIDED_95, 1e-6);
}

/** Standard deviation of what the instrument itself adds to a quantity. */
export function instrumentSigma(meters: Design['meters'], quantity: Quantity, value: number): number {
  switch (quantity) {
    case 'supplyA':
      return meterSigma(meters, 'current', value);
    case 'rectifiedV':
    case 'outputV':
      return meterSigma(meters, 'voltage', value);
    case 'frequencyHz':
      return (INSTRUMENTS.frequencyShare * value) / TWO_SIDED_95;
    default:
      return INSTRUMENTS.temperatureK / TWO_SIDED_95;
  }
}

/** The same with what the model may be off. */
export function readingSigma(meters: Design['meters'], quantity: Quantity, value: number): number {
  const own = quantity === 'receiverC' || quantity === 'transmitterC' ? MODEL.heatK : MODEL[quantity] * Math.abs(value);
  return Math.hypot(instrumentSigma(meters, quantity, value), own);
}

/** Standard deviation of "the largest current lies above (or below) this load". */
export function limitSigma(meters: Design['meters'], loadA: number): number {
  return Math.hypot(meterSigma(meters, 'current', loadA), LIMIT_MODEL * loadA);
}
