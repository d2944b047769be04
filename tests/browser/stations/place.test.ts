import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { page } from 'vitest/browser';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { replaceDesign } from '../../../src/state/commands/replace-design.ts';
import {
  answered,
  answerText,
  deep,
  deepAll,
  drag,
  type MountedApp,
  mountApp,
  press,
  settled,
  type,
} from './mount-app.ts';

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
  mounted = await mountApp();
  await answered(mounted);
});

afterEach(() => {
  mounted.unmount();
  vi.restoreAllMocks();
  expect(complaints).toEqual([]);
});

/** The units library arrives when somebody first types. */
const soon = (check: () => void) => vi.waitFor(check, { timeout: 15_000 });
const placement = () => mounted.session.store.design.value.placement;
const ring = () => deep(mounted.app, 'oc-margin-map').shadowRoot?.querySelector('.ring') as SVGElement;

test('opens with its answer, and its text has width', () => {
  expect(answerText(mounted.app)).toMatch(/^Holds 0\.78 A with 20 % in hand up to [\d.]+ mm .*off centre/);
  const texts = deepAll<SVGTextElement>(mounted.app, 'text');
  expect(texts.length).toBeGreaterThan(20);
  for (const text of texts) expect(text.getBoundingClientRect().width).toBeGreaterThan(0);
  expect(deep(mounted.app, 'h1').getBoundingClientRect().width).toBeGreaterThan(200);
});

describe('the ring on the map', () => {
  test('dragged moves the receiver; quick answers come on the way, full ones after', async () => {
    const before = { ...mounted.engine.asked };
    const said = answerText(mounted.app);
    await drag(ring(), [90, -40], { release: false });
    expect(mounted.session.store.dragging.value).toBe(true);
    expect(mounted.engine.asked.quick).toBeGreaterThan(before.quick);
    expect(mounted.engine.asked.solve).toBe(before.solve);
    const map = deep(mounted.app, 'oc-margin-map');
    expect(map.shadowRoot?.querySelector('text.here')?.textContent).toMatch(/A$/);
    window.dispatchEvent(new KeyboardEvent('keydown', { key: 'Escape' }));
    await settled(document);
    expect(placement().offsetXMm).toBe(0);
    expect(mounted.session.store.undoCount.value).toBe(0);

    await drag(ring(), [90, -40]);
    await answered(mounted);
    expect(placement().offsetXMm).toBeGreaterThan(3);
    expect(placement().offsetYMm).toBeGreaterThan(1);
    expect(mounted.session.store.undoLabel.value).toBe('Move the receiver');
    expect(mounted.session.store.undoCount.value).toBe(1);
    expect(mounted.engine.asked.solve).toBeGreaterThan(before.solve);
    // The map does not depend on where the receiver lies: it is not computed anew.
    expect(mounted.engine.asked.map).toBe(before.map);
    expect(answerText(mounted.app).startsWith(said)).toBe(true);
  });

  test('goes by the arrow keys, and back home', async () => {
    await press(ring(), 'ArrowRight');
    await press(ring(), 'ArrowUp', { shiftKey: true });
    expect(placement()).toMatchObject({ offsetXMm: 0.5, offsetYMm: 0.1 });
    expect(ring().getAttribute('aria-valuetext')).toMatch(/x 0\.5.mm, y 0\.1.mm/);
    await press(ring(), 'Home');
    expect(placement()).toMatchObject({ offsetXMm: 0, offsetYMm: 0 });
    expect(mounted.session.store.undoCount.value).toBeLessThanOrEqual(1);
  });
});

test('the knob turns the receiver', async () => {
  const knob = deep(mounted.app, 'oc-margin-map').shadowRoot?.querySelector('.turn') as SVGElement;
  await drag(knob, [0, -60]);
  expect(placement().yawDeg).toBeGreaterThan(5);
  await press(knob, 'Home');
  expect(placement().yawDeg).toBe(0);
});

