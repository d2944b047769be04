import { expect, test } from 'vitest';
import { networkOfBareCircuit, readBareCircuit } from '../../../src/physics/circuit/bare-circuit.ts';
import { solveFirstHarmonic, startFromFirstHarmonic } from '../../../src/physics/circuit/first-harmonic.ts';
import {
  type FlowCache,
  measurePeriodic,
  PERIODIC_DEFAULTS,
  periodicState,
} from '../../../src/physics/circuit/periodic-steady-state.ts';
import { TYPICAL_CIRCUIT } from './typical-circuit.ts';

const circuit = readBareCircuit(TYPICAL_CIRCUIT);
const { network, drive } = networkOfBareCircuit(circuit);
const guess = () => {
  const first = solveFirstHarmonic(network, drive, network.loadA);
  return startFromFirstHarmonic(network, drive, first, first.rectifiedV);
};

test('reaches the state that plain settling over thousands of cycles reaches', () => {
  const newton = periodicState(network, drive, guess());
  expect(newton.converged).toBe(true);
  expect(newton.residual).toBeLessThan(1e-9);
  expect(newton.iterations).toBeLessThan(12);
  const settled = periodicState(network, drive, guess(), { tolerance: 1e-9, maxIterations: 0, settle: 4000 });
  for (let i = 0; i < 6; i++) expect(Math.abs(newton.start[i] - settled.start[i])).toBeLessThan(1e-7);
});

test('its multiplier is the rate at which settling converges', () => {
  const { start, multiplier } = periodicState(network, drive, guess());
  expect(multiplier).toBeLessThan(1);
  const moved = start.slice();
  moved[5] += 0.01;
  const distance = (cycles: number) => {
    const after = periodicState(network, drive, moved, { tolerance: 0, maxIterations: 0, settle: cycles });
    return Math.hypot(...after.start.map((value, i) => value - start[i]));
  };
  // Two complex pairs may beat: compare over many half cycles.
  const rate = (distance(400) / distance(200)) ** (1 / 200);
  expect(Math.abs(rate - multiplier)).toBeLessThan(0.01);
});

test('half-wave symmetric drives cover half a period, others a whole one', () => {
  expect(periodicState(network, drive, guess()).symmetric).toBe(true);
  const half = { ...drive, bridge: 'half' as const, duty: 0.5 };
  expect(periodicState(network, half, guess()).symmetric).toBe(true);
  expect(periodicState(network, { ...half, duty: 0.3 }, guess()).symmetric).toBe(false);
});

test('a cache gives the same answer for another voltage', () => {
  const cache: FlowCache = { network: null, frequency: 0, duty: 0, flow: null };
  periodicState(network, drive, guess(), PERIODIC_DEFAULTS, cache);
  const other = { ...drive, volts: 6 };
  const cached = periodicState(network, other, guess(), PERIODIC_DEFAULTS, cache);
  const fresh = periodicState(network, other, guess());
  expect([...cached.start]).toEqual([...fresh.start]);
  expect(measurePeriodic(cached, other).rectifiedV).toBe(measurePeriodic(fresh, other).rectifiedV);
});

test('says when it does not converge', () => {
  const hopeless = periodicState({ ...network, loadA: 50 }, drive, guess());
  expect(hopeless.converged).toBe(false);
});
