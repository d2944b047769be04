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

test('are never below what the waveform has, harmonic by harmonic', () => {
  const solution = solveMultiHarmonic(network, drive, network.loadA)!;
  const rectifierV = solution.readings.rectifiedV + network.rectifierDrop;
  const bounds = harmonicBounds({ ...circuit, rectifierV }, drive.frequency);
  expect(bounds.every(({ order }) => order % 2 === 1)).toBe(true);
  for (const bound of bounds) {
    const actual = solution.harmonics.find(({ order }) => order === bound.order)!;
    expect(bound.transmitterA).toBeGreaterThanOrEqual(actual.transmitterA * (1 - 1e-9));
    expect(bound.receiverA).toBeGreaterThanOrEqual(actual.receiverA * (1 - 1e-9));
    expect(bound.transmitterA).toBeLessThan(solution.readings.transmitterA);
  }
  // And the harmonics are the waveform: their squares add up to the readings'.
  const square = (key: 'transmitterA' | 'receiverA') => Math.hypot(...solution.harmonics.map((entry) => entry[key]));
  expect(square('transmitterA') / solution.readings.transmitterA).toBeCloseTo(1, 9);
  expect(square('receiverA') / solution.readings.receiverA).toBeCloseTo(1, 9);
  const product = solution.harmonics.reduce((sum, entry) => sum + entry.product, 0);
  expect(product).toBeCloseTo(solution.readings.currentProduct, 9);
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
