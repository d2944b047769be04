/** Outlines of device and pocket as rounded rectangles about their centre; circles and stadia are special cases. */
import type { PlateOutlineDocument } from '../../design/types.ts';
import { InputError } from '../../numerics/errors.ts';

/** A rounded rectangle centred at the origin, mm. A circle has both halves equal to its corner radius. */
export interface RoundedShape {
  readonly halfWidthMm: number;
  readonly halfHeightMm: number;
  /** From 0 to the smaller half. */
  readonly cornerRadiusMm: number;
}

/** The design's outline as a rounded rectangle. @throws InputError where a size is not positive or the corner too round. */
export function shapeOf(outline: PlateOutlineDocument, path = 'holding.recess.outline'): RoundedShape {
  const shape = plainShape(outline);
  const least = Math.min(shape.halfWidthMm, shape.halfHeightMm);
  if (!(least > 0))
    throw new InputError({
      code: 'outline-size',
      path,
      required: 'an outline with width and height > 0 mm',
      received: `${2 * shape.halfWidthMm} x ${2 * shape.halfHeightMm} mm`,
    });
  if (!(shape.cornerRadiusMm >= 0 && shape.cornerRadiusMm <= least * (1 + 1e-12)))
    throw new InputError({
      code: 'outline-corner',
      path: `${path}.outerCornerRadiusMm`,
      required: `a radius from 0 to ${least} mm`,
      received: `${shape.cornerRadiusMm} mm`,
    });
  return shape;
}

function plainShape(outline: PlateOutlineDocument): RoundedShape {
  if (outline.shape === 'circle') {
    const radius = outline.outerDiameterMm / 2;
    return { halfWidthMm: radius, halfHeightMm: radius, cornerRadiusMm: radius };
  }
  const halfWidthMm = outline.outerWidthMm / 2;
  const halfHeightMm = outline.outerHeightMm / 2;
  const cornerRadiusMm =
    outline.shape === 'stadium' ? Math.min(halfWidthMm, halfHeightMm) : outline.outerCornerRadiusMm;
  return { halfWidthMm, halfHeightMm, cornerRadiusMm };
}

/** Whether the outline is a circle (turning does not matter). */
export function isRound(shape: RoundedShape): boolean {
  const slack = 1e-12 * shape.cornerRadiusMm;
  return shape.halfWidthMm - shape.cornerRadiusMm <= slack && shape.halfHeightMm - shape.cornerRadiusMm <= slack;
}

/**
 * The pocket that leaves `clearanceMm` on each side of the device.
 * @param cornerRadiusMm of the pocket; null: that of the device for a rounded rectangle (the usual choice, and the one that
 * leaves most play), following the device at the same distance for a circle or a stadium.
 * @throws InputError where the corner radius would make the device rest on its corners.
 */
export function pocketFor(
  device: RoundedShape,
  clearanceMm: number,
  cornerRadiusMm: number | null = null,
): RoundedShape {
  const followsRound = device.cornerRadiusMm >= Math.min(device.halfWidthMm, device.halfHeightMm) * (1 - 1e-12);
  const most = device.cornerRadiusMm + clearanceMm;
  const radius = cornerRadiusMm ?? (followsRound ? most : device.cornerRadiusMm);
  if (!(radius >= 0 && radius <= most * (1 + 1e-12) + 1e-12))
    throw new InputError({
      code: 'pocket-corner',
      path: 'holding.recess.pocketCornerRadiusMm',
      required: `a radius from 0 to ${most.toFixed(2)} mm (device corner plus clearance)`,
      received: `${radius} mm`,
      hint: 'A rounder pocket makes the device rest on its corners.',
    });
  return {
    halfWidthMm: device.halfWidthMm + clearanceMm,
    halfHeightMm: device.halfHeightMm + clearanceMm,
    cornerRadiusMm: radius,
  };
}
