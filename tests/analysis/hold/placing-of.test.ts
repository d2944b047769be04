import { describe, expect, it } from 'vitest';
import { placingOf, turnNote, widestTurn } from '../../../src/analysis/hold/placing-of.ts';
import { parseDesign } from '../../../src/design/resolve.ts';
import { changed, lines } from '../../design/changed.ts';

const degree = Math.PI / 180;

function placing(value: unknown) {
  const result = parseDesign(changed(['holding.placing', value]));
  if (!result.ok) throw new Error(JSON.stringify(result.faults));
  return placingOf(result.design);
}

describe('placingOf', () => {
  it('a file of before, without a kind, is a bell curve', () => {
    expect(placing({ sigmaXMm: 4, sigmaYMm: 3, sigmaYawDeg: 5 })).toEqual({
      kind: 'gaussian',
      sigmaXMm: 4,
      sigmaYMm: 3,
      sigmaYaw: expect.closeTo(5 * degree, 12),
    });
  });

  it('even over a disc or a rectangle', () => {
    expect(placing({ kind: 'disc', radiusMm: 6, halfYawDeg: 10 })).toEqual({
      kind: 'disc',
      radiusMm: 6,
      halfYaw: expect.closeTo(10 * degree, 12),
    });
    expect(placing({ kind: 'rectangle', halfXMm: 6, halfYMm: 2, halfYawDeg: 0 })).toEqual({
      kind: 'rectangle',
      halfXMm: 6,
      halfYMm: 2,
      halfYaw: 0,
    });
  });

  it('a list keeps its rows; the turn may be left out', () => {
    const found = placing({
      kind: 'list',
      placements: [
        { xMm: 1, yMm: -2 },
        { xMm: 0, yMm: 3, yawDeg: -90 },
      ],
    });
    expect(found).toEqual({
      kind: 'list',
      xMm: Float64Array.of(1, 0),
      yMm: Float64Array.of(-2, 3),
      yaw: Float64Array.of(0, -90 * degree),
    });
    expect(widestTurn(found)).toBeCloseTo(Math.PI / 2, 12);
  });

  it('an empty list, an unknown kind and a negative radius are refused with their path', () => {
    expect(lines(changed(['holding.placing', { kind: 'list' }]))[0]).toMatch(
      /^holding\.placing\.placements: must be at least one placement/,
    );
    expect(lines(changed(['holding.placing', { kind: 'star' }]))[0]).toMatch(/^holding\.placing\.kind: must be .*disc/);
    expect(lines(changed(['holding.placing', { kind: 'disc', radiusMm: -1 }]))[0]).toMatch(
      /^holding\.placing\.radiusMm: must be a number from 0 to 1000 mm; received -1/,
    );
    expect(
      lines(
        changed([
          'holding.placing',
          {
            kind: 'list',
            placements: [
              { xMm: 1, yMm: 0 },
              { xMm: 'a', yMm: 0 },
            ],
          },
        ]),
      )[0],
    ).toMatch(/^holding\.placing\.placements\[1\]\.xMm: must be a number/);
  });

  it('the widest turn is two and a half sigma, the half range, or the list’s own', () => {
    expect(widestTurn({ kind: 'gaussian', sigmaXMm: 1, sigmaYMm: 1, sigmaYaw: 0.1 })).toBeCloseTo(0.25, 12);
    expect(widestTurn({ kind: 'disc', radiusMm: 1, halfYaw: 0.2 })).toBe(0.2);
  });

  it('says where turns reach beyond the maps', () => {
    const most = Math.PI / 6;
    const list = (...degrees: number[]) =>
      ({
        kind: 'list',
        xMm: new Float64Array(degrees.length),
        yMm: new Float64Array(degrees.length),
        yaw: Float64Array.from(degrees, (d) => d * degree),
      }) as const;
    expect(turnNote(list(0, 30, -29), most)).toBeNull();
    expect(turnNote(list(0, 90, -31), most)).toBe(
      '2 of 3 placements of the list are turned by more than 30 degrees and judged as if turned by 30.',
    );
    expect(turnNote({ kind: 'disc', radiusMm: 1, halfYaw: 1 }, most)).toMatch(/^Placements turned by more than 30/);
  });
});
