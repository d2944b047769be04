import { beforeAll, describe, expect, test } from 'vitest';
import { benchOf } from '../../../src/analysis/prove/bench.ts';
import { type FitLinks, fitBench } from '../../../src/analysis/prove/fit-bench.ts';
import type { FitReport } from '../../../src/analysis/prove/fit-report.ts';
import { FIT_DEFAULTS, searchFrom } from '../../../src/analysis/prove/optimum.ts';
import type { Design, ReadingDocument } from '../../../src/design/types.ts';
import { InputError } from '../../../src/numerics/errors.ts';
import { randomSource } from '../../../src/numerics/random.ts';
import { airDesign, plannedLinks, QUICK_WORK, synthesise, usualPlan, withReadings } from './synthetic-bench.ts';

/** The first of all seeds: none was chosen by what came out. */
const SEED = 1;

const plan = usualPlan();
const design = airDesign();
let links: FitLinks;
let made: Design;
let honest: FitReport;

beforeAll(async () => {
  links = await plannedLinks(design, plan);
  made = synthesise(design, links, plan, randomSource(SEED), 'quick').design;
  honest = await quickFit(made);
});

/** The bench with one number of one reading changed. */
function changed(reading: number, by: Partial<ReadingDocument>): Design {
  return withReadings(
    made,
    made.readings.map((entry, index) => (index === reading ? { ...entry, ...by } : entry)),
  );
}

const quickFit = (of: Design, options = {}) =>
  fitBench(of, QUICK_WORK, { starts: 2, draws: 24, ...options }, undefined, links);

describe('an honest bench', () => {
  test('is explained, narrows the reach and says what was fixed', async () => {
    const stages: string[] = [];
    const report = await fitBench(
      made,
      QUICK_WORK,
      { starts: 2, draws: 200 },
      ({ stage }) => stages.push(stage),
      links,
    );
    expect(report.explains).toBe(true);
    expect(report.suggestions).toEqual([]);
    expect(report.converged).toBe(true);
    const { before, after } = report.consequence.reachMm;
    expect(after.high - after.low).toBeLessThan(0.8 * (before.high - before.low));
    expect(report.sentence).toMatch(/^The readings agree with the model, and the reach narrows from \d/);
    expect(report.verdict).toMatch(/^The readings agree with the model within \d\.\d of their accuracy\.$/);
    expect(report.fixes).toMatch(/^They fix (the .* to \d|\d+ combinations of values)/);
    expect(report.combinations.length).toBeGreaterThan(3);
    expect(report.optima.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 12);
    expect(report.readings).toHaveLength(made.readings.length);
    expect(stages).toContain('start 1 of 2');
    // Left-out distances of an honest bench are about one.
    expect(Math.max(...report.readings.map(({ leftOut }) => leftOut))).toBeLessThan(3);
  });

  test('gives the same report again, bit for bit', async () => {
    expect(JSON.stringify(await quickFit(made))).toBe(JSON.stringify(honest));
  });
});

describe('a bench that does not fit', () => {
  test('one misread number: told, the reading named, and less harm with the robust option', async () => {
    const wrong = changed(2, { supplyA: 1.15 * (made.readings[2].supplyA as number) });
    const plain = await quickFit(wrong);
    expect(plain.explains).toBe(false);
    expect(plain.sentence).toMatch(/^The model does not explain these readings/);
    expect(plain.suggestions.some(({ sentence }) => sentence.includes('Reading 3'))).toBe(true);
    expect(plain.readings[2].leftOut).toBeGreaterThan(3);
    expect(plain.notes.some((note) => /widened/.test(note))).toBe(true);
    expect(plain.readings[2].flags).toContain('does not fit what the other readings foretell');
    const robust = await quickFit(wrong, { robustBeyond: 2 });
    const off = (of: typeof plain) =>
      of.parameters.reduce((sum, { pull }, j) => sum + (pull - honest.parameters[j].pull) ** 2, 0);
    expect(off(robust)).toBeLessThan(0.5 * off(plain));
  });

  test('a gap read two millimetres wrong is suspected', async () => {
    // Readings 6 to 8 were taken at 8 mm; written down as 8, the truth of their field is that of 6 mm.
    const there = withReadings(
      made,
      synthesise(design, links, plan, randomSource(SEED), 'quick').design.readings.map((entry, index) => {
        if (![5, 6, 7].includes(index)) return entry;
        const nearer = made.readings[index - 4];
        return { ...nearer, gapMm: 8 };
      }),
    );
    const report = await quickFit(there);
    expect(report.explains).toBe(false);
    expect(report.suggestions.map(({ kind }) => kind)).toContain('misreadGap');
    expect(report.suggestions.find(({ kind }) => kind === 'misreadGap')?.sentence).toMatch(/8 mm gap/);
  });
});

