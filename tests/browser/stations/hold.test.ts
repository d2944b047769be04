import axe from 'axe-core';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { page } from 'vitest/browser';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import type { DesignDocument } from '../../../src/design/schema.ts';
import { chooseTheme } from '../../../src/stations/theme.ts';
import { answerText, deep, deepAll, drag, type MountedApp, mountApp, press, settled, type } from './mount-app.ts';

const HELD: DesignDocument = {
  ...DEMO_DESIGN,
  holding: {
    ...DEMO_DESIGN.holding,
    recess: {
      outline: { shape: 'roundedRectangle', outerWidthMm: 76, outerHeightMm: 56, outerCornerRadiusMm: 9 },
      clearanceMm: 1.2,
      pocketToleranceMm: 0.15,
      deviceToleranceMm: 0.15,
      coilPositionToleranceMm: 0.3,
      draftDeg: 1,
    },
    magnets: {
      positionsMm: [
        [-31, 0],
        [31, 0],
      ],
      diameterMm: 8,
      thicknessMm: 2,
      remanenceT: 1.2,
      facing: 'magnet',
      gapMm: 3,
    },
  },
};

let mounted: MountedApp;
let complaints: unknown[][];

beforeEach(async () => {
  complaints = [];
  for (const name of ['error', 'warn'] as const) {
    vi.spyOn(console, name).mockImplementation((...words: unknown[]) => {
      if (!String(words[0]).includes('Lit is in dev mode')) complaints.push(words);
    });
  }
  await page.viewport(1440, 900);
  mounted = await mountApp({ station: 'hold', start: HELD });
  await whole();
});

afterEach(() => {
  mounted.unmount();
  vi.restoreAllMocks();
  expect(complaints).toEqual([]);
});

/** Waits for the whole report of the design as it stands. */
async function whole(): Promise<void> {
  await vi.waitFor(() => expect(mounted.session.hold.whole.value).toBe(true), { timeout: 20_000 });
  await settled(mounted.app);
}

const holding = () => mounted.session.store.design.value.holding;
const within = (chart: string, selector: string): SVGElement =>
  deep(mounted.app, chart).shadowRoot?.querySelector(selector) as SVGElement;

const choose = async (words: string): Promise<void> => {
  const label = deepAll(mounted.app, 'label').find((e) => e.textContent?.trim() === words);
  if (!label) throw new Error(`no choice ${words}`);
  label.click();
  await settled(mounted.app);
};
/** The units library arrives when somebody first types. */
const soon = (check: () => void) => vi.waitFor(check, { timeout: 15_000 });
const words = (selector: string) => deepAll(mounted.app, selector).map((e) => e.textContent?.trim() ?? '');
const points = () => deep(mounted.app, 'oc-hold-lottery').shadowRoot?.querySelectorAll('.point').length;

test('answers with recess, magnets and the lottery, and its text has width', () => {
  const text = answerText(mounted.app);
  expect(text).toMatch(/^Up to [\d.]+ mm of clearance keeps 20 % in hand; yours leaves \d+ %\./);
  expect(text).toMatch(/ Magnets bring it home from [\d.]+ mm \([\d.]+–[\d.]+\)\./);
  expect(text).toMatch(/ (100|99\.\d+) % \([\d.]+–[\d.]+\) of casual placements work\.$/);
  const why = deep(mounted.app, 'oc-answer').shadowRoot?.querySelector('p')?.textContent ?? '';
  expect(why).toMatch(
    /^The magnets leave it within [\d.]+.mm \([\d.]+\S*–\S*[\d.]+\) of home\. With nothing to hold it \d+.% would work\./,
  );
  expect(why).toMatch(/corner, not turned: 20\.0.% solved directly; the model’s own band there is \d+ to \d+.%/);
  expect(why).toMatch(/The stack may be .* tolerances take it from 5\.4.mm to 6\.4.mm/);
  const texts = deepAll<SVGTextElement>(mounted.app, 'text');
  expect(texts.length).toBeGreaterThan(40);
  for (const text of texts) expect(text.getBoundingClientRect().width).toBeGreaterThan(0);
});

