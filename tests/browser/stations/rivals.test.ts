import axe from 'axe-core';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { page } from 'vitest/browser';
import { setValue } from '../../../src/state/commands/set-value.ts';
import { GLOSSARY } from '../../../src/stations/glossary.ts';
import '../../../src/stations/oc-rivals.ts';
import { chooseTheme } from '../../../src/stations/theme.ts';
import { type MountedPart, mountPart, settled } from './mount-part.ts';

let mounted: MountedPart<'oc-rivals'>;

beforeEach(async () => {
  await page.viewport(1200, 900);
  mounted = await mountPart('oc-rivals');
});

afterEach(() => {
  mounted.unmount();
  chooseTheme('system');
});

const part = (tag: string): HTMLElement => {
  const found = tag === 'oc-rivals' ? mounted.element : mounted.element.shadowRoot?.querySelector<HTMLElement>(tag);
  if (!found) throw new Error(`no ${tag}`);
  return found;
};

const text = (tag: string): string => (part(tag).shadowRoot?.textContent ?? '').replace(/\s+/g, ' ');

async function press(tag: string, words: string): Promise<void> {
  const buttons = [...(part(tag).shadowRoot?.querySelectorAll('button') ?? [])];
  const button = buttons.find((entry) => (entry.textContent ?? '').trim().startsWith(words));
  if (!button) throw new Error(`no button "${words}"`);
  button.focus();
  button.click();
  await settled();
}

test('the comparison is asked for by hand and gives a verdict, a figure and all numbers', async () => {
  expect(mounted.engine.asked.rivals).toBe(0);
  await press('oc-rivals', 'Compare with fair rivals');
  expect(mounted.engine.asked.rivals).toBe(1);
  expect(text('oc-rivals')).toMatch(/would do better: it .*gains 3\.0 ± 0\.0 mm of reach/);
  expect(part('oc-rivals').shadowRoot?.querySelectorAll('tbody tr')).toHaveLength(4);
  const chart = part('oc-rivals-chart').shadowRoot?.querySelector('[role=img]');
  expect(chart?.getAttribute('aria-label')).toMatch(/This pair: k 0\.\d+ .*reach 6\.0 \(5\.2–6\.7\).mm/);
});

test('a rival opens as the design, and what is shown is then said to be of the one before', async () => {
  await press('oc-rivals', 'Compare with fair rivals');
  await press('oc-rivals', 'open');
  expect(mounted.session.store.design.value.receiver.coil.outline.shape).toBe('circle');
  expect(text('oc-rivals')).toContain('Of the design before it was changed.');
  mounted.session.store.undo();
  await settled();
  expect(text('oc-rivals')).not.toContain('Of the design before');
});

test('designs can be kept and forgotten, six at most', async () => {
  for (let i = 0; i < 8; i++) await press('oc-rivals', 'Keep this design');
  expect(mounted.session.pair.kept.value).toHaveLength(6);
  await press('oc-rivals', 'forget');
  expect(mounted.session.pair.kept.value).toHaveLength(5);
});

test('a row of coils says what it serves', async () => {
  await press('oc-rivals-row', 'Look at the row');
  expect(text('oc-rivals-row')).toMatch(/Two coils, 20 mm apart: safe along 31\.0 mm .* No dead spots\./);
  expect(text('oc-rivals-row')).toMatch(/less than 0\.01 W of eddy loss in all of their copper, and at most 12 V peak/);
  mounted.session.store.run(setValue, { path: 'transmitter.drive.supplyV', value: 6, what: 'supply' });
  await settled();
  expect(text('oc-rivals-row')).toContain('Of the design before it was changed.');
  mounted.session.store.undo();
  await settled();
  expect(text('oc-rivals-row')).not.toContain('Of the design before');
  const plan = part('oc-rivals-row').shadowRoot?.querySelector('oc-rivals-row-chart')?.shadowRoot;
  expect(plan?.querySelectorAll('.coil')).toHaveLength(2);
});

