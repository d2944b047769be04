import { beforeAll, describe, expect, test } from 'vitest';
import { type OperatingSpread, operatingSpread } from '../../../src/analysis/feed/operating-spread.ts';
import { poseAnswer } from '../../../src/analysis/margin/pose-answer.ts';
import type { Design } from '../../../src/design/types.ts';
import { demoWith } from './designs.ts';

/** Coils in air: no plates to set up. */
const air = (...changes: readonly (readonly [string, unknown])[]): Design =>
  demoWith(
    ['transmitter.ferrite', null],
    ['receiver.ferrite', null],
    ['receiver.metal', null],
    ['transmitter.drive.seriesCapacitanceNf', 560],
    ['receiver.pickup.seriesCapacitanceNf', 200],
    ...changes,
  );

describe('bands of the operating point', () => {
  let spread: OperatingSpread;
  beforeAll(() => {
    spread = operatingSpread(air(), []);
  });

  test('are never negative, and there is one for every loss', () => {
    for (const side of [spread.less, spread.more]) {
      expect(Object.keys(side)).toEqual(
        expect.arrayContaining(['supply', 'bridge', 'regulator', 'supplyW', 'efficiency', 'receiverC']),
      );
      for (const value of Object.values(side)) expect(value).toBeGreaterThanOrEqual(0);
    }
    expect(spread.less.supplyW + spread.more.supplyW).toBeGreaterThan(0);
  });

  test('narrow with the tolerances', () => {
    const tight = air(
      ['transmitter.drive.seriesCapacitanceTolerancePercent', 0.5],
      ['receiver.pickup.seriesCapacitanceTolerancePercent', 0.5],
      ['transmitter.drive.supplyTolerancePercent', 0.5],
      ['transmitter.coil.inductanceTolerancePercent', 0.5],
      ['receiver.coil.inductanceTolerancePercent', 0.5],
      ['stack', [{ name: 'air', thicknessMm: 5.9, toleranceMm: 0.02 }]],
    );
    const narrow = operatingSpread(tight, []);
    const width = (of: OperatingSpread) => of.less.efficiency + of.more.efficiency;
    expect(width(narrow)).toBeLessThan(0.6 * width(spread));
  });

  test('hold what a bench with one part at its tolerance would read', () => {
    const base = poseAnswer(air(), []).operatingPoint;
    const shifted = poseAnswer(air(['transmitter.drive.supplyV', 5.15]), []).operatingPoint;
    const change = shifted.losses.transmitterIdle - base.losses.transmitterIdle;
    expect(change).toBeLessThanOrEqual(spread.more.transmitterIdle * 1.05 + 1e-4);
    expect(-change).toBeLessThanOrEqual(spread.less.transmitterIdle * 1.05 + 1e-4);
  });
});
