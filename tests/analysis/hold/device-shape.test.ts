import { describe, expect, it } from 'vitest';
import { isRound, pocketFor, shapeOf } from '../../../src/analysis/hold/device-shape.ts';

describe('shapeOf', () => {
  it('reads the three outlines', () => {
    expect(shapeOf({ shape: 'circle', outerDiameterMm: 50 })).toEqual({
      halfWidthMm: 25,
      halfHeightMm: 25,
      cornerRadiusMm: 25,
    });
    expect(shapeOf({ shape: 'stadium', outerWidthMm: 60, outerHeightMm: 30 }).cornerRadiusMm).toBe(15);
    const rounded = shapeOf({ shape: 'roundedRectangle', outerWidthMm: 60, outerHeightMm: 30, outerCornerRadiusMm: 4 });
    expect(rounded).toEqual({ halfWidthMm: 30, halfHeightMm: 15, cornerRadiusMm: 4 });
    expect(isRound(rounded)).toBe(false);
    expect(isRound(shapeOf({ shape: 'circle', outerDiameterMm: 50 }))).toBe(true);
  });
  it('refuses empty outlines and corners that are too round', () => {
    expect(() => shapeOf({ shape: 'circle', outerDiameterMm: 0 })).toThrow(/> 0 mm/);
    expect(() =>
      shapeOf({ shape: 'roundedRectangle', outerWidthMm: 60, outerHeightMm: 30, outerCornerRadiusMm: 16 }),
    ).toThrow(/outerCornerRadiusMm.*0 to 15 mm; received 16 mm/);
  });
});

describe('pocketFor', () => {
  const device = { halfWidthMm: 30, halfHeightMm: 20, cornerRadiusMm: 5 };
  it('grows each side and keeps the device corner unless told otherwise', () => {
    expect(pocketFor(device, 1)).toEqual({ halfWidthMm: 31, halfHeightMm: 21, cornerRadiusMm: 5 });
    expect(pocketFor(device, 1, 2).cornerRadiusMm).toBe(2);
  });
  it('follows a round device', () => {
    expect(pocketFor({ halfWidthMm: 20, halfHeightMm: 20, cornerRadiusMm: 20 }, 1).cornerRadiusMm).toBe(21);
  });
  it('refuses a pocket whose corners would carry the device', () => {
    expect(() => pocketFor(device, 1, 6.1)).toThrow(/0 to 6\.00 mm.*rests? on its corners/);
  });
});
