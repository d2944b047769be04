import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { randomSource } from '../../../src/numerics/random.ts';
import { linkLimit } from '../../../src/physics/circuit/link-limit.ts';

const [table, threshold] = JSON.parse(
  readFileSync(new URL('../../../reference-cases/circuit-link-limit/cases.json', import.meta.url), 'utf8'),
);

test.each(
  table.regions[0].rows as {
    id: string;
    inputs: { k: number; Q1: number; Q2: number };
    expected: Record<string, number>;
  }[],
)('reference: $id', ({ inputs, expected }) => {
  const limit = linkLimit(inputs.k, inputs.Q1, inputs.Q2, 0.5);
  expect(Math.abs(limit.efficiency / expected.eta_max - 1)).toBeLessThan(1e-9);
  expect(Math.abs(limit.optimalLoad / 0.5 / expected.RL_over_R2 - 1)).toBeLessThan(1e-9);
  expect(Math.abs(Math.sqrt(limit.figureOfMerit) / expected.x - 1)).toBeLessThan(1e-9);
});

test('reference: 90 % needs k sqrt(Q1 Q2) = sqrt(360)', () => {
  const row = threshold.regions[0].rows[0];
  expect(Math.abs(linkLimit(row.expected, 1, 1, 1).efficiency - row.inputs.eta)).toBeLessThan(1e-8);
});

test('no resistive load on two tuned coils does better, seeded search over loads', () => {
  const source = randomSource(7);
  for (let i = 0; i < 200; i++) {
    const k = 0.02 + 0.7 * source.uniform();
    const q1 = 20 + 150 * source.uniform();
    const q2 = 20 + 150 * source.uniform();
    const limit = linkLimit(k, q1, q2, 1);
    // Reactances of 1 in units of r2 q2; both sides tuned: eta = (wM)^2 R / ((r2 + R) ((wM)^2 + r1 (r2 + R))).
    const omegaM2 = k * k * q1 * q2; // over r1 r2, with r1 = r2 = 1
    let best = 0;
    for (let n = 0; n <= 400; n++) {
      const load = limit.optimalLoad * 2 ** ((n - 200) / 50);
      best = Math.max(best, (omegaM2 * load) / ((1 + load) * (omegaM2 + 1 + load)));
    }
    expect(best).toBeLessThanOrEqual(limit.efficiency * (1 + 1e-12));
    expect(best).toBeGreaterThan(limit.efficiency * (1 - 1e-9));
  }
});

test('limits: no coupling, none; endless quality, all', () => {
  expect(linkLimit(0, 100, 100, 1)).toEqual({ efficiency: 0, optimalLoad: 1, figureOfMerit: 0 });
  expect(linkLimit(1, 1e9, 1e9, 1).efficiency).toBeGreaterThan(1 - 1e-8);
  expect(linkLimit(-0.3, 100, 100, 1)).toEqual(linkLimit(0.3, 100, 100, 1));
});
