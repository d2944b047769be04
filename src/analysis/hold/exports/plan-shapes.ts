/** The plan view of a design as plain shapes in millimetres, shared by all drawings. */
import type { Design, OutlineDocument } from '../../../design/types.ts';
import type { OffsetMap } from '../../types.ts';
import { pocketFor, shapeOf } from '../device-shape.ts';

/** What a shape stands for; every drawing keeps these apart. */
export type PlanLayer =
  | 'transmitterCoil'
  | 'receiverCoil'
  | 'device'
  | 'recess'
  | 'magnets'
  | 'safeOutline'
  | 'collapseOutline'
  | 'wakeOutline'
  | 'restBand'
  | 'marks';

export const PLAN_LAYERS: readonly PlanLayer[] = [
  'transmitterCoil',
  'receiverCoil',
  'device',
  'recess',
  'magnets',
  'safeOutline',
  'collapseOutline',
  'wakeOutline',
  'restBand',
  'marks',
];

/** Millimetres, x to the right, y up, seen from the receiver's side. Angles rad. */
export type PlanShape =
  | { readonly layer: PlanLayer; readonly kind: 'polyline'; readonly points: Float64Array; readonly closed: boolean }
  | {
      readonly layer: PlanLayer;
      readonly kind: 'circle';
      readonly x: number;
      readonly y: number;
      readonly radius: number;
    }
  | {
      readonly layer: PlanLayer;
      readonly kind: 'roundedRectangle';
      readonly x: number;
      readonly y: number;
      readonly halfWidth: number;
      readonly halfHeight: number;
      readonly cornerRadius: number;
      readonly yaw: number;
    };

export interface PlanOptions {
  /** Clearance of the pocket to draw, mm; null: that of the design's recess. */
  readonly clearanceMm: number | null;
  /** Rest band polygon, mm, flat x y; null: none. */
  readonly restBand: Float64Array | null;
  /** Safe outline to draw where there is no map, mm; null: none. */
  readonly safeOutline: readonly Float64Array[] | null;
}

/**
 * Shapes of a design: both coils (outer and inner edge) with the receiver at home, device, pocket, magnets and, where a map
 * is given, its outlines. Empty outlines are left out.
 */
export function planShapes(design: Design, map: OffsetMap | null, options: Partial<PlanOptions> = {}): PlanShape[] {
  const { clearanceMm, restBand, safeOutline } = { clearanceMm: null, restBand: null, safeOutline: null, ...options };
  const shapes: PlanShape[] = [];
  const { offsetXMm: x, offsetYMm: y, yawDeg } = design.placement;
  const yaw = (yawDeg * Math.PI) / 180;
  addCoil(shapes, 'transmitterCoil', design.transmitter.coil.outline, 0, 0, 0);
  for (const coil of design.transmitter.furtherCoils)
    addCoil(shapes, 'transmitterCoil', design.transmitter.coil.outline, coil.xMm, coil.yMm, 0);
  addCoil(shapes, 'receiverCoil', design.receiver.coil.outline, x, y, yaw);
  const { recess, magnets } = design.holding;
  if (recess) {
    const device = shapeOf(recess.outline);
    const pocket = pocketFor(device, clearanceMm ?? recess.clearanceMm);
    for (const [layer, shape, turn] of [
      ['device', device, yaw],
      ['recess', pocket, 0],
    ] as const)
      addRounded(shapes, layer, x, y, shape.halfWidthMm, shape.halfHeightMm, shape.cornerRadiusMm, turn);
  }
  if (magnets)
    for (const [mx, my] of magnets.positionsMm)
      shapes.push({
        layer: 'magnets',
        kind: 'circle',
        x: x + mx * Math.cos(yaw) - my * Math.sin(yaw),
        y: y + mx * Math.sin(yaw) + my * Math.cos(yaw),
        radius: magnets.diameterMm / 2,
      });
  if (map) {
    addRings(shapes, 'safeOutline', map.safeOutline);
    addRings(shapes, 'collapseOutline', map.collapseOutline);
    addRings(shapes, 'wakeOutline', map.wakeOutline);
  }
  if (!map && safeOutline) addRings(shapes, 'safeOutline', safeOutline);
  if (restBand && restBand.length >= 6) addRings(shapes, 'restBand', [restBand]);
  return shapes;
}

function addRings(shapes: PlanShape[], layer: PlanLayer, rings: readonly Float64Array[]): void {
  for (const points of rings) if (points.length >= 6) shapes.push({ layer, kind: 'polyline', points, closed: true });
}

