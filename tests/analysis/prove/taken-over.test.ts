import { beforeAll, describe, expect, test } from 'vitest';
import { type Bench, benchOf } from '../../../src/analysis/prove/bench.ts';
import { benchLink, benchPose, shiftedLink } from '../../../src/analysis/prove/bench-links.ts';
import { quickMost } from '../../../src/analysis/prove/bench-prediction.ts';
import { benchBoards, stateAt } from '../../../src/analysis/prove/bench-state.ts';
import { pairFacts } from '../../../src/analysis/prove/coil-facts.ts';
import { withChanges } from '../../../src/analysis/prove/design-changes.ts';
import { type FitLinks, fitBench } from '../../../src/analysis/prove/fit-bench.ts';
import type { FitReport } from '../../../src/analysis/prove/fit-report.ts';
import { documentOf, parseDesign } from '../../../src/design/resolve.ts';
import { boardsOf } from '../../../src/design/to-si.ts';
import type { Design } from '../../../src/design/types.ts';
import { randomSource } from '../../../src/numerics/random.ts';
import { useFittedValues } from '../../../src/state/commands/use-fitted-values.ts';
import { airDesign, plannedLinks, QUICK_WORK, synthesise, usualPlan } from './synthetic-bench.ts';

const plan = usualPlan();
const design = airDesign();
let links: FitLinks;
let made: Design;
let bench: Bench;
let report: FitReport;
let taken: Design;

beforeAll(async () => {
  links = await plannedLinks(design, plan);
  made = synthesise(design, links, plan, randomSource(1), 'quick').design;
  bench = benchOf(made, links.bench);
  report = await fitBench(made, QUICK_WORK, { starts: 1, draws: 8 }, undefined, links);
  const parsed = parseDesign(withChanges(documentOf(made), report.takeOver.changes));
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.faults));
  taken = parsed.design;
});

test('the coils as the design has them: writing them into its own keys changes nothing', () => {
  const home = benchLink(made, benchPose(5, 0, 0));
  const { transmitter, receiver } = pairFacts(made, home);
  const stated = parseDesign({
    ...documentOf(made),
    transmitter: {
      ...made.transmitter,
      coil: {
        ...made.transmitter.coil,
        inductanceUh: transmitter.inductanceUh,
        resistanceMohm: transmitter.resistanceMohm,
      },
    },
    receiver: {
      ...made.receiver,
      coil: { ...made.receiver.coil, inductanceUh: receiver.inductanceUh, resistanceMohm: receiver.resistanceMohm },
    },
  });
  if (!stated.ok) throw new Error(JSON.stringify(stated.faults));
  const again = benchLink(stated.design, benchPose(5, 0, 0)).electrical;
  for (const key of ['l1', 'l2', 'm'] as const) expect(again[key] / home.electrical[key]).toBeCloseTo(1, 9);
  expect(again.r1.dc / home.electrical.r1.dc).toBeCloseTo(1, 9);
  // A second take-over starts from what is there.
  const second = pairFacts(stated.design, benchLink(stated.design, benchPose(5, 0, 0)));
  expect(second.transmitter.inductanceUh).toBeCloseTo(transmitter.inductanceUh, 9);
  expect(second.receiver.resistanceMohm).toBeCloseTo(receiver.resistanceMohm, 9);
});

describe('fitted values in the design', () => {
  test('the design then computes the fitted link at its own place', () => {
    const { ensemble } = report;
    const state = stateAt(bench.boards, bench.parameters, ensemble.optima[0].z);
    const wanted = shiftedLink(links.home, state.gapShift, 0, state.scales);
    const got = benchLink(taken, benchPose(5, 0, 0)).electrical;
    for (const key of ['l1', 'l2', 'm'] as const) expect(Math.abs(got[key] / wanted[key] - 1), key).toBeLessThan(1e-4);
    expect(taken.transmitter.drive.seriesCapacitanceNf).toBeCloseTo(state.boards.drive.seriesCapacitance * 1e9, 1);
    // And so the fitted largest current, but for the guesses that stayed where they were.
    const most = quickMost(wanted, benchBoards(state, 5));
    const then = quickMost(got, benchBoards(stateAt(boardsOf(taken), [], []), 5));
    expect(Math.abs(then / most - 1)).toBeLessThan(0.03);
    const before = quickMost(links.home.electrical, benchBoards(stateAt(bench.boards, [], []), 5));
    expect(Math.abs(then / most - 1)).toBeLessThan(0.5 * Math.abs(before / most - 1));
  });

  test('each change says where, from what and to what; scales stand in keys of the format', () => {
    const { changes, left } = report.takeOver;
    const paths = changes.map(({ path }) => path);
    expect(paths).toContain('receiver.couplingFactor');
    expect(paths).toContain('transmitter.coil.inductanceUh');
    expect(new Set(paths).size).toBe(paths.length);
    for (const { from, to } of changes) {
      expect(to).not.toBe(from);
      expect(Math.abs(to / from - 1)).toBeLessThan(0.6);
    }
    expect(changes.find(({ path }) => path === 'transmitter.coil.inductanceUh')?.wasComputed).toBe(true);
    // What the readings do not tell stays a guess.
    expect(left.length).toBeGreaterThan(5);
    for (const name of left) expect(report.parameters.find((value) => value.name === name)?.decidedBy).toBe('prior');
    expect(paths.some((path) => path.startsWith('readings') || path.startsWith('placement'))).toBe(false);
  });

  test('a second fit of the same readings finds next to nothing more to change', async () => {
    const again = await fitBench(
      taken,
      QUICK_WORK,
      { starts: 1, draws: 8 },
      undefined,
      await plannedLinks({ ...taken, readings: [] }, plan),
    );
    const moved = (of: FitReport): number => Math.hypot(...of.parameters.map(({ pull }) => pull));
    expect(moved(again)).toBeLessThan(0.7 * moved(report));
  });

  test('as a command: one step, the document itself untouched', () => {
    const document = documentOf(made);
    const text = JSON.stringify(document);
    const next = useFittedValues.perform(document, { changes: report.takeOver.changes });
    expect(JSON.stringify(document)).toBe(text);
    expect(next.receiver.couplingFactor).not.toBe(document.receiver.couplingFactor);
    expect(useFittedValues.label({ changes: report.takeOver.changes.slice(0, 1) })).toBe('Use 1 fitted value');
  });
});
