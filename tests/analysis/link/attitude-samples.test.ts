import { describe, expect, it } from 'vitest';
import { attitudeSamples, sampleWeights } from '../../../src/analysis/link/attitude-samples.ts';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { parseDesign } from '../../../src/design/resolve.ts';
import { linkSidesOf } from '../../../src/design/wind.ts';

const parsed = parseDesign(DEMO_DESIGN);
if (!parsed.ok) throw new Error('the demo design must parse');
const { transmitter, receiver } = linkSidesOf(parsed.design);

describe('samples of the attitude', () => {
  it('come again after half a turn for a mirrored receiver, and after any turn for a round one', () => {
    const { turned } = attitudeSamples(receiver);
    expect(turned.period).toBe(Math.PI);
    expect(turned.turns).toBe(8);
    const round = { ...transmitter, ferrite: null, metal: null };
    expect(attitudeSamples(round).turned.turns).toBe(1);
    expect(attitudeSamples(transmitter).turned.turns).toBe(8);
  });

  it('give back a sample at its own attitude', () => {
    const { turned, tilted } = attitudeSamples(receiver);
    const third = sampleWeights(turned, (3 * turned.period) / turned.turns, 0, 0, false);
    third.forEach((weight, k) => {
      expect(weight).toBeCloseTo(k === 3 ? 1 : 0, 12);
    });
    tilted.tilts.forEach(([x, y], s) => {
      const weights = sampleWeights(tilted, tilted.period / tilted.turns, x, y, false);
      weights.forEach((weight, k) => {
        expect(weight).toBeCloseTo(k === tilted.tilts.length + s ? 1 : 0, 12);
      });
    });
  });

  it('are exact for every quadratic in the tilts and every low harmonic of the turn', () => {
    const { tilted } = attitudeSamples(receiver);
    const f = (yaw: number, x: number, y: number) =>
      (1 + 0.4 * Math.cos(2 * yaw) - 0.3 * Math.sin(2 * yaw)) *
      (2 + 0.3 * x - 0.7 * y + 0.5 * x * x + 1.1 * x * y - 0.2 * y * y);
    const values = Array.from({ length: tilted.turns }, (_, k) =>
      tilted.tilts.map(([x, y]) => f((k * tilted.period) / tilted.turns, x, y)),
    ).flat();
    for (const [yaw, x, y] of [
      [0.3, 0.4, -0.6],
      [-2.1, -0.8, 0.9],
      [1.2, 0.1, 0.2],
    ] as const) {
      const weights = sampleWeights(tilted, yaw, x, y, false);
      const sum = weights.reduce((total, weight, k) => total + weight * values[k]!, 0);
      expect(sum).toBeCloseTo(f(yaw, x, y), 12);
      const added = sampleWeights(tilted, yaw, x, y, true).reduce((total, w, k) => total + w * values[k]!, 0);
      expect(added).toBeCloseTo(f(yaw, x, y) - f(yaw, 0, 0), 12);
    }
  });
});
