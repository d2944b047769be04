/**
 * Preferred numbers for resistors and capacitors, first decade.
 * Source: IEC 60063:2015, Preferred number series for resistors and capacitors, E12 and E24 (from memory).
 */
const SERIES = Object.freeze({
  E12: [10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82],
  E24: [10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91],
});

export type SeriesName = keyof typeof SERIES;

/** One part, or two in parallel, that come near a wanted value. */
export interface PartChoice {
  /** In the unit asked for; one or two, the larger first. */
  readonly values: readonly number[];
  readonly total: number;
  /** total / wanted - 1 */
  readonly deviation: number;
}

/** Values of a series from `low` to `high`, ascending. */
export function standardValues(series: SeriesName, low: number, high: number): number[] {
  const out: number[] = [];
  for (let decade = Math.floor(Math.log10(low)) - 1; decade <= Math.log10(high); decade++) {
    for (const value of SERIES[series]) {
      const scaled = Number((value * 10 ** (decade - 1)).toPrecision(3));
      if (scaled >= low && scaled <= high) out.push(scaled);
    }
  }
  return out.sort((a, b) => a - b);
}

/**
 * The single part and the parallel pairs nearest to a value: the single first, then pairs by deviation.
 *
 * @param wanted > 0, any unit. @param count how many pairs
 */
export function nearestParts(wanted: number, series: SeriesName, count: number): PartChoice[] {
  const choice = (values: readonly number[]): PartChoice => {
    const total = values.reduce((sum, value) => sum + value, 0);
    return { values, total, deviation: total / wanted - 1 };
  };
  const better = (a: PartChoice, b: PartChoice): number =>
    Math.abs(a.deviation) - Math.abs(b.deviation) || a.values[0]! - b.values[0]!;
  const singles = standardValues(series, wanted / 2, wanted * 2)
    .map((value) => choice([value]))
    .sort(better);
  const pairs: PartChoice[] = [];
  for (const large of standardValues(series, wanted / 2.3, wanted)) {
    const rest = wanted - large;
    const near = standardValues(series, wanted / 200, Math.min(large, Math.max(rest * 1.3, wanted / 50)));
    const nearest = near.toSorted((a, b) => Math.abs(a - rest) - Math.abs(b - rest)).slice(0, 2);
    for (const small of nearest) pairs.push(choice([large, small]));
  }
  pairs.sort(better);
  return [...singles.slice(0, 1), ...pairs.slice(0, count)];
}
