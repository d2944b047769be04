import { beforeAll, describe, expect, test } from 'vitest';
import { type ExposureReport, exposureReport } from '../../../src/analysis/exposure/exposure-report.ts';
import { EXPOSURE_PROVISO, exposureSentences } from '../../../src/analysis/exposure/exposure-words.ts';
import { poseOfDesign, sidesOfDesign } from '../../../src/analysis/link/link-context.ts';
import { poseAnswer } from '../../../src/analysis/margin/pose-answer.ts';
import type { OperatingAnswer } from '../../../src/analysis/types.ts';
import type { Design } from '../../../src/design/types.ts';
import { airFields, rmsField } from '../../../src/physics/exposure/link-field.ts';
import { LEAST, resolved } from '../../design/least.ts';

/** Small pair in air, so that the test is quick; plates are tested in physics/exposure. */
const { design } = resolved({ ...LEAST, demand: { ...LEAST.demand, exposureDistanceMm: 60 } });
let point: OperatingAnswer;
let report: ExposureReport;

const with_ = (distanceMm: number): Design => ({
  ...design,
  demand: { ...design.demand, exposureDistanceMm: distanceMm },
});

beforeAll(() => {
  point = poseAnswer(design, []).operatingPoint;
  const found = exposureReport(design, point, []);
  if (!found) throw new Error('no current flows');
  report = found;
});

describe('the field around a link in air', () => {
  test('is what Biot and Savart say at the place it names, and that place keeps the distance', () => {
    const { transmitter, receiver } = sidesOfDesign(design);
    const fields = airFields(transmitter.winding, receiver.winding, poseOfDesign(design), 1e-9);
    const currents = {
      transmitterA: point.transmitterCoilARms,
      receiverA: point.receiverCoilARms,
      correlation: point.currentCorrelation,
    };
    const [x, y, z] = report.atM;
    expect(rmsField(fields, currents, x, y, z).rmsT / report.largestT.value).toBeCloseTo(1, 4);
    // Over the middle of a flat coil, or beside it: never nearer than the distance to the coil's own box.
    expect(Math.max(Math.abs(z) - 0.01, Math.hypot(x, y) - 0.02)).toBeGreaterThan(0.035);
    expect(report.field).toBe('in air');
  });

  test('has a band that holds the value, wider than the field model alone: the currents are not known so well', () => {
    const { low, value, high } = report.largestT;
    expect(low).toBeLessThan(value * 0.99);
    expect(high).toBeGreaterThan(value * 1.01);
    for (const { share, metFromM } of report.levels) {
      expect(share.low).toBeLessThanOrEqual(share.value);
      expect(share.high).toBeGreaterThanOrEqual(share.value);
      expect(metFromM.low).toBeLessThanOrEqual(metFromM.value);
      expect(metFromM.high).toBeGreaterThanOrEqual(metFromM.value);
    }
  });

  test('meets a level where it says: judged at that distance the share is one', () => {
    const level = report.levels.find(({ id }) => id === '2010-public')!;
    expect(level.met).toBe('inside');
    const there = exposureReport(with_(1e3 * level.metFromM.value), point, [])!;
    expect(there.levels.find(({ id }) => id === '2010-public')!.share.value).toBeCloseTo(1, 1);
  });

  test('falls with the distance and rises with the current', () => {
    const farther = exposureReport(with_(120), point, [])!;
    expect(farther.largestT.value).toBeLessThan(report.largestT.value / 3);
    const stronger = exposureReport(
      design,
      { ...point, transmitterCoilARms: 2 * point.transmitterCoilARms, receiverCoilARms: 2 * point.receiverCoilARms },
      [],
    )!;
    expect(stronger.largestT.value / report.largestT.value).toBeCloseTo(2, 2);
    expect(stronger.between.objects[0]!.powerW / report.between.objects[0]!.powerW).toBeCloseTo(4, 6);
  });

  test('its harmonics come from the waveform where that is known, else from a bound', () => {
    const { transmitterCoilARms: i1, receiverCoilARms: i2, currentCorrelation: correlation } = point;
    // A tenth of both currents in the same phase is a tenth of the field anywhere; two such add.
    const tenth = { transmitterA: 0.1 * i1, receiverA: 0.1 * i2, correlation };
    const harmonics = [
      { order: 3, ...tenth },
      { order: 5, ...tenth },
    ];
    const known = exposureReport(design, { ...point, harmonics }, [])!.harmonics;
    expect(known.known).toBe(true);
    expect(known.share).toBeCloseTo(0.2, 9);
    const bound = exposureReport(design, { ...point, harmonics: [] }, [])!.harmonics;
    expect(bound.known).toBe(false);
    expect(bound.share).toBeGreaterThan(0);
    expect(bound.share).toBeLessThan(2);
  });

  test('is none where no current flows', () => {
    expect(exposureReport(design, { ...point, transmitterCoilARms: 0, receiverCoilARms: 0 }, [])).toBeNull();
  });
});

test('in words: distance, edition, table, what is met from where, order of magnitude, no certification', () => {
  const [field, metal] = exposureSentences(report, ' ');
  expect(field).toMatch(/60\.0 mm from coils and plates: at most .*T \(.*–.*T\) rms/);
  expect(field).toMatch(/ICNIRP 2010, Table 4, general public: 27 µT, met from/);
  expect(field).toContain(EXPOSURE_PROVISO);
  expect(metal).toMatch(/order of magnitude: a coin of 23 mm of brass about/);
});
