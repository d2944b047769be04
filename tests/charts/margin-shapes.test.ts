import { expect, test } from 'vitest';
import { marginLevels, marginShapes } from '../../src/charts/margin-shapes.ts';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { parseDesign } from '../../src/design/resolve.ts';
import { createFakeEngine } from '../support/fake-engine.ts';

test.each([
  [108, 20],
  [34, 20],
  [15, 20],
  [-5, 20],
  [900, 20],
  [60, 0],
  [101, 33],
])('levels for a largest margin of %i %% and %i %% wanted begin with zero and the wanted margin', (largest, wanted) => {
  const levels = marginLevels(largest, wanted);
  expect(levels[0]).toBe(0);
  if (wanted > 0) expect(levels[1]).toBe(wanted);
  expect(levels.length).toBeLessThanOrEqual(6);
  for (let i = 1; i < levels.length; i += 1) expect(levels[i]).toBeGreaterThan(levels[i - 1]);
  for (const level of levels.slice(2)) expect(level).toBeLessThan(largest);
});

test('washes get darker with the margin, and shapes are remembered per map', async () => {
  const parsed = parseDesign(DEMO_DESIGN);
  if (!parsed.ok) throw new Error('demo');
  const outcome = await createFakeEngine().map({ design: parsed.design, points: 41, spanMm: 30 });
  if (!outcome.ok) throw new Error(outcome.message);
  const shapes = marginShapes(outcome.value, [{ name: 'start-up', currentA: 0.75 }]);
  const tones = shapes.washes.map((wash) => wash.tone);
  expect(tones[0]).toBe(1);
  expect([...tones].sort((a, b) => a - b)).toEqual(tones);
  expect(shapes.zero.length).toBeGreaterThan(0);
  expect(shapes.peaks[0].lines.length).toBeGreaterThan(0);
  expect(marginShapes(outcome.value, [{ name: 'start-up', currentA: 0.75 }])).toBe(shapes);
  expect(marginShapes(outcome.value, [])).not.toBe(shapes);
});
