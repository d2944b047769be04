import DxfParser, { type ICircleEntity, type IPolylineEntity } from 'dxf-parser';
import { describe, expect, it } from 'vitest';
import { DXF_LAYERS, planDxf } from '../../../../src/analysis/hold/exports/plan-dxf.ts';
import { type PlanShape, planBox, planShapes } from '../../../../src/analysis/hold/exports/plan-shapes.ts';
import { layerBox, readDxf } from './dxf-reader.ts';
import { HOSTILE, sampleDesign, sampleMap } from './sample.ts';

const shapes = planShapes(sampleDesign(), sampleMap());
const text = planDxf(shapes, HOSTILE);
const file = readDxf(text);

describe('planDxf', () => {
  it('is release 12, pure ASCII, millimetres, with every layer named', () => {
    expect(file.version).toBe('AC1009');
    expect([...text].every((c) => c.charCodeAt(0) < 128)).toBe(true);
    expect(file.header.get('$INSUNITS')).toEqual([4]);
    for (const { name } of Object.values(DXF_LAYERS)) {
      expect(file.layers).toContain(name);
      // Release 12 layer names: capitals, digits, $ - _, at most 31.
      expect(name).toMatch(/^[A-Z0-9_$-]{1,31}$/);
    }
    for (const e of file.entities) expect(file.layers).toContain(e.layer);
    for (const line of text.split('\r\n')) expect(line.length).toBeLessThanOrEqual(255);
  });

  it('has the sizes of the design on their layers', () => {
    expect(layerBox(file, 'TRANSMITTER_COIL')).toEqual([-22, -22, 22, 22]);
    const circles = file.entities.filter((e) => e.type === 'CIRCLE' && e.layer === 'TRANSMITTER_COIL');
    expect(circles.map((e) => e.radius)).toEqual([22, 10.25]);
    // Receiver about its resting place (1.5, -0.5).
    expect(layerBox(file, 'RECEIVER_COIL')).toEqual([1.5 - 23, -0.5 - 16.5, 1.5 + 23, -0.5 + 16.5]);
    expect(layerBox(file, 'DEVICE')).toEqual([1.5 - 36, -0.5 - 29, 1.5 + 36, -0.5 + 29]);
    expect(layerBox(file, 'RECESS')).toEqual([1.5 - 37, -0.5 - 30, 1.5 + 37, -0.5 + 30]);
    expect(layerBox(file, 'MAGNETS')).toEqual([1.5 - 34, -0.5 - 4, 1.5 + 34, -0.5 + 4]);
    const box = layerBox(file, 'SAFE_OUTLINE');
    expect(box[2]).toBeCloseTo(Math.sqrt(100 / 0.9), 1);
    expect(box[3]).toBeCloseTo(Math.sqrt(100 / 1.08), 1);
  });

  it('stated extents are the extents of what is drawn', () => {
    const extent = planBox(shapes);
    const [x0, y0] = file.header.get('$EXTMIN') as number[];
    const [x1, y1] = file.header.get('$EXTMAX') as number[];
    expect(x0).toBeCloseTo(Math.min(extent.fromX, -25), 5);
    expect(x1).toBeCloseTo(Math.max(extent.toX, 25), 5);
    expect(y1).toBeCloseTo(extent.toY, 5);
    expect(y0).toBeCloseTo(extent.fromY - 13.5, 5);
  });

  it('corners are true quarter arcs: centre and radius from the bulge', () => {
    const recess = file.entities.find((e) => e.layer === 'RECESS');
    expect(recess?.closed).toBe(true);
    expect(recess?.points).toHaveLength(8);
    const [[ax, ay], [bx, by]] = recess?.points ?? [];
    const bulge = recess?.bulges[0] ?? Number.NaN;
    const chord = Math.hypot(bx - ax, by - ay);
    // Radius = chord (1 + b^2) / 4 b; included angle = 4 atan b. Source: DXF reference, group 42.
    expect((chord * (1 + bulge * bulge)) / (4 * bulge)).toBeCloseTo(8, 5);
    expect(4 * Math.atan(bulge)).toBeCloseTo(Math.PI / 2, 5);
    // A positive bulge bows to the right of the direction of travel: outwards for a counter-clockwise outline.
    expect(ax).toBeCloseTo(1.5 + 29, 6);
    expect(by).toBeCloseTo(-0.5 - 22, 6);
  });

  it('carries a 50 mm check bar', () => {
    const bars = file.entities.filter(
      (e) => e.layer === 'MARKS' && e.type === 'POLYLINE' && Math.abs(e.points[0][1] - e.points[1][1]) < 1e-9,
    );
    const lengths = bars.map((e) => Math.abs(e.points[1][0] - e.points[0][0]));
    expect(lengths).toContain(50);
    expect(file.entities.some((e) => e.text === '50 mm')).toBe(true);
  });

  it('a hostile title stays one harmless line of text', () => {
    const titles = file.entities.filter((e) => e.type === 'TEXT').map((e) => e.text);
    expect(titles[1]).toContain('<script>');
    expect(titles[1]).toContain('\\U+2013');
    expect(titles[1]).toContain('Gr\\U+00F6\\U+00DFe ^  5');
    expect(file.entities.length).toBe(shapes.length + 5 + 3);
  });

  it('turned and sharp shapes, an empty plan', () => {
    const turned: PlanShape = {
      layer: 'device',
      kind: 'roundedRectangle',
      x: 0,
      y: 0,
      halfWidth: 10,
      halfHeight: 5,
      cornerRadius: 0,
      yaw: Math.PI / 2,
    };
    expect(layerBox(readDxf(planDxf([turned], 'x')), 'DEVICE')).toEqual([-5, -10, 5, 10]);
    expect(readDxf(planDxf([turned], 'x')).entities[0].points).toHaveLength(4);
    expect(readDxf(planDxf([], '')).entities).toHaveLength(8);
  });

  it('refuses a coordinate that is no number', () => {
    expect(() => planDxf([{ layer: 'device', kind: 'circle', x: Number.NaN, y: 0, radius: 1 }], 'x')).toThrow(/finite/);
  });
});

