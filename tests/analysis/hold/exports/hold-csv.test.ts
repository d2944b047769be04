import { expect, test } from 'vitest';
import { forcesCsv, lotteryCsv, placementsCsv } from '../../../../src/analysis/hold/exports/hold-csv.ts';
import type { HoldReport } from '../../../../src/analysis/hold/hold-report.ts';
import { HOSTILE } from './sample.ts';

const chance = (name: string) => ({ name, probability: 0.9, wilson: { low: 0.85, high: 0.93 }, trials: 200 });

/** Only the parts of a report that the tables read; invented values. */
const REPORT = {
  magnets: null,
  lottery: {
    byAid: [
      {
        aid: 'alone',
        answer: { chances: [chance(HOSTILE)], all: chance('all') },
        sample: { xMm: [1.5], yMm: [-2], yaw: [Math.PI / 2], works: [1] },
      },
    ],
    curve: { clearanceMm: [0.5], probability: [0.99], low: [0.97], high: [1] },
  },
} as unknown as HoldReport;

test('lottery: a row for each load, then the curve; a hostile name is no formula and stays one field', () => {
  const text = lotteryCsv(REPORT);
  expect(text.startsWith('aid,load,clearance_mm,probability,low,high,placements\r\n')).toBe(true);
  expect(text).toContain(`alone,"'${HOSTILE.replaceAll('"', '""')}",,0.9,0.85,0.93,200\r\n`);
  expect(text).toContain('alone,all,,0.9,0.85,0.93,200\r\n');
  expect(text.endsWith('recess,all,0.5,0.99,0.97,1,\r\n')).toBe(true);
});

test('placements in millimetres and degrees', () => {
  expect(placementsCsv(REPORT)).toBe('aid,x_mm,y_mm,yaw_deg,works\r\nalone,1.5,-2,90,1\r\n');
});

test('without magnets the table of forces has its headings alone', () => {
  expect(forcesCsv(REPORT)).toBe('direction,offset_mm,pull_N,restoring_N,friction_N,tipping_Nmm\r\n');
});
