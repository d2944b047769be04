import axe from 'axe-core';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { page } from 'vitest/browser';
import { chooseTheme } from '../../../src/stations/theme.ts';
import { deep, deepAll, type MountedApp, mountApp, settled } from './mount-app.ts';

let mounted: MountedApp;

beforeEach(async () => {
  await page.viewport(1440, 900);
  mounted = await mountApp({ station: 'report' });
  await vi.waitFor(() => expect(deep<HTMLButtonElement>(mounted.app, '.print').disabled).toBe(false), {
    timeout: 20_000,
  });
  await settled(document);
});
afterEach(() => {
  mounted.unmount();
  chooseTheme('system');
});

const words = (selector: string) =>
  deepAll(mounted.station(), selector).map((e) => (e.textContent ?? '').replace(/[\s\u00a0]+/g, ' ').trim());

test('inputs are named by whose they are, once for all of them, and never by a number', () => {
  const [demand] = words('.inputs p').filter((text) => text.startsWith('Demand.'));
  expect(demand).toContain('charging\u2019s cell: capacity 1.8 Ah');
  expect(demand).toContain('charging\u2019s charger:');
  expect(demand?.split('playing:')).toHaveLength(2);
  const owners = words('.inputs .owner');
  expect(owners.length).toBeGreaterThan(5);
  expect(owners.filter((owner) => /^\d|, \d/.test(owner))).toEqual([]);
  const [taken] = words('.inputs .taken');
  expect(taken).toMatch(/^Not given, defaults taken\. [a-z’ ,-]+: /);
});

test.each([1440, 390])('numbers stand close and in their columns, %i px', async (width) => {
  await page.viewport(width, width === 390 ? 844 : 900);
  await settled(document);
  const heights = deepAll(mounted.station(), '.operating tr').map((row) => row.getBoundingClientRect().height);
  expect(heights).toHaveLength(8);
  expect(Math.max(...heights)).toBeLessThan(30);
  for (const cell of deepAll(mounted.station(), '.numbers td')) {
    expect(cell.scrollWidth, cell.textContent ?? '').toBeLessThanOrEqual(cell.clientWidth + 1);
  }
  expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
});

test('what is computed has what it may be beside it', () => {
  const rows = words('.operating tr').filter((text) => !text.startsWith('Wake reach'));
  expect(rows).toHaveLength(7);
  for (const row of rows) expect(row).toMatch(/\d[\d.]* [^(]*\(.*\d.*\)$/);
});

test('a number whose band prints the same stands alone', () => {
  for (const text of words('.operating td')) {
    const [, value, low, high] = /^([\d.]+) .*\(([\d.]+)[^\d]+([\d.]+)/.exec(text) ?? [];
    if (value !== undefined) expect([low, high], text).not.toEqual([value, value]);
  }
});

describe.each(['light', 'dark'] as const)('axe finds nothing, %s', (ground) => {
  test.each([1440, 390])('at %i px', async (width) => {
    await page.viewport(width, width === 390 ? 844 : 900);
    chooseTheme(ground);
    await settled(document);
    const { violations } = await axe.run(document.body, {
      rules: { region: { enabled: false } },
      runOnly: { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] },
    });
    expect(violations.flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.target.flat().join(' ')}`))).toEqual([]);
  });
});