describe('nothing, recess, magnets or both', () => {
  test('answer, plan, forces and lottery change together, and back', async () => {
    const both = answerText(mounted.app);
    expect(points()).toBe(4);
    await choose('nothing');
    await whole();
    expect(holding()).toMatchObject({ recess: null, magnets: null });
    expect(answerText(mounted.app)).toMatch(
      /^\d+ % \(.*\) of placements work with nothing to hold it\. A recess of [\d.]+ mm clearance would make it/,
    );
    expect(within('oc-hold-plan', '.pocket')).toBeNull();
    expect(within('oc-hold-plan', '.magnet')).toBeNull();
    expect(within('oc-hold-plan', '.capture')).toBeNull();
    expect(within('oc-hold-plan', '.dot')?.getAttribute('d')?.length).toBeGreaterThan(500);
    expect(words('.cautions')).toEqual([]);
    // Friction alone, and no more rows than there are aids: a recess is offered in any case.
    expect(deep(mounted.app, 'oc-hold-forces').shadowRoot?.querySelector('.friction')).not.toBeNull();
    expect(points()).toBe(2);

    await choose('recess');
    await whole();
    expect(holding().recess?.clearanceMm).toBe(1.2);
    expect(holding().magnets).toBeNull();
    expect(within('oc-hold-plan', '.pocket')).not.toBeNull();
    expect(within('oc-hold-plan', '.play')).not.toBeNull();

    await choose('magnets');
    await whole();
    expect(holding().recess).toBeNull();
    expect(holding().magnets?.positionsMm).toHaveLength(2);
    expect(within('oc-hold-plan', '.capture')).not.toBeNull();
    expect(answerText(mounted.app)).toMatch(/^Magnets bring it home/);

    await choose('both');
    await whole();
    expect(answerText(mounted.app)).toBe(both);
    for (let k = 0; k < 4; k += 1) mounted.session.store.undo();
    expect(holding().recess?.clearanceMm).toBe(1.2);
    expect(mounted.session.store.undoCount.value).toBe(0);
  });

  test('a design that has neither gets usual ones', async () => {
    mounted.unmount();
    mounted = await mountApp({ station: 'hold', start: { ...DEMO_DESIGN, holding: {} } });
    await whole();
    await choose('both');
    await whole();
    expect(holding().recess?.clearanceMm).toBeGreaterThan(0);
    expect(holding().magnets?.positionsMm).toHaveLength(2);
    expect(mounted.session.store.faults.value).toEqual([]);
  });
});

describe('on the plan', () => {
  test('the wall is dragged and stepped: the clearance changes, quick answers on the way', async () => {
    const before = { ...mounted.engine.asked };
    const said = answerText(mounted.app);
    const wall = within('oc-hold-plan', '.wall');
    await drag(wall, [14, 0], { release: false });
    expect(mounted.session.store.dragging.value).toBe(true);
    expect(mounted.engine.asked.holdFirst).toBeGreaterThan(before.holdFirst);
    expect(mounted.engine.asked.hold).toBe(before.hold);
    window.dispatchEvent(new KeyboardEvent('keydown', { key: 'Escape' }));
    await settled(document);
    expect(holding().recess?.clearanceMm).toBe(1.2);
    await drag(within('oc-hold-plan', '.wall'), [14, 0]);
    await whole();
    expect(holding().recess?.clearanceMm).toBeGreaterThan(2);
    expect(mounted.session.store.undoLabel.value).toBe('Change clearance');
    expect(answerText(mounted.app)).not.toBe(said);
    await press(within('oc-hold-plan', '.wall'), 'ArrowLeft');
    await press(within('oc-hold-plan', '.wall'), 'ArrowLeft', { shiftKey: true });
    const wide = within('oc-hold-plan', '.wall').getAttribute('aria-valuenow');
    expect(Number(wide)).toBeCloseTo(holding().recess?.clearanceMm ?? 0, 6);
  });

  test('a magnet is dragged and its image goes with it', async () => {
    const [, second] = deep(mounted.app, 'oc-hold-plan').shadowRoot?.querySelectorAll<SVGElement>('.move') ?? [];
    await drag(second as SVGElement, [-30, 0]);
    await whole();
    const [left, right] = holding().magnets?.positionsMm ?? [];
    expect(right?.[0]).toBeLessThan(29);
    expect(left?.[0]).toBe(-(right?.[0] ?? 0));
    await press(second as SVGElement, 'ArrowUp');
    expect(holding().magnets?.positionsMm).toEqual([
      [-(right?.[0] ?? 0), 0.5],
      [right?.[0], 0.5],
    ]);
  });

  test('numbers are typed: clearance, device, magnet', async () => {
    const fields = () => deepAll(mounted.app, 'oc-hold-plan oc-dimension, oc-dimension[slot]');
    const named = (name: string) => fields().find((e) => e.getAttribute('label') === name) as Element;
    await type(named('Clearance'), '0.8 mm');
    await soon(() => expect(holding().recess?.clearanceMm).toBe(0.8));
    await type(named('Device width'), '7 cm');
    await soon(() => expect(holding().recess?.outline).toMatchObject({ outerWidthMm: 70 }));
    await type(named('Magnet diameter'), '10');
    await soon(() => expect(holding().magnets?.diameterMm).toBe(10));
    await type(named('Clearance'), 'wide');
    await soon(() => expect(mounted.session.store.faults.value).toHaveLength(1));
    expect(holding().recess?.clearanceMm).toBe(0.8);
  });

  test('reads out what a place means, by pointer and by keys', async () => {
    const reading = within('oc-hold-plan', '.reading');
    await press(reading, 'ArrowRight');
    expect(reading.getAttribute('aria-valuetext')).toMatch(/x 1, y 0.mm: safe, the recess lets it, may stay here/);
    for (let k = 0; k < 4; k += 1) await press(reading, 'ArrowRight', { shiftKey: false });
    expect(reading.getAttribute('aria-valuetext')).toMatch(/the recess does not let it, slides home/);
  });

  test('close up shows the middle larger', async () => {
    const width = () => within('oc-hold-plan', '.play').getBoundingClientRect().width;
    const far = width();
    await choose('close up');
    expect(width()).toBeGreaterThan(2.4 * far);
  });
});