test('input current at one supply alone fixes about one combination, and the operating frequency would help most: five benches of five', async () => {
  const one: FitLinks = { ...links, bench: links.bench.slice(0, 1) };
  for (let seed = 1; seed <= 5; seed++) {
    const whole = synthesise(design, links, plan, randomSource(seed), 'quick').design;
    const alone = withReadings(
      whole,
      whole.readings
        .filter(
          ({ regulated, gapMm, offsetXMm, supplyV }) => regulated && gapMm === 5 && offsetXMm === 0 && supplyV < 5.5,
        )
        .map(({ supplyV, supplyA, outputA, gapMm }) => ({
          supplyV,
          supplyA,
          outputA,
          gapMm,
          offsetXMm: 0,
          offsetYMm: 0,
        })),
    );
    const report = await fitBench(alone, QUICK_WORK, { starts: 1, draws: 8 }, undefined, one);
    expect(report.combinations.length, `seed ${seed}`).toBeGreaterThanOrEqual(1);
    expect(report.combinations.length, `seed ${seed}`).toBeLessThanOrEqual(2);
    // The reach of this design hangs on the supply's limit and its cable, which none of these readings shows: what counts is how
    // much each would fix at all.
    expect(report.next[0].kind, `seed ${seed}`).toBe('frequency');
    expect(report.next[0].leaves, `seed ${seed}`).toBeLessThan(0.9 * report.next[1].leaves);
    // With everything the usual plan reads there is much more.
    expect(honest.combinations.length).toBeGreaterThanOrEqual(report.combinations.length + 3);
  }
});

test('without a usable reading the fit is refused, with a path', async () => {
  const none = withReadings(design, [{ supplyV: 5, gapMm: 5 }]);
  await expect(fitBench(none, QUICK_WORK)).rejects.toBeInstanceOf(InputError);
  await expect(fitBench(withReadings(design, []), QUICK_WORK)).rejects.toThrow(
    /readings: must be at least one reading/,
  );
});

/**
 * Capacitors known to a factor of 1.8 only, and supply currents alone: such benches have several optima. The first seed from 1 is taken at
 * which one of sixteen searches alone ends at the best of them.
 */
test('an optimum that one start in sixteen finds is found and told first', { timeout: 240_000 }, async () => {
  const { loose, links: there, currents } = await looseBench();
  for (let seed = 1; seed <= 10; seed++) {
    const made = synthesise(loose, there, currents, randomSource(seed), 'quick').design;
    const bench = benchOf(made, there.bench);
    const ends = Array.from({ length: 16 }, (_, start) => searchFrom(bench, start, FIT_DEFAULTS));
    const best = Math.min(...ends.map(({ chi2 }) => chi2));
    if (ends.filter(({ chi2 }) => chi2 < best + 1).length !== 1) continue;
    const work = { ...QUICK_WORK, search: async (_: unknown, start: number) => ends[start] };
    const report = await fitBench(made, work, { starts: 16, draws: 8 }, undefined, there);
    expect(report.optima[0].starts).toBe(1);
    expect(report.optima[0].chi2).toBeLessThan(best + 0.5);
    for (const other of report.optima.slice(1)) expect(other.chi2).toBeGreaterThan(best + 0.5);
    return;
  }
  throw new Error('no bench of ten has such an optimum: the case is not tested');
});

/** With the long run: how often sixteen starts find the best optimum that they and sixteen others know. */
test.runIf(Number(process.env.PROVE_BENCHES ?? 0) > 0)(
  'sixteen starts find the best of thirty-two',
  { timeout: 3_600_000 },
  async () => {
    const { loose, links: there, currents } = await looseBench();
    let found = 0;
    const finders: number[] = [];
    for (let seed = 1; seed <= 20; seed++) {
      const bench = benchOf(synthesise(loose, there, currents, randomSource(seed), 'quick').design, there.bench);
      const ends = (of: number) =>
        Array.from({ length: 16 }, (_, start) => searchFrom(bench, start, { ...FIT_DEFAULTS, seed: of }).chi2);
      const own = ends(1);
      const best = Math.min(...own, ...ends(2));
      finders.push(own.filter((chi2) => chi2 < best + 1).length);
      if (Math.min(...own) < best + 1) found++;
    }
    console.info(`best optimum found in ${found} of 20 benches; by so many of sixteen starts: ${finders.join(' ')}`);
    expect(found).toBeGreaterThanOrEqual(18);
  },
);

async function looseBench() {
  const { transmitter, receiver } = design;
  const loose = airDesign({
    transmitter: { ...transmitter, drive: { ...transmitter.drive, seriesCapacitanceTolerancePercent: 80 } },
    receiver: { ...receiver, pickup: { ...receiver.pickup, seriesCapacitanceTolerancePercent: 80 } },
  });
  const currents = plan.filter(({ share }) => share < 1).map((row) => ({ ...row, quantities: ['supplyA' as const] }));
  return { loose, currents, links: await plannedLinks(loose, currents) };
}
