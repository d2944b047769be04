import { describe, expect, test } from 'vitest';
import type { OffsetMap } from '../../src/analysis/types.ts';
import { csvCell, csvText } from '../../src/cli/csv.ts';
import { mapCsv, mapDocument } from '../../src/cli/map-files.ts';
import { mapSvg, svgText } from '../../src/cli/map-svg.ts';
import { jsonText } from '../../src/cli/terminal.ts';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { parseDesign } from '../../src/design/resolve.ts';

/** A made-up map of 41 x 31 points: margin falls as a cone, with a hole in the middle. */
function cone(halfX = 20, halfY = 15): OffsetMap {
  const xMm = Float64Array.from({ length: 41 }, (_, i) => -halfX + (i * halfX) / 20);
  const yMm = Float64Array.from({ length: 31 }, (_, j) => -halfY + (j * halfY) / 15);
  const size = xMm.length * yMm.length;
  const marginPercent = new Float64Array(size);
  for (let j = 0; j < yMm.length; j++) {
    for (let i = 0; i < xMm.length; i++) {
      const r = Math.hypot(xMm[i], yMm[j]);
      marginPercent[j * xMm.length + i] = r < 2 ? Number.NaN : 120 - 12 * r;
    }
  }
  const ring = (r: number) =>
    Float64Array.from({ length: 72 }, (_, k) => r * (k % 2 ? Math.sin : Math.cos)((Math.floor(k / 2) * Math.PI) / 18));
  return {
    gapMm: 5.9,
    xMm,
    yMm,
    maxOutputA: marginPercent.map((m) => 0.78 * (1 + m / 100)),
    marginPercent,
    coupling: new Float64Array(size).fill(0.4),
    mutualInductanceH: new Float64Array(size).fill(4e-6),
    wakes: new Uint8Array(size).fill(1),
    demandA: 0.78,
    wantedMarginPercent: 20,
    safeOutline: [ring(8.3), ring(2)],
    collapseOutline: [ring(10)],
    wakeOutline: [ring(12)],
    reachMm: { value: 0, low: 0, high: 1 },
    holdReachMm: 10,
    wakeReachMm: 12,
    innerLimitMm: 2,
    peakReachMm: [{ name: '=1+1', reachMm: 9 }],
    tightestDeg: 30,
    timing: { linkModelMs: 1, gridMs: 2, circuitMs: 3, totalMs: 6 },
  };
}

function design(title = 'A & B <script>alert("x")</script>') {
  const result = parseDesign({ ...DEMO_DESIGN, title });
  if (!result.ok) throw new Error('the demo has faults');
  return result.design;
}

describe('CSV', () => {
  test.each<[string | number, string]>([
    [1.5, '1.5'],
    [-1.5, '-1.5'],
    [Number.NaN, ''],
    [Number.POSITIVE_INFINITY, ''],
    ['plain', 'plain'],
    ['a,b', '"a,b"'],
    ['say "x"', '"say ""x"""'],
    ['=1+1', "'=1+1"],
    ['+1', "'+1"],
    ['-1', "'-1"],
    ['@x', "'@x"],
    ['  =1', "'  =1"],
    ['\t=1', "'\t=1"],
    ['=a,b', '"\'=a,b"'],
    ['two\nlines', '"two\nlines"'],
  ])('%j is written as %j', (value, wanted) => {
    expect(csvCell(value)).toBe(wanted);
  });

  test('rows end as RFC 4180 says', () => {
    expect(
      csvText([
        ['a', 1],
        ['b', 2],
      ]),
    ).toBe('a,1\r\nb,2\r\n');
  });

  test('the map has one row a point, x fastest', () => {
    const map = cone();
    const rows = mapCsv(map).trimEnd().split('\r\n');
    expect(rows).toHaveLength(1 + 41 * 31);
    expect(rows[0]).toBe('x_mm,y_mm,max_output_A,margin_percent,coupling,mutual_inductance_H,wakes');
    expect(rows[1].split(',').slice(0, 2)).toEqual(['-20', '-15']);
    expect(rows[2].split(',')[0]).toBe('-19');
    const centre = rows[1 + 15 * 41 + 20].split(',');
    expect(centre).toEqual(['0', '0', '', '', '0.4', '0.000004', '1']);
  });
});

