import { describe, expect, it } from 'vitest';
import { layerPlans } from '../../src/analysis/hold/hold-layer.ts';
import type { HoldReport } from '../../src/analysis/hold/hold-report.ts';
import type { LinkModel } from '../../src/analysis/link/link-model.ts';
import type { Design } from '../../src/design/types.ts';
import { STOPPED } from '../../src/engine/abort.ts';
import { createHold, type HoldResources } from '../../src/engine/hold.ts';
import type { JobArguments } from '../../src/engine/jobs.ts';
import type { Runner } from '../../src/engine/runner.ts';
import { demo, MAGNETS, RECESS } from '../analysis/hold/demo-design.ts';

/**
 * The sequence alone: jobs that only say that they were asked. What the jobs answer is tested where they live
 * (tests/analysis/hold).
 */
function sequence(options: { readonly fails?: string } = {}) {
  const jobs: string[] = [];
  const reports: JobArguments<'holdReport'>[] = [];
  const answers: Record<string, (args: never) => unknown> = {
    holdPlans: ({ design }: JobArguments<'holdPlans'>) => layerPlans(design),
    holdLayer: ({ plan }: JobArguments<'holdLayer'>) => plan,
    mapGrid: () => ({ xMm: new Float64Array(1), yMm: new Float64Array(1) }),
    holdAttitudeCount: () => 20,
    holdAttitudePart: ({ from, to }: JobArguments<'holdAttitudePart'>) => new Float64Array(to - from).fill(from),
    holdAttitudes: ({ values }: JobArguments<'holdAttitudes'>) => ({ values }),
    holdWorstPlaces: () => [{ worstPercent: 20 }, { worstPercent: 20 }],
    holdWorstDirect: () => 19,
    holdRecessQuick: () => ({ quick: true }),
    // Two clearances are solved at two places each, then it is settled by the smaller margin.
    holdRecessStep: ({ stacking, tries }: JobArguments<'holdRecessStep'>) =>
      tries.length < 2
        ? {
            kind: 'solve',
            clearanceMm: tries.length,
            worst: {},
            places: [
              [1, 0, 0],
              [2, 0, 0],
            ],
          }
        : { kind: 'settled', recess: { stacking, direct: tries[1]?.direct } },
    holdRecessBand: () => ({ low: 1, high: 4 }),
    holdRecessDirect: ({ place }: JobArguments<'holdRecessDirect'>) => 30 + place[0],
    holdMagnetCount: () => 5,
    holdMagnetForces: ({ from, to }: JobArguments<'holdMagnetForces'>) => Float64Array.of(from, to),
    holdMagnetFlux: ({ before }: JobArguments<'holdMagnetFlux'>) => ({
      rounds: (before?.rounds ?? 0) + 1,
      settled: before?.rounds === 2,
    }),
    holdSaturated: ({ which }: JobArguments<'holdSaturated'>) => ({ which }),
    holdMagnets: ({ pieces }: JobArguments<'holdMagnets'>) => ({ pairs: 2, pieces }),
    holdGapMargins: ({ gapsMm }: JobArguments<'holdGapMargins'>) => gapsMm.map((gap) => 100 - 10 * gap),
    holdLottery: ({ which }: JobArguments<'holdLottery'>) => [which],
    holdReport: (args: JobArguments<'holdReport'>) => {
      reports.push(args);
      return { title: `report ${reports.length}` };
    },
  };
  const runner = {
    width: 2,
    dispose: () => undefined,
    run: async (name: string, args: never, { signal }: { readonly signal?: AbortSignal }) => {
      await new Promise((resolve) => setTimeout(resolve, 0));
      if (signal?.aborted) throw STOPPED;
      jobs.push(name);
      if (name === options.fails) return { ok: false, faults: [], message: `${name} failed` };
      return { ok: true, value: answers[name]?.(args), elapsedMs: 1 };
    },
  } as unknown as Runner;
  let known: LinkModel | null = null;
  const model = (level: 'coarse' | 'fine') => ({ level, domain: { gapMin: 1e-3, gapMax: 15e-3 } }) as LinkModel;
  const resources = {
    runner,
    now: () => 0,
    models: {
      known: () => known,
      obtain: async (_design: Design, level: 'coarse' | 'fine') => {
        if (known?.level !== 'fine') known = model(level);
        return { ok: true, value: known, elapsedMs: 0 };
      },
    },
    plateAnswers: async () => ({ ok: true, value: [], elapsedMs: 0 }),
    checksOver: async () => {
      jobs.push('checks');
      return { ok: true, value: [], elapsedMs: 0 };
    },
  } as unknown as HoldResources;
  const since = (): Record<string, number> => {
    const count: Record<string, number> = {};
    for (const name of jobs.splice(0)) count[name] = (count[name] ?? 0) + 1;
    return count;
  };
  return { hold: createHold(resources), since, reports };
}

const design = demo({ recess: RECESS, magnets: MAGNETS });
const held = (holding: Partial<Design['holding']>): Design => ({
  ...design,
  holding: { ...design.holding, ...holding },
});
const never = new AbortController().signal;

