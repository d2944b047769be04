import { guessedValues } from '../../design/guess.ts';
import type { Design } from '../../design/types.ts';
import { moved } from '../margin/output-band.ts';
import type { Uncertain } from '../types.ts';
import { chargeHours, type FeedLink, type FeedReport, feedReport } from './feed-report.ts';

/** The computed numbers of the chain that carry a band, each in the unit of its report. */
export interface FeedNumbers {
  /** h */
  readonly chargeHours: number;
  /** h on the dock to make up for a day. */
  readonly neededHours: number;
  readonly usedAh: number;
  readonly standbyDays: number;
  readonly standbyDaysBefore: number;
  readonly standbyDaysAfter: number;
  readonly collapseW: number;
  readonly boostCellA: number;
  /** Of the largest load off the dock alone, h. */
  readonly runtimeHours: number;
  readonly chargerW: number;
  readonly chargerC: number;
  readonly emptyDockW: number;
}

function numbersOf(report: FeedReport): FeedNumbers {
  const { day, standby, boost, charge } = report;
  const none = Number.NaN;
  return {
    chargeHours: chargeHours(report),
    neededHours: day?.neededHours ?? none,
    usedAh: day?.usedAh ?? none,
    standbyDays: standby?.asBuilt.days ?? none,
    standbyDaysBefore: standby?.before.days ?? none,
    standbyDaysAfter: standby?.after.days ?? none,
    collapseW: boost?.collapseW ?? none,
    boostCellA: boost?.cellA ?? none,
    runtimeHours: day === null ? none : Math.min(...day.uses.map((use) => use.runtimeH)),
    chargerW: charge?.point.heatW ?? none,
    chargerC: charge?.point.temperatureC ?? none,
    emptyDockW: report.emptyDockW,
  };
}

export type FeedBands = { readonly [K in keyof FeedNumbers]: Uncertain };

/**
 * The bands of the chain's numbers: every value the design left to its default is moved by how far a guess may be off, and
 * the link's largest current to both ends of its own band; changes combine as independent. Values that were given count as
 * exact.
 *
 * @param outputBand of the link's largest current, A
 */
export function feedBands(design: Design, link: FeedLink, outputBand: { low: number; high: number }): FeedBands {
  const base = numbersOf(feedReport(design, link));
  const keys = Object.keys(base) as (keyof FeedNumbers)[];
  const less = new Map<keyof FeedNumbers, number>();
  const more = new Map<keyof FeedNumbers, number>();
  const take = (changed: readonly FeedNumbers[]): void => {
    for (const key of keys) {
      const changes = changed.map((numbers) => numbers[key] - base[key]).filter(Number.isFinite);
      less.set(key, Math.hypot(less.get(key) ?? 0, Math.min(0, ...changes)));
      more.set(key, Math.hypot(more.get(key) ?? 0, Math.max(0, ...changes)));
    }
  };
  for (const guess of guessedValues(design)) {
    if (!guess.path.startsWith('demand.') && guess.path !== 'transmitter.drive.standbyW') continue;
    // Not below a twentieth: a guess that may be off by all of itself must not turn a resistance or a current negative.
    const down = Math.max(-guess.halfWidth, -0.95 * Math.abs(guess.value));
    take([guess.halfWidth, down].map((by) => numbersOf(feedReport(moved(design, guess.path, by), link))));
  }
  take([outputBand.low, outputBand.high].map((maxOutputA) => numbersOf(feedReport(design, { ...link, maxOutputA }))));
  return Object.fromEntries(
    keys.map((key) => [
      key,
      { value: base[key], low: base[key] - (less.get(key) ?? 0), high: base[key] + (more.get(key) ?? 0) },
    ]),
  ) as unknown as FeedBands;
}