/** An independent reader: the package dxf-parser, which shares nothing with us. */
describe('read by another library', () => {
  const drawing = new DxfParser().parseSync(text);
  if (!drawing) throw new Error('nothing was read');
  const xs = (layer: string): number[] =>
    drawing.entities
      .filter((entity) => entity.layer === layer)
      .flatMap((entity) => {
        if (entity.type === 'CIRCLE') {
          const { center, radius } = entity as ICircleEntity;
          return [center.x - radius, center.x + radius];
        }
        return ((entity as IPolylineEntity).vertices ?? []).map(({ x }) => x);
      });

  it('has every layer, the stated extents and the sizes in millimetres', () => {
    expect(Object.keys(drawing.tables.layer.layers)).toEqual(
      expect.arrayContaining(Object.values(DXF_LAYERS).map(({ name }) => name)),
    );
    expect(drawing.header.$INSUNITS).toBe(4);
    expect((drawing.header.$EXTMAX as { x: number }).x).toBeCloseTo(Math.max(planBox(shapes).toX, 25), 5);
    for (const [layer, low, high] of [
      ['TRANSMITTER_COIL', -22, 22],
      ['DEVICE', 1.5 - 36, 1.5 + 36],
      ['RECESS', 1.5 - 37, 1.5 + 37],
      ['MAGNETS', 1.5 - 34, 1.5 + 34],
    ] as const) {
      expect(Math.min(...xs(layer)), layer).toBeCloseTo(low, 5);
      expect(Math.max(...xs(layer)), layer).toBeCloseTo(high, 5);
    }
  });

  it('measures the check bar as 50 mm', () => {
    const bars = xs('MARKS');
    expect(Math.max(...bars) - Math.min(...bars)).toBeCloseTo(50, 6);
  });
});
