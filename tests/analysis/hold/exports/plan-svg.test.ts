import { describe, expect, it } from 'vitest';
import { planShapes } from '../../../../src/analysis/hold/exports/plan-shapes.ts';
import { mapSvg, planSvg } from '../../../../src/analysis/hold/exports/plan-svg.ts';
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

/** Points of a path made of M and L only. */
function points(d: string): number[][] {
  return d
    .replace(/Z$/, '')
    .split(/[ML]/)
    .filter((p) => p !== '')
    .map((p) => p.trim().split(/[ ,]+/).map(Number));
}

/** Paths of horizontal lines and their length on paper, mm. */
function levelLines(svg: XmlNode): number[] {
  const [sx] = scale(svg);
  const out: number[] = [];
  for (const node of walk(svg)) {
    if (node.name === 'path' && /^M[^MLAZ]+L[^MLAZ]+$/.test(node.attributes.d)) {
      const [a, b] = points(node.attributes.d);
      if (a[1] === b[1]) out.push(Math.abs(b[0] - a[0]) * sx);
    }
    if (node.name === 'line' && node.attributes.y1 === node.attributes.y2)
      out.push(Math.abs(Number(node.attributes.x2) - Number(node.attributes.x1)) * sx);
  }
  return out;
}

describe.each([
  ['map', mapSvg(sampleMap(), shapes, HOSTILE)],
  ['plan', planSvg(shapes, HOSTILE)],
])('%s drawing', (kind, source) => {
  const svg = readXml(source);
  it('is well formed, in true millimetres, with a bar of 50.00 mm', () => {
    expect(svg.name).toBe('svg');
    const [sx, sy] = scale(svg);
    expect(sx).toBeCloseTo(1, 9);
    expect(sy).toBeCloseTo(1, 9);
    expect(levelLines(svg)).toContainEqual(expect.closeTo(50, 9));
  });
  it('escapes the title and draws nothing from it', () => {
    const names = new Set([...walk(svg)].map((n) => n.name));
    expect(names.has('script')).toBe(false);
    const title = svg.children.find((n) => n.name === 'title');
    expect(title?.text).toBe(HOSTILE.replace('\u0007', ''));
  });
  it('shows the coil at its size and everything inside the page', () => {
    const circle = [...walk(svg)].find((n) => n.name === 'circle');
    expect(Number(circle?.attributes.r)).toBe(22);
    const [x, y, w, h] = svg.attributes.viewBox.split(' ').map(Number);
    for (const node of walk(svg)) {
      if (node.name !== 'path' || /A/.test(node.attributes.d)) continue;
      for (const ring of node.attributes.d.split('Z'))
        for (const [px, py] of points(ring)) {
          expect(px >= x && px <= x + w && py >= y && py <= y + h).toBe(true);
        }
    }
    // The legend's swatches and a label's width beside them stay on the page, narrow maps included.
    for (const node of walk(svg))
      if (node.name === 'rect') expect(Number(node.attributes.x) + 12).toBeLessThanOrEqual(x + w);
    if (kind === 'map') expect([...walk(svg)].filter((n) => n.name === 'rect').length).toBeGreaterThanOrEqual(5);
  });
});

describe('rounded corners', () => {
  it('arcs join the straight sides with the stated radius, bowing outwards', () => {
    const svg = readXml(planSvg(shapes, 'x'));
    const recess = [...walk(svg)].find(
      (n) => n.name === 'path' && n.attributes.stroke === '#111111' && /A/.test(n.attributes.d),
    );
    const d = recess?.attributes.d ?? '';
    const arcs = [...d.matchAll(/A([\d.]+) ([\d.]+) 0 0 (\d) ([-\d.]+) ([-\d.]+)/g)];
    expect(arcs).toHaveLength(4);
    expect(arcs.every((a) => Number(a[1]) === 8 && Number(a[2]) === 8 && a[3] === '0')).toBe(true);
    // First point: right end of the lower side; y points down on paper.
    const start = /^M([-\d.]+) ([-\d.]+)/.exec(d);
    expect(Number(start?.[1])).toBeCloseTo(1.5 + 29, 3);
    expect(Number(start?.[2])).toBeCloseTo(0.5 + 30, 3);
    expect(Number(arcs[0][4])).toBeCloseTo(1.5 + 37, 3);
    expect(Number(arcs[0][5])).toBeCloseTo(0.5 + 22, 3);
  });
});
