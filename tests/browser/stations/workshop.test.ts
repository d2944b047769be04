import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { page } from 'vitest/browser';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { moveReceiver } from '../../../src/state/commands/move-receiver.ts';
import { setValue } from '../../../src/state/commands/set-value.ts';
import type { LinkView } from '../../../src/stations/oc-link-view.ts';
import { answered, answerText, deep, deepAll, type MountedApp, mountApp, press, settled, type } from './mount-app.ts';

let mounted: MountedApp;
let complaints: unknown[][];
const soon = (check: () => void) => vi.waitFor(check, { timeout: 20_000 });
const store = () => mounted.session.store;

beforeEach(() => {
  complaints = [];
  for (const name of ['error', 'warn'] as const) {
    vi.spyOn(console, name).mockImplementation((...words: unknown[]) => {
      if (!/Lit is in dev mode|GPU stall due to ReadPixels/.test(String(words[0]))) complaints.push(words);
    });
  }
});
afterEach(() => {
  mounted.unmount();
  vi.restoreAllMocks();
  expect(complaints).toEqual([]);
}, 60_000);

const cells = (selector: string): string[][] =>
  deepAll<HTMLTableRowElement>(mounted.app, selector).map((row) =>
    [...row.cells].map((cell) => (cell.textContent ?? '').replace(/[\s\u00a0]+/g, ' ').trim()),
  );
const button = (words: string): HTMLElement => {
  const found = deepAll(mounted.app, 'button').find((b) => b.textContent?.trim() === words);
  if (!found) throw new Error(`no button ${words}`);
  return found;
};

describe('field lines', () => {
  beforeEach(async () => {
    await page.viewport(920, 640);
    mounted = await mountApp({ station: 'pair' });
    await answered(mounted);
    await soon(() => expect(deepAll(mounted.app, '.handle[data-handle]').length).toBeGreaterThan(5));
  }, 60_000);

  test('are asked for only on demand, follow the design, and go again', async () => {
    const view = deep<LinkView>(mounted.app, 'oc-link-view');
    expect(mounted.engine.asked.field).toBe(0);
    const before = view.counts()?.geometries ?? 0;
    const toggle = deep(mounted.app, '.switch');
    toggle.click();
    await soon(() => expect(mounted.session.field.lines.value).toHaveLength(3));
    await settled(document);
    expect(toggle.getAttribute('aria-pressed')).toBe('true');
    await soon(() => expect(view.counts()?.geometries).toBe(before + 1));
    store().run(moveReceiver, { xMm: 0, yMm: 0 }, 'start');
    store().run(moveReceiver, { xMm: 4, yMm: 0 }, 'move');
    // While dragged those of the old place are not shown for the new one.
    expect(mounted.session.field.lines.value).toBeNull();
    expect(mounted.engine.asked.field).toBe(1);
    store().run(moveReceiver, { xMm: 4, yMm: 0 }, 'end');
    await soon(() => expect(mounted.session.field.lines.value).not.toBeNull());
    expect(mounted.engine.asked.field).toBe(2);
    toggle.click();
    await settled(document);
    expect(mounted.session.field.lines.value).toBeNull();
    expect(toggle.getAttribute('aria-pressed')).toBe('false');
  });
});

