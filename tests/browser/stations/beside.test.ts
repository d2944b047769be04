import axe from 'axe-core';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import type { DesignDocument } from '../../../src/design/schema.ts';
import { setValue } from '../../../src/state/commands/set-value.ts';
import { chooseTheme } from '../../../src/stations/theme.ts';
import { answerText, deep, deepAll, type MountedApp, mountApp, settled } from './mount-app.ts';

let mounted: MountedApp;
const store = () => mounted.session.store;
const button = (words: string): HTMLElement => {
  const found = deepAll(mounted.station(), 'button').find((b) => b.textContent?.trim() === words);
  if (!found) throw new Error(`no button ${words}`);
  return found;
};
const text = (selector: string) =>
  deepAll(mounted.station(), selector).map((e) => (e.textContent ?? '').replace(/[\s\u00a0]+/g, ' ').trim());

/** A gap that contradicts the stack: read by the schema, refused by what checks keys against each other. */
const FAULTY: DesignDocument = {
  ...DEMO_DESIGN,
  title: 'Thinner lid',
  placement: { ...DEMO_DESIGN.placement, gapMm: 2 },
};
const DIFFERENT: DesignDocument = {
  ...DEMO_DESIGN,
  title: 'Other',
  placement: { offsetXMm: 3 },
  receiver: { ...DEMO_DESIGN.receiver, metal: null, coil: { ...DEMO_DESIGN.receiver.coil, turns: 12 } },
};

beforeEach(async () => {
  await page.viewport(1440, 900);
  mounted = await mountApp({ station: 'beside' });
});
afterEach(() => {
  mounted.unmount();
  chooseTheme('system');
});

const ownMap = async (): Promise<void> => {
  await vi.waitFor(() => expect(mounted.session.answers.mapFresh.value).toBe(true), { timeout: 20_000 });
  await settled(document);
};

describe('a design beside that does not hold together', () => {
  test('is told with what is wrong and what to do; the own design keeps its answer and its figures', async () => {
    store().setCompare(FAULTY);
    await settled(document);
    await ownMap();
    expect(answerText(mounted.app)).toMatch(
      /^The design beside does not hold together\. The one on the table reaches [\d.]+ mm off centre\.$/,
    );
    expect(deep(mounted.station(), 'oc-answer').getAttribute('why')).toMatch(/Change places to mend it on the table/);
    expect(text('.there .faults li')).toEqual([
      expect.stringMatching(/^placement\.gapMm must be .*5\.9.* mm.*; received .*2/),
    ]);
    expect(text('.here .says')[0]).toMatch(/^Holds .* off centre\.$/);
    expect(deep(mounted.station(), 'oc-two-outlines').shadowRoot?.querySelectorAll('path.line')).toHaveLength(1);
    const rows = deepAll<HTMLTableRowElement>(mounted.station(), '.numbers tbody tr').map((row) =>
      [...row.cells].map((cell) => cell.textContent?.trim()),
    );
    expect(rows.every(([, here, there]) => here !== '–' && there === '–')).toBe(true);
  });

  test('comes onto the table by the keyboard, is mended there, and both are compared', async () => {
    store().setCompare(FAULTY);
    await settled(document);
    button('Change places').focus();
    await userEvent.keyboard('{Enter}');
    await settled(document);
    expect(deep(mounted.app, '.faults b').textContent).toBe('placement.gapMm');
    store().run(setValue, { path: 'placement.gapMm', value: 5.9, what: 'the gap' });
    await vi.waitFor(() => expect(mounted.session.beside.map.value).not.toBeNull(), { timeout: 20_000 });
    await vi.waitFor(() => expect(answerText(mounted.app)).toMatch(/^Both reach/));
  });

  test('while the one on the table has a fault, its last state is compared, and that is said', async () => {
    store().setCompare(DEMO_DESIGN);
    store().run(setValue, { path: 'placement.gapMm', value: 2, what: 'the gap' });
    await vi.waitFor(() => expect(mounted.session.beside.map.value).not.toBeNull(), { timeout: 20_000 });
    await vi.waitFor(() =>
      expect(deep(mounted.station(), 'oc-answer').getAttribute('why')).toMatch(
        /Of the design on the table as it last held together\.$/,
      ),
    );
    expect(answerText(mounted.app)).toMatch(/^Both reach/);
  });
});

test('what cannot be worked out beside is said in the answer, not waited for', async () => {
  const failed = vi.spyOn(mounted.session.engine, 'map').mockResolvedValue({
    ok: false,
    error: { name: 'ConvergenceError', message: 'The map did not settle.' },
  } as never);
  store().setCompare(DIFFERENT);
  await vi.waitFor(() => expect(mounted.session.beside.failure.value).not.toBeNull(), { timeout: 20_000 });
  await settled(document);
  expect(answerText(mounted.app)).toMatch(/^What the design beside can do could not be worked out\./);
  failed.mockRestore();
});

test('what differs is named by fields, on a phone each beneath the other', async () => {
  store().setCompare(DIFFERENT);
  await ownMap();
  const rows = deepAll<HTMLTableRowElement>(mounted.station(), '.what tbody tr').map((row) =>
    [...row.cells].slice(0, 3).map((cell) => (cell.textContent ?? '').replaceAll('\u00a0', ' ').trim()),
  );
  expect(rows).toEqual([
    ['receiver, turns in all', '14 turns', '12 turns'],
    ['receiver, metal', expect.stringMatching(/^thickness 0\.5 mm, clear distance .* 1 mm/), 'none'],
    ['offset along x', '0 mm', '3 mm'],
  ]);
  await page.viewport(390, 844);
  await settled(document);
  for (const row of deepAll(mounted.station(), '.what tbody tr')) {
    const [name, here, there, take] = [...row.children].map((cell) => cell.getBoundingClientRect());
    expect(here.top).toBeGreaterThanOrEqual(name.bottom - 1);
    expect(there.left).toBeGreaterThan(here.left);
    // `take over` on one line, inside the page.
    expect(take.height).toBeLessThan(32);
    expect(take.right).toBeLessThanOrEqual(390);
  }
  const own = deepAll(mounted.station(), '.what td[data-of]')[0];
  expect(getComputedStyle(own, '::before').content).toBe('"On the table"');
});

test('nothing moves when the second answer comes', async () => {
  store().setCompare(DIFFERENT);
  await ownMap();
  const places = () =>
    deepAll(mounted.station(), '.two section, oc-figure, .numbers th, .numbers td, .what').map((e) => {
      const { x, y, width } = e.getBoundingClientRect();
      return [x, y, width].map(Math.round).join(' ');
    });
  mounted.session.beside.want(null);
  await settled(document);
  const before = places();
  store().setCompare({ ...DIFFERENT, title: 'Once more' });
  await vi.waitFor(() => expect(mounted.session.beside.map.value).not.toBeNull(), { timeout: 20_000 });
  await settled(document);
  expect(places()).toEqual(before);
});

describe.each(['light', 'dark'] as const)('axe finds nothing, %s', (ground) => {
  test.each([
    [1440, FAULTY],
    [390, FAULTY],
    [390, DIFFERENT],
  ] as const)('at %i px', async (width, beside) => {
    await page.viewport(width, width === 390 ? 844 : 900);
    chooseTheme(ground);
    store().setCompare(beside);
    await ownMap();
    const { violations } = await axe.run(document.body, {
      rules: { region: { enabled: false } },
      runOnly: { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] },
    });
    expect(violations.flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.target.flat().join(' ')}`))).toEqual([]);
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
  });
});
