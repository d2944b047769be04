import { expect, test } from 'vitest';
import { chainOf } from '../../../src/analysis/feed/chain-of.ts';
import { standbyOf } from '../../../src/analysis/feed/standby.ts';
import type { CellDocument } from '../../../src/design/types.ts';
import { demoWith } from './designs.ts';

test('a switch before the converter saves what the converter draws', () => {
  const { cell, boost } = chainOf(demoWith(['demand.loads[2].through[1].selfDischargePercentPerMonth', 0]));
  // 1.8 Ah over 1 mA: 1800 h, by hand.
  expect(standbyOf(cell as CellDocument, boost, false)).toMatchObject({ drainA: 0.001, days: 75 });
  expect(standbyOf(cell as CellDocument, boost, true).days).toBe(Number.POSITIVE_INFINITY);
});

test('self-discharge of 3 % a month empties the cell in 33 months', () => {
  const { cell } = chainOf(demoWith());
  expect(standbyOf(cell as CellDocument, null, false).days).toBeCloseTo((100 / 3) * (365.25 / 12), 9);
});