test('the gap changes by its slider, its curve and the stack, and all figures follow', async () => {
  const slider = deep<HTMLInputElement>(mounted.app, '#gap');
  slider.value = '8';
  slider.dispatchEvent(new Event('input', { bubbles: true }));
  await answered(mounted);
  expect(placement().gapMm).toBe(8);
  expect(mounted.session.store.design.value.stack.at(-1)?.thicknessMm).toBe(2.5);
  const gapChart = deep(mounted.app, '#against-gap');
  const marker = gapChart.shadowRoot?.querySelector('.marker') as SVGElement;
  expect(marker.getAttribute('aria-valuenow')).toBe('8');
  await press(marker, 'ArrowLeft');
  expect(placement().gapMm).toBe(7.9);
  const side = deep(mounted.app, 'oc-side-view');
  const oak = side.shadowRoot?.querySelector('.layer[aria-label="Thickness of oak"]') as SVGElement;
  await press(oak, 'ArrowUp');
  expect(placement().gapMm).toBe(8);
  expect(mounted.session.store.design.value.stack[0].thicknessMm).toBe(4.1);
  await soon(() => expect(mounted.session.answers.map.value?.gapMm).toBe(8));
});

test('the ring of the stack moves up and sideways, one at a time', async () => {
  const side = deep(mounted.app, 'oc-side-view');
  const handle = side.shadowRoot?.querySelector('.ring') as SVGElement;
  await drag(handle, [40, 3]);
  expect(placement().offsetXMm).toBeGreaterThan(3);
  expect(placement().gapMm).toBe(5.9);
  await drag(side.shadowRoot?.querySelector('.ring') as SVGElement, [1, -30]);
  expect(placement().gapMm).toBeGreaterThan(7);
});

describe('a number on the drawing', () => {
  const field = (slot: string) => deep(mounted.app, `oc-dimension[slot="${slot}"]`);

  test('takes units and the decimal comma', async () => {
    await type(field('offset-x'), '3,4 mm');
    await soon(() => expect(placement().offsetXMm).toBe(3.4));
    await type(field('gap'), '0.65 cm');
    await soon(() => expect(placement().gapMm).toBe(6.5));
    await type(field('yaw'), '0.1 rad');
    await soon(() => expect(placement().yawDeg).toBeCloseTo(5.7296, 3));
  });

  test('keeps what was typed when it is wrong, says what is wrong, and mends', async () => {
    const input = () => field('offset-x').shadowRoot?.querySelector('input') as HTMLInputElement;
    await type(field('offset-x'), '3 bananas');
    await soon(() => expect(mounted.session.store.faults.value).toHaveLength(1));
    await settled(document);
    expect(input().value).toBe('3 bananas');
    expect(input().getAttribute('aria-invalid')).toBe('true');
    expect(placement().offsetXMm).toBe(0);
    expect(deep(mounted.app, '.faults').textContent).toContain('placement.offsetXMm');
    expect(mounted.session.store.snapshot.value.drafts['placement.offsetXMm'].text).toBe('3 bananas');
    await type(field('offset-x'), '3');
    await soon(() => expect(placement().offsetXMm).toBe(3));
    await settled(document);
    expect(mounted.session.store.faults.value).toEqual([]);
    expect(deepAll(mounted.app, '.faults')).toEqual([]);
  });

  test('refused text leaves the field when it is undone, comes back with redo, and goes when the receiver is moved', async () => {
    const input = () => field('offset-x').shadowRoot?.querySelector('input') as HTMLInputElement;
    const { store } = mounted.session;
    await type(field('offset-x'), '3 bananas');
    await soon(() => expect(store.faults.value).toHaveLength(1));
    store.undo();
    await settled(document);
    expect(input().value).toMatch(/^0\s*mm$/);
    expect(input().getAttribute('aria-invalid')).toBe('false');
    store.redo();
    await settled(document);
    expect(input().value).toBe('3 bananas');
    expect(input().getAttribute('aria-invalid')).toBe('true');
    await press(ring(), 'ArrowRight');
    await settled(document);
    expect(store.faults.value).toEqual([]);
    expect(Number.parseFloat(input().value)).toBe(placement().offsetXMm);
    expect(placement().offsetXMm).toBeGreaterThan(0);
    store.undo();
    await settled(document);
    expect(input().value).toBe('3 bananas');
  });

  test('out of range stays in the field with the same fault as on the command line', async () => {
    await type(field('layer-0'), '5000 mm');
    await soon(() => expect(mounted.session.store.faults.value.length).toBeGreaterThan(0));
    const fault = mounted.session.store.faults.value[0];
    expect(fault.path).toBe('stack[0].thicknessMm');
    await settled(document);
    const shown = field('layer-0').shadowRoot?.querySelector('.wrong')?.textContent ?? '';
    expect(shown).toContain(fault.required);
    expect(deep<HTMLInputElement>(field('layer-0'), 'input').value).toMatch(/^5000/);
    expect(mounted.session.store.design.value.stack[0].thicknessMm).toBe(4);
    mounted.session.store.undo();
    await settled(document);
    expect(mounted.session.store.faults.value).toEqual([]);
  });
});

