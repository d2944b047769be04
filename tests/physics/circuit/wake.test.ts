import { expect, test } from 'vitest';
import { networkOfBareCircuit, readBareCircuit } from '../../../src/physics/circuit/bare-circuit.ts';
import { solveLoadCurrent } from '../../../src/physics/circuit/periodic-operation.ts';
import { wakingAt } from '../../../src/physics/circuit/wake.ts';
import { typicalBoards, typicalLink } from './boards.ts';

test('wake voltage rises with coupling; near wakes, far sleeps', () => {
  const boards = typicalBoards(5);
  for (const method of ['fast', 'exact'] as const) {
    let previous = 0;
    for (const k of [0.08, 0.2, 0.35, 0.5]) {
      const { rectifiedV, wakes } = wakingAt(typicalLink(k), boards, method);
      expect(rectifiedV).toBeGreaterThan(previous);
      expect(wakes).toBe(rectifiedV >= boards.pickup.wakeV);
      previous = rectifiedV;
    }
    expect(wakingAt(typicalLink(0.08), boards, method).wakes).toBe(false);
    expect(wakingAt(typicalLink(0.5), boards, method).wakes).toBe(true);
  }
});

test('without parallel capacitor the exact one is the bare circuit at the ping frequency under a milliampere', () => {
  const base = typicalBoards(5);
  const boards = typicalBoards(5, {
    drive: { supplyResistance: 0 },
    pickup: { parallelCapacitance: 0 },
    thermal: { ...base.thermal, ambient: 20 },
  });
  const link = typicalLink(0.3);
  const flat = { dc: 0.1, linear: 0, quadratic: 0, quartic: 0 };
  const plain = { ...link, r1: flat, r2: flat };
  const { network, drive } = networkOfBareCircuit(
    readBareCircuit({
      bridge: 'full',
      L1: link.l1,
      C1: 400e-9,
      R1: 0.1,
      Ron: 0.02,
      RC1: 0.01,
      L2: link.l2,
      Cs: 110e-9,
      R2: 0.1,
      RCs: 0.02,
      Cd: 0,
      Vd0: 0.11,
      Rd: 0.05,
      Vin: 5,
      k: 0.3,
      f: 175e3,
      duty: 1,
      Idc: 1e-3,
      Crect: 20e-6,
    }),
  );
  const bare = solveLoadCurrent(network, drive);
  const waking = wakingAt(plain, boards, 'exact');
  expect(waking.method).toBe('periodic');
  expect(Math.abs(waking.rectifiedV / bare!.readings.rectifiedV - 1)).toBeLessThan(1e-4);
});