describe('two designs', () => {
  beforeEach(async () => {
    await page.viewport(1280, 900);
    mounted = await mountApp({ station: 'beside' });
  });

  test('begin with a copy; what is changed is listed and can be taken over', async () => {
    expect(answerText(mounted.app)).toMatch(/^Lay a second design beside/);
    button('Lay a copy beside').click();
    await soon(() => expect(answerText(mounted.app)).toMatch(/^Both reach [\d.]+ mm off centre/));
    expect(deep(mounted.app, '.what').textContent).toContain('Nothing yet');
    store().run(setValue, { path: 'transmitter.drive.supplyV', value: 9, what: 'supply' });
    await soon(() => expect(answerText(mounted.app)).toMatch(/The design on the table reaches [\d.]+ mm further/));
    expect(cells('.what tbody tr')).toEqual([['transmitter, supply voltage', '9 V', '5 V', 'take over']]);
    const rows = cells('.numbers tbody tr');
    expect(rows).toHaveLength(8);
    expect(rows[0]).toEqual(['Coupling factor k', '0.521 (0.513–0.529)', '0.521 (0.513–0.529)', 'the same']);
    expect(rows.find(([name]) => name === 'Most current here')?.[3]).toMatch(/^\u2212[\d.]+ A/);
    button('take over').click();
    await settled(document);
    expect(store().document.value.transmitter.drive.supplyV).toBe(5);
    expect(store().undoLabel.value).toBe('Take over transmitter, supply voltage');
    store().undo();
    expect(store().document.value.transmitter.drive.supplyV).toBe(9);
  });

  test('say which differences are smaller than what is known', async () => {
    store().setCompare({
      ...DEMO_DESIGN,
      receiver: { ...DEMO_DESIGN.receiver, coil: { ...DEMO_DESIGN.receiver.coil, turns: 15 } },
    });
    await soon(() => expect(deepAll(mounted.app, 'td.within').length).toBeGreaterThan(0));
    expect(deep(mounted.app, 'td.within').textContent).toContain('within the bands');
  });

  test('change places, are taken over whole, and taken away', async () => {
    store().setCompare({ ...DEMO_DESIGN, title: 'Other', placement: { offsetXMm: 3 } });
    await soon(() => expect(mounted.session.beside.pose.value).not.toBeNull());
    button('Change places').click();
    await settled(document);
    expect(store().document.value.title).toBe('Other');
    expect(store().compare.value?.title).toBe(DEMO_DESIGN.title);
    await soon(() => expect(mounted.session.beside.pose.value).not.toBeNull());
    button('Take it over whole').click();
    await settled(document);
    expect(store().document.value).toBe(DEMO_DESIGN);
    store().undo();
    expect(store().document.value.title).toBe('Other');
    button('Take away').click();
    await settled(document);
    expect(store().compare.value).toBeNull();
    expect(answerText(mounted.app)).toMatch(/^Lay a second design/);
  });

  test('both outlines are read by pointer and by keyboard', async () => {
    store().setCompare({
      ...DEMO_DESIGN,
      transmitter: { ...DEMO_DESIGN.transmitter, drive: { ...DEMO_DESIGN.transmitter.drive, supplyV: 9 } },
    });
    await soon(() => expect(mounted.session.beside.map.value).not.toBeNull());
    await settled(document);
    const chart = deep(mounted.app, 'oc-two-outlines');
    const root = chart.shadowRoot as ShadowRoot;
    expect(root.querySelectorAll('path.line')).toHaveLength(2);
    expect([...root.querySelectorAll('text.halo')].map((t) => t.textContent).sort()).toEqual([
      'beside',
      'on the table',
    ]);
    await press(root.querySelector('.reading') as SVGElement, 'ArrowRight');
    expect(root.querySelector('[aria-live]')?.textContent).toMatch(
      /^x 1, y 0.mm: on the table [+\d].*%, beside [+\d].*%$/,
    );
    expect(deep(mounted.app, 'oc-figure').getAttribute('reading')).toMatch(/^x 1/);
  });

  test('the design on the table goes first, and both get their answer', async () => {
    store().setCompare({ ...DEMO_DESIGN, title: 'Other', placement: { offsetXMm: 3 } });
    for (let i = 1; i < 6; i++) store().run(moveReceiver, { xMm: i, yMm: 0 });
    await soon(() => {
      expect(mounted.session.answers.poseFresh.value).toBe(true);
      expect(mounted.session.beside.pose.value).not.toBeNull();
      expect(mounted.session.beside.map.value).not.toBeNull();
    });
  });
});

describe('the report', () => {
  beforeEach(async () => {
    await page.viewport(1280, 900);
    mounted = await mountApp({ station: 'report' });
    await soon(() => expect(deep<HTMLButtonElement>(mounted.app, '.print').disabled).toBe(false));
  });

  test('holds the pair, the numbers, the map, the cautions and every input', () => {
    const report = deep(mounted.app, 'oc-report');
    const text = (report.shadowRoot?.textContent ?? '').replace(/[\s\u00a0]+/g, ' ');
    expect(text).toContain(DEMO_DESIGN.title);
    expect(text).toMatch(/Holds 0\.78 A with 20 % in hand up to [\d.]+ mm/);
    for (const word of [
      'Self-inductance',
      'Efficiency',
      'Wake reach',
      'Cautions',
      'What the model leaves out',
      'oak 4 ± 0.1 mm',
      'supply voltage 5 V ± 3 %',
      'Not given, defaults taken',
    ])
      expect(text, word).toContain(word);
    const map = deep(mounted.app, 'oc-margin-map').shadowRoot as ShadowRoot;
    expect(map.querySelectorAll('path.wash').length).toBeGreaterThan(1);
    // A picture to look at: nothing to take hold of, and its words are text.
    for (const handle of deepAll(mounted.app, 'oc-report .handle, .handle'))
      expect(getComputedStyle(handle).display).toBe('none');
    expect(map.querySelectorAll('text').length).toBeGreaterThan(8);
  });

  test('is opened from the design menu', async () => {
    location.hash = '#place';
    await soon(() => expect(mounted.station().localName).toBe('oc-place'));
    deep(mounted.app, '.title').click();
    deep<HTMLAnchorElement>(mounted.app, 'oc-design-menu a[href="#report"], a[href="#report"]').click();
    await soon(() => expect(mounted.station().localName).toBe('oc-report'));
    expect(deepAll(mounted.app, 'nav a[aria-current="page"]')).toEqual([]);
  });
});

