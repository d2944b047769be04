import { expect, test } from 'vitest';
import { InputError } from '../../../src/numerics/errors.ts';
import { refusePlates, refusePose, refuseTouching } from '../../../src/physics/field/plate-fault.ts';
import { bodyDistance, heightOver, sideBodies } from '../../../src/physics/field/solid-bodies.ts';
import { coil1, coil2, square } from './fixtures.ts';

const one = { winding: coil1, ferrite: square(50e-3, 1e-3, 700, 0.5e-3), metal: null };
const two = { winding: coil2, ferrite: square(48e-3, 0.6e-3, 700, 0.2e-3), metal: null };
const shifted = (z: number) => Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, z);

const paths = (work: () => void): string[] => {
  try {
    work();
    return [];
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return error.faults.map(({ path }) => path);
  }
};

test('clear parts pass; parts that touch are named on both sides', () => {
  const [transmitter, receiver] = [sideBodies(one, -1), sideBodies(two, 1)];
  const touch = coil1.halfThickness + coil2.halfThickness;
  expect(paths(() => refuseTouching(transmitter, receiver, shifted(touch + 1e-4)))).toEqual([]);
  expect(paths(() => refuseTouching(transmitter, receiver, shifted(touch - 1e-4)))).toEqual(['receiver.coil']);
});

test('the distance of flat bodies above each other is the gap between them', () => {
  const [transmitter, receiver] = [sideBodies(one, -1), sideBodies(two, 1)];
  const z = 12e-3;
  const gap = z - coil1.halfThickness - coil2.halfThickness;
  expect(bodyDistance(transmitter[0], receiver[0], shifted(z))).toBeCloseTo(gap, 5);
  // Over the transmitter's mid-plane the nearest of the receiver is its winding's face.
  expect(heightOver(0, -1, receiver, shifted(z))).toBeCloseTo(z - coil2.halfThickness, 12);
});

test('numbers that the model cannot hold are faults with their path', () => {
  const odd = { ...square(50e-3, 1e-3, 0.5, -1e-3), thickness: 1 };
  expect(paths(() => refusePlates({ ...one, ferrite: odd }, 'transmitter'))).toEqual([
    'transmitter.ferrite.thickness',
    'transmitter.ferrite.standoff',
    'transmitter.ferrite.relativePermeability',
  ]);
  expect(paths(() => refusePlates(one, 'transmitter'))).toEqual([]);
  expect(paths(() => refusePose({ x: Number.NaN, y: 0, z: 1, yaw: 0, tiltX: 0, tiltY: 0 }))).toEqual(['placement']);
});