test('a reading of a coil goes into the design, and comes out again', async () => {
  const details = part('oc-rivals-coil').shadowRoot?.querySelector('details') as HTMLDetailsElement;
  details.open = true;
  await settled();
  expect(text('oc-rivals-coil')).toMatch(/L = 10\.00 ± 0\.20.µH/);
  await press('oc-rivals-coil', 'Put it into the design');
  expect(mounted.session.store.design.value.receiver.coil.inductanceUh).toBe(10);
  mounted.session.store.undo();
  expect(mounted.session.store.design.value.receiver.coil.inductanceUh).toBeNull();
});

test('what is not known of a board is ticked, kept in the design, and gives an interval', async () => {
  const details = part('oc-rivals-board').shadowRoot?.querySelector('details') as HTMLDetailsElement;
  details.open = true;
  await settled();
  const [supply] = part('oc-rivals-board').shadowRoot?.querySelectorAll<HTMLInputElement>('input') ?? [];
  supply?.focus();
  supply?.click();
  await settled();
  expect(mounted.session.store.design.value.transmitter.drive.unknown).toEqual(['supply']);
  await press('oc-rivals-board', 'Try plausible boards');
  expect(text('oc-rivals-board')).toMatch(/0\.31 to 1\.20 A here, and a reach of 0\.0 to 14\.2 mm/);
  expect(text('oc-rivals-board')).toContain('common practice, no source');
  mounted.session.store.undo();
  await settled();
  expect(mounted.session.store.design.value.transmitter.drive.unknown).toEqual([]);
  expect(text('oc-rivals-board')).toContain('Of the design before it was changed.');
});

test('a tuning is taken in one step', async () => {
  await press('oc-rivals-retune', 'Tune for this place');
  expect(text('oc-rivals-retune')).toMatch(/144.nF at the receiver leaves 1\.00 A/);
  await press('oc-rivals-retune', 'take');
  expect(mounted.session.store.design.value.receiver.pickup.seriesCapacitanceNf).toBe(144);
  mounted.session.store.undo();
  expect(mounted.session.store.design.value.receiver.pickup.seriesCapacitanceNf).toBe(120);
});

test('what the search finds can be chosen from the keyboard and opened', async () => {
  await press('oc-rivals-search', 'Search');
  expect(text('oc-rivals-search')).toMatch(/10\.0 mm of reach instead of 6\.0, solved directly/);
  const chart = part('oc-rivals-search').shadowRoot?.querySelector('oc-pareto-chart')?.shadowRoot;
  const points = [...(chart?.querySelectorAll<SVGElement>('[role=button]') ?? [])];
  expect(points).toHaveLength(3);
  points[2]?.focus();
  points[2]?.dispatchEvent(new KeyboardEvent('keydown', { key: 'Enter', bubbles: true }));
  await settled();
  expect(text('oc-rivals-search')).toMatch(/solved directly 10\.0 mm of reach/);
  const formats = part('oc-rivals-search').shadowRoot?.querySelector('oc-figure')?.formats;
  expect(formats).toContain('csv');
  await press('oc-rivals-search', 'Open this design');
  expect(mounted.session.store.design.value.receiver.coil.turns).toBe(16);
});

