import { guessedValues } from '../../design/guess.ts';
import type { Design } from '../../design/types.ts';
import { moved } from '../margin/moved.ts';
import type { Uncertain } from '../types.ts';
import { dayCurve } from './day-curve.ts';
import { chargeHours, type FeedLink, type FeedReport, feedReport } from './feed-report.ts';

/** The computed numbers of the chain that carry a band, each in the unit of its report. */
export interface FeedNumbers {
  /** h */
  readonly chargeHours: number;
  /** h on the dock to make up for a day. */
  readonly neededHours: number;
  readonly usedAh: number;
  readonly cellWh: number;
  readonly standbyDays: number;
  readonly standbyDaysBefore: number;
  readonly standbyDaysAfter: number;
  readonly collapseW: number;
  readonly boostCellA: number;
  /** Of the largest load off the dock alone, h. */
  readonly runtimeHours: number;
  readonly chargerW: number;
  readonly chargerC: number;
  readonly cellHeatW: number;
  readonly storedW: number;
  /** Into the cell's terminals. */
  readonly cellW: number;
  readonly awayCellW: number;
  readonly awayCellHeatW: number;
  readonly awayConverterW: number;
  /** Into the converter. */
  readonly awayInputW: number;
  readonly emptyDockW: number;
  /** The capacitor that carries the first peak by itself, F. */
  readonly peakF: number;
}

function numbersOf(report: FeedReport): FeedNumbers {
  const { day, standby, boost, charge } = report;
  const none = Number.NaN;
  return {
    chargeHours: chargeHours(report),
    neededHours: day?.neededHours ?? none,
    usedAh: day?.usedAh ?? none,
    cellWh: report.cellWh ?? none,
    standbyDays: standby?.asBuilt.days ?? none,
    standbyDaysBefore: standby?.before.days ?? none,
    standbyDaysAfter: standby?.after.days ?? none,
    collapseW: boost?.collapseW ?? none,
    boostCellA: boost?.cellA ?? none,
    runtimeHours: day === null ? none : Math.min(...day.uses.map((use) => use.runtimeH)),
    chargerW: charge?.point.heatW ?? none,
    chargerC: charge?.point.temperatureC ?? none,
    cellHeatW: charge?.cellHeatW ?? none,
    storedW: charge?.storedW ?? none,
    cellW: charge === null ? none : charge.storedW + charge.cellHeatW,
    awayCellW: boost?.cellW ?? none,
    awayCellHeatW: boost?.cellHeatW ?? none,
    awayConverterW: boost?.converterHeatW ?? none,
    awayInputW: boost === null ? none : boost.cellW - boost.cellHeatW,
    emptyDockW: report.emptyDockW,
    peakF: report.peaks[0]?.alone.capacitanceF ?? none,
  };
}

export type FeedBands = { readonly [K in keyof FeedNumbers]: Uncertain };

export interface Ends {
  readonly low: Float64Array;
  readonly high: Float64Array;
}

/**
 * How far a list of numbers may be off: every value the design left to its default is moved by how far a guess may be off,
 * and the link's largest current to both ends of its own band; changes combine as independent. Values that were given count
 * as exact. What is not finite at one end is left out.
 *
 * @param outputBand of the link's largest current, A
 */
function endsOf(
  design: Design,
  link: FeedLink,
  outputBand: { readonly low: number; readonly high: number },
  numbers: (design: Design, link: FeedLink) => ArrayLike<number>,
): Ends {
  const base = numbers(design, link);
  const less = new Float64Array(base.length);
  const more = new Float64Array(base.length);
  const take = (changed: readonly ArrayLike<number>[]): void => {
    for (let i = 0; i < base.length; i++) {
      const changes = changed.map((values) => values[i] - base[i]).filter(Number.isFinite);
      less[i] = Math.hypot(less[i], Math.min(0, ...changes));
      more[i] = Math.hypot(more[i], Math.max(0, ...changes));
    }
  };
  for (const guess of guessedValues(design)) {
    if (!guess.path.startsWith('demand.') && guess.path !== 'transmitter.drive.standbyW') continue;
    // Not below a twentieth: a guess that may be off by all of itself must not turn a resistance or a current negative.
    const down = Math.max(-guess.halfWidth, -0.95 * Math.abs(guess.value));
    take([guess.halfWidth, down].map((by) => numbers(moved(design, guess.path, by), link)));
  }
  take([outputBand.low, outputBand.high].map((maxOutputA) => numbers(design, { ...link, maxOutputA })));
  return {
    low: Float64Array.from(less, (by, i) => base[i] - by),
    high: Float64Array.from(more, (by, i) => base[i] + by),
  };
}

/** The bands of the chain's numbers. */
export function feedBands(design: Design, link: FeedLink, outputBand: { low: number; high: number }): FeedBands {
  const base = numbersOf(feedReport(design, link));
  const keys = Object.keys(base) as (keyof FeedNumbers)[];
  const { low, high } = endsOf(design, link, outputBand, (at, with_) => {
    const numbers = numbersOf(feedReport(at, with_));
    return keys.map((key) => numbers[key]);
  });
  return Object.fromEntries(
    keys.map((key, i) => [key, { value: base[key], low: low[i], high: high[i] }]),
  ) as unknown as FeedBands;
}

/** The band of the cell's charge over a day, 0..1; null where the design has no cell. */
export function dayBand(design: Design, link: FeedLink, outputBand: { low: number; high: number }): Ends | null {
  if (feedReport(design, link).dayInputs === null) return null;
  const { low, high } = endsOf(design, link, outputBand, (at, with_) => {
    const inputs = feedReport(at, with_).dayInputs;
    return inputs === null ? [] : dayCurve(inputs).charge;
  });
  return { low: low.map((charge) => Math.max(0, charge)), high: high.map((charge) => Math.min(1, charge)) };
}
