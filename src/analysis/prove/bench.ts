import { boardsOf } from '../../design/to-si.ts';
import type { Design, ReadingDocument } from '../../design/types.ts';
import type { Boards } from '../../physics/circuit/types.ts';
import { type BenchLink, type BenchPose, benchPoses } from './bench-links.ts';
import { type FitParameter, fitParameters } from './fit-parameters.ts';
import { limitSigma, meterSigma, type Quantity, readingSigma } from './meter-accuracy.ts';

/** One measured number of a reading. */
export interface Observed {
  readonly quantity: Quantity;
  readonly value: number;
  /** Standard deviation of instrument and model. */
  readonly sigma: number;
}

/** A reading as the fit uses it. SI. */
export interface BenchReading {
  /** Its place in the design's list. */
  readonly index: number;
  readonly pose: number;
  readonly supplyV: number;
  readonly supplySigmaV: number;
  readonly loadA: number;
  readonly loadSigmaA: number;
  /** In regulation: the largest current lies above the load. Collapsed: below. */
  readonly regulated: boolean;
  readonly limitSigmaA: number;
  /** Empty for a collapsed reading: only its limit counts. */
  readonly observed: readonly Observed[];
}

/** All that a fit starts from, beside the options: plain data. */
export interface Bench {
  readonly boards: Boards;
  readonly poses: readonly BenchPose[];
  readonly links: readonly BenchLink[];
  readonly parameters: readonly FitParameter[];
  readonly readings: readonly BenchReading[];
}

function observedOf(design: Design, reading: ReadingDocument): Observed[] {
  const out: Observed[] = [];
  const put = (quantity: Quantity, value: number | null): void => {
    if (value === null) return;
    out.push({ quantity, value, sigma: readingSigma(design.meters, quantity, value) });
  };
  put('supplyA', reading.supplyA);
  put('frequencyHz', reading.frequencyKhz === null ? null : reading.frequencyKhz * 1e3);
  put('rectifiedV', reading.rectifiedV);
  put('outputV', reading.outputV);
  put('receiverC', reading.receiverC);
  put('transmitterC', reading.transmitterC);
  return out;
}

/**
 * The bench of a design.
 *
 * @param links one per place of `benchPoses(design)`, in that order.
 * Readings without an output current cannot be predicted and are left out; `readingNotes` says so.
 */
export function benchOf(design: Design, links: readonly BenchLink[]): Bench {
  const { poses, poseOf } = benchPoses(design);
  const readings = design.readings.flatMap((reading, index): BenchReading[] => {
    const { outputA: loadA, supplyV } = reading;
    if (loadA === null || !(supplyV > 0)) return [];
    return [
      {
        index,
        pose: poseOf[index],
        supplyV,
        supplySigmaV: meterSigma(design.meters, 'voltage', supplyV),
        loadA,
        loadSigmaA: meterSigma(design.meters, 'current', loadA),
        regulated: reading.regulated,
        limitSigmaA: limitSigma(design.meters, loadA),
        observed: reading.regulated ? observedOf(design, reading) : [],
      },
    ];
  });
  return { boards: boardsOf(design), poses, links, parameters: fitParameters(design, poses), readings };
}
