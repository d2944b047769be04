import { afterAll, describe, expect, it } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { parseDesign } from '../../src/design/resolve.ts';
import type { Design } from '../../src/design/types.ts';
import { createEngine } from '../../src/engine/coordinator.ts';
import { doJob } from '../../src/engine/jobs.ts';
import { createLocalEngine } from '../../src/engine/local-engine.ts';
import { createPoolRunner, type PooledWorker } from '../../src/engine/pool-runner.ts';
import type { Engine } from '../../src/engine/types.ts';

function airDemo(): Design {
  const parsed = parseDesign(DEMO_DESIGN);
  if (!parsed.ok) throw new Error('the demo design must parse');
  const design = structuredClone(parsed.design);
  design.transmitter.ferrite = null;
  design.receiver.ferrite = null;
  design.receiver.metal = null;
  return design;
}

/** A pool whose workers run in this thread but, like real ones, only see cloned data. */
function pooledEngine(backWorkers: number): Engine {
  const spawn = (): PooledWorker => ({
    call: async (name, args) => {
      await new Promise((resolve) => setTimeout(resolve, 0));
      return structuredClone(await doJob(name, structuredClone(args) as never));
    },
    onDeath: () => undefined,
    terminate: () => undefined,
  });
  return createEngine(createPoolRunner(spawn, { backWorkers }), () => performance.now());
}

describe('engine', () => {
  const engine = createLocalEngine();
  afterAll(() => engine.dispose());

  it('answers a pose, and its quick answer agrees with the full one', async () => {
    const design = airDemo();
    const full = await engine.solve(design);
    const quick = await engine.quick(design);
    if (!full.ok || !quick.ok) throw new Error('no answer');
    expect(Math.abs(full.value.link.coupling)).toBeLessThan(1);
    // The quick answer takes centre lines for conductors as thick as they are: some parts in ten thousand.
    expect(quick.value.coupling).toBeCloseTo(full.value.link.coupling, 3);
    const { operatingPoint: point } = full.value;
    const lost = Object.values(point.losses).reduce((sum, value) => sum + value, 0);
    const input = design.transmitter.drive.supplyV * point.supplyA;
    expect(Math.abs(input - lost - point.outputV * point.outputA) / input).toBeLessThan(1e-9);
    const { maxOutputBand: band } = full.value.margin;
    // Equal where the regulator's own limit holds the current whatever the inputs do.
    expect(band.low).toBeLessThanOrEqual(band.high);
    expect(band.low).toBeLessThanOrEqual(band.value);
    expect(band.high).toBeGreaterThanOrEqual(band.value);
  });

  it('gives the same map, bit for bit, whatever the size of the pool', async () => {
    const design = airDemo();
    const maps = [];
    for (const width of [1, 2, 4]) {
      const pooled = pooledEngine(width);
      const outcome = await pooled.map({ design, points: 33, spanMm: null });
      if (!outcome.ok) throw new Error(outcome.message);
      const { timing: _, ...map } = outcome.value;
      maps.push(map);
      pooled.dispose();
    }
    expect(maps[1]).toEqual(maps[0]);
    expect(maps[2]).toEqual(maps[0]);
  });

  it('mirrors a mirror-symmetric pair and collapses far out', async () => {
    const outcome = await engine.map({ design: airDemo(), points: 33, spanMm: null });
    if (!outcome.ok) throw new Error(outcome.message);
    const { mutualInductanceH: m, marginPercent, xMm, reachMm } = outcome.value;
    const n = xMm.length;
    for (let j = 0; j < n; j++) {
      for (let i = 0; i < n; i++) {
        const mirrored = m[j * n + (n - 1 - i)] as number;
        expect(Math.abs((m[j * n + i] as number) - mirrored)).toBeLessThan(1e-6 * (m[(n * n - 1) / 2] as number));
      }
    }
    expect(marginPercent[0]).toBeLessThan(-20);
    expect(reachMm.low).toBeLessThanOrEqual(reachMm.value);
    expect(reachMm.high).toBeGreaterThanOrEqual(reachMm.value);
  });

  it('lets a newer map replace an older one', async () => {
    const design = airDemo();
    const older = engine.map({ design, points: 33, spanMm: 20 });
    const newer = engine.map({ design, points: 33, spanMm: 18 });
    await expect(older).rejects.toMatchObject({ name: 'AbortError' });
    expect((await newer).ok).toBe(true);
  });

  it('falls with the gap along a line, its band around it', async () => {
    const outcome = await engine.sweep({ design: airDemo(), axis: 'gap', from: 2, to: 14, points: 7 });
    if (!outcome.ok) throw new Error(outcome.message);
    const { coupling, marginPercent, marginLowPercent, marginHighPercent } = outcome.value;
    for (let i = 1; i < coupling.length; i++) expect(coupling[i]).toBeLessThan(coupling[i - 1] as number);
    marginPercent.forEach((value, i) => {
      expect(marginLowPercent[i]).toBeLessThanOrEqual(value);
      expect(marginHighPercent[i]).toBeGreaterThanOrEqual(value);
    });
  });

  it('gives a line by first harmonic first, which says so, then with the exact circuit, the same in any pool', async () => {
    const request = { design: airDemo(), axis: 'gap', from: 3, to: 30, points: 21 } as const;
    const first = await engine.sweep({ ...request, level: 'rough' });
    const whole = await engine.sweep(request);
    if (!first.ok || !whole.ok) throw new Error('no line');
    expect([first.value.firstLook, whole.value.firstLook]).toEqual([true, false]);
    expect(whole.value.mutualInductanceH).toEqual(first.value.mutualInductanceH);
    expect(whole.value.maxOutputA).not.toEqual(first.value.maxOutputA);
    whole.value.states.forEach((state, i) => {
      if (whole.value.marginPercent[i]! < 0) expect(state).not.toBe('regulated');
    });
    const pooled = pooledEngine(2);
    const again = await pooled.sweep(request);
    pooled.dispose();
    expect(again.ok && again.value).toEqual(whole.value);
  });

  it('stops a line while the exact circuit is asked', async () => {
    const stop = new AbortController();
    const line = engine.sweep(
      { design: airDemo(), axis: 'gap', from: 3.1, to: 30, points: 21 },
      stop.signal,
      (progress) => {
        if (progress.stage === 'the line' && progress.fraction === 1) stop.abort();
      },
    );
    await expect(line).rejects.toMatchObject({ name: 'AbortError' });
  });

  it('returns faults as data where a coil cannot be wound', async () => {
    const design = airDemo();
    design.transmitter.coil.turns = 60;
    const outcome = await engine.solve(design);
    expect(outcome.ok).toBe(false);
    if (!outcome.ok) expect(outcome.faults[0]?.path).toMatch(/^transmitter\.coil/);
  });
});
