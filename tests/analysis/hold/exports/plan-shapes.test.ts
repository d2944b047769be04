import { describe, expect, it } from 'vitest';
import {
  PLAN_LAYERS,
  type PlanShape,
  planBox,
  planShapes,
  roundedCorners,
} from '../../../../src/analysis/hold/exports/plan-shapes.ts';
import type { Design } from '../../../../src/design/types.ts';
import { sampleDesign, sampleMap } from './sample.ts';

const count = (shapes: readonly PlanShape[], layer: string) => shapes.filter((s) => s.layer === layer).length;

describe('planShapes', () => {
  it('draws both edges of both coils, device, pocket, magnets and outlines, each on its layer', () => {
    const shapes = planShapes(sampleDesign(), sampleMap(), {
      restBand: Float64Array.from([1, 0, 0, 1, -1, 0, 0, -1]),
    });
    const wanted = {
      transmitterCoil: 2,
      receiverCoil: 2,
      device: 1,
      recess: 1,
      magnets: 2,
      safeOutline: 1,
      restBand: 1,
    };
    for (const [layer, n] of Object.entries(wanted)) expect(count(shapes, layer)).toBe(n);
    for (const shape of shapes) expect(PLAN_LAYERS).toContain(shape.layer);
  });

  it('takes a stated clearance, turns with the device, follows further coils and free paths', () => {
    const base = sampleDesign();
    const design = {
      ...base,
      placement: { ...base.placement, yawDeg: 90 },
      transmitter: {
        ...base.transmitter,
        coil: {
          outline: {
            shape: 'path',
            pointsMm: [
              [-10, -5],
              [10, -5],
              [10, 5],
              [-10, 5],
            ],
            pitchMm: 1,
          },
        },
        furtherCoils: [{ xMm: 30, yMm: 0, heightStepMm: 1 }],
      },
    } as unknown as Design;
    const shapes = planShapes(design, null, { clearanceMm: 2.5 });
    expect(planBox(shapes.filter((s) => s.layer === 'transmitterCoil'))).toEqual({
      fromX: -10,
      fromY: -5,
      toX: 40,
      toY: 5,
    });
    const recess = planBox(shapes.filter((s) => s.layer === 'recess'));
    expect(recess.toX - recess.fromX).toBeCloseTo(72 + 5, 9);
    const device = planBox(shapes.filter((s) => s.layer === 'device'));
    expect(device.toX - device.fromX).toBeCloseTo(58, 9);
    const magnets = planBox(shapes.filter((s) => s.layer === 'magnets'));
    expect(magnets.toY - magnets.fromY).toBeCloseTo(68, 9);
  });

  it('a stadium and an inner radius that follows from the width', () => {
    const base = sampleDesign();
    const coil = (outline: unknown) => ({
      ...base,
      receiver: { coil: { outline } },
      holding: { recess: null, magnets: null },
    });
    const stadium = planShapes(
      coil({
        shape: 'stadium',
        outerWidthMm: 40,
        outerHeightMm: 20,
        innerWidthMm: 30,
        innerHeightMm: 10,
      }) as unknown as Design,
      null,
    );
    const rounded = stadium.filter((s) => s.layer === 'receiverCoil');
    expect(rounded.map((s) => (s.kind === 'roundedRectangle' ? s.cornerRadius : Number.NaN))).toEqual([10, 5]);
    const follows = planShapes(
      coil({
        shape: 'roundedRectangle',
        outerWidthMm: 40,
        outerHeightMm: 30,
        innerWidthMm: 28,
        innerHeightMm: 18,
        outerCornerRadiusMm: 8,
        innerCornerRadiusMm: null,
      }) as unknown as Design,
      null,
    ).filter((s) => s.layer === 'receiverCoil');
    expect(follows.map((s) => (s.kind === 'roundedRectangle' ? s.cornerRadius : Number.NaN))).toEqual([8, 2]);
  });
});

describe('planBox and roundedCorners', () => {
  it('nothing has a box of no size', () => {
    expect(planBox([])).toEqual({ fromX: 0, fromY: 0, toX: 0, toY: 0 });
  });
  it('eight points, each corner a quarter circle apart', () => {
    const points = roundedCorners({
      layer: 'device',
      kind: 'roundedRectangle',
      x: 1,
      y: 2,
      halfWidth: 10,
      halfHeight: 6,
      cornerRadius: 3,
      yaw: 0.4,
    });
    for (let k = 0; k < 8; k += 2) {
      const chord = Math.hypot(points[2 * k + 2] - points[2 * k], points[2 * k + 3] - points[2 * k + 1]);
      expect(chord).toBeCloseTo(3 * Math.SQRT2, 12);
    }
  });
});
