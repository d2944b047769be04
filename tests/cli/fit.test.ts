import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { parsePath, valueAt } from '../../src/design/path.ts';
import { documentOf, parseDesign } from '../../src/design/resolve.ts';
import { airDesign } from '../analysis/prove/synthetic-bench.ts';
import { tell } from './capture.ts';

const directory = mkdtempSync(join(tmpdir(), 'offcentre-fit-'));
const file = join(directory, 'bench.json');
const csv = join(directory, 'bench.csv');
const bench = documentOf(airDesign());
const { overvoltageV: _, ...regulator } = bench.receiver.pickup.regulator;
// One value is not given, so that it can be seen to stay a guess.
const receiver = { ...bench.receiver, pickup: { ...bench.receiver.pickup, regulator } };
writeFileSync(file, JSON.stringify({ ...bench, receiver }));

test('readings of a CSV file are fitted: text, JSON with each value and residual, sheets', {
  timeout: 240_000,
}, async () => {
  writeFileSync(
    csv,
    'supply V;supply A;output V;output A;gap mm;frequency kHz;regulated\n5;0,512;5;0,38;5\n5;1,3;5;0,98;5;161\n5;;;2,1;5;;no\n',
  );
  const folder = join(directory, 'out');
  const told = await tell('fit', file, '--readings', csv, '--starts', '1', '--out', folder);
  expect(told.code).toBe(0);
  expect(told.err).toMatch(/Wrote .*fit\.json/);
  expect(told.out).toMatch(/transmitter series capacitor +330 nF/);
  expect(told.out).toMatch(/The readings fix/);
  expect(told.out).toMatch(/What to read next/);
  const report = JSON.parse(readFileSync(join(folder, 'fit.json'), 'utf8'));
  const [capacitor] = report.parameters;
  expect(capacitor).toMatchObject({ path: 'transmitter.drive.seriesCapacitanceNf', unit: 'nF' });
  expect(capacitor.prior.value).toBe(330);
  expect(capacitor.fitted.low).toBeLessThan(capacitor.fitted.value);
  expect(capacitor.fitted.high).toBeGreaterThan(capacitor.fitted.value);
  expect(['readings', 'both', 'prior']).toContain(capacitor.decidedBy);
  expect(report.readings).toHaveLength(3);
  const quantities = report.readings[1].residuals.map(({ quantity }: { quantity: string }) => quantity);
  expect(quantities).toEqual(['supplyA', 'frequencyHz', 'outputV']);
  expect(report.readings[2].regulated).toBe(false);
  expect(report.next.length).toBeGreaterThan(3);
  expect(report.combinations.length).toBeGreaterThan(0);
  expect(report.optima.length).toBeGreaterThan(0);
  expect(report.ensemble).toBeUndefined();
  const fitted = readFileSync(join(folder, 'fitted-design.json'), 'utf8');
  const read = parseDesign(JSON.parse(fitted));
  expect(read.ok && read.defaultsTaken.filter((path) => !path.startsWith('readings'))).toEqual([
    'receiver.pickup.regulator.overvoltageV',
  ]);
  expect(fitted.endsWith('\n')).toBe(true);
  const { changes } = report.takeOver;
  expect(changes.length).toBeGreaterThan(0);
  for (const { path, to } of changes) {
    const parsed = parsePath(path);
    if (parsed.ok) expect(valueAt(JSON.parse(fitted), parsed.segments), path).toBe(to);
  }
  expect(told.out).toMatch(/Fitted values as the design would have them/);
  expect(readFileSync(join(folder, 'grid.svg'), 'utf8')).toContain('check-bar');
  expect(readFileSync(join(folder, 'readings-sheet.svg'), 'utf8')).toContain('supply V');
});

test('a row with a fault is told by row and column', async () => {
  writeFileSync(csv, 'supply V;supply A;gap mm\n5;0,5;5\n5;oops;5\n');
  const { code, err, out } = await tell('fit', file, '--readings', csv, '--json');
  expect(code).toBe(1);
  expect(err).toBe(`${csv}: row 3, supply current: must be a number from 0 to 100 A; received "oops".\n`);
  expect(JSON.parse(out)).toMatchObject({ ok: false, faults: [{ row: 3 }] });
});

test('a design without readings is refused with the path', async () => {
  const { code, err } = await tell('fit', file);
  expect(code).toBe(1);
  expect(err).toMatch(/^readings: must be at least one reading/);
});
