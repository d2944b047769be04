import { describe, expect, test } from 'vitest';
import { randomSource } from '../../../src/numerics/random.ts';
import {
  bridgeHarmonic,
  edgePhase,
  rectifierCurrentInto,
  rectifierVoltage,
  solveFirstHarmonic,
  startFromFirstHarmonic,
} from '../../../src/physics/circuit/first-harmonic.ts';
import type { BridgeDrive } from '../../../src/physics/circuit/periodic-steady-state.ts';
import type { SwitchedNetwork } from '../../../src/physics/circuit/switched-network.ts';

const network: SwitchedNetwork = {
  l1: 6.3e-6,
  l2: 14e-6,
  m: 0.4 * Math.sqrt(6.3e-6 * 14e-6),
  c1: 4e-7,
  cs: 1.2e-7,
  r1: 0.13,
  r2: 0.32,
  cd: 1.8e-9,
  ringingResistance: 0,
  rectifierDrop: 0.06,
  rectifierResistance: 0.12,
  reservoir: 2e-5,
  loadA: 0.5,
};
const drive: BridgeDrive = { bridge: 'full', volts: 5, frequency: 150e3, duty: 1 };

describe('bridge harmonics', () => {
  test.each([
    { bridge: 'full', volts: 5, frequency: 1, duty: 1 },
    { bridge: 'full', volts: 5, frequency: 1, duty: 0.4 },
    { bridge: 'half', volts: 12, frequency: 1, duty: 0.5 },
    { bridge: 'half', volts: 12, frequency: 1, duty: 0.2 },
  ] as const)('Fourier integral of the pulses centred at a quarter period: $bridge, duty $duty', (one) => {
    const pulse = (t: number) => {
      const half = one.bridge === 'full' ? one.duty / 4 : one.duty / 2;
      if (Math.abs(t - 0.25) < half) return one.volts;
      return one.bridge === 'full' && Math.abs(t - 0.75) < half ? -one.volts : 0;
    };
    for (const n of [1, 3, 5]) {
      let sum = 0;
      const count = 100000;
      for (let i = 0; i < count; i++) {
        const t = (i + 0.5) / count;
        sum += (2 / count) * pulse(t) * Math.sin(2 * Math.PI * n * t);
      }
      expect(Math.abs(bridgeHarmonic(one, n) - sum)).toBeLessThan(2e-4 * one.volts);
    }
    // The rising edge leads the centre of the pulse by half its width.
    const width = one.bridge === 'full' ? one.duty * Math.PI : 2 * one.duty * Math.PI;
    expect(edgePhase(one)).toBeCloseTo(Math.PI / 2 - width / 2, 12);
  });
});

test('rectifier input voltage: Fourier integral of the capacitor being charged by a sine', () => {
  for (const [current, total, omegaCd] of [
    [1, 5, 1e-3],
    [0.2, 8, 5e-3],
    [0.06, 8, 5e-3],
  ]) {
    const count = 200000;
    let real = 0;
    let imaginary = 0;
    // Over the positive half cycle: starts at -total, rises with the charge, clamps at +total.
    const x = current / omegaCd;
    for (let i = 0; i < count; i++) {
      const phi = ((i + 0.5) * Math.PI) / count;
      const v = Math.min(total, -total + x * (1 - Math.cos(phi)));
      real += (2 / count) * v * Math.sin(phi);
      imaginary += (2 / count) * v * Math.cos(phi);
    }
    const got = rectifierVoltage(current, total, omegaCd);
    expect(Math.abs(got.real - real)).toBeLessThan(1e-6 * total);
    expect(Math.abs(got.imaginary - imaginary)).toBeLessThan(1e-6 * total);
  }
  expect(rectifierVoltage(0.01, 8, 5e-3)).toEqual({ real: 0, imaginary: -2 });
  expect(rectifierVoltage(1, 5, 0).real).toBeCloseTo(20 / Math.PI, 12);
});

test('without parallel capacitor the closed form holds: V = (pi/4)(sqrt(U^2 - I^2 X^2) - I R)', () => {
  const source = randomSource(3);
  for (let i = 0; i < 100; i++) {
    const one = { ...network, cd: 0, m: (0.1 + 0.6 * source.uniform()) * Math.sqrt(network.l1 * network.l2) };
    const f = 110e3 + 90e3 * source.uniform();
    const load = source.uniform();
    const w = 2 * Math.PI * f;
    const x1 = w * one.l1 - 1 / (w * one.c1);
    const z1 = one.r1 * one.r1 + x1 * x1;
    const reflected = (w * one.m) ** 2 / z1;
    const r = one.r2 + one.rectifierResistance + reflected * one.r1;
    const x = w * one.l2 - 1 / (w * one.cs) - reflected * x1;
    const u = (w * one.m * 20) / Math.PI / Math.sqrt(z1);
    const current = (Math.PI / 2) * load;
    const inside = u * u - (current * x) ** 2;
    const expected = (Math.PI / 4) * (Math.sqrt(Math.max(0, inside)) - current * r) - one.rectifierDrop;
    const got = solveFirstHarmonic(one, { ...drive, frequency: f }, load);
    if (inside < 0 || expected + one.rectifierDrop < 0) expect(got.rectifiedV).toBeNaN();
    else expect(Math.abs(got.rectifiedV - expected)).toBeLessThan(1e-9 * Math.max(1, u));
  }
});

test('energy: bridge power = both coils + rectifier + output, to 1e-9', () => {
  for (const load of [0.01, 0.2, 0.8]) {
    const s = solveFirstHarmonic(network, drive, load);
    const out =
      0.5 * s.transmitterPeakA ** 2 * network.r1 +
      0.5 * s.receiverPeakA ** 2 * (network.r2 + network.rectifierResistance) +
      (s.rectifiedV + network.rectifierDrop) * load;
    expect(Math.abs(out / s.bridgeW - 1)).toBeLessThan(1e-9);
  }
});

test('current into a held voltage inverts voltage under a current', () => {
  for (const cd of [0, 1.8e-9, 8e-9]) {
    for (const load of [0.02, 0.3, 0.9]) {
      const one = { ...network, cd };
      const forward = solveFirstHarmonic(one, drive, load);
      const back = rectifierCurrentInto(one, drive, forward.rectifiedV);
      expect(Math.abs(back.rectifierA / load - 1)).toBeLessThan(1e-6);
      expect(Math.abs(back.bridgeW / forward.bridgeW - 1)).toBeLessThan(1e-6);
    }
  }
  expect(rectifierCurrentInto(network, drive, 50).rectifierA).toBe(0);
});

test('start state: six finite numbers, rectifier clamped between its rails', () => {
  for (const bridge of ['full', 'half'] as const) {
    for (const duty of bridge === 'full' ? [1, 0.3] : [0.5, 0.2]) {
      const one = { bridge, volts: 9, frequency: 150e3, duty };
      const solution = solveFirstHarmonic(network, one, 0.1);
      const start = startFromFirstHarmonic(network, one, solution, solution.rectifiedV);
      expect(start).toHaveLength(6);
      for (const value of start) expect(Number.isFinite(value)).toBe(true);
      const rail = solution.rectifiedV + network.rectifierDrop + network.rectifierResistance * Math.abs(start[2]);
      expect(Math.abs(start[4])).toBeLessThanOrEqual(rail + 1e-9);
    }
  }
});