test('crosshairs are linked: what is read in one figure shows in the other', async () => {
  const chart = deep(mounted.app, '#against-gap');
  const reading = chart.shadowRoot?.querySelector('.reading') as SVGElement;
  await press(reading, 'ArrowRight');
  expect(deep(mounted.app, 'oc-side-view').shadowRoot?.querySelector('.crosshair')).not.toBeNull();
  expect(chart.shadowRoot?.querySelector('[aria-live]')?.textContent).toMatch(/^Gap .*mm: .*%/);
  const map = deep(mounted.app, 'oc-margin-map');
  const point = map.shadowRoot?.querySelector('.reading') as SVGElement;
  await press(point, 'ArrowRight');
  expect(map.shadowRoot?.querySelector('[aria-live]')?.textContent).toMatch(/x 1, y 0.mm: .*%.*A, k 0\.\d+/);
  expect(deep(mounted.app, '#against-offset').shadowRoot?.querySelector('.crosshair')).not.toBeNull();
});

test('nothing moves when the answers arrive', async () => {
  mounted.unmount();
  // Long enough for a machine that has other things to do as well.
  mounted = await mountApp({ delayMs: 2500 });
  await settled(document);
  const tops = () =>
    ['oc-answer', 'oc-margin-map', 'oc-side-view', '#against-gap', '#gap', 'footer'].map((selector) =>
      Math.round(deep(mounted.app, selector).getBoundingClientRect().top),
    );
  expect(answerText(mounted.app)).toMatch(/^Working out/);
  const before = tops();
  await answered(mounted);
  expect(tops()).toEqual(before);
});

describe('labels never collide', () => {
  const poses = [
    [0, 0, 0],
    [6, 2.5, 4],
    [-11, 8, -30],
    [18, -14, 75],
  ] as const;
  test.each([
    [1440, 900],
    [820, 1100],
    [390, 844],
    [320, 700],
  ])('at %i x %i', async (width, height) => {
    await page.viewport(width, height);
    for (const [offsetXMm, offsetYMm, yawDeg] of poses) {
      const posed = { ...DEMO_DESIGN, placement: { offsetXMm, offsetYMm, yawDeg } };
      mounted.session.store.run(replaceDesign, { document: posed, label: 'pose' });
      await settled(mounted.app);
      await answered(mounted);
      for (const tag of ['oc-margin-map', '#against-gap', '#against-offset']) {
        const root = deep(mounted.app, tag).shadowRoot as ShadowRoot;
        const boxes = [...root.querySelectorAll('text.halo')].map((text) => ({
          words: text.textContent ?? '',
          box: text.getBoundingClientRect(),
        }));
        boxes.forEach((a, i) => {
          for (const b of boxes.slice(i + 1)) {
            const apart =
              a.box.right <= b.box.left + 0.5 ||
              b.box.right <= a.box.left + 0.5 ||
              a.box.bottom <= b.box.top + 3 ||
              b.box.bottom <= a.box.top + 3;
            expect(apart, `${tag}: "${a.words}" and "${b.words}" at ${width} px`).toBe(true);
          }
        });
      }
      const fields = deepAll(mounted.app, '[slot^="layer"], [slot$="ferrite"], [slot$="metal"]').map((f) =>
        f.getBoundingClientRect(),
      );
      const rows = fields.map((f) => f.top).sort((a, b) => a - b);
      for (let i = 1; i < rows.length; i += 1)
        if (rows[i] !== rows[i - 1]) expect(rows[i] - rows[i - 1]).toBeGreaterThan(15);
      // Nothing runs out of the page sideways.
      expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
    }
  });
});

