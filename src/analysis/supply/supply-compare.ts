import type { SupplyMetrics, SupplyReport } from './supply-report.ts';

/** A difference between two supplies and how well it is known, 95 %. */
export interface Difference {
  /** Second minus first. */
  readonly value: number;
  readonly halfWidth: number;
  /** Larger than what is known: otherwise the two count as one. */
  readonly clear: boolean;
}

/** Differences below these are nobody's reason, however well they are known: 2 % of the current, 1 point, 2 K. */
export const LEAST_DIFFERENCE: Readonly<SupplyMetrics> = Object.freeze({
  maxOutputA: 0.02,
  efficiency: 0.01,
  receiverC: 2,
});

/** The voltage of each supply errs on its own; every other input is the same thing under both. */
const OWN_PATHS: ReadonlySet<string> = new Set([
  'transmitter.drive.supplyV',
  'transmitter.drive.supplyResistanceOhm',
  'transmitter.drive.supplyCurrentLimitA',
]);

/**
 * Difference of one metric between two supplies on the same link. Inputs that are the same under both (coils, capacitors,
 * gap) are moved together, so that what errs alike does not count against the difference; each supply's own inputs add up.
 */
export function difference(first: SupplyReport, second: SupplyReport, key: keyof SupplyMetrics): Difference {
  const metric = (report: SupplyReport): number =>
    key === 'maxOutputA' ? report.maxOutputA.value : report.atDemand[key].value;
  const value = metric(second) - metric(first);
  const others = new Map(second.changes.map((change) => [change.path, change]));
  const parts = first.changes.map(({ path, up, down }) => {
    const other = others.get(path);
    const [otherUp, otherDown] = [other?.up[key] ?? 0, other?.down[key] ?? 0];
    if (OWN_PATHS.has(path))
      return Math.hypot(
        Math.max(Math.abs(up[key]), Math.abs(down[key])),
        Math.max(Math.abs(otherUp), Math.abs(otherDown)),
      );
    return Math.max(Math.abs(otherUp - up[key]), Math.abs(otherDown - down[key]));
  });
  const halfWidth = Math.hypot(...parts);
  const least =
    key === 'maxOutputA'
      ? LEAST_DIFFERENCE.maxOutputA * Math.max(metric(first), metric(second))
      : LEAST_DIFFERENCE[key];
  return { value, halfWidth, clear: Math.abs(value) > Math.max(halfWidth, least) };
}

/** Least difference of two reaches worth a word, mm. */
const LEAST_REACH_MM = 0.5;

/** Difference of two reaches by their own bands, mm: root sum of squares of the half-widths that face each other. */
export function reachDifference(
  first: { readonly value: number; readonly low: number; readonly high: number },
  second: { readonly value: number; readonly low: number; readonly high: number },
): Difference {
  const value = second.value - first.value;
  const [lower, upper] = value > 0 ? [first, second] : [second, first];
  const halfWidth = Math.hypot(lower.high - lower.value, upper.value - upper.low);
  return { value, halfWidth, clear: Math.abs(value) > Math.max(halfWidth, LEAST_REACH_MM) };
}
