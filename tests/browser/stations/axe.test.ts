import axe from 'axe-core';
import { afterEach, describe, expect, test } from 'vitest';
import { page } from 'vitest/browser';
import { STARTING_POINTS } from '../../../src/design/starting-points.ts';
import { chooseTheme } from '../../../src/stations/theme.ts';
import { answered, deep, type MountedApp, mountApp, settled } from './mount-app.ts';

let mounted: MountedApp | null = null;

afterEach(() => {
  mounted?.unmount();
  mounted = null;
  chooseTheme('system');
}, 60_000);

/**
 * @param crowded the 3-D view, whose handles come as close to each other as the coils' edges are: each has a number field and
 *   a slider for the keyboard, which is the exception "equivalent" of WCAG 2.2, 2.5.8 (target size)
 */
async function findings(crowded = false): Promise<string[]> {
  const results = await axe.run(document.body, {
    runOnly: { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] },
    rules: { 'target-size': { enabled: !crowded } },
  });
  return results.violations.flatMap((violation) =>
    violation.nodes.map((node) => `${violation.id}: ${node.target.flat().join(' ')} ${node.failureSummary ?? ''}`),
  );
}

describe.each(['light', 'dark'] as const)('axe finds nothing, %s', (ground) => {
  test.each(['place', 'pair', 'beside', 'report'])('in %s', async (station) => {
    // Small for Pair: the 3-D view is drawn by the processor here.
    await page.viewport(station === 'pair' ? 920 : 1440, station === 'pair' ? 640 : 900);
    chooseTheme(ground);
    mounted = await mountApp({ station });
    if (station === 'beside') mounted.session.store.setCompare(STARTING_POINTS[1]!.document);
    await answered(mounted);
    // The first frames of the 3-D view place its numbers.
    await new Promise((resolve) => setTimeout(resolve, station === 'pair' ? 2500 : 100));
    expect(await findings(station === 'pair')).toEqual([]);
  });

  test('in the design menu and its lists', async () => {
    await page.viewport(1440, 900);
    chooseTheme(ground);
    mounted = await mountApp();
    await answered(mounted);
    deep(mounted.app, 'oc-design-menu .title, .title').click();
    await settled(document);
    expect(await findings()).toEqual([]);
    const menu = deep(mounted.app, 'oc-design-menu');
    for (const id of ['keys', 'words']) {
      const dialog = menu.shadowRoot?.querySelector(`#${id}`) as HTMLDialogElement;
      dialog.showModal();
      await settled(document);
      expect(await findings()).toEqual([]);
      dialog.close();
    }
  });
});

test('axe finds nothing on a phone', async () => {
  await page.viewport(390, 844);
  mounted = await mountApp();
  await answered(mounted);
  expect(await findings()).toEqual([]);
});