describe('JSON', () => {
  test('is self-describing, plain, and holds null where there is no number', () => {
    const text = jsonText(mapDocument(cone(), design(), ['receiver.pickup.wakeV']), 0);
    const map = JSON.parse(text);
    expect(map.format).toBe('offcentre-map');
    expect(map.xMm).toHaveLength(41);
    expect(map.marginPercent).toHaveLength(41 * 31);
    expect(map.marginPercent[15 * 41 + 20]).toBeNull();
    expect(map.safeOutline).toHaveLength(2);
    expect(map.safeOutline[0][0]).toEqual([8.3, 0]);
    expect(map.timing).toEqual({ linkModelMs: 1, gridMs: 2, circuitMs: 3, totalMs: 6 });
    expect(map.defaultsTaken).toEqual(['receiver.pickup.wakeV']);
  });
});

describe('SVG', () => {
  const svg = mapSvg(cone(), design());

  test('is in true millimetres: size and view box agree, the check bar is 50 long', () => {
    const size = /width="([\d.]+)mm" height="([\d.]+)mm" viewBox="(-?[\d.]+) (-?[\d.]+) ([\d.]+) ([\d.]+)"/.exec(svg);
    expect(size?.[1]).toBe(size?.[5]);
    expect(size?.[2]).toBe(size?.[6]);
    expect(svg).toMatch(/<path id="check-bar" d="M-?[\d.]+ -?[\d.]+h50"/);
    expect(svg).toContain('50 mm when printed at 100 %');
  });

  test('draws the outlines where they are, y upwards, holes included', () => {
    const path = /id="safe-outline" d="([^"]+)"/.exec(svg)?.[1] ?? '';
    expect(path.split('Z').filter((part) => part !== '')).toHaveLength(2);
    expect(path).toMatch(/^M8\.3 0L8\.174 -1\.441L/);
    expect(svg).toContain('id="collapse-outline" d="M10 0L');
    expect(svg).toContain('<circle r="22"/>');
  });

  test('the filled cells cover the area of their band', () => {
    // Cone 120 - 12 r: from 20 to 50 % is the ring 5.833 < r < 8.333 mm; area pi (8.333^2 - 5.833^2) = 111.26 mm2.
    let area = 0;
    for (const cell of svg.matchAll(
      /<rect x="[^"]+" y="[^"]+" width="([\d.]+)" height="([\d.]+)" fill="#cfdcae"\/>/g,
    )) {
      area += (Number(cell[1]) * Number(cell[2])) / 1.02;
    }
    expect(Math.abs(area - 111.26)).toBeLessThan(8);
  });

  test('hostile text is harmless and the file is well formed', () => {
    expect(svg).not.toContain('<script');
    expect(svg).toContain('A &amp; B &lt;script&gt;');
    expect(svgText('a\u0000\u0008b\ud800c')).toBe('abc');
    expect(svgText('"\'')).toBe('&quot;&#39;');
    wellFormed(mapSvg(cone(), design('\u0001]]>&lt;\u202e"><svg onload=alert(1)>')));
    wellFormed(svg);
  });

  test.each([3, 60, 300])('a map of half-width %d mm is drawn to scale', (half) => {
    const drawn = mapSvg(cone(half, half), design('x'));
    wellFormed(drawn);
    const width = Number(/width="([\d.]+)mm"/.exec(drawn)?.[1]);
    expect(width).toBeGreaterThanOrEqual(2 * half);
    expect(drawn).toMatch(/check-bar" d="M\S+ \S+h50"/);
  });
});

/** Tags open and close in order, attributes are quoted, no bare ampersand. */
function wellFormed(xml: string): void {
  const open: string[] = [];
  const body = xml.replace(/^<\?xml[^>]*\?>/, '');
  for (const tag of body.matchAll(/<(\/?)([a-zA-Z]+)((?:\s+[\w:-]+="[^"<]*")*)\s*(\/?)>/g)) {
    if (tag[1] === '/') expect(open.pop()).toBe(tag[2]);
    else if (tag[4] !== '/') open.push(tag[2]);
  }
  expect(open).toEqual([]);
  expect(body.replace(/<(\/?)([a-zA-Z]+)((?:\s+[\w:-]+="[^"<]*")*)\s*(\/?)>/g, '')).not.toMatch(/[<>]/);
  expect(body).not.toMatch(/&(?!(?:amp|lt|gt|quot|#39);)/);
}
