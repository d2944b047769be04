import { describe, expect, it } from 'vitest';
import type { LinkModel } from '../../src/analysis/link/link-model.ts';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { parseDesign } from '../../src/design/resolve.ts';
import type { Design } from '../../src/design/types.ts';
import { ModelStore } from '../../src/engine/model-store.ts';
import type { Runner } from '../../src/engine/runner.ts';

const parsed = parseDesign(DEMO_DESIGN);
if (!parsed.ok) throw new Error('the demo design must parse');
const DEMO = parsed.design;

const placed = (placement: Partial<Design['placement']>): Design => ({
  ...DEMO,
  placement: { ...DEMO.placement, ...placement },
});

/** Answers every job at once with as little as the store looks at, and counts them. */
function countingRunner(able = true) {
  const counts: Record<string, number> = {};
  const domain = { halfX: 0.018, halfY: 0.018, gapMin: 1e-3, gapMax: 15e-3 };
  const answers: Record<string, (args: Record<string, never>) => unknown> = {
    plan: ({ design }) => {
      const { yawDeg, tiltXDeg } = (design as Design).placement;
      const attitude = { yaw: yawDeg, tiltX: tiltXDeg, tiltY: 0 };
      return {
        key: JSON.stringify(attitude),
        domain,
        attitude,
        roughCount: 5,
        passCounts: [30, 4],
        outputs: 10,
        hasPlates: true,
      };
    },
    linkPass: ({ rows }) => new Float64Array((rows as Int32Array).length * 10),
    roughModel: ({ plan }) => ({ ...(plan as object), level: 'rough' }),
    assembleModel: ({ plan, passes }) => ({
      ...(plan as object),
      level: (passes as unknown[]).length === 2 ? 'fine' : 'coarse',
    }),
    boundModel: ({ model }) => model,
    attitudePoses: ({ which }) => new Float64Array(6 * (which === 'turned' ? 25 : 15)),
    attitudeSolve: ({ poses }) => new Float64Array(((poses as Float64Array).length / 6) * 10),
    attitudePart: ({ values }) => ({ tilts: (values as { tilted: unknown }).tilted !== null }),
    attitudeAble: () => able,
    modelAtAttitude: ({ model, attitude }) => ({ ...(model as object), attitude, key: JSON.stringify(attitude) }),
  };
  const runner = {
    width: 2,
    async run(name: string, args: Record<string, never>) {
      counts[name] = (counts[name] ?? 0) + 1;
      await Promise.resolve();
      return { ok: true, value: answers[name]!(args), elapsedMs: 0 };
    },
    dispose() {},
  } as unknown as Runner;
  return { runner, counts };
}

const valueFrom = async (outcome: ReturnType<ModelStore['obtain']>): Promise<LinkModel> => {
  const done = await outcome;
  if (!done.ok) throw new Error(done.message);
  return done.value;
};

describe('the store of link models', () => {
  it('builds a rough model for a first look, and goes on from there only when asked', async () => {
    const { runner, counts } = countingRunner();
    const store = new ModelStore(runner);
    expect(store.known(DEMO)).toBeNull();
    expect((await valueFrom(store.obtain(DEMO, 'rough'))).level).toBe('rough');
    expect(counts).toEqual({ plan: 1, linkPass: 1, roughModel: 1 });
    expect((await valueFrom(store.obtain(DEMO, 'coarse'))).level).toBe('coarse');
    expect((await valueFrom(store.obtain(DEMO, 'fine'))).level).toBe('fine');
    // What is better serves as well.
    expect((await valueFrom(store.obtain(DEMO, 'rough'))).level).toBe('fine');
    expect(store.known(DEMO)!.level).toBe('fine');
    expect(counts).toEqual({ plan: 1, linkPass: 1 + 3 + 4, roughModel: 1, assembleModel: 2, boundModel: 1 });
  });

  it('solves no attitude before one is asked for', async () => {
    const { runner, counts } = countingRunner();
    const store = new ModelStore(runner);
    await valueFrom(store.obtain(DEMO, 'fine'));
    await valueFrom(store.obtain(placed({ offsetXMm: 3, gapMm: DEMO.placement.gapMm * 1.01 }), 'fine'));
    expect(counts.attitudeSolve).toBeUndefined();
  });

  it('carries the fine model to every other turn once the turn is known, without another solve', async () => {
    const { runner, counts } = countingRunner();
    const store = new ModelStore(runner);
    await valueFrom(store.obtain(DEMO, 'fine'));
    const before = counts.linkPass;
    const turned = await valueFrom(store.obtain(placed({ yawDeg: 20 }), 'coarse'));
    expect(turned.level).toBe('fine');
    expect(turned.attitude.yaw).toBe(20);
    expect(counts.attitudeSolve).toBe(3);
    for (const yawDeg of [21, 22, 40]) await valueFrom(store.obtain(placed({ yawDeg }), 'fine'));
    expect(counts.linkPass).toBe(before);
    expect(counts.attitudeSolve).toBe(3);
    expect(counts.modelAtAttitude).toBe(4);
    // Tilts are solved when the first one is asked for, and then serve with any turn.
    await valueFrom(store.obtain(placed({ tiltXDeg: 1 }), 'fine'));
    await valueFrom(store.obtain(placed({ tiltXDeg: 2, yawDeg: 30 }), 'fine'));
    expect(counts.attitudeSolve).toBe(3 + 2);
    expect(counts.linkPass).toBe(before);
  });

  it('solves a tilt too steep to be carried directly', async () => {
    const { runner, counts } = countingRunner(false);
    const store = new ModelStore(runner);
    await valueFrom(store.obtain(DEMO, 'fine'));
    const before = counts.linkPass!;
    expect((await valueFrom(store.obtain(placed({ tiltXDeg: 8 }), 'rough'))).level).toBe('rough');
    expect(counts.linkPass).toBe(before + 1);
    expect(counts.attitudeSolve).toBeUndefined();
  });

  it('gives a base and its part to who looks up many attitudes, and shares the work between those who ask at once', async () => {
    const { runner, counts } = countingRunner();
    const store = new ModelStore(runner);
    const all = await Promise.all([
      store.attitudes(DEMO, false),
      store.attitudes(DEMO, false),
      store.attitudes(DEMO, true),
    ]);
    for (const outcome of all) expect(outcome.ok && outcome.value.base.level).toBe('fine');
    expect(all[2]!.ok && all[2]!.value.part.tilts).toBe(true);
    expect(counts.attitudeSolve).toBe(3 + 2);
    // Of a turned design the base is the model it was carried from.
    const turned = await store.attitudes(placed({ yawDeg: 15 }), false);
    expect(turned.ok && turned.value.base.attitude.yaw).toBe(DEMO.placement.yawDeg);
  });
});
