import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test, vi } from 'vitest';
import type { CheckedRecess } from '../../src/analysis/hold/recess-report.ts';
import { recessRow } from '../../src/cli/commands/hold.ts';
import { documentOf } from '../../src/design/resolve.ts';
import { airDesign } from '../analysis/prove/synthetic-bench.ts';
import { file, freshDirectory, tell } from './capture.ts';

// The first use of the command compiles what it imports, which takes seconds on a busy machine.
vi.setConfig({ testTimeout: 240_000 });

const document = documentOf(airDesign());
const held = file({
  ...document,
  stack: [{ name: 'oak', thicknessMm: 5, toleranceMm: 0.3 }],
  holding: {
    ...document.holding,
    recess: {
      outline: { shape: 'circle', outerDiameterMm: 60 },
      clearanceMm: 1,
      draftDeg: 1,
    },
    magnets: {
      positionsMm: [
        [-26, 0],
        [26, 0],
      ],
      diameterMm: 6,
      thicknessMm: 2,
      gapMm: 3,
    },
  },
});

test('a clearance is printed as its ends are, and without ends that say the same', () => {
  const recess = (low: number, high: number) =>
    ({
      clearanceMm: 7.805,
      clearanceBandMm: { low, high },
      directPercent: 30,
      worst: { name: '+x corner', marginPercent: 30, state: 'regulated' },
      band: null,
    }) as unknown as CheckedRecess;
  const [, alone, told] = recessRow('recess', 20, recess(7.803, 7.804));
  expect(alone).toBe(`${(7.805).toFixed(2)} mm`);
  expect(told).toMatch(/^30\.00 % at the \+x corner/);
  expect(recessRow('recess', 20, recess(2.1, 9.004))[2]).toMatch(/^\(2\.10 to 9\.00 mm\) 30\.00 %/);
});

/** A table of placements in a file of its own. */
function placements(text: string): string {
  const name = file('').replace('.json', '.csv');
  writeFileSync(name, text);
  return name;
}

test('own placements, text, and the files for whoever draws the enclosure', async () => {
  const csv = placements('x mm;y mm;yaw\n0;0;0\n1,5;-1;4\n60;0;0\n');
  const folder = freshDirectory();
  const { code, out, err } = await tell('hold', held, '--placements', csv, '--out', folder);
  expect(code).toBe(0);
  for (const words of [
    /recess clearance +[\d.]+ mm/,
    /gap that keeps the margin +[\d.]+ mm to [\d.]+ mm/,
    /stack, tolerances at their ends/,
    /stack, root of squares/,
    /safe within +[\d.]+ mm +\([\d.]+ to [\d.]+ mm\) of home/,
    /at the worst gap \(4\.7 to 5\.3 mm\), turn \(up to 30\.0°\) and tilt \(up to 0\.6°\)/,
    /10 allowed places on its border solved directly/,
    /pull at home +[\d.]+ N/,
    /capture radius/,
    /rest band/,
    /pair snapped together +[\d.]+ N +the most a finger or the cell's case should see/,
    /casual placement, nothing +67 % +21 % to 94 % hold playing/,
    /millimetre changes no more than/,
    /Draft of 1 degree/,
    /implant/i,
  ])
    expect(out).toMatch(words);
  for (const name of ['hold.json', 'forces.csv', 'lottery.csv', 'plan.svg', 'plan.dxf', 'template-a4.svg']) {
    expect(err).toContain(name);
    expect(readFileSync(join(folder, name), 'utf8').length).toBeGreaterThan(100);
  }
  const { lottery, region } = JSON.parse(readFileSync(join(folder, 'hold.json'), 'utf8'));
  expect(lottery.placing.kind).toBe('list');
  expect(lottery.byAid[0]).toMatchObject({ aid: 'nothing', answer: { all: { hits: 2, trials: 3 } } });
  expect(region.check.places).toBe(10);
});

describe('own placements', () => {
  test('a wrong row is told with file, row, column, what is required and what came', async () => {
    const csv = placements('x,y\n1,2\n1,oak\n');
    const { code, err, out } = await tell('hold', held, '--placements', csv, '--json');
    expect(code).toBe(1);
    expect(err).toBe(`${csv}: row 3, y: must be a number from -1000 to 1000 mm; received "oak".\n`);
    expect(JSON.parse(out)).toMatchObject({ ok: false, faults: [{ row: 3, column: 'y' }] });
  });

  test('a file that is not there, and one that holds no table', async () => {
    const missing = await tell('hold', held, '--placements', 'nowhere.csv');
    expect(missing.err).toContain('nowhere.csv: there is no such file');
    expect(missing.code).not.toBe(0);
    const { code, err } = await tell('hold', held, '--placements', held);
    expect(code).toBe(1);
    expect(err).toMatch(/row 1/);
  });
});

test.each([
  ['holding.placing.kind=star', /^holding\.placing\.kind: must be .*gaussian.*received "star"/],
  ['holding.placing.kind=list', /^holding\.placing\.placements: must be at least one placement/],
  ['holding.placing.radiusMm=-2', /^holding\.placing\.radiusMm: must be a number from 0 to 1000 mm; received -2/],
  ['holding.recess.clearanceMm=-1', /^holding\.recess\.clearanceMm: must be a number from 0 to 100 mm; received -1/],
  [
    'holding.magnets.remanenceT=12',
    /^holding\.magnets\.remanenceT: must be a number from 0\.05 to 1\.6 T; received 12/,
  ],
])('--set %s is refused with path, range and what came', async (setting, line) => {
  const { code, lines } = await tell('hold', held, '--set', setting);
  expect(code).toBe(1);
  expect(lines[0]).toMatch(line);
});
