import { expect, test } from 'vitest';
import { benchPoses } from '../../src/analysis/prove/bench-links.ts';
import { fitParameters } from '../../src/analysis/prove/fit-parameters.ts';
import { createLocalEngine } from '../../src/engine/local-engine.ts';
import { airDesign, withReadings } from '../analysis/prove/synthetic-bench.ts';

const made = withReadings(airDesign(), [
  { supplyV: 5, supplyA: 0.512, outputV: 5, outputA: 0.38, gapMm: 5 },
  { supplyV: 5, supplyA: 1.3, outputV: 5, outputA: 0.98, gapMm: 5, frequencyKhz: 161 },
]);

test('a fit stops at once, and another begins', { timeout: 30_000 }, async () => {
  const engine = createLocalEngine();
  const controller = new AbortController();
  const stages: string[] = [];
  let stoppedAt = 0;
  const running = engine.fit({ design: made, options: {} }, controller.signal, ({ stage }) => {
    stages.push(stage);
    if (stage.startsWith('start 2')) {
      stoppedAt = performance.now();
      controller.abort();
    }
  });
  await expect(running).rejects.toMatchObject({ name: 'AbortError' });
  expect(performance.now() - stoppedAt).toBeLessThan(100);
  expect(stages).not.toContain('done');
  // A newer request of the kind replaces the older one.
  const first = engine.fit({ design: made, options: { starts: 1 } });
  const second = new AbortController();
  const other = engine.fit({ design: made, options: { starts: 1 } }, second.signal);
  await expect(first).rejects.toMatchObject({ name: 'AbortError' });
  second.abort();
  await expect(other).rejects.toMatchObject({ name: 'AbortError' });
  engine.dispose();
});

test('without readings the failure comes as data', async () => {
  const engine = createLocalEngine();
  const outcome = await engine.fit({ design: airDesign(), options: {} });
  expect(outcome).toMatchObject({ ok: false, faults: [{ path: 'readings' }] });
  engine.dispose();
});

test('the map of values that did not move is the plain map; what is left open makes its band', {
  timeout: 60_000,
}, async () => {
  const engine = createLocalEngine();
  // Waking left aside: this pair holds farther than it starts.
  const pickup = { ...made.receiver.pickup, wakeV: 0.5 };
  const design = { ...made, receiver: { ...made.receiver, pickup } };
  const parameters = fitParameters(design, benchPoses(design).poses);
  const n = parameters.length;
  const factor = (size: number) => Float64Array.from({ length: n * n }, (_, i) => (i % (n + 1) === 0 ? size : 0));
  const at = (size: number) => ({ parameters, optima: [{ z: new Float64Array(n), factor: factor(size), weight: 1 }] });
  const plain = await engine.map({ design, points: 17, spanMm: null });
  const known = await engine.fitMap({ design, ensemble: at(1e-6), points: 17 });
  const open = await engine.fitMap({ design, ensemble: at(1), points: 17 });
  engine.dispose();
  if (!plain.ok || !known.ok || !open.ok) throw new Error('no map');
  expect(plain.value.reachMm.value).toBeGreaterThan(3);
  expect(known.value.xMm).toEqual(plain.value.xMm);
  known.value.maxOutputA.forEach((current, i) => {
    expect(Math.abs(current - plain.value.maxOutputA[i])).toBeLessThan(2e-3);
  });
  const width = ({ low, high }: { low: number; high: number }) => high - low;
  expect(width(known.value.reachMm)).toBeLessThan(0.05);
  expect(width(open.value.reachMm)).toBeGreaterThan(0.5);
});
