import { expect, test } from 'vitest';
import {
  benchSheets,
  gridSheet,
  readingsSheet,
  sheetGaps,
  spacersFor,
} from '../../../src/analysis/prove/bench-sheet.ts';
import { readXml } from '../hold/exports/xml-reader.ts';
import { airDesign } from './synthetic-bench.ts';

const design = airDesign({ title: 'Guide & <dock>' });

test('both sheets are well-formed, in millimetres, with the title escaped', () => {
  for (const text of [gridSheet(design, 'a4'), gridSheet(design, 'letter'), readingsSheet(design, 'a4')]) {
    const root = readXml(text);
    expect(root.attributes.width).toMatch(/mm$/);
    const [, , width, height] = root.attributes.viewBox.split(' ').map(Number);
    expect(Number.parseFloat(root.attributes.width)).toBeCloseTo(width, 9);
    expect(Number.parseFloat(root.attributes.height)).toBeCloseTo(height, 9);
    expect(text).toContain('Guide &amp; &lt;dock&gt;');
  }
  expect(Object.keys(benchSheets(design))).toEqual(['grid.svg', 'readings-sheet.svg']);
});

test('the grid is 1:1: its check bar is 50 units of a millimetre long, its lines one apart', () => {
  const text = gridSheet(design, 'a4');
  const bar = /<line id="check-bar" x1="([-\d.]+)" y1="[-\d.]+" x2="([-\d.]+)"/.exec(text);
  expect(Number(bar?.[2]) - Number(bar?.[1])).toBeCloseTo(50, 9);
  const verticals = [...text.matchAll(/<line x1="([-\d.]+)" y1="-60" x2="([-\d.]+)" y2="60"/g)].map((hit) =>
    Number(hit[1]),
  );
  expect(verticals).toHaveLength(121);
  expect(verticals[61] - verticals[60]).toBeCloseTo(1, 9);
});

test('spacers add up to the thickness wanted', () => {
  expect(spacersFor(3)).toBe('one 3 mm acrylic sheet');
  expect(spacersFor(1.5)).toBe('one plastic card (0.76 mm) + 7 \u00d7 sheet of office paper (0.1 mm)');
  expect(spacersFor(0)).toBe('nothing more');
});

test('gaps to read at: the own one, then wider', () => {
  const gaps = sheetGaps(design);
  expect(gaps[0]).toBe(5);
  expect(gaps[1]).toBeGreaterThan(gaps[0]);
  expect(gaps[2]).toBeGreaterThan(gaps[1]);
});
