import { expect, test } from 'vitest';
import { sensitivityKey } from '../../../src/analysis/margin/sensitivity-key.ts';
import { type Change, changed } from '../../design/changed.ts';
import { resolved } from '../../design/least.ts';

const of = (...changes: readonly Change[]) => resolved(changed(...changes)).design;

test('sensitivities hold near a place, and are asked anew farther off', () => {
  const at = (x: number) => sensitivityKey(of(['placement.offsetXMm', x]));
  expect(at(1)).toBe(at(0));
  expect(at(10)).not.toBe(at(0));
});