function addRounded(
  shapes: PlanShape[],
  layer: PlanLayer,
  x: number,
  y: number,
  halfWidth: number,
  halfHeight: number,
  cornerRadius: number,
  yaw: number,
): void {
  if (!(halfWidth > 0 && halfHeight > 0)) return;
  const least = Math.min(halfWidth, halfHeight);
  const radius = Math.max(0, Math.min(cornerRadius, least));
  if (halfWidth - radius < 1e-9 && halfHeight - radius < 1e-9)
    shapes.push({ layer, kind: 'circle', x, y, radius: halfWidth });
  else shapes.push({ layer, kind: 'roundedRectangle', x, y, halfWidth, halfHeight, cornerRadius: radius, yaw });
}

function addCoil(
  shapes: PlanShape[],
  layer: PlanLayer,
  outline: OutlineDocument,
  x: number,
  y: number,
  yaw: number,
): void {
  switch (outline.shape) {
    case 'circle':
      for (const d of [outline.outerDiameterMm, outline.innerDiameterMm])
        addRounded(shapes, layer, x, y, d / 2, d / 2, d / 2, 0);
      return;
    case 'path': {
      const points = new Float64Array(2 * outline.pointsMm.length);
      outline.pointsMm.forEach(([px, py], i) => {
        points[2 * i] = x + px * Math.cos(yaw) - py * Math.sin(yaw);
        points[2 * i + 1] = y + px * Math.sin(yaw) + py * Math.cos(yaw);
      });
      addRings(shapes, layer, [points]);
      return;
    }
    default: {
      const stadium = outline.shape === 'stadium';
      const outer = stadium ? Math.min(outline.outerWidthMm, outline.outerHeightMm) / 2 : outline.outerCornerRadiusMm;
      const inner = stadium
        ? Math.min(outline.innerWidthMm, outline.innerHeightMm) / 2
        : (outline.innerCornerRadiusMm ??
          Math.max(0, outline.outerCornerRadiusMm - (outline.outerWidthMm - outline.innerWidthMm) / 2));
      addRounded(shapes, layer, x, y, outline.outerWidthMm / 2, outline.outerHeightMm / 2, outer, yaw);
      addRounded(shapes, layer, x, y, outline.innerWidthMm / 2, outline.innerHeightMm / 2, inner, yaw);
    }
  }
}

export interface PlanBox {
  readonly fromX: number;
  readonly fromY: number;
  readonly toX: number;
  readonly toY: number;
}

/** Smallest upright box around the shapes, mm; an empty list gives a box of no size at the origin. */
export function planBox(shapes: readonly PlanShape[]): PlanBox {
  let fromX = Number.POSITIVE_INFINITY;
  let fromY = Number.POSITIVE_INFINITY;
  let toX = Number.NEGATIVE_INFINITY;
  let toY = Number.NEGATIVE_INFINITY;
  const add = (x: number, y: number) => {
    fromX = Math.min(fromX, x);
    fromY = Math.min(fromY, y);
    toX = Math.max(toX, x);
    toY = Math.max(toY, y);
  };
  for (const shape of shapes) {
    if (shape.kind === 'polyline')
      for (let k = 0; k < shape.points.length; k += 2) add(shape.points[k], shape.points[k + 1]);
    else if (shape.kind === 'circle') {
      add(shape.x - shape.radius, shape.y - shape.radius);
      add(shape.x + shape.radius, shape.y + shape.radius);
    } else {
      const a = shape.halfWidth - shape.cornerRadius;
      const b = shape.halfHeight - shape.cornerRadius;
      const c = Math.abs(Math.cos(shape.yaw));
      const s = Math.abs(Math.sin(shape.yaw));
      const w = a * c + b * s + shape.cornerRadius;
      const h = a * s + b * c + shape.cornerRadius;
      add(shape.x - w, shape.y - h);
      add(shape.x + w, shape.y + h);
    }
  }
  return shapes.length === 0 || fromX > toX ? { fromX: 0, fromY: 0, toX: 0, toY: 0 } : { fromX, fromY, toX, toY };
}

/** Corners of a rounded rectangle's straight sides, counter-clockwise from the right end of the lower side: 8 points. */
export function roundedCorners(shape: Extract<PlanShape, { kind: 'roundedRectangle' }>): Float64Array {
  const { halfWidth: w, halfHeight: h, cornerRadius: r } = shape;
  const local = [w - r, -h, w, -h + r, w, h - r, w - r, h, -w + r, h, -w, h - r, -w, -h + r, -w + r, -h];
  const c = Math.cos(shape.yaw);
  const s = Math.sin(shape.yaw);
  const out = new Float64Array(16);
  for (let k = 0; k < 16; k += 2) {
    out[k] = shape.x + local[k] * c - local[k + 1] * s;
    out[k + 1] = shape.y + local[k] * s + local[k + 1] * c;
  }
  return out;
}
