import { describe, expect, it } from 'vitest';
import { MAP_COLUMNS, mapCsv, tableCsv } from '../../../../src/analysis/hold/exports/map-csv.ts';
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
