import { describe, expect, it } from 'vitest';
import { parsePlacements, placementFaultLine, placementsText } from '../../../src/analysis/hold/placements-table.ts';
import { randomSource } from '../../../src/numerics/random.ts';

const told = (text: string) => parsePlacements(text).faults.map(placementFaultLine);

describe('parsePlacements', () => {
  const wanted = [
    { xMm: 1.5, yMm: -2, yawDeg: 3 },
    { xMm: 0, yMm: 0.25, yawDeg: 0 },
  ];
  it.each([
    ['tabs, as a spreadsheet copies', '1.5\t-2\t3\n0\t0.25\t'],
    ['tabs and decimal commas', '1,5\t-2\t3\r\n0\t0,25\t0'],
    ['semicolons, commas, a byte-order mark, a comment', '\uFEFF# Friday\n1,5;-2;3\n0;0,25\n'],
    ['commas', '1.5,-2,3\n0,0.25,'],
    ['blanks and a true minus sign', '1.5  \u22122 3\n\n0 0.25'],
    ['a header in another order', 'yaw (deg),y mm,x (mm)\n3,-2,1.5\n,0.25,0'],
    ['a header with a column of no concern', 'who\tx\ty\tyaw\nAnn\t1.5\t-2\t3\nBob\t0\t0.25\t0'],
  ])('%s', (_, text) => {
    expect(parsePlacements(text)).toEqual({ placements: wanted, faults: [] });
  });

  it('tells row, column, what is required and what came; rows without a fault are there', () => {
    const { placements, faults } = parsePlacements('x;y;yaw\n1;2;3\nabc;2;3\n4;;5\n5;1200;200\n');
    expect(placements).toEqual([{ xMm: 1, yMm: 2, yawDeg: 3 }]);
    expect(faults.map(placementFaultLine)).toEqual([
      'row 3, x: must be a number from -1000 to 1000 mm; received "abc".',
      'row 4, y: must be a number from -1000 to 1000 mm; received nothing.',
      'row 5, y: must be a number from -1000 to 1000 mm; received "1200".',
      'row 5, yaw: must be a number from -180 to 180 degrees; received "200".',
    ]);
  });

  it('a decimal comma between commas is told, not guessed', () => {
    expect(told('1,5,2,0,3')[0]).toMatch(/row 1: must be at most 3 cells; .*decimals need a point/);
    expect(told('1,5 2,0')[0]).toMatch(/row 1, y: .*received "5 2"/);
  });

  it('a header without y, an empty text, too many rows', () => {
    expect(told('x mm\n1\n')).toEqual(['row 1, y: must be a column "y (mm)" in the header; received "x mm".']);
    expect(told(' \n')).toEqual(['row 1: must be at least one row of x and y in mm; received nothing.']);
    expect(told(Array(5001).fill('1 2').join('\n'))).toEqual([
      'row 5001: must be at most 5000 placements; received more.',
    ]);
  });

  it('reads back what it writes (seed 5, 200 rows)', () => {
    const random = randomSource(5);
    const rows = Array.from({ length: 200 }, () => ({
      xMm: 20 * random.normal(),
      yMm: 20 * random.normal(),
      yawDeg: 40 * random.normal(),
    }));
    expect(parsePlacements(placementsText(rows))).toEqual({ placements: rows, faults: [] });
  });
});
