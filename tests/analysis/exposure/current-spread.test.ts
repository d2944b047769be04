import { expect, test } from 'vitest';
import { currentSpread } from '../../../src/analysis/exposure/current-spread.ts';
import { LEAST, resolved } from '../../design/least.ts';

const { design } = resolved(LEAST);

test('tolerances move the currents both ways; without tolerances of parts only the guesses and the gap are left', () => {
  const all = currentSpread(design, [], ({ transmitterA }) => transmitterA);
  expect(all.less).toBeGreaterThan(0.01);
  expect(all.more).toBeGreaterThan(0.01);
  const firm = {
    ...design,
    assumed: [],
    transmitter: {
      ...design.transmitter,
      coil: { ...design.transmitter.coil, inductanceTolerancePercent: 0 },
      drive: { ...design.transmitter.drive, seriesCapacitanceTolerancePercent: 0, supplyTolerancePercent: 0 },
    },
  };
  const few = currentSpread(firm, [], ({ transmitterA }) => transmitterA);
  expect(few.less).toBeLessThan(all.less);
  expect(few.more).toBeLessThan(all.more);
});

test('a quantity that the currents do not move has no spread', () => {
  expect(currentSpread(design, [], () => 2)).toEqual({ less: 0, more: 0 });
});