describe('what is written hides little of what is drawn', () => {
  /** Length of lines under a label, px. */
  function hidden(root: ShadowRoot, text: SVGTextElement, lines: string): number {
    const { left, right, top, bottom } = text.getBoundingClientRect();
    let points = 0;
    for (const path of root.querySelectorAll<SVGPathElement>(lines)) {
      const to = path.getScreenCTM() as DOMMatrix;
      const length = path.getTotalLength();
      for (let at = 0; at < length; at += 2) {
        const { x, y } = path.getPointAtLength(at).matrixTransform(to);
        if (x > left && x < right && y > top + 3 && y < bottom - 3) points += 1;
      }
    }
    return 2 * points;
  }

  test.each([
    [1440, 900],
    [390, 844],
  ])('at %i x %i', async (width, height) => {
    await page.viewport(width, height);
    await settled(mounted.app);
    await answered(mounted);
    const map = deep(mounted.app, 'oc-margin-map').shadowRoot as ShadowRoot;
    const here = map.querySelector('text.here') as SVGTextElement;
    // On a phone there is hardly a place that no line crosses; where one does, it breaks.
    expect(hidden(map, here, '.zero, .wanted, .wake, .peak')).toBeLessThanOrEqual(width > 500 ? 0 : 20);
    const clip = map.querySelector('#beside-labels path')?.getAttribute('d') ?? '';
    expect(clip.split('M')).toHaveLength(2 + map.querySelectorAll('text.halo:not(.reach)').length);
    for (const zone of map.querySelectorAll<SVGTextElement>('text.zone'))
      expect(hidden(map, zone, '.zero, .wanted, .outline.transmitter'), zone.textContent ?? '').toBe(0);
    for (const id of ['#against-gap', '#against-offset']) {
      const chart = deep(mounted.app, id).shadowRoot as ShadowRoot;
      // Beside each other the charts are narrow: a name may have to cross two steep curves.
      for (const text of chart.querySelectorAll<SVGTextElement>('text.halo.wanted, text.halo.first'))
        expect(hidden(chart, text, '.curve'), `${id} ${text.textContent}`).toBeLessThanOrEqual(width > 500 ? 24 : 0);
    }
  });

  test('a label that stands off the ring has a line to it', async () => {
    for (const width of [1440, 390, 320]) {
      await page.viewport(width, 844);
      await settled(mounted.app);
      const map = deep(mounted.app, 'oc-margin-map').shadowRoot as ShadowRoot;
      const here = (map.querySelector('text.here') as SVGTextElement).getBoundingClientRect();
      const ring = (map.querySelector('.ring .dot') as SVGElement).getBoundingClientRect();
      const leader = map.querySelector('.leader') as SVGPathElement;
      const away = (at: { left: number; right: number; top: number; bottom: number }) =>
        Math.hypot(
          Math.max(0, here.left - at.right, at.left - here.right),
          Math.max(0, here.top - at.bottom, at.top - here.bottom),
        );
      if ((leader.getAttribute('d') ?? '') === '') expect(away(ring)).toBeLessThan(30);
      else {
        expect(leader.getTotalLength()).toBeGreaterThan(8);
        expect(away(leader.getBoundingClientRect())).toBeLessThan(5);
      }
    }
  });
});
