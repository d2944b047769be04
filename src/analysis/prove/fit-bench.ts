import type { Design } from '../../design/types.ts';
import { InputError } from '../../numerics/errors.ts';
import { linkKey } from '../link/link-key.ts';
import { assembleReport } from './assemble-report.ts';
import { type Bench, benchOf } from './bench.ts';
import { type BenchLink, type BenchPose, benchLink, benchPose, benchPoses } from './bench-links.ts';
import { BenchProblem } from './bench-problem.ts';
import type { BenchState } from './bench-state.ts';
import { stateAt } from './bench-state.ts';
import { type PairFacts, pairFacts } from './coil-facts.ts';
import { type AnswerWork, consequenceOf, suppliesOf } from './consequence.ts';
import { answersOf } from './drawn-answers.ts';
import { type CurveGroup, curveGroups, type EfficiencyCurve, efficiencyCurve } from './efficiency-curve.ts';
import type { FitReport } from './fit-report.ts';
import { furtherGapMm } from './further-gap.ts';
import { type NextReading, rankNextReadings } from './next-reading.ts';
import { distinctOptima, keptOptima } from './optima.ts';
import {
  FIT_DEFAULTS,
  type FitOptions,
  optimumAt,
  predictionsAt,
  type RefineWork,
  type RoughOptimum,
  refineOptimum,
  searchFrom,
  settle,
} from './optimum.ts';
import { posteriorOf } from './posterior.ts';
import {
  lineEnd,
  linkOnLine,
  quickMargin,
  type ReachLine,
  type ReachRules,
  reachOf,
  reachPoses,
  reachRules,
} from './reach-line.ts';

/** What a fit does, piece by piece, done here or handed to workers: every piece is a pure function of plain data. */
export interface FitWork extends RefineWork, AnswerWork {
  link(design: Design, pose: BenchPose): Promise<BenchLink>;
  facts(design: Design, home: BenchLink): Promise<PairFacts>;
  search(bench: Bench, start: number, options: FitOptions): Promise<RoughOptimum>;
  curve(bench: Bench, z: Float64Array, group: CurveGroup): Promise<EfficiencyCurve>;
}

/** All pieces done in this thread. */
export const LOCAL_WORK: FitWork = Object.freeze({
  link: async (design: Design, pose: BenchPose) => benchLink(design, pose),
  facts: async (design: Design, home: BenchLink) => pairFacts(design, home),
  search: async (bench: Bench, start: number, options: FitOptions) => searchFrom(bench, start, options),
  exact: async (...args: Parameters<typeof predictionsAt>) => predictionsAt(...args),
  settle: async (...args: Parameters<typeof settle>) => settle(...args),
  optimum: async (...args: Parameters<typeof optimumAt>) => optimumAt(...args),
  answers: async (...args: Parameters<typeof answersOf>) => answersOf(...args),
  curve: async (...args: Parameters<typeof efficiencyCurve>) => efficiencyCurve(...args),
});

export interface FitProgress {
  readonly fraction: number;
  readonly stage: string;
}

/** What the field at a fit's places depends on: coils, plates and places, not the numbers read there. */
export function fitPlacesKey(design: Design): string {
  const { placement } = design;
  return JSON.stringify([linkKey(design), benchPoses(design).poses, placement]);
}

/** The field at every place a fit asks for, each solved once. */
export interface FitLinks {
  readonly bench: readonly BenchLink[];
  readonly lines: readonly ReachLine[];
  /** At the design's own place. */
  readonly home: BenchLink;
  readonly further: BenchLink;
  /** Both coils as the design has them. */
  readonly facts: PairFacts;
}

/** Solves the field at the readings' places, at the design's own, along x and y, and at a gap that could be measured next. */
export async function fitLinks(
  design: Design,
  work: Pick<FitWork, 'link' | 'facts'>,
  onSolved: (done: number, of: number) => void = () => undefined,
): Promise<FitLinks> {
  const { poses } = benchPoses(design);
  const lines = reachPoses(design);
  const { gapMm, offsetXMm, offsetYMm } = design.placement;
  const own = benchPose(gapMm, offsetXMm, offsetYMm);
  const further = benchPose(furtherGapMm(design), 0, 0);
  const wanted = [...poses, ...lines.x, ...lines.y, own, further];
  const key = (pose: BenchPose): string => [pose.gapMm, pose.xMm, pose.yMm].map((v) => v.toFixed(6)).join();
  const solved = new Map<string, Promise<BenchLink>>();
  let done = 0;
  for (const pose of wanted) {
    if (solved.has(key(pose))) continue;
    const promise = work.link(design, pose).then((link) => {
      done++;
      onSolved(done, solved.size);
      return link;
    });
    solved.set(key(pose), promise);
  }
  await Promise.all(solved.values());
  const linkAt = (pose: BenchPose): Promise<BenchLink> => solved.get(key(pose)) as Promise<BenchLink>;
  const line = async (axis: 'x' | 'y', at: readonly BenchPose[]): Promise<ReachLine> => ({
    axis,
    atMm: at.map((pose) => (axis === 'x' ? pose.xMm : pose.yMm)),
    links: await Promise.all(at.map(linkAt)),
  });
  const home = await linkAt(own);
  return {
    bench: await Promise.all(poses.map(linkAt)),
    lines: [await line('x', lines.x), await line('y', lines.y)],
    home,
    facts: await work.facts(design, home),
    further: await linkAt(further),
  };
}

/** Fewest numbers with which a fit says anything. */
const LEAST_READINGS = 1;

