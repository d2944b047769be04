import { expect, test } from 'vitest';
import { networkOfBareCircuit, readBareCircuit } from '../../../src/physics/circuit/bare-circuit.ts';
import { solveLoadCurrent } from '../../../src/physics/circuit/periodic-operation.ts';
import { TYPICAL_CIRCUIT } from './typical-circuit.ts';

const circuit = TYPICAL_CIRCUIT;

test.each([
  ['continuous', {}],
  ['light load', { Idc: 0.03, Vin: 9, f: 195e3 }],
  ['bottom of the window at high coupling', { k: 0.6, f: 112e3 }],
  ['no parallel capacitor', { Cd: 0 }],
  ['low duty', { duty: 0.4, Vin: 12, Idc: 0.2 }],
  ['half bridge, low duty', { bridge: 'half', duty: 0.2, Vin: 19, C1: 1e-7, L1: 24e-6, Idc: 0.1 }],
] as const)('%s: averages close the energy and charge balance, quick ones nearly', (_name, change) => {
  const { network, drive } = networkOfBareCircuit(readBareCircuit({ ...circuit, ...change }));
  const damped = { ...network, ringingResistance: network.cd > 0 ? 4 : 0 };
  for (const [one, tolerance] of [
    [network, 2e-8],
    [damped, 2e-8],
  ] as const) {
    for (const quick of [false, true]) {
      const solution = solveLoadCurrent(one, drive, null, { quick, cache: null });
      expect(solution).not.toBeNull();
      const r = solution!.readings;
      const out =
        r.transmitterA ** 2 * one.r1 +
        r.receiverA ** 2 * one.r2 +
        r.ringingLoss +
        r.rectifierLoss +
        r.rectifiedV * r.rectifierA;
      // The reservoir's ripple correlates with the rectifier current: power into it is not exactly mean voltage times mean current.
      const ripple = (r.rectifierA / (8 * drive.frequency * one.reservoir)) ** 2 / r.rectifiedV ** 2;
      expect(Math.abs(out / r.bridgeW - 1), `quick ${quick}`).toBeLessThan((quick ? 3e-6 : tolerance) + 2 * ripple);
      expect(Math.abs(r.rectifierA / one.loadA - 1)).toBeLessThan(quick ? 1e-5 : 1e-7);
      expect(r.idleShare).toBeGreaterThanOrEqual(0);
      expect(r.idleShare).toBeLessThan(1);
      // A capacitor's peak-to-peak charge cannot be less than that of its rms current's fundamental share.
      expect(r.transmitterPeakA).toBeGreaterThan(r.transmitterA);
      expect(r.receiverPeakA).toBeGreaterThan(r.receiverA);
    }
  }
});