describe('the question of holding', () => {
  it('answers in stages; then a change works out only what hangs on it', async () => {
    const { hold, since, reports } = sequence();
    const firsts: HoldReport[] = [];
    const stages: string[] = [];
    const whole = await hold.full(
      design,
      never,
      ({ stage, fraction }) => {
        stages.push(stage);
        expect(fraction).toBeGreaterThan(0);
        expect(fraction).toBeLessThanOrEqual(1);
      },
      (report) => firsts.push(report),
    );
    expect(whole).toMatchObject({ ok: true, value: { title: 'report 2' } });
    expect(firsts).toMatchObject([{ title: 'report 1' }]);
    expect(stages).toEqual(expect.arrayContaining(['a first look', 'maps over gap and turn', 'recess and magnets']));
    // The first look has the coarse model's turns alone and no part; the whole report has all.
    expect(reports[0]).toMatchObject({
      model: { level: 'coarse' },
      done: { advice: null, magnets: null, limits: null },
    });
    expect(reports[0].layers.every((layer) => layer.use === 'turns')).toBe(true);
    expect(reports[1]).toMatchObject({
      model: { level: 'fine' },
      done: {
        advice: {
          worst: { stacking: 'worst', direct: 31, clearanceBandMm: { low: 1, high: 4 } },
          rss: { stacking: 'rss', direct: 31 },
        },
        magnets: { pairs: 2 },
        check: { places: 2, shortfallPercent: 1 },
        lottery: { free: ['free'], walled: ['walled'], curve: ['curve'] },
      },
    });
    // Forces by twos in their order, three rounds of flux, the link once for each direction.
    expect(reports[1].done.magnets).toMatchObject({
      pieces: {
        samples: Float64Array.of(0, 2, 2, 4, 4, 5),
        flux: { rounds: 3, settled: true },
        changes: { none: { which: 'none' }, along: { which: 'along' } },
      },
    });
    // The margin falls through the wanted 20 % at 8 mm.
    expect(reports[1].done.limits?.thickestMm).toBeCloseTo(8, 2);
    expect(new Set(reports[1].layers.map((layer) => layer.use))).toEqual(new Set(['turns', 'worst', 'volume']));
    const layers = layerPlans(design).length;
    expect(since()).toMatchObject({
      holdAttitudeCount: 1,
      // Twenty poses by eights, put together in their order.
      holdAttitudePart: 3,
      holdAttitudes: 1,
      holdLayer: layers + 5,
      checks: 2,
      holdRecessQuick: 2,
      holdRecessStep: 6,
      holdRecessDirect: 8,
      holdMagnets: 1,
      holdWorstDirect: 2,
    });

    // Another clearance, a hair looser: only the worst maps at the recess's own turns are new, and their check.
    await hold.full(held({ recess: { ...RECESS, clearanceMm: 1.05 } }), never);
    expect(since()).toEqual({
      holdPlans: 1,
      holdLayer: 14,
      holdWorstPlaces: 1,
      holdWorstDirect: 2,
      holdLottery: 3,
      holdReport: 1,
    });
    await hold.full(held({ magnets: { ...MAGNETS, thicknessMm: 3 } }), never);
    expect(since()).toEqual({
      holdPlans: 1,
      holdMagnetCount: 1,
      holdMagnetForces: 3,
      holdMagnetFlux: 3,
      holdSaturated: 4,
      holdMagnetHeat: 1,
      holdMagnets: 1,
      holdLottery: 3,
      holdReport: 1,
    });
    // Other friction: the magnets' verdict alone. Another scatter: nothing but the lottery, if it needs no wider turns.
    await hold.full(held({ friction: 0.35 }), never);
    expect(since()).toEqual({
      holdPlans: 1,
      holdMagnetCount: 1,
      holdMagnetForces: 3,
      holdMagnetFlux: 3,
      holdSaturated: 4,
      holdMagnetHeat: 1,
      holdMagnets: 1,
      holdLottery: 3,
      holdReport: 1,
    });
    await hold.full(held({ placing: { ...design.holding.placing, sigmaXMm: 9 } }), never);
    expect(since()).toEqual({ holdPlans: 1, holdLottery: 3, holdReport: 1 });
    // And back.
    await hold.full(design, never);
    expect(since()).toEqual({ holdPlans: 1, holdLottery: 3, holdReport: 1 });
  });

  it('another load or supply works out everything anew; another reading nothing', async () => {
    const { hold, since } = sequence();
    await hold.full(design, never);
    since();
    await hold.full({ ...design, readings: [] }, never);
    expect(since()).toEqual({ holdPlans: 1, holdLottery: 3, holdReport: 1 });
    await hold.full({ ...design, demand: { ...design.demand, wantedMarginPercent: 30 } }, never);
    expect(since()).toMatchObject({ holdRecessQuick: 2, holdMagnets: 1, holdAttitudes: 1, checks: 1 });
  });

  it('the quick answer takes what is known of this recess and these magnets', async () => {
    const { hold, since, reports } = sequence();
    await hold.first(design, never);
    expect(since()).toMatchObject({ holdLayer: 5, checks: 1, holdReport: 1 });
    await hold.full(design, never);
    since();
    await hold.first(held({ recess: { ...RECESS, clearanceMm: 2 }, magnets: null }), never);
    expect(since()).toEqual({ holdPlans: 1, holdReport: 1 });
    expect(reports.at(-1)?.done).toMatchObject({ advice: { worst: { stacking: 'worst' } }, magnets: null });
    expect(reports.at(-1)?.model.level).toBe('fine');
  });

  it('stops when nobody wants it; a failure is handed on', async () => {
    const abort = new AbortController();
    const running = sequence().hold.full(design, abort.signal);
    abort.abort();
    await expect(running).rejects.toThrow(/stopped/);
    for (const fails of [
      'holdPlans',
      'holdAttitudePart',
      'holdLayer',
      'holdRecessQuick',
      'holdRecessStep',
      'holdRecessDirect',
      'holdMagnetCount',
      'holdMagnetForces',
      'holdMagnetFlux',
      'holdSaturated',
      'holdMagnetHeat',
      'holdMagnets',
      'holdGapMargins',
      'holdWorstPlaces',
      'holdWorstDirect',
      'holdLottery',
      'holdReport',
    ]) {
      const outcome = await sequence({ fails }).hold.full(design, never);
      expect(outcome).toEqual({ ok: false, faults: [], message: `${fails} failed` });
    }
  });
});
