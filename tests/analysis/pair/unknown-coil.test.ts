import { describe, expect, it } from 'vitest';
import { fromRuler } from '../../../src/analysis/pair/coil-size-reading.ts';
import {
  fromInductanceMeter,
  fromResonance,
  fromRingDown,
  withReading,
} from '../../../src/analysis/pair/unknown-coil.ts';
import { InputError } from '../../../src/numerics/errors.ts';
import { airPair } from './air-pair.ts';

describe('a coil that is not known', () => {
  it('follows from a resonance: 25.33 uH with 100 nF at 100 kHz (w^2 L C = 1)', () => {
    const reading = fromResonance({
      frequencyHz: 100e3,
      capacitanceF: 100e-9,
      frequencyPercent: 0.5,
      capacitancePercent: 5,
      bandwidthHz: 1000,
    });
    expect(reading.inductanceH * 1e6).toBeCloseTo(25.33, 2);
    expect(reading.quality).toBeCloseTo(100, 9);
    expect(reading.resistanceOhm).toBeCloseTo((2 * Math.PI * 100e3 * reading.inductanceH) / 100, 9);
    expect(reading.inductanceTolerancePercent).toBeCloseTo(Math.hypot(1, 5), 12);
  });

  it('comes back from a simulated ring-down', () => {
    const [l, r, c] = [14e-6, 0.4, 100e-9];
    // The free swing by small steps of the circuit's own equations (leapfrog, then peaks by parabola): no formula of the answer.
    let [q, i] = [1, 0];
    const dt = 1e-9;
    const peaks: { t: number; q: number }[] = [{ t: 0, q: 1 }];
    let [before, now] = [1, 1];
    for (let n = 1; n < 120_000 && peaks.length < 9; n++) {
      const mid = (i - (dt / 2) * (q / (l * c) + (r / l) * i)) as number;
      q += dt * mid;
      i = (mid - (dt / 2) * (q / (l * c))) / (1 + (dt * r) / (2 * l));
      if (now > before && now > q && n > 10) {
        const shift = (before - q) / (2 * (before - 2 * now + q));
        peaks.push({ t: (n - 1 + shift) * dt, q: now });
      }
      before = now;
      now = q;
    }
    const [first, last] = [peaks[1]!, peaks[7]!];
    const reading = fromRingDown({
      capacitanceF: c,
      capacitancePercent: 1,
      periods: 6,
      durationS: last.t - first.t,
      durationPercent: 0.2,
      ratio: first.q / last.q,
    });
    expect(reading.inductanceH / l).toBeCloseTo(1, 3);
    expect((reading.resistanceOhm ?? 0) / r).toBeCloseTo(1, 2);
    expect(reading.quality).toBeCloseTo(Math.sqrt(l / c) / r, 0);
  });

  it('widens the band by what the ruler leaves open', () => {
    const { coil } = airPair().receiver;
    const fine = fromRuler(coil, 0.1, 0);
    const rough = fromRuler(coil, 0.5, 0);
    const counted = fromRuler(coil, 0.5, 1);
    expect(rough.inductanceH).toBe(fine.inductanceH);
    expect(rough.inductanceTolerancePercent).toBeGreaterThan(3 * fine.inductanceTolerancePercent);
    // One turn of fourteen missing: the square law's 14 % at most, less because it is the innermost, the smallest.
    expect(counted.inductanceTolerancePercent).toBeGreaterThan(5);
    expect(counted.inductanceTolerancePercent).toBeLessThan(100 * (1 - (13 / 14) ** 2));
  });

  it('puts the reading into the design, which then scales to it', () => {
    const design = withReading(airPair(), 'receiver', fromInductanceMeter(9.1e-6, 2));
    expect(design.receiver.coil.inductanceUh).toBe(9.1);
    expect(design.receiver.coil.inductanceTolerancePercent).toBe(2);
    expect(design.receiver.coil.resistanceMohm).toBeNull();
  });

  it('refuses what cannot be', () => {
    expect(() => fromInductanceMeter(0, 1)).toThrow(InputError);
    const ring = {
      capacitanceF: 1e-7,
      capacitancePercent: 1,
      periods: 5,
      durationS: 5e-5,
      durationPercent: 1,
      ratio: 0.9,
    };
    expect(() => fromRingDown(ring)).toThrow(/above 1/);
  });
});