describe('the layers', () => {
  beforeEach(async () => {
    await page.viewport(1280, 900);
    mounted = await mountApp();
    await answered(mounted);
    deep<HTMLDetailsElement>(mounted.app, 'details.layers').open = true;
    await settled(document);
  });

  test('have tolerances to type, names, and can be added and taken out', async () => {
    await type(deep(mounted.app, 'oc-dimension[label="Tolerance, oak"]'), '0,25');
    await soon(() => expect(store().design.value.stack[0]?.toleranceMm).toBe(0.25));
    const name = deep<HTMLInputElement>(mounted.app, 'input[aria-label="Name of felt"]');
    name.value = 'cork';
    name.dispatchEvent(new Event('change'));
    expect(store().design.value.stack[1]?.name).toBe('cork');
    const gap = store().design.value.placement.gapMm;
    button('add a layer').click();
    await settled(document);
    expect(store().design.value.placement.gapMm).toBeCloseTo(gap + 0.5, 9);
    deep(mounted.app, 'button[aria-label="Take new layer out"]').click();
    await settled(document);
    expect(store().design.value.placement.gapMm).toBeCloseTo(gap, 9);
    while (store().undoLabel.value !== null) store().undo();
    expect(store().document.value).toBe(DEMO_DESIGN);
  });
});

describe('every figure can be taken along', () => {
  test.each(['place', 'pair', 'beside'])(
    'of %s, in every format it offers',
    async (station) => {
      await page.viewport(1280, 800);
      mounted = await mountApp({ station });
      if (station === 'beside') store().setCompare({ ...DEMO_DESIGN, title: 'Other', placement: { offsetXMm: 3 } });
      await answered(mounted);
      if (station === 'beside') await soon(() => expect(mounted.session.beside.map.value).not.toBeNull());
      if (station === 'pair')
        await soon(() => expect(deep<LinkView>(mounted.app, 'oc-link-view').counts()?.frames).toBeGreaterThan(1));
      await settled(document);
      const saved: Blob[] = [];
      vi.spyOn(URL, 'createObjectURL').mockImplementation((object) => {
        saved.push(object as Blob);
        return 'data:,';
      });
      vi.spyOn(HTMLAnchorElement.prototype, 'click').mockImplementation(() => undefined);
      type Figure = HTMLElement & { formats: readonly string[]; heading: string };
      const figures = deepAll<Figure>(mounted.app, 'oc-figure');
      expect(figures.length).toBeGreaterThan(0);
      const heads: Record<string, RegExp> = { svg: /^<\?xml[\s\S]*<svg[\s\S]*<text/, csv: /^[\w, ]+\r?\n/ };
      for (const figure of figures) {
        for (const format of figure.formats) {
          if (format === 'png' && station !== 'pair') continue;
          const before = saved.length;
          figure.dispatchEvent(new CustomEvent('export-requested', { detail: { action: 'save', format } }));
          await soon(() => expect(saved.length, `${figure.heading} ${format}`).toBeGreaterThan(before));
          const blob = saved.at(-1) as Blob;
          expect(blob.size, `${figure.heading} ${format}`).toBeGreaterThan(60);
          if (heads[format]) expect(await blob.text(), `${figure.heading} ${format}`).toMatch(heads[format]);
        }
        expect(figure.formats, figure.heading).toEqual(['svg', 'png', 'csv']);
      }
    },
    60_000,
  );
});

describe('narrow windows and large type', () => {
  // 640 px is what 1280 px leave at 200 % zoom: WCAG 2.2, 1.4.4 and 1.4.10.
  test.each([
    ['pair', 320],
    ['pair', 640],
    ['beside', 320],
    ['beside', 640],
    ['report', 320],
    ['place', 640],
  ])('%s at %i px scrolls in one direction only', async (station, width) => {
    await page.viewport(width, 600);
    mounted = await mountApp({ station });
    if (station === 'beside') store().setCompare({ ...DEMO_DESIGN, title: 'Other', placement: { offsetXMm: 3 } });
    await answered(mounted);
    for (const fold of deepAll<HTMLDetailsElement>(mounted.app, 'details')) fold.open = true;
    await settled(document);
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
  });
});

test('a first visit says what to do, until something was done', async () => {
  await page.viewport(1280, 800);
  mounted = await mountApp();
  await answered(mounted);
  expect(deep(mounted.app, '.welcome').textContent).toMatch(/This is an example\. Take hold of any ring/);
  store().run(moveReceiver, { xMm: 1, yMm: 0 });
  await settled(document);
  expect(deepAll(mounted.app, '.welcome')).toEqual([]);
});

test('what is said of a fault moves nothing on the page', async () => {
  await page.viewport(1280, 800);
  mounted = await mountApp();
  await answered(mounted);
  const tops = () =>
    ['oc-answer', 'oc-margin-map', 'oc-side-view', '#gap', 'footer'].map((selector) =>
      Math.round(deep(mounted.app, selector).getBoundingClientRect().top),
    );
  const before = tops();
  store().run(setValue, { path: 'transmitter.coil.turns', value: 900, what: 'turns' });
  mounted.session.notice.value = 'A sentence.';
  await settled(document);
  expect(deepAll(mounted.app, '.notice')).toHaveLength(2);
  expect(tops()).toEqual(before);
});
