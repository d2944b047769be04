import axe from 'axe-core';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { page } from 'vitest/browser';
import { answered, deep, deepAll, type MountedApp, mountApp, settled, type } from './mount-app.ts';

let mounted: MountedApp;
const soon = (check: () => void) => vi.waitFor(check, { timeout: 15_000 });
const plain = (text: string | null | undefined): string => (text ?? '').replace(/[\s\u00a0]+/g, ' ');
const sheet = () => deep(mounted.app, 'oc-exposure').shadowRoot as ShadowRoot;

afterEach(() => mounted.unmount());

describe('the field around the link, beneath Feed', () => {
  beforeEach(async () => {
    await page.viewport(1440, 900);
    mounted = await mountApp({ station: 'feed' });
    await answered(mounted);
    const choice = deepAll(mounted.app, 'oc-feed oc-choice, oc-choice').find((entry) =>
      entry.shadowRoot?.textContent?.includes('the field around it'),
    );
    const option = [...(choice?.shadowRoot?.querySelectorAll<HTMLElement>('label, button, input') ?? [])].find(
      (entry) => entry.textContent?.includes('the field around it'),
    );
    option?.click();
    await settled(document);
    await soon(() => expect(plain(sheet().textContent)).toContain('ICNIRP 2010, Table 4'));
  });

  test('tells the largest field with its band, each level with edition and table, from where it is met, and that it certifies nothing', () => {
    const text = plain(sheet().textContent);
    expect(text).toMatch(/Largest flux density at that distance: .*T \(.*–.*T\) rms/);
    expect(sheet().querySelectorAll('tbody tr').length).toBeGreaterThanOrEqual(7);
    expect(text).toMatch(/ICNIRP 2020, Table 6, workers/);
    expect(text).toMatch(/over 6 minutes/);
    expect(text).toContain('not a certification');
  });

  test('says what metal between the coils would take, as an order of magnitude, and the cautions', () => {
    const text = plain(sheet().textContent);
    expect(text).toMatch(/a coin of 23 mm of brass about 100 mW/);
    expect(text).toMatch(/order of magnitude.*Half a watt is enough to burn/);
    expect(text).toMatch(/15 cm from a charger \(common practice, no source\).*physician come first/);
  });

  test('the distance is typed where it stands, and the answer follows', async () => {
    const before = plain(sheet().querySelector('p b')?.textContent);
    const asked = mounted.engine.asked.exposure;
    await type(sheet().querySelector('oc-dimension') as Element, '400 mm');
    await soon(() => expect(mounted.session.store.design.value.demand.exposureDistanceMm).toBe(400));
    await soon(() => expect(mounted.engine.asked.exposure).toBe(asked + 1));
    await soon(() => expect(plain(sheet().querySelector('p b')?.textContent)).not.toBe(before));
    // The pose is not worked out again for it.
    expect(mounted.session.answers.poseFresh.value).toBe(true);
  });

  test('each level with its share and the band of that, and on a phone above its numbers', async () => {
    const heads = [...sheet().querySelectorAll('.levels thead th')].map((e) => e.textContent?.trim());
    expect(heads).toEqual(['publication', 'level', 'field over level', 'compliance distance']);
    const [row] = sheet().querySelectorAll('.levels tbody tr');
    expect(plain(row?.textContent)).toMatch(/27 µT\s*[\d.]+ %\s*\([\d.]+.[\d.]+ %\)\s*[\d.]+ mm \([\d.]+–[\d.]+\)/);
    await page.viewport(390, 844);
    await new Promise((resolve) => setTimeout(resolve, 100));
    const name = row?.querySelector('th')?.getBoundingClientRect() as DOMRect;
    for (const cell of row?.querySelectorAll('td') ?? [])
      expect(cell.getBoundingClientRect().top).toBeGreaterThanOrEqual(name.bottom - 1);
    await soon(() => expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(390));
  });

  test('has no fault that axe finds', async () => {
    const found = await axe.run(document.body, { runOnly: ['wcag2a', 'wcag2aa'] });
    expect(found.violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join()}`)).toEqual([]);
  });
});

test('the report prints it with the cautions', async () => {
  await page.viewport(1280, 900);
  mounted = await mountApp({ station: 'report' });
  await soon(() => {
    const text = plain(deep(mounted.app, 'oc-report').shadowRoot?.textContent);
    expect(text).toMatch(
      /Field around the link, 200 mm from coils and plates: at most .*ICNIRP 2010, Table 4, general public/,
    );
    expect(text).toMatch(/Metal half-way between the coils would take, as an order of magnitude/);
  });
});
