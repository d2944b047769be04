import { describe, expect, test } from 'vitest';
import { poseMatrix } from '../../../src/physics/coil/nodes.ts';
import { clearSurface } from '../../../src/physics/exposure/clear-surface.ts';
import { largestField, metDistance } from '../../../src/physics/exposure/largest-field.ts';
import { airFields, rmsField } from '../../../src/physics/exposure/link-field.ts';
import { createFieldModel } from '../../../src/physics/field/field-model.ts';
import { sideBodies } from '../../../src/physics/field/solid-bodies.ts';
import { coil1, coil2, disc, pose } from '../field/fixtures.ts';

const transmitter = { winding: coil1, ferrite: disc(25e-3, 1e-3, 700, 0.5e-3), metal: null };
const receiver = { winding: coil2, ferrite: disc(21e-3, 0.8e-3, 700, 0.3e-3), metal: null };
const at = { ...pose(0.0069, 0.006), yaw: 0.3, tiltX: 0, tiltY: 0 };
const sides = [
  { bodies: sideBodies(transmitter, -1), matrix: null },
  { bodies: sideBodies(receiver, 1), matrix: poseMatrix(at) },
] as const;
const currents = { transmitterA: 1.5, receiverA: 0.9, correlation: -0.1 };
const air = airFields(coil1, coil2, at);

describe('the surface at a distance', () => {
  const d = 0.03;
  const surface = clearSurface(sides, d);
  const p = new Float64Array(3);

  test('keeps it: its points lie that far from the nearest part and no nearer', () => {
    let kept = 0;
    for (let i = 0; i < 60; i++) {
      const side = (i % 2) as 0 | 1;
      if (!surface.point(side, (Math.PI * (i + 0.5)) / 60, 2.4 * i, p)) continue;
      expect(surface.distance(p[0]!, p[1]!, p[2]!) / d).toBeCloseTo(1, 4);
      kept++;
    }
    expect(kept).toBeGreaterThan(30);
  });

  test('leaves out what lies between the sides, and is the flat plates’ distance over their middle', () => {
    expect(surface.point(0, 0, 0, p)).toBe(false);
    expect(surface.point(0, Math.PI, 0, p)).toBe(true);
    const back = Math.min(...sides[0].bodies.map((body) => body.low));
    expect(p[2]! / (back - d)).toBeCloseTo(1, 5);
    expect(surface.distance(0, 0, 0)).toBe(0);
  });
});

describe('the largest field', () => {
  test.each([0.005, 0.03, 0.2])('at %s m is within 1 % of a thirty times denser search', (d) => {
    const surface = clearSurface(sides, d);
    const quick = largestField(air, currents, surface);
    const dense = largestField(air, currents, surface, { directions: 2700, climbs: 6 });
    expect(quick.rmsT).toBeGreaterThan(0.99 * dense.rmsT);
    expect(quick.evaluations).toBeLessThan(900);
    const [x, y, z] = quick.at;
    expect(surface.distance(x, y, z) / d).toBeCloseTo(1, 4);
    expect(rmsField(air, currents, x, y, z).rmsT).toBeCloseTo(quick.rmsT, 15);
  });

  test('falls with the distance, in the end with its cube', () => {
    const largest = (d: number) => largestField(air, currents, clearSurface(sides, d)).rmsT;
    const [near, mid, far, farther] = [0.01, 0.05, 1, 2].map(largest) as [number, number, number, number];
    expect(near).toBeGreaterThan(mid);
    expect(mid).toBeGreaterThan(far);
    // The clear distance begins at the plates: a little more than the cube of the ratio.
    expect(Math.log2(far / farther)).toBeGreaterThan(2.85);
    expect(Math.log2(far / farther)).toBeLessThan(3.01);
  });

  test('ferrite behind both coils changes it by more than the field is uncertain, so that air cannot stand in', () => {
    const model = createFieldModel(transmitter, receiver);
    const [one, two] = [model.fieldView(at, 1, 0), model.fieldView(at, 0, 1)];
    const plates = {
      transmitter: (x: number, y: number, z: number, out: Float64Array) => void one.at(x, y, z, out),
      receiver: (x: number, y: number, z: number, out: Float64Array) => void two.at(x, y, z, out),
    };
    const surface = clearSurface(sides, 0.05);
    const options = { directions: 30, climbs: 1 };
    const ratio =
      largestField(plates, currents, surface, options).rmsT / largestField(air, currents, surface, options).rmsT;
    expect(Math.abs(ratio - 1)).toBeGreaterThan(0.04);
    expect(ratio).toBeGreaterThan(0.3);
    expect(ratio).toBeLessThan(3);
  });
});

describe('where a level is met', () => {
  test('a pure power is found, with its power', () => {
    const met = metDistance((d) => 1e-6 * (0.1 / d) ** 3, 27e-6);
    expect(met.distance).toBeCloseTo(0.1 / 3, 4);
    expect(met.fall).toBeCloseTo(3, 2);
    expect(met.inRange).toBe('inside');
  });

  test('below the level everywhere, and above it everywhere, are said', () => {
    expect(metDistance((d) => 1e-9 / d, 27e-6).inRange).toBe('met at the nearest');
    expect(metDistance((d) => 1 / d, 27e-6).inRange).toBe('not met at the farthest');
    expect(metDistance(() => 1e-30, 27e-6).inRange).toBe('met at the nearest');
  });

  test('of a real link: the field there is the level', () => {
    const largest = (d: number) => largestField(air, currents, clearSurface(sides, d)).rmsT;
    const met = metDistance(largest, 27e-6);
    expect(largest(met.distance) / 27e-6).toBeCloseTo(1, 2);
  });
});
