import { readdirSync, readFileSync } from 'node:fs';
import { gzipSync } from 'node:zlib';
import { expect, it } from 'vitest';
import { SIZE_BUDGETS, scriptSizes } from '../support/script-sizes.ts';

it('stays light: what is fetched before the first figure, and with the 3-D view', () => {
  const sizes = scriptSizes('dist/page');
  expect(sizes.first).toBeLessThan(SIZE_BUDGETS.first);
  expect(sizes.withView).toBeLessThan(SIZE_BUDGETS.withView);
  // The document and its style are little beside that.
  const rest = ['index.html', ...readdirSync('dist/page/assets').filter((name) => name.endsWith('.css'))].map((name) =>
    readFileSync(name.endsWith('.html') ? `dist/page/${name}` : `dist/page/assets/${name}`),
  );
  expect(rest.reduce((sum, file) => sum + gzipSync(file).length, 0)).toBeLessThan(8000);
  // And there is something to weigh.
  expect(sizes.first).toBeGreaterThan(20);
});
