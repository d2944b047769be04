import type { Design, ReadingDocument } from '../../design/types.ts';
import { meterSigma } from './meter-accuracy.ts';

/** What follows from a reading without any model. */
export interface ReadingFacts {
  readonly supplyW: number | null;
  readonly outputW: number | null;
  readonly efficiency: number | null;
  /** What is wrong or missing, in words; empty where all is well. Flagged readings stay in the list. */
  readonly flags: readonly string[];
}

/** Instruments leave a little more out than in within their accuracy; beyond this many standard deviations it is flagged. */
const BEYOND = 2;

/** Derived power and efficiency, and what cannot be. */
export function readingFacts(meters: Design['meters'], reading: ReadingDocument): ReadingFacts {
  const { supplyV, supplyA, outputV, outputA, rectifiedV, regulated } = reading;
  const supplyW = supplyA === null ? null : supplyV * supplyA;
  const outputW = outputV === null || outputA === null ? null : outputV * outputA;
  const efficiency = supplyW === null || outputW === null || !(supplyW > 0) ? null : outputW / supplyW;
  const flags: string[] = [];
  if (!(supplyV > 0)) flags.push('no supply voltage: left out of the fit');
  if (outputA === null) flags.push('no output current: left out of the fit');
  if (efficiency !== null && supplyA !== null && outputV !== null && outputA !== null) {
    const relative = (kind: 'voltage' | 'current', value: number): number =>
      value > 0 ? meterSigma(meters, kind, value) / value : 0;
    const spread = Math.hypot(
      relative('voltage', supplyV),
      relative('current', supplyA),
      relative('voltage', outputV),
      relative('current', outputA),
    );
    if (efficiency > 1)
      flags.push(
        efficiency > 1 + BEYOND * spread
          ? 'more power out than in: a slip of the pen, or the meters swapped'
          : 'more power out than in, though within the meters\u2019 accuracy',
      );
  }
  if (supplyW === 0 && outputW !== null && outputW > 0) flags.push('power out with none in');
  if (
    rectifiedV !== null &&
    outputV !== null &&
    rectifiedV < outputV - BEYOND * meterSigma(meters, 'voltage', outputV) &&
    regulated
  )
    flags.push('rectified voltage below the output: a linear or step-down regulator cannot do that');
  return { supplyW, outputW, efficiency, flags };
}
