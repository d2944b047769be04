import { describe, expect, it } from 'vitest';
import { PAPERS, placementTemplate } from '../../../../src/analysis/hold/exports/placement-template.ts';
import { planShapes } from '../../../../src/analysis/hold/exports/plan-shapes.ts';
import { HOSTILE, sampleDesign, sampleMap } from './sample.ts';
import { readXml, walk, type XmlNode } from './xml-reader.ts';

const shapes = planShapes(sampleDesign(), sampleMap());

/** Millimetres on paper per user unit, both ways, from the size in mm and the view box. */
function scale(svg: XmlNode): [number, number] {
  const width = /^([\d.]+)mm$/.exec(svg.attributes.width);
  const height = /^([\d.]+)mm$/.exec(svg.attributes.height);
  const [, , w, h] = svg.attributes.viewBox.split(' ').map(Number);
  return [Number(width?.[1]) / w, Number(height?.[1]) / h];
}

describe('placementTemplate', () => {
  it.each(['a4', 'letter'] as const)('%s: paper size, bars both ways, marks at the axis', (paper) => {
    const svg = readXml(placementTemplate(shapes, { paper, title: HOSTILE, lines: ['=1+1', 'second', '', 'lost'] }));
    const { widthMm, heightMm } = PAPERS[paper];
    expect(svg.attributes.width).toBe(`${widthMm}mm`);
    expect(svg.attributes.height).toBe(`${heightMm}mm`);
    const [sx, sy] = scale(svg);
    expect([sx, sy]).toEqual([1, 1]);
    const byId = (id: string) => [...walk(svg)].find((n) => n.attributes.id === id)?.attributes ?? {};
    const bar = byId('check-bar');
    expect(Number(bar.x2) - Number(bar.x1)).toBeCloseTo(50, 9);
    const up = byId('check-bar-up');
    expect(Math.abs(Number(up.y2) - Number(up.y1))).toBeCloseTo(50, 9);
    for (const id of ['centre-across', 'centre-up']) {
      const mark = byId(id);
      expect(Number(mark.x1) + Number(mark.x2)).toBe(0);
      expect(Number(mark.y1) + Number(mark.y2)).toBe(0);
    }
    // Nothing leaves the printable part.
    for (const node of walk(svg))
      if (node.name === 'line') {
        for (const key of ['x1', 'x2'])
          expect(Math.abs(Number(node.attributes[key]))).toBeLessThanOrEqual(widthMm / 2 - 10);
        for (const key of ['y1', 'y2'])
          expect(Math.abs(Number(node.attributes[key]))).toBeLessThanOrEqual(heightMm / 2 - 9);
      }
  });

  it('turns the sheet for a wide device and refuses one that fits neither way', () => {
    const wide = {
      layer: 'device',
      kind: 'roundedRectangle',
      x: 0,
      y: 0,
      halfWidth: 125,
      halfHeight: 40,
      cornerRadius: 5,
      yaw: 0,
    } as const;
    expect(readXml(placementTemplate([wide], { paper: 'a4', title: 'wide', lines: [] })).attributes.width).toBe(
      '297mm',
    );
    expect(() => placementTemplate([{ ...wide, halfWidth: 150 }], { paper: 'a4', title: 'x', lines: [] })).toThrow(
      /fits a4 paper.*300 x 80 mm/,
    );
  });
});
