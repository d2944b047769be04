import { expect, it } from 'vitest';
import { SIZE_BUDGETS, scriptSizes } from '../support/script-sizes.ts';

it('stays light: what is fetched before the first figure, and with the 3-D view', () => {
  const sizes = scriptSizes('dist/page');
  expect(sizes.first).toBeLessThan(SIZE_BUDGETS.first);
  expect(sizes.withView).toBeLessThan(SIZE_BUDGETS.withView);
  // And there is something to weigh.
  expect(sizes.first).toBeGreaterThan(20);
});
