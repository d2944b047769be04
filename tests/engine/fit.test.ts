import { expect, test } from 'vitest';
import { createLocalEngine } from '../../src/engine/local-engine.ts';
import { airDesign, withReadings } from '../analysis/prove/synthetic-bench.ts';

const design = withReadings(airDesign(), [
  { supplyV: 5, supplyA: 0.512, outputV: 5, outputA: 0.38, gapMm: 5 },
  { supplyV: 5, supplyA: 1.3, outputV: 5, outputA: 0.98, gapMm: 5, frequencyKhz: 161 },
]);

test('a fit stops at once, and another begins', { timeout: 30_000 }, async () => {
  const engine = createLocalEngine();
  const controller = new AbortController();
  const stages: string[] = [];
  let stoppedAt = 0;
  const running = engine.fit({ design, options: {} }, controller.signal, ({ stage }) => {
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
  const first = engine.fit({ design, options: { starts: 1 } });
  const second = new AbortController();
  const other = engine.fit({ design, options: { starts: 1 } }, second.signal);
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
