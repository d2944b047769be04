import { describe, expect, test } from 'vitest';
import { randomSource } from '../../../src/numerics/random.ts';
import { type FlowInterval, SwitchedFlow } from '../../../src/physics/circuit/switched-flow.ts';
import {
  networkMatrices,
  SIZE,
  type SwitchedNetwork,
  tameNetwork,
} from '../../../src/physics/circuit/switched-network.ts';

const base: SwitchedNetwork = {
  l1: 6.3e-6,
  l2: 14e-6,
  m: 3.7e-6,
  c1: 4e-7,
  cs: 1.2e-7,
  r1: 0.13,
  r2: 0.32,
  cd: 1.8e-9,
  ringingResistance: 0,
  rectifierDrop: 0.06,
  rectifierResistance: 0.5,
  reservoir: 2e-5,
  loadA: 0.5,
};
const period = 1 / 150e3;
const segments = [
  { volts: 5, duration: 0.35 * period },
  { volts: 0, duration: 0.15 * period },
];

/** Plain fourth-order Runge-Kutta over many small steps, mode chosen in every one: slow, independent of the exponentials. */
function integrate(network: SwitchedNetwork, start: Float64Array, steps: number): Float64Array {
  const { on, off } = networkMatrices(network);
  let x = Float64Array.of(...start, 1, 0);
  const negate = (v: Float64Array) => v.map((value, i) => (i < 5 || i === 7 ? -value : value));
  const rate = (v: Float64Array): Float64Array => {
    const limit = v[5] + network.rectifierDrop;
    const drive = v[4] + network.ringingResistance * v[2];
    const flip = drive < -limit;
    const y = flip ? negate(v) : v;
    const a = Math.abs(drive) > limit ? on : off;
    const d = new Float64Array(SIZE);
    for (let i = 0; i < 6; i++) for (let j = 0; j < SIZE; j++) d[i] += a[i * SIZE + j] * y[j];
    return flip ? negate(d) : d;
  };
  for (const { volts, duration } of segments) {
    x[7] = volts;
    const h = duration / steps;
    const add = (a: Float64Array, b: Float64Array, s: number) => a.map((value, i) => value + s * b[i]);
    for (let k = 0; k < steps; k++) {
      const k1 = rate(x);
      const k2 = rate(add(x, k1, h / 2));
      const k3 = rate(add(x, k2, h / 2));
      const k4 = rate(add(x, k3, h));
      x = x.map((value, i) => value + (h / 6) * (k1[i] + 2 * k2[i] + 2 * k3[i] + k4[i]));
    }
  }
  return x;
}

const starts = () => {
  const source = randomSource(11);
  return Array.from({ length: 4 }, () =>
    Float64Array.of(
      source.normal(),
      3 * source.normal(),
      0.5 * source.normal(),
      4 * source.normal(),
      2 * source.normal(),
      5,
    ),
  );
};

describe('the exact flow', () => {
  test('agrees with plain Runge-Kutta', () => {
    for (const ringingResistance of [0, 4]) {
      // A softer rectifier, so that explicit steps can follow it.
      const network = tameNetwork({ ...base, ringingResistance, rectifierResistance: 3 }, 1 / period);
      const flow = new SwitchedFlow(network, segments, period);
      for (const start of starts()) {
        flow.begin(start);
        expect(flow.run(false, null)).toBe(true);
        const expected = integrate(network, start, 20000);
        for (let i = 0; i < 6; i++) expect(Math.abs(flow.state[i] - expected[i]), `state ${i}`).toBeLessThan(2e-5);
      }
    }
  });

  test('its sensitivity is the derivative of the end state, also where the receiver current is cut off (no parallel capacitor)', () => {
    for (const cd of [1.8e-9, 0]) {
      const network = tameNetwork({ ...base, cd }, 1 / period);
      const flow = new SwitchedFlow(network, segments, period);
      for (const start of starts()) {
        if (cd === 0) start[4] = 0;
        flow.begin(start);
        flow.run(true, null);
        const sensitivity = flow.sensitivity.slice();
        for (let j = 0; j < 6; j++) {
          if (cd === 0 && j === 4) continue;
          const h = 1e-6;
          const ends = [h, -h].map((shift) => {
            const moved = start.slice();
            moved[j] += shift;
            flow.begin(moved);
            flow.run(false, null);
            return flow.state.slice();
          });
          for (let i = 0; i < 6; i++) {
            const slope = (ends[0][i] - ends[1][i]) / (2 * h);
            expect(Math.abs(slope - sensitivity[i * 6 + j]), `d${i}/d${j}`).toBeLessThan(2e-4 * (1 + Math.abs(slope)));
          }
        }
      }
    }
  });

  test('negating bridge and start negates everything but the rectified voltage', () => {
    const network = tameNetwork(base, 1 / period);
    const flow = new SwitchedFlow(network, segments, period);
    const mirror = new SwitchedFlow(
      network,
      segments.map((segment) => ({ ...segment, volts: -segment.volts })),
      period,
    );
    for (const start of starts()) {
      flow.begin(start);
      flow.run(false, null);
      mirror.begin(start.map((value, i) => (i < 5 ? -value : value)));
      mirror.run(false, null);
      for (let i = 0; i < 5; i++) expect(Math.abs(flow.state[i] + mirror.state[i])).toBeLessThan(1e-12);
      expect(Math.abs(flow.state[5] - mirror.state[5])).toBeLessThan(1e-12);
    }
  });

  test('recorded stretches cover the time once', () => {
    const flow = new SwitchedFlow(tameNetwork(base, 1 / period), segments, period);
    const intervals: FlowInterval[] = [];
    flow.begin(starts()[0]);
    flow.run(false, intervals);
    const total = intervals.reduce((sum, one) => sum + one.ladder.finest * (one.units + one.lead + one.tail), 0);
    expect(Math.abs(total / (0.5 * period) - 1)).toBeLessThan(1e-9);
  });

  test('another bridge voltage keeps the exponentials', () => {
    const network = tameNetwork(base, 1 / period);
    const flow = new SwitchedFlow(network, segments, period);
    const doubled = segments.map((segment) => ({ ...segment, volts: 2 * segment.volts }));
    flow.redrive(doubled, period);
    const fresh = new SwitchedFlow(network, doubled, period);
    const [start] = starts();
    flow.begin(start);
    fresh.begin(start);
    flow.run(false, null);
    fresh.run(false, null);
    expect([...flow.state]).toEqual([...fresh.state]);
  });

  test('reports a reservoir that runs empty', () => {
    const flow = new SwitchedFlow(tameNetwork({ ...base, loadA: 500 }, 1 / period), segments, period);
    flow.begin(Float64Array.of(0, 0, 0, 0, 0, 0.1));
    expect(flow.run(false, null)).toBe(false);
  });
});
