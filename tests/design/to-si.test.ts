import { expect, test } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { parseDesign } from '../../src/design/resolve.ts';
import { boardsOf, coilSpecOf, ferriteOf, metalOf, poseOf } from '../../src/design/to-si.ts';
import type { Design } from '../../src/design/types.ts';
import { linkSidesOf } from '../../src/design/wind.ts';

function demo(): Design {
  const result = parseDesign(DEMO_DESIGN);
  if (!result.ok) throw new Error('the demo has faults');
  return result.design;
}

test('coils, plates and boards arrive in SI, as the nearest double of the decimal', () => {
  const design = demo();
  const spec = coilSpecOf(design.receiver.coil, 1);
  expect(spec.outline).toEqual({
    shape: 'roundedRectangle',
    outerWidth: 0.046,
    outerHeight: 0.033,
    innerWidth: 0.028,
    innerHeight: 0.015,
    outerCornerRadius: 0.01,
    innerCornerRadius: 0.002,
  });
  expect(spec).toMatchObject({ turns: 14, layers: 2, layerPitch: 0.0008, leadSide: 1 });
  expect(spec.conductor).toEqual({ kind: 'litz', strands: 60, strandDiameter: 0.00008, bundleDiameter: 0.00075 });
  expect(ferriteOf(design.transmitter.ferrite)).toEqual({
    outline: { shape: 'roundedRectangle', width: 0.05, height: 0.05, cornerRadius: 0 },
    thickness: 0.001,
    standoff: 0.0005,
    relativePermeability: 700,
    lossTangent: 0.02,
  });
  expect(metalOf(design.transmitter.metal)).toBeNull();
  expect(metalOf(design.receiver.metal)?.conductivity).toBe(36e6);
  const { drive, pickup, thermal } = boardsOf(design);
  expect(drive).toMatchObject({ seriesCapacitance: 400e-9, frequencyMin: 108e3, gateCharge: 41e-9, deadTime: 76e-9 });
  expect(pickup).toMatchObject({ seriesCapacitance: 120e-9, parallelCapacitance: 1.8e-9, reservoirCapacitance: 20e-6 });
  expect(thermal).toMatchObject({ ambient: 25, transmitterResistance: 18, receiverToCell: 20, touchMax: 48 });
});

test('a path outline becomes flat points in metres', () => {
  const design = demo();
  const outline = {
    shape: 'path',
    pointsMm: [
      [0, 0],
      [10, 0],
      [10, 5],
    ] as [number, number][],
    pitchMm: 1,
  } as const;
  const spec = coilSpecOf({ ...design.transmitter.coil, outline: { ...outline, pointsMm: outline.pointsMm } }, -1);
  expect(spec.outline).toEqual({ shape: 'path', points: Float64Array.of(0, 0, 0.01, 0, 0.01, 0.005), pitch: 0.001 });
});

test('the pose adds half of each winding to the gap and turns degrees to radians', () => {
  const design = demo();
  const { transmitter, receiver } = linkSidesOf(design);
  const pose = poseOf(
    { ...design, placement: { ...design.placement, offsetXMm: 3, yawDeg: 90, tiltXDeg: -3 } },
    transmitter.winding,
    receiver.winding,
  );
  // 5.9 mm, half of a 1.1 mm bundle, half of two layers of 0.75 mm at 0.8 mm pitch.
  expect(pose.z).toBeCloseTo(0.0059 + 0.00055 + 0.000775, 15);
  expect(pose).toMatchObject({ x: 0.003, y: 0, yaw: Math.PI / 2, tiltX: (-3 * Math.PI) / 180 });
});
