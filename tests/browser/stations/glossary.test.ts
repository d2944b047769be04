import { afterEach, expect, test, vi } from 'vitest';
import { page } from 'vitest/browser';
import { STARTING_POINTS } from '../../../src/design/starting-points.ts';
import { GLOSSARY } from '../../../src/stations/glossary.ts';
import { answered, deep, deepAll, type MountedApp, mountApp, settled } from './mount-app.ts';

let mounted: MountedApp | null = null;

afterEach(() => {
  mounted?.unmount();
  mounted = null;
}, 60_000);

const known = new Set(Object.values(GLOSSARY).map((term) => term.label.toLowerCase()));

/** The words of a label: without numbers, units and what a field belongs to. */
function words(text: string): string {
  return text
    .replace(/\s+/g, ' ')
    .replace(/\(.*\)/g, '')
    .replace(/,.*$/, '')
    .replace(/[+\u2212-]?[\d.]+[\u00a0\u2009 ]?(mm|A|%|°|V)?/g, '')
    .replace(/[±·]/g, '')
    .trim()
    .toLowerCase();
}

/** Every label on show: of links between stations, figures, fields, lines, axes, rows, columns and choices. */
function labels(): string[] {
  const root = (mounted as MountedApp).app;
  const layers = new Set((mounted as MountedApp).session.store.design.value.stack.map((layer) => layer.name));
  const peaks = new Set((mounted as MountedApp).session.store.resolved.value.demand.peaks.map((peak) => peak.name));
  const found = [
    ...deepAll(
      root,
      // Rows of what differs are named by the design format, whose schema says what each key is.
      'nav a, h2, h3, th:not(#keys th, .what tbody th, .user), legend, .looks > span:not(.said), .switch, summary, caption, .named, .slide label, .field > span',
    ).map((e) => e.textContent ?? ''),
    ...deepAll(root, 'oc-dimension, oc-unit-field').map((e) => e.getAttribute('label') ?? ''),
    ...deepAll(root, 'text.halo:not(.here), .legend li').map((e) => e.textContent ?? ''),
    ...deepAll(root, 'oc-line-chart').map((e) => (e as HTMLElement & { xName: string }).xName),
    ...deepAll(root, 'oc-choice label').map((e) => e.textContent ?? ''),
    // Captions of fields, except the names that the user gave the layers, the axes' own letters and the signs of ISO 129-1.
    ...deepAll(root, '.caption')
      .map((e) => e.textContent ?? '')
      .filter((text) => !layers.has(text) && !['x', 'y', '±', 'ø', 'R'].includes(text)),
  ];
  return [...new Set(found.map(words))].filter((text) => text !== '' && !peaks.has(text));
}

function unknown(): string[] {
  return labels().filter((text) => !known.has(text));
}

test.each([
  ['place', 1440],
  ['place', 390],
  ['pair', 920],
  ['hold', 1440],
  ['hold', 390],
  ['beside', 1280],
  ['report', 1280],
  ['feed', 1280],
])('every label of %s at %i px is in the glossary', async (station, width) => {
  await page.viewport(width, 700);
  mounted = await mountApp({ station });
  if (station === 'beside') mounted.session.store.setCompare(STARTING_POINTS[1]!.document);
  await answered(mounted);
  expect(labels().length).toBeGreaterThan(15);
  expect(unknown()).toEqual([]);
});

test('and so is every label of the design menu', async () => {
  mounted = await mountApp();
  deep(mounted.app, '.title').click();
  await settled(document);
  expect(unknown()).toEqual([]);
});

test('a label that is not in the glossary is found', async () => {
  mounted = await mountApp();
  await answered(mounted);
  const stranger = document.createElement('h2');
  stranger.textContent = 'Flux capacitance';
  deep(mounted.app, 'main').append(stranger);
  expect(unknown()).toEqual(['flux capacitance']);
});

test('every term has a meaning and says where it comes from', () => {
  for (const [id, { label, meaning, source }] of Object.entries(GLOSSARY)) {
    expect(meaning, id).toMatch(/\.$/);
    expect(label.length, id).toBeGreaterThan(0);
    expect(source, id).toMatch(/a name of ours|no source|IEC|ISO|ICNIRP|textbook/);
    if (/IEC|ISO|ICNIRP|textbook/.test(source)) expect(source, id).toMatch(/from memory|seen/);
  }
  const all = Object.values(GLOSSARY).map((term) => term.label.toLowerCase());
  expect(new Set(all).size).toBe(all.length);
});

test('the list on the page holds all of them', async () => {
  mounted = await mountApp();
  const dialog = deep<HTMLDialogElement>(mounted.app, '#words');
  // Opened as a reader does: the list is fetched with the menu.
  deep(mounted.app, '.title').click();
  await vi.waitFor(() => expect(dialog.querySelectorAll('dt').length).toBeGreaterThan(100));
  dialog.showModal();
  expect([...dialog.querySelectorAll('dt')].map((e) => e.textContent?.toLowerCase()).sort()).toEqual([...known].sort());
  dialog.close();
});
