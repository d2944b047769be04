/** The plan and the tolerance map as SVG in true millimetres. */
import type { OffsetMap } from '../../types.ts';
import { contourRings } from '../contour.ts';
import { refineField } from '../refine-field.ts';
import { markShapes } from './plan-dxf.ts';
import { type PlanBox, type PlanLayer, type PlanShape, planBox, roundedCorners } from './plan-shapes.ts';
import { plainNumber, xmlText } from './text-escape.ts';

/** Stroke of each kind of shape: colour, width in mm, dash. Told apart by width and dash as well as by colour. */
const STROKES: Readonly<Record<PlanLayer, readonly [colour: string, width: number, dash: string]>> = {
  transmitterCoil: ['#a4561d', 0.35, ''],
  receiverCoil: ['#23527c', 0.35, ''],
  device: ['#444444', 0.25, '3 1'],
  recess: ['#111111', 0.4, ''],
  magnets: ['#6b3fa0', 0.3, '1 0.7'],
  safeOutline: ['#0b6e4f', 0.6, ''],
  collapseOutline: ['#b00020', 0.5, '2 1'],
  wakeOutline: ['#23527c', 0.4, '0.4 0.9'],
  restBand: ['#6b3fa0', 0.25, '0.6 0.6'],
  marks: ['#111111', 0.25, ''],
};

const f = (value: number) => plainNumber(value, 4);

/** One shape as an SVG element, y turned up. */
export function svgShape(shape: PlanShape): string {
  const [colour, width, dash] = STROKES[shape.layer];
  const look = `fill="none" stroke="${colour}" stroke-width="${width}"${dash ? ` stroke-dasharray="${dash}"` : ''}`;
  if (shape.kind === 'circle') return `<circle cx="${f(shape.x)}" cy="${f(-shape.y)}" r="${f(shape.radius)}" ${look}/>`;
  if (shape.kind === 'polyline') return `<path d="${pathOf(shape.points, shape.closed)}" ${look}/>`;
  const p = roundedCorners(shape);
  const r = shape.cornerRadius;
  let d = `M${f(p[0])} ${f(-p[1])}`;
  for (let k = 2; k < 18; k += 2) {
    const x = f(p[k % 16]);
    const y = f(-p[(k % 16) + 1]);
    // Arcs end at points 1, 3, 5, 7; seen with y down they turn the other way.
    d += (k / 2) % 2 === 1 && r > 0 ? `A${f(r)} ${f(r)} 0 0 0 ${x} ${y}` : `L${x} ${y}`;
  }
  return `<path d="${d}Z" ${look}/>`;
}

function pathOf(points: Float64Array, closed: boolean): string {
  let d = '';
  for (let k = 0; k < points.length; k += 2) d += `${k === 0 ? 'M' : 'L'}${f(points[k])} ${f(-points[k + 1])}`;
  return closed ? `${d}Z` : d;
}

/** Margin levels between filled bands, percent, and a perceptual light-to-dark ramp (dark = more margin). */
const BAND_LEVELS = [-100, 0, 20, 50, 100, 200];
const BAND_COLOURS = ['#efe9dc', '#f6e7a6', '#c5dd98', '#84c3a1', '#3f9aa0', '#22607f'];

/**
 * The tolerance map with the plan over it, one user unit to the millimetre and the page size in mm, so that it prints and
 * imports at 1:1.
 * @param shapes from `planShapes`. @param title any text.
 */
export function mapSvg(map: OffsetMap, shapes: readonly PlanShape[], title: string): string {
  const box = planBox(shapes);
  const grid: PlanBox = {
    fromX: Math.min(box.fromX, map.xMm[0], -25),
    toX: Math.max(box.toX, map.xMm[map.xMm.length - 1], 25),
    fromY: Math.min(box.fromY, map.yMm[0]),
    toY: Math.max(box.toY, map.yMm[map.yMm.length - 1]),
  };
  const barY = grid.fromY - 6;
  const bands = BAND_LEVELS.map((level, k) => {
    const field = refineField({ x: map.xMm, y: map.yMm, values: map.marginPercent }, 2);
    const d = contourRings(field, level)
      .map((ring) => pathOf(ring, true))
      .join('');
    return d === '' ? '' : `<path d="${d}" fill="${BAND_COLOURS[k]}" fill-rule="evenodd"/>`;
  }).join('\n');
  const legendStep = Math.min(15, (grid.toX - grid.fromX + 2) / BAND_LEVELS.length);
  const legend = BAND_LEVELS.map((level, k) => {
    const x = grid.fromX + k * legendStep;
    return `<rect x="${f(x)}" y="${f(-barY + 4)}" width="4" height="3" fill="${BAND_COLOURS[k]}" stroke="#444444" stroke-width="0.1"/><text x="${f(x + 4.6)}" y="${f(-barY + 6.6)}" font-size="2.2">${level === -100 ? 'any' : `${level} %`}</text>`;
  }).join('');
  const body = [
    `<g>${bands}</g>`,
    ...shapes.map(svgShape),
    ...markShapes(barY).map(svgShape),
    `<g font-size="2.6" fill="#111111"><text x="-25" y="${f(-barY - 2)}">50 mm</text><text x="${f(grid.fromX + 2)}" y="${f(-grid.toY - 3)}">${xmlText(title)}: margin at a gap of ${f(map.gapMm)} mm</text>${legend}</g>`,
  ].join('\n');
  return svgPage(grid.fromX - 4, -grid.toY - 8, grid.toX - grid.fromX + 8, grid.toY - barY + 20, title, body);
}

/** The plan alone, 1:1. */
export function planSvg(shapes: readonly PlanShape[], title: string): string {
  const box = planBox([...shapes, ...markShapes(planBox(shapes).fromY - 8)]);
  const barY = planBox(shapes).fromY - 8;
  const body = [
    ...shapes.map(svgShape),
    ...markShapes(barY).map(svgShape),
    `<text x="-25" y="${f(-barY - 2)}" font-size="2.6">50 mm</text>`,
  ].join('\n');
  return svgPage(box.fromX - 4, -box.toY - 4, box.toX - box.fromX + 8, box.toY - box.fromY + 8, title, body);
}

/** An SVG document whose user unit is the millimetre. */
export function svgPage(x: number, y: number, width: number, height: number, title: string, body: string): string {
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${f(width)}mm" height="${f(height)}mm" viewBox="${f(x)} ${f(y)} ${f(width)} ${f(height)}" font-family="sans-serif">`,
    `<title>${xmlText(title)}</title>`,
    body,
    '</svg>',
    '',
  ].join('\n');
}