test('a list that was asked for is not asked for of another design', async () => {
  await choose('as I have seen');
  const text = () => deep(mounted.app, 'oc-hold-placing').shadowRoot?.querySelector('textarea');
  const field = text() as HTMLTextAreaElement;
  field.value = '0;0;x';
  deepAll<HTMLButtonElement>(mounted.app, 'button')
    .find((b) => b.textContent?.trim() === 'Take these rows')
    ?.click();
  await settled(document);
  expect(deepAll(mounted.app, 'ul.bad[role=alert]')).toHaveLength(1);
  mounted.session.store.take({ document: { ...DEMO_DESIGN, holding: { friction: 0.3 } }, drafts: {} }, 'Open another');
  await settled(document);
  expect(text()).toBeNull();
  expect(deepAll(mounted.app, 'ul.bad[role=alert]')).toEqual([]);
});

test('own placements: faults by row and column, nothing taken; then taken, kept and undone', async () => {
  await choose('as I have seen');
  expect(holding().placing.kind).toBe('gaussian');
  const text = deep(mounted.app, 'oc-hold-placing').shadowRoot?.querySelector('textarea') as HTMLTextAreaElement;
  const take = () =>
    deepAll(mounted.app, 'button')
      .find((e) => e.textContent?.trim() === 'Take these rows')
      ?.click();
  text.value = 'x mm\ty mm\tyaw\n1\t2\t3\nabc\t1\n';
  take();
  await settled(mounted.app);
  expect(words('[role=alert] li')).toEqual([
    'row 3, x: must be a number from -1000 to 1000 mm; received "abc".',
    'Nothing was taken over; mend the rows and take them again.',
  ]);
  expect(holding().placing.kind).toBe('gaussian');
  // What was typed is still there to be mended.
  expect(text.value).toContain('abc');
  text.value = '0\t0\t0\n1,5\t-1\t4\n60\t0\t0';
  take();
  await whole();
  expect(holding().placing).toMatchObject({
    kind: 'list',
    placements: [{ xMm: 0 }, { xMm: 1.5, yawDeg: 4 }, { xMm: 60 }],
  });
  expect(words('[role=status]')).toContain('3 placements taken.');
  expect(mounted.session.hold.report.value?.lottery.byAid[0].answer.all).toMatchObject({ hits: 2, trials: 3 });
  expect(mounted.session.store.undoLabel.value).toBe('Change 3 placements');
  await choose('anywhere in a circle');
  expect(holding().placing.kind).toBe('disc');
  expect(deepAll(mounted.app, 'oc-hold-placing oc-dimension, oc-dimension').length).toBeGreaterThan(2);
  await choose('as I have seen');
  // The rows are kept, and chosen at once.
  expect(holding().placing.placements).toHaveLength(3);
  expect(holding().placing.kind).toBe('list');
});

