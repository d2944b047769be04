import { maxOutput } from '../../physics/circuit/max-output.ts';
import type { BenchState } from './bench-state.ts';
import { lineEnd, linkOnLine, quickMargin, type ReachLine, type ReachRules, reachOnLine, WALK } from './reach-line.ts';

/**
 * The first harmonic's verdict is taken where it lies farther from the wanted current than this share: alone, and once its difference
 * from the exact circuit is known somewhere on the line (measured: it changes by up to 7 % along a line).
 */
const SURE_ALONE = 0.15;
const SURE_CORRECTED = 0.07;
/**
 * A crossing is taken where the corrected quick current has it if the exact circuit was asked this near, mm, and was this near the wanted
 * current there.
 */
const NEAR_MM = 0.3;
const NEAR_SHARE = 0.02;
const MOST_STEPS = 6;
/** Least part of a bracket that a step takes from either end, so that both ends close in. */
const LEAST_STEP = 0.05;
/** A line whose quick current is nowhere lower than another's by more than this share is no shorter. */
const SAME_CURRENT = 0.001;

/** Surplus of the largest current over the wanted one along a line, relative. */
class Surplus {
  readonly line: ReachLine;
  readonly quickAt: (atMm: number) => number;
  readonly #exactAt: (atMm: number) => number;
  readonly #nearMm: number;
  /** Exact minus quick where it was asked for. */
  readonly #known: { readonly atMm: number; readonly exact: number; readonly difference: number }[] = [];

  constructor(line: ReachLine, state: BenchState, rules: ReachRules, wantedA: number, nearMm: number) {
    this.line = line;
    this.#nearMm = nearMm;
    const linkAt = linkOnLine(line, state);
    const { boards } = state;
    this.quickAt = (atMm) => quickMargin(linkAt(atMm), boards, rules) / wantedA - 1;
    this.#exactAt = (atMm) => maxOutput(linkAt(atMm), boards, { charging: rules.charging }).current / wantedA - 1;
  }

  exactAt(atMm: number): number {
    const exact = this.#exactAt(atMm);
    this.#known.push({ atMm, exact, difference: exact - this.quickAt(atMm) });
    return exact;
  }

  /** Quick, with the difference of the nearest place where both are known. */
  correctedAt(atMm: number): number {
    let nearest = Number.POSITIVE_INFINITY;
    let difference = 0;
    for (const known of this.#known) {
      const away = Math.abs(known.atMm - atMm);
      if (away >= nearest) continue;
      nearest = away;
      difference = known.difference;
    }
    return this.quickAt(atMm) + difference;
  }

  holds(atMm: number): boolean {
    const likely = this.correctedAt(atMm);
    const sure = this.#known.length > 0 ? SURE_CORRECTED : SURE_ALONE;
    return Math.abs(likely) > sure ? likely > 0 : this.exactAt(atMm) >= 0;
  }

  /** Where the surplus falls through zero between two offsets; the quick one's shape gives the steps. */
  crossing(from: number, to: number): number {
    let inside = from;
    let outside = to;
    for (let k = 0; k < MOST_STEPS; k++) {
      const likely = this.#likelyCrossing(inside, outside);
      const near = this.#known.some(
        ({ atMm, exact }) => Math.abs(atMm - likely) < this.#nearMm && Math.abs(exact) < NEAR_SHARE,
      );
      if (near) return likely;
      const least = LEAST_STEP * (outside - inside);
      const at = Math.max(inside + least, Math.min(outside - least, likely));
      if (this.exactAt(at) > 0) inside = at;
      else outside = at;
    }
    return this.#likelyCrossing(inside, outside);
  }

  #likelyCrossing(from: number, to: number): number {
    let inside = from;
    let outside = to;
    for (let i = 0; i < 10; i++) {
      const middle = (inside + outside) / 2;
      if (this.correctedAt(middle) >= 0) inside = middle;
      else outside = middle;
    }
    return (inside + outside) / 2;
  }
}

function reachAlong(surplus: Surplus, quick: number): number {
  const end = lineEnd(surplus.line);
  // The first look at the exact circuit, where the quick one has its crossing, tells most of what is to be known.
  if (quick > 0 && quick < end) surplus.exactAt(quick);
  if (!surplus.holds(0)) return 0;
  const step = end / WALK;
  for (let k = 1; k <= WALK; k++) if (!surplus.holds(k * step)) return surplus.crossing((k - 1) * step, k * step);
  return end;
}

/**
 * Smallest offset over the lines up to which the wanted current holds by the exact circuit, mm; ends as in `reachOf`.
 *
 * Each line is walked outwards; the first harmonic decides where it leaves no doubt and guides the search for the crossing, so that one to
 * three exact solutions (tens of milliseconds each) do.
 *
 * @param nearMm how near the answer the exact circuit must have been asked. Accuracy: 0.1 mm with the default (tests).
 */
export function exactReachOf(
  lines: readonly ReachLine[],
  state: BenchState,
  rules: ReachRules,
  wantedA = rules.wantedA,
  nearMm = NEAR_MM,
): number {
  const byQuick = lines
    .map((line) => ({ line, quick: reachOnLine(line, state, rules, wantedA) }))
    .sort((a, b) => a.quick - b.quick);
  let shortest = Math.min(...lines.map(lineEnd));
  let before: Surplus | null = null;
  for (const { line, quick } of byQuick) {
    const surplus = new Surplus(line, state, rules, wantedA, nearMm);
    const other = before;
    const step = shortest / WALK;
    const noLower =
      other !== null &&
      Array.from({ length: WALK + 1 }, (_, k) => k * step).every(
        (at) => surplus.quickAt(at) >= other.quickAt(at) - SAME_CURRENT,
      );
    if (noLower) continue;
    shortest = Math.min(shortest, reachAlong(surplus, quick));
    before ??= surplus;
  }
  return shortest;
}