describe.each(['light', 'dark'] as const)('%s', (ground) => {
  test.each([1200, 390])(
    'axe finds nothing at %i px, nothing runs out sideways, every label has a word in the list',
    async (width) => {
      await page.viewport(width, 900);
      chooseTheme(ground);
      mounted.session.store.run(setValue, { path: 'transmitter.drive.unknown', value: ['supply'], what: 'board' });
      await settled();
      for (const [tag, words] of [
        ['oc-rivals', 'Compare with fair rivals'],
        ['oc-rivals-row', 'Look at the row'],
        ['oc-rivals-retune', 'Tune for this place'],
        ['oc-rivals-search', 'Search'],
        ['oc-rivals-board', 'Try plausible boards'],
      ] as const)
        await press(tag, words);
      const results = await axe.run(document.body, {
        runOnly: { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] },
      });
      expect(
        results.violations.flatMap((v) =>
          v.nodes.map((n) => `${v.id}: ${n.target.flat().join(' ')} ${n.failureSummary}`),
        ),
      ).toEqual([]);
      expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
      const known = new Set(Object.values(GLOSSARY).map((term) => term.label));
      for (const tag of ['oc-rivals', 'oc-rivals-retune', 'oc-rivals-search', 'oc-rivals-board']) {
        const heads = [...(part(tag).shadowRoot?.querySelectorAll('h2, legend, thead th') ?? [])].map(
          (e) => e.textContent?.trim() ?? '',
        );
        expect(heads.filter((head) => !known.has(head))).toEqual([]);
      }
    },
  );
});

test('on a phone no value of the comparison stands on a name', async () => {
  await page.viewport(390, 844);
  await settled();
  await press('oc-rivals', 'Compare with fair rivals');
  const chart = part('oc-rivals').shadowRoot?.querySelector('oc-rivals-chart')?.shadowRoot;
  const boxes = [...(chart?.querySelectorAll('text') ?? [])].map((text) => text.getBoundingClientRect());
  expect(boxes.length).toBeGreaterThan(20);
  boxes.forEach((a, i) => {
    for (const b of boxes.slice(i + 1)) {
      const apart = a.right <= b.left + 1 || b.right <= a.left + 1 || a.bottom <= b.top + 4 || b.bottom <= a.top + 4;
      expect(apart).toBe(true);
    }
  });
});

const QUESTIONS = [
  'oc-rivals',
  'oc-rivals-row',
  'oc-rivals-retune',
  'oc-rivals-search',
  'oc-rivals-coil',
  'oc-rivals-board',
];

test.each([1400, 800, 320])(
  'at %i px every question has its name, one sentence on what it answers, and its room',
  async (width) => {
    await page.viewport(width, 900);
    await settled();
    for (const tag of QUESTIONS) {
      const section = part(tag).shadowRoot?.querySelector('.question') as HTMLElement;
      const [name, body, answers] = ['h2', '.body', '.answers'].map((s) =>
        section.querySelector(s)?.getBoundingClientRect(),
      );
      expect(section.querySelector('.answers')?.textContent, tag).toMatch(/^(What|Which|Whether|How far) [^.]+\.$/);
      if (!name || !body || !answers) throw new Error(tag);
      // Beside each other where there is room, else beneath each other; the sentence level with the name or under it.
      if (width === 1400) expect(body.left, tag).toBeGreaterThan(name.right);
      else expect(answers.top, tag).toBeGreaterThanOrEqual(name.bottom - 1);
      expect(body.right, tag).toBeLessThanOrEqual(width);
      expect(body.width, tag).toBeGreaterThan(Math.min(width - 20, 700) - 60);
    }
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
  },
);

test('an answer comes in beneath what was pressed: nothing moves under the hand', async () => {
  for (const [tag, words] of [
    ['oc-rivals-search', 'Search'],
    ['oc-rivals-retune', 'Tune for this place'],
    ['oc-rivals-row', 'Look at the row'],
    ['oc-rivals', 'Compare with fair rivals'],
  ] as const) {
    const button = part(tag).shadowRoot?.querySelector('button.do') as HTMLElement;
    const before = button.getBoundingClientRect().top;
    await press(tag, words);
    expect(part(tag).shadowRoot?.querySelector('.verdict'), tag).not.toBeNull();
    expect(button.getBoundingClientRect().top, tag).toBe(before);
  }
});

test('at 1400 px the numbers of the candidates need no scrolling sideways', async () => {
  await page.viewport(1400, 900);
  await press('oc-rivals', 'Compare with fair rivals');
  const wide = part('oc-rivals').shadowRoot?.querySelector('.wide') as HTMLElement;
  expect(wide.scrollWidth).toBeLessThanOrEqual(wide.clientWidth);
});
