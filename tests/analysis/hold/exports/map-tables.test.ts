import { describe, expect, it } from 'vitest';
import { MAP_COLUMNS, mapCsv, tableCsv } from '../../../../src/analysis/hold/exports/map-csv.ts';
import { mapJson } from '../../../../src/analysis/hold/exports/map-json.ts';
import { csvField, dxfText, plainNumber, xmlText } from '../../../../src/analysis/hold/exports/text-escape.ts';
import { HOSTILE, sampleMap } from './sample.ts';

/** RFC 4180 by a state machine of the tests' own. */
function readCsv(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  let field = '';
  let quoted = false;
  for (let k = 0; k < text.length; k += 1) {
    const c = text[k];
    if (quoted) {
      if (c === '"' && text[k + 1] === '"') {
        field += '"';
        k += 1;
      } else if (c === '"') quoted = false;
      else field += c;
    } else if (c === '"' && field === '') quoted = true;
    else if (c === ',') {
      row.push(field);
      field = '';
    } else if (c === '\r' && text[k + 1] === '\n') {
      row.push(field);
      rows.push(row);
      row = [];
      field = '';
      k += 1;
    } else field += c;
  }
  if (field !== '' || row.length > 0) throw new Error('no line end at the end');
  return rows;
}

describe('mapCsv', () => {
  const map = sampleMap();
  const rows = readCsv(mapCsv(map));
  it('has a header and one record per point, every one complete', () => {
    expect(rows[0]).toEqual([...MAP_COLUMNS]);
    expect(rows).toHaveLength(1 + 21 * 21);
    for (const row of rows) expect(row).toHaveLength(MAP_COLUMNS.length);
  });
  it('gives back the very numbers; unknown is empty', () => {
    const at = (x: number, y: number) => rows[1 + y * 21 + x];
    expect(Number(at(10, 4)[0])).toBe(map.xMm[10]);
    expect(Number(at(10, 4)[1])).toBe(map.yMm[4]);
    expect(Number(at(10, 4)[5])).toBe(map.marginPercent[4 * 21 + 10]);
    expect(Number(at(10, 4)[7])).toBe(map.mutualInductanceH[4 * 21 + 10]);
    expect(at(3, 0)[5]).toBe('');
    expect(at(10, 10)[9]).toBe('1');
    expect(at(0, 0)[9]).toBe('0');
  });
});

describe('tableCsv', () => {
  it('brings hostile names back with the formula defused', () => {
    const rows = readCsv(
      tableCsv(
        ['name', 'value'],
        [
          [HOSTILE, -1.5],
          ['+2', 3],
          ['a,b', 0],
        ],
      ),
    );
    expect(rows[1]).toEqual([`'${HOSTILE}`, '-1.5']);
    expect(rows[2]).toEqual(["'+2", '3']);
    expect(rows[3][0]).toBe('a,b');
  });
});

describe('mapJson', () => {
  it('describes itself and keeps every value', () => {
    const map = sampleMap();
    const read = JSON.parse(mapJson(map, HOSTILE)) as {
      format: string;
      version: number;
      title: string;
      axes: { x: { unit: string; values: number[] } };
      fields: Record<string, { unit: string; meaning: string; values: (number | null)[] }>;
      outlines: { unit: string; safe: [number, number][][] };
      reach: { value: number };
      conventions: { order: string };
    };
    expect([read.format, read.version, read.title]).toEqual(['offcentre-tolerance-map', 1, HOSTILE]);
    expect(read.axes.x).toEqual({ unit: 'mm', values: Array.from(map.xMm) });
    expect(read.fields.margin.values[25]).toBe(map.marginPercent[25]);
    expect(read.fields.margin.values[3]).toBeNull();
    expect(read.fields.mutualInductance.unit).toBe('H');
    for (const field of Object.values(read.fields)) {
      expect(field.values).toHaveLength(441);
      expect(field.meaning).not.toBe('');
    }
    expect(read.outlines.safe[0]).toHaveLength(map.safeOutline[0].length / 2);
    expect(read.reach.value).toBe(9.6);
    expect(read.conventions.order).toContain('yIndex');
  });
});

describe('escapes', () => {
  it('csv: formulas, quotes, spaces; numbers untouched', () => {
    for (const text of ['=1', '+1', '-1', '@x', '\tx', '\rx']) expect(csvField(text).replace(/^"/, '')[0]).toBe("'");
    expect(csvField('say "hi"')).toBe('"say ""hi"""');
    expect(csvField(' pad ')).toBe('" pad "');
    expect(csvField(-1.5)).toBe('-1.5');
    expect(csvField(Number.NaN)).toBe('');
    expect(csvField('plain')).toBe('plain');
  });
  it('xml: the five and what XML forbids', () => {
    expect(xmlText('<&>"\'')).toBe('&lt;&amp;&gt;&quot;&#39;');
    expect(xmlText('a\u0000\u001f\ufffeb😀')).toBe('ab😀');
    expect(xmlText('a\ud800b')).toBe('ab');
  });
  it('dxf: one line of ASCII, at most 255', () => {
    expect(dxfText('a\r\n  0\nEOF')).toBe('a    0 EOF');
    expect(dxfText('😀')).toBe('\\U+D83D\\U+DE00');
    expect(dxfText('x'.repeat(400))).toHaveLength(255);
  });
  it('numbers: no exponent, no minus zero', () => {
    expect(plainNumber(1e-9)).toBe('0');
    expect(plainNumber(-1e-9)).toBe('0');
    expect(plainNumber(100)).toBe('100');
    expect(plainNumber(12.34567)).toBe('12.3457');
    expect(() => plainNumber(Number.POSITIVE_INFINITY)).toThrow(/finite/);
  });
});
