import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { documentOf } from '../../src/design/resolve.ts';
import { airDesign, withReadings } from '../analysis/prove/synthetic-bench.ts';
import { tell } from './capture.ts';

const directory = mkdtempSync(join(tmpdir(), 'offcentre-fit-'));
const file = join(directory, 'bench.json');

beforeAll(() => {
  const design = withReadings(airDesign(), [
    { supplyV: 5, supplyA: 0.512, outputV: 5, outputA: 0.38, gapMm: 5 },
    { supplyV: 5, supplyA: 1.3, outputV: 5, outputA: 0.98, gapMm: 5, frequencyKhz: 161 },
    { supplyV: 5, outputA: 2.1, gapMm: 5, regulated: false },
  ]);
  writeFileSync(file, JSON.stringify(documentOf(design)));
});

test('fit --json prints each value with prior and uncertainty and the residual of every reading', {
  timeout: 60_000,
}, async () => {
  const { code, out } = await tell('fit', file, '--json', '--starts', '1');
  expect(code).toBe(0);
  const report = JSON.parse(out);
  const [capacitor] = report.parameters;
  expect(capacitor).toMatchObject({ path: 'transmitter.drive.seriesCapacitanceNf', unit: 'nF' });
  expect(capacitor.prior.value).toBe(330);
  expect(capacitor.fitted.low).toBeLessThan(capacitor.fitted.value);
  expect(capacitor.fitted.high).toBeGreaterThan(capacitor.fitted.value);
  expect(['readings', 'both', 'prior']).toContain(capacitor.decidedBy);
  expect(report.readings).toHaveLength(3);
  expect(report.readings[1].residuals.map((r: { quantity: string }) => r.quantity)).toEqual([
    'supplyA',
    'frequencyHz',
    'outputV',
  ]);
  expect(report.readings[2].regulated).toBe(false);
  expect(report.next.length).toBeGreaterThan(3);
  expect(report.combinations.length).toBeGreaterThan(0);
  expect(report.optima.length).toBeGreaterThan(0);
  expect(report.ensemble).toBeUndefined();
});

test('readings of a CSV file take the place of the design’s; its faults are told by row', {
  timeout: 60_000,
}, async () => {
  const csv = join(directory, 'bench.csv');
  writeFileSync(csv, 'supply V;supply A;output V;output A;gap mm\n5;0,512;5;0,38;5\n5;oops;5;0,4;5\n');
  const wrong = await tell('fit', file, '--readings', csv);
  expect(wrong.code).toBe(1);
  expect(wrong.err).toContain('row 3, supply current: must be a number from 0 to 100 A; received "oops".');
  writeFileSync(csv, 'supply V;supply A;output V;output A;gap mm\n5;0,512;5;0,38;5\n');
  const folder = join(directory, 'sheets');
  const right = await tell('fit', file, '--readings', csv, '--starts', '1', '--out', folder);
  expect(right.code).toBe(0);
  expect(right.out).toMatch(/The readings fix/);
  expect(right.out).toMatch(/What to read next/);
  expect(readFileSync(join(folder, 'grid.svg'), 'utf8')).toContain('check-bar');
  expect(JSON.parse(readFileSync(join(folder, 'fit.json'), 'utf8')).readings).toHaveLength(1);
});

test('a design without readings is refused with the path', async () => {
  const empty = join(directory, 'empty.json');
  writeFileSync(empty, JSON.stringify(documentOf(airDesign())));
  const { code, err } = await tell('fit', empty);
  expect(code).toBe(1);
  expect(err).toMatch(/^readings: must be at least one reading/);
});