function refuseEmpty(design: Design, bench: Bench): void {
  if (bench.readings.length >= LEAST_READINGS) return;
  throw new InputError({
    code: 'no-readings',
    path: 'readings',
    required: 'at least one reading with supply voltage and output current',
    received: `${design.readings.length} ${design.readings.length === 1 ? 'reading' : 'readings'}, none of them usable`,
    hint: 'Enter what a USB meter and an electronic load show.',
  });
}

/**
 * The whole fit: field at each place once, searches from many starts, the best of them carried over to the exact circuit, then what it
 * means. Results do not depend on who does the work or in which order it comes back.
 *
 * @throws InputError where no reading can be used. Whether the best optimum settled is in the report.
 */
export async function fitBench(
  design: Design,
  work: FitWork,
  given: Partial<FitOptions> = FIT_DEFAULTS,
  onProgress: (progress: FitProgress) => void = () => undefined,
  knownLinks: FitLinks | null = null,
): Promise<FitReport> {
  const options: FitOptions = { ...FIT_DEFAULTS, ...given };
  refuseEmpty(design, benchOf(design, []));
  const links =
    knownLinks ??
    (await fitLinks(design, work, (done, of) =>
      onProgress({ fraction: (0.35 * done) / of, stage: 'the field at each measured place' }),
    ));
  const bench = benchOf(design, links.bench);
  let searched = 0;
  const roughs = await Promise.all(
    Array.from({ length: Math.max(1, options.starts) }, async (_, start) => {
      const found = await work.search(bench, start, options);
      searched++;
      onProgress({
        fraction: 0.35 + (0.25 * searched) / options.starts,
        stage: `start ${searched} of ${options.starts}`,
      });
      return found;
    }),
  );
  const clusters = distinctOptima(roughs, roughChi2(bench));
  let refined = 0;
  const found = await Promise.all(
    clusters.map(async ({ z, starts }) => {
      const optimum = await refineOptimum(bench, z, options, work);
      refined++;
      onProgress({ fraction: 0.6 + (0.25 * refined) / clusters.length, stage: 'the exact circuit' });
      return { optimum, starts, posterior: posteriorOf(bench, optimum, options.robustBeyond) };
    }),
  );
  const kept = keptOptima(found);
  const best = kept[0];
  onProgress({ fraction: 0.87, stage: 'what it means' });
  const rules = reachRules(design);
  const asked = { bench, rules, lines: links.lines, home: links.home, supplies: suppliesOf(design) };
  const optima = kept.map(({ optimum, posterior, weight }) => ({ z: optimum.z, factor: posterior.factor, weight }));
  const [curves, consequence] = await Promise.all([
    Promise.all(curveGroups(bench).map((group) => work.curve(bench, best.optimum.z, group))),
    consequenceOf(design, asked, optima, options.draws, work),
  ]);
  const next = nextReadings(design, bench, links, rules, consequence.reachMm.after.value, best);
  onProgress({ fraction: 1, stage: 'done' });
  return assembleReport(design, bench, options, kept, consequence, curves, next, links);
}

/** Chi-square of the quick model without corrections, for comparing the ends of searches. */
function roughChi2(bench: Bench): (z: Float64Array) => number {
  const problem = new BenchProblem(bench);
  const out = new Float64Array(problem.residuals);
  return (z) => {
    problem.evaluate(z, out);
    return out.reduce((sum, value) => sum + value * value, 0);
  };
}

/** Half-step of the slopes of the reach, prior standard deviations: wide enough for its own search. */
const GOAL_STEP = 0.5;

/**
 * Slopes of the reach in the fitted values; of the current there where the reach lies at an end of its lines. By first harmonic, at the
 * current that it has where the exact reach lies, so that both speak of the same place.
 */
function reachSlopes(
  bench: Bench,
  lines: readonly ReachLine[],
  rules: ReachRules,
  reachMm: number,
  z: Float64Array,
): Float64Array {
  const stateOf = (values: Float64Array): BenchState => stateAt(rules.boards, bench.parameters, values);
  const slopes = (of: (state: BenchState) => number): Float64Array => {
    const moved = z.slice();
    return z.map((value, j) => {
      moved[j] = value + GOAL_STEP;
      const up = of(stateOf(moved));
      moved[j] = value - GOAL_STEP;
      const down = of(stateOf(moved));
      moved[j] = value;
      return (up - down) / (2 * GOAL_STEP);
    });
  };
  const currentThere = (state: BenchState): number =>
    Math.min(...lines.map((line) => quickMargin(linkOnLine(line, state)(reachMm), state.boards, rules)));
  const inside = reachMm > 0 && reachMm < Math.min(...lines.map(lineEnd)) - 1e-6;
  const wantedA = inside ? currentThere(stateOf(z)) : 0;
  const byReach = wantedA > 0 ? slopes((state) => reachOf(lines, state, rules, wantedA)) : null;
  return byReach !== null && Math.hypot(...byReach) > 0.02 ? byReach : slopes(currentThere);
}

function nextReadings(
  design: Design,
  bench: Bench,
  links: FitLinks,
  rules: ReachRules,
  reachMm: number,
  best: ReturnType<typeof keptOptima>[number],
): NextReading[] {
  const { z } = best.optimum;
  const goal = reachSlopes(bench, links.lines, rules, reachMm, z);
  const line = links.lines[0];
  // The second node: about a third of the line.
  const middle = 1;
  return rankNextReadings(design, bench, z, best.posterior.covariance, goal, {
    home: line.links[0],
    further: links.further,
    beside: { link: line.links[middle], pose: benchPose(design.placement.gapMm, line.atMm[middle], 0) },
  });
}
