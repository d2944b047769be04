import { expect, test } from 'vitest';
import { networkOfBareCircuit, readBareCircuit } from '../../../src/physics/circuit/bare-circuit.ts';
import { solveMultiHarmonic } from '../../../src/physics/circuit/multi-harmonic.ts';
import { harmonicBounds } from '../../../src/physics/exposure/harmonics.ts';
import { TYPICAL_CIRCUIT } from '../circuit/typical-circuit.ts';

const { network, drive } = networkOfBareCircuit(readBareCircuit({ ...TYPICAL_CIRCUIT, Cd: 0 }));
const circuit = {
  l1: network.l1,
  l2: network.l2,
  m: network.m,
  c1: network.c1,
  cs: network.cs,
  r1: network.r1,
  r2: network.r2 + network.rectifierResistance,
  bridge: drive.bridge,
  duty: drive.duty,
  bridgeV: drive.volts,
  rectifierV: 0,
};

test('all harmonics together are at least what the waveform has beyond its fundamental', () => {
  const solution = solveMultiHarmonic(network, drive, network.loadA)!;
  const rectifierV = solution.readings.rectifiedV + network.rectifierDrop;
  const bounds = harmonicBounds({ ...circuit, rectifierV }, drive.frequency);
  const sum = (key: 'transmitterA' | 'receiverA') => Math.hypot(...bounds.map((bound) => bound[key]));
  // A sine of the same peak carries peak / sqrt 2: what the peak has beyond the rms is no more than the harmonics' sum.
  const { transmitterA, transmitterPeakA } = solution.readings;
  expect(sum('transmitterA')).toBeGreaterThan(0);
  expect(transmitterPeakA / Math.SQRT2 - transmitterA).toBeLessThan(
    bounds.reduce((total, bound) => total + bound.transmitterA, 0),
  );
  expect(bounds.every(({ order }) => order % 2 === 1)).toBe(true);
});

test('uncoupled, the third is the third of the bridge over its loop', () => {
  const [third] = harmonicBounds({ ...circuit, m: 0, duty: 1 }, drive.frequency);
  const omega = 6 * Math.PI * drive.frequency;
  const x = omega * circuit.l1 - 1 / (omega * circuit.c1);
  const wanted = (4 * circuit.bridgeV) / (3 * Math.PI) / Math.hypot(circuit.r1, x) / Math.SQRT2;
  expect(third!.order).toBe(3);
  expect(third!.transmitterA / wanted).toBeCloseTo(1, 9);
  expect(third!.receiverA).toBe(0);
});

test('a half bridge off half duty has even ones too; at duty 2/3 a full bridge has no third', () => {
  const half = harmonicBounds({ ...circuit, bridge: 'half', duty: 0.3 }, drive.frequency);
  expect(half[0]!.order).toBe(2);
  expect(half[0]!.transmitterA).toBeGreaterThan(0);
  const full = harmonicBounds({ ...circuit, duty: 2 / 3 }, drive.frequency);
  const third = full.find(({ order }) => order === 3);
  expect(third?.transmitterA ?? 0).toBeLessThan(1e-12);
});
