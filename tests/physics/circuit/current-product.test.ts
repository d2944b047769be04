import { describe, expect, test } from 'vitest';
import { networkOfBareCircuit, readBareCircuit } from '../../../src/physics/circuit/bare-circuit.ts';
import { firstHarmonicTier } from '../../../src/physics/circuit/first-harmonic-tier.ts';
import { solveMultiHarmonic } from '../../../src/physics/circuit/multi-harmonic.ts';
import { solveOperatingPoint } from '../../../src/physics/circuit/operating-point.ts';
import { solveLoadCurrent } from '../../../src/physics/circuit/periodic-operation.ts';
import { periodicTier } from '../../../src/physics/circuit/periodic-tier.ts';
import { typicalBoards, typicalLink } from './boards.ts';
import { TYPICAL_CIRCUIT } from './typical-circuit.ts';

const cold = { transmitterC: 25, receiverC: 25 };

describe('mean product of the coil currents', () => {
  test('periodic waveform and several harmonics agree', () => {
    const { network, drive } = networkOfBareCircuit(readBareCircuit({ ...TYPICAL_CIRCUIT, Cd: 0 }));
    const exact = solveLoadCurrent(network, drive, null, { quick: false, cache: null })!.readings;
    const multi = solveMultiHarmonic(network, drive, network.loadA)!.readings;
    const scale = exact.transmitterA * exact.receiverA;
    expect(Math.abs(exact.currentProduct - multi.currentProduct) / scale).toBeLessThan(0.01);
    expect(Math.abs(exact.currentProduct)).toBeLessThan(scale);
  });

  test('first harmonic and periodic waveform agree within what the first harmonic is worth', () => {
    const link = typicalLink(0.4);
    const boards = typicalBoards(5);
    const setting = { frequency: 150e3, level: 1 };
    const first = firstHarmonicTier(link, boards, cold).deliver(setting, 5);
    const exact = periodicTier(link, boards, cold).deliver(setting, 5, true);
    const share = (d: typeof first) => d.currentProduct / (d.transmitterA * d.receiverA);
    expect(Math.abs(share(first) - share(exact))).toBeLessThan(0.1);
  });

  test('Lenz: a receiver that is nearly short-circuited and far below its resonance opposes the transmitter’s field', () => {
    // Series capacitor so large that the loop is inductive: the current in the receiver runs against that in the transmitter.
    const boards = typicalBoards(5, { pickup: { seriesCapacitance: 1e-3, parallelCapacitance: 0, wakeV: 0.1 } });
    for (const sign of [1, -1]) {
      const link = { ...typicalLink(0.4), m: sign * typicalLink(0.4).m };
      const point = solveOperatingPoint(link, boards, 0.2, { tier: 'fast', awake: true });
      // Same sense of turning, positive M: against each other; negative M names the other terminals of a coil turned over.
      expect(sign * point.currentCorrelation).toBeLessThan(-0.5);
    }
  });
});