test('forces: more pairs, steel, and both axes', async () => {
  await choose('4');
  await whole();
  expect(holding().magnets?.positionsMm).toHaveLength(4);
  const curve = () => within('oc-hold-forces', '.curve.restoring').getAttribute('d');
  const alongX = curve();
  await choose('along y');
  expect(within('oc-hold-forces', 'svg > g').getAttribute('aria-label')).toMatch(/along y: pull [\d.]+.N at home/);
  await choose('steel');
  await whole();
  expect(curve()).not.toBe(alongX);
  expect(words('.cautions').join()).toMatch(/pacemakers/);
  const reading = within('oc-hold-forces', '.reading');
  await press(reading, 'ArrowRight');
  expect(reading.getAttribute('aria-valuetext')).toMatch(/^y [\d.]+.mm: (stays|slides home); restoring/);
});

test('the section through a pair: drag its disc for the gap, its face for the thickness', async () => {
  await drag(within('oc-magnet-section', '.gapMm'), [0, -20]);
  await whole();
  const { gapMm = 0 } = holding().magnets ?? {};
  expect(gapMm).toBeGreaterThan(3.2);
  expect(mounted.session.store.undoLabel.value).toBe('Change magnet gap');
  const thinner = within('oc-magnet-section', '.thicknessMm');
  await press(thinner, 'ArrowDown');
  expect(holding().magnets?.thicknessMm).toBe(1.9);
  expect(thinner.getAttribute('aria-valuetext')).toMatch(/^1\.9.mm$/);
  expect(holding().magnets?.gapMm).toBe(gapMm);
});

test('long work shows and can be stopped and taken up again', async () => {
  mounted.unmount();
  mounted = await mountApp({ station: 'hold', start: HELD, delayMs: 400 });
  await vi.waitFor(() => expect(mounted.session.hold.report.value).not.toBeNull(), { timeout: 20_000 });
  expect(mounted.session.hold.whole.value).toBe(false);
  await settled(document);
  expect(answerText(mounted.app)).toMatch(/^Up to [\d.]+ mm of clearance keeps/);
  const progress = deep(mounted.app, 'oc-hold').shadowRoot?.querySelector('oc-progress');
  progress?.shadowRoot?.querySelector<HTMLElement>('button')?.click();
  await vi.waitFor(() => expect(mounted.session.hold.running.value).toBe(false));
  await settled(document);
  const again = deepAll(mounted.app, 'button.quiet').find((e) => e.textContent?.includes('work out the rest'));
  again?.click();
  await whole();
  expect(mounted.session.hold.whole.value).toBe(true);
});

test('files for the enclosure are saved with their content', async () => {
  const saved: { name: string; blob: Blob }[] = [];
  const blobs = new Map<string, Blob>();
  let count = 0;
  vi.spyOn(URL, 'createObjectURL').mockImplementation((content) => {
    count += 1;
    blobs.set(`blob:${count}`, content as Blob);
    return `blob:${count}`;
  });
  vi.spyOn(HTMLAnchorElement.prototype, 'click').mockImplementation(function (this: HTMLAnchorElement) {
    saved.push({ name: this.download, blob: blobs.get(this.href) as Blob });
  });
  await vi.waitFor(() => expect(deepAll(mounted.app, '.files button')).toHaveLength(6), { timeout: 20_000 });
  for (const button of deepAll(mounted.app, '.files button')) button.click();
  expect(saved.map(({ name }) => name.split('.').at(-1))).toEqual(['csv', 'json', 'svg', 'dxf', 'svg', 'svg']);
  const [csv, json, svg, dxf, template] = await Promise.all(saved.map(({ blob }) => blob.text()));
  expect(csv.split('\r\n')[0]).toMatch(/^x_mm,y_mm/);
  expect(JSON.parse(json)).toMatchObject({ title: DEMO_DESIGN.title });
  const drawing = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
  expect(drawing.getAttribute('width')).toMatch(/mm$/);
  expect(dxf).toContain('RECESS');
  const sheet = new DOMParser().parseFromString(template, 'image/svg+xml').documentElement;
  const bar = sheet.querySelector('#check-bar');
  expect(Number(bar?.getAttribute('x2')) - Number(bar?.getAttribute('x1'))).toBe(50);
});

