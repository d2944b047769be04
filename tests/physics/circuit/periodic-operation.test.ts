import { expect, test } from 'vitest';
import { networkOfBareCircuit, readBareCircuit } from '../../../src/physics/circuit/bare-circuit.ts';
import { SHORT_V, solveHeldVoltage, solveLoadCurrent } from '../../../src/physics/circuit/periodic-operation.ts';
import { TYPICAL_CIRCUIT } from './typical-circuit.ts';

const circuit = { ...TYPICAL_CIRCUIT, Crect: 1e-3 };
const build = (change: object = {}) => networkOfBareCircuit(readBareCircuit({ ...circuit, ...change }));

test('current into a held voltage falls with that voltage and inverts the voltage under a current (large reservoir)', () => {
  const { network, drive } = build();
  let previous = Number.POSITIVE_INFINITY;
  for (const volts of [SHORT_V, 1, 2, 4, 5, 5.5]) {
    const held = solveHeldVoltage(network, drive, volts);
    expect(held).not.toBeNull();
    const current = held!.readings.rectifierA;
    expect(current).toBeLessThan(previous);
    previous = current;
    if (volts < 1 || current < 0.05) continue;
    const loaded = solveLoadCurrent({ ...network, loadA: current }, drive);
    expect(Math.abs(loaded!.readings.rectifiedV / volts - 1)).toBeLessThan(3e-4);
  }
});

test('every start leads to the same state (A11, where first harmonic and multi-harmonic both fail)', () => {
  const { network, drive } = build({ k: 0.6, f: 112e3, Crect: 2e-5 });
  const found = [3, 12, 20, 33].map((volts) => {
    const start = solveHeldVoltage(network, drive, volts)!.state.start;
    return solveLoadCurrent(network, drive, start)!.readings.rectifiedV;
  });
  for (const volts of found) expect(Math.abs(volts / found[0] - 1)).toBeLessThan(1e-7);
});

test('finds a state where the first harmonic has none (k 0.85 below resonance)', () => {
  const { network, drive } = build({ k: 0.85, f: 140e3, Idc: 0.7 });
  const solution = solveLoadCurrent(network, drive);
  expect(solution?.path).toBe('held voltage');
  expect(solution!.state.multiplier).toBeLessThan(1);
});

test('a load beyond the short-circuit current has no state; one just below has', () => {
  const { network, drive } = build();
  const short = solveHeldVoltage(network, drive, SHORT_V)!.readings.rectifierA;
  expect(solveLoadCurrent({ ...network, loadA: short * 1.001 }, drive)).toBeNull();
  expect(solveLoadCurrent({ ...network, loadA: short * 0.98 }, drive)).not.toBeNull();
});

test('a voltage that the link cannot reach draws nothing', () => {
  for (const change of [{}, { Cd: 0 }, { bridge: 'half', duty: 0.2 }]) {
    const { network, drive } = build(change);
    expect(solveHeldVoltage(network, drive, 60)?.readings.rectifierA).toBe(0);
  }
});