test('each figure can be taken along as SVG, PNG and numbers', async () => {
  const copied: string[] = [];
  vi.spyOn(navigator.clipboard, 'writeText').mockImplementation(async (text) => {
    copied.push(text);
  });
  for (const figure of deepAll(mounted.app, 'oc-figure')) {
    for (const item of ['Copy SVG', 'Copy numbers']) {
      figure.shadowRoot?.querySelector<HTMLElement>('.open')?.click();
      await settled(document);
      const [found] = [...(figure.shadowRoot?.querySelectorAll<HTMLElement>('[role=menuitem]') ?? [])].filter(
        (e) => e.textContent?.trim() === item,
      );
      found?.click();
      await settled(document);
    }
    const formats = (figure as HTMLElement & { formats: readonly string[] }).formats;
    expect(formats).toEqual(['svg', 'png', 'csv']);
  }
  expect(copied.map((text) => text.slice(0, 5))).toEqual(['<?xml', 'aid,x', '<?xml', 'aid,l', '<?xml', 'direc']);
});

describe.each(['light', 'dark'] as const)('axe finds nothing, %s', (ground) => {
  test.each([1440, 390])('at %i px', async (width) => {
    await page.viewport(width, 900);
    chooseTheme(ground);
    await settled(document);
    const results = await axe.run(mounted.station(), {
      runOnly: { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] },
    });
    chooseTheme('system');
    expect(
      results.violations.flatMap((violation) =>
        violation.nodes.map((node) => `${violation.id}: ${node.target.flat().join(' ')} ${node.failureSummary ?? ''}`),
      ),
    ).toEqual([]);
  });
});

test.each([390, 320])('at %i px nothing scrolls sideways', async (width) => {
  await page.viewport(width, 844);
  await settled(document);
  await new Promise((resolve) => setTimeout(resolve, 100));
  expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
  // Numbers at the plan's edge are whole: as wide as what they hold.
  for (const place of deep(mounted.app, 'oc-hold-plan').shadowRoot?.querySelectorAll('.place') ?? []) {
    const box = place.getBoundingClientRect();
    expect(box.right).toBeLessThanOrEqual(width);
    const [field] = (place.querySelector('slot')?.assignedElements() ?? []) as HTMLElement[];
    const inner = field?.shadowRoot?.querySelector('input');
    if (inner) expect(inner.scrollWidth).toBeLessThanOrEqual(inner.clientWidth + 1);
  }
});

describe('what stands where', () => {
  const bottoms = () =>
    ['.plan', '.lottery', '.forces'].map((part) => {
      const inner = deep(mounted.app, 'oc-hold').shadowRoot?.querySelector(`.figs > ${part}`)?.lastElementChild;
      return (inner as Element).getBoundingClientRect().bottom;
    }) as [number, number, number];

  test('both columns end near each other, with magnets and without', async () => {
    const [, lottery, forces] = bottoms();
    // The invented report says less of the magnets than a true one does.
    expect(Math.abs(lottery - forces)).toBeLessThan(300);
    await choose('recess');
    await whole();
    const [plan, beside] = bottoms();
    expect(Math.abs(plan - beside)).toBeLessThan(240);
  });

  test.each([1440, 820, 390, 320])('at %i px each curve of the forces has its name', async (width) => {
    await page.viewport(width, 844);
    await settled(document);
    await new Promise((resolve) => setTimeout(resolve, 100));
    const root = deep(mounted.app, 'oc-hold-forces').shadowRoot as ShadowRoot;
    const names = [...root.querySelectorAll('text.halo')].map((text) => text.textContent?.trim());
    for (const name of ['restoring force', 'pull', 'friction', 'tipping torque']) expect(names).toContain(name);
  });

  test('without magnets friction alone is drawn and named', async () => {
    await choose('nothing');
    await whole();
    const root = deep(mounted.app, 'oc-hold-forces').shadowRoot as ShadowRoot;
    expect([...root.querySelectorAll('text.halo')].map((text) => text.textContent?.trim())).toEqual(['friction']);
    expect(root.querySelectorAll('text.tick').length).toBeGreaterThan(5);
  });
});
