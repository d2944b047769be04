import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { cdp, page } from 'vitest/browser';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import type { DesignDocument } from '../../../src/design/schema.ts';
import { answered, deep, drag, type MountedApp, mountApp, press, settled, type } from './mount-app.ts';

/** Between the marks that drags and keys go to. */
const UNEVEN: DesignDocument = {
  ...DEMO_DESIGN,
  stack: [
    { name: 'oak', thicknessMm: 4.15 },
    { name: 'felt', thicknessMm: 0.35 },
    { name: 'air', thicknessMm: 1.43 },
  ],
  placement: { offsetXMm: 3.37, offsetYMm: -1.23, yawDeg: 21.4 },
};

let mounted: MountedApp;

async function begin(start: DesignDocument): Promise<void> {
  await page.viewport(1440, 900);
  mounted = await mountApp({ start });
  await answered(mounted);
}

afterEach(() => mounted.unmount());

const store = () => mounted.session.store;
const placement = () => store().design.value.placement;
const shaped = () => [placement(), store().design.value.stack];
const part = (chart: string, selector: string): Element =>
  deep(mounted.app, chart).shadowRoot?.querySelector(selector) as Element;

function pointer(target: EventTarget, type: string, at: readonly [number, number], more: PointerEventInit = {}): void {
  const init = { bubbles: true, composed: true, cancelable: true, pointerId: 1, button: 0, buttons: 1, ...more };
  target.dispatchEvent(new PointerEvent(type, { ...init, clientX: at[0], clientY: at[1] }));
}

function middle(target: Element): [number, number] {
  const box = target.getBoundingClientRect();
  return [box.left + box.width / 2, box.top + box.height / 2];
}

describe('a handle that is only touched', () => {
  beforeEach(() => begin(UNEVEN));

  test.each([
    ['the ring of the map', 'oc-margin-map', '.handle.ring'],
    ['the knob that turns', 'oc-margin-map', '.handle.turn'],
    ['a layer', 'oc-side-view', '.handle.layer'],
    ['the ring of the stack', 'oc-side-view', '.handle.ring'],
    ['the gap on its line', '#against-gap', '.handle.marker'],
    ['the offset on its line', '#against-offset', '.handle.marker'],
  ])('%s leaves the number between the marks as it is, and no step', async (_name, chart, selector) => {
    const before = JSON.stringify(shaped());
    const target = part(chart, selector);
    const [x, y] = middle(target);
    // Not quite in its middle, and with a tremor.
    pointer(target, 'pointerdown', [x + 4, y + 3]);
    pointer(target, 'pointermove', [x + 4.5, y + 3]);
    pointer(target, 'pointerup', [x + 4.5, y + 3], { buttons: 0 });
    await settled(document);
    expect(JSON.stringify(shaped())).toBe(before);
    expect(store().undoCount.value).toBe(0);
    expect(store().dragging.value).toBe(false);
  });

  test("the gap's slider as well, with either button", async () => {
    const slider = deep<HTMLInputElement>(mounted.app, '#gap');
    for (const button of [0, 2]) {
      pointer(slider, 'pointerdown', middle(slider), { button });
      if (button === 2) expect(store().dragging.value).toBe(false);
      pointer(slider, 'pointerup', middle(slider), { button, buttons: 0 });
      await settled(document);
      expect(placement().gapMm).toBeCloseTo(5.93, 9);
      expect(store().undoCount.value).toBe(0);
      expect(store().dragging.value).toBe(false);
    }
  });

  test('the stack finds its scale again after its ring was only touched', async () => {
    const wide = () => part('oc-side-view', 'rect.slab').getBoundingClientRect().width;
    const at = async (offsetXMm: number): Promise<number> => {
      store().take({ document: { ...UNEVEN, placement: { offsetXMm } }, drafts: {} }, 'Another place');
      const drawn = () => part('oc-side-view', '.handle.ring').getAttribute('aria-valuetext');
      await vi.waitFor(() => expect(drawn()).toMatch(new RegExp(`x ${offsetXMm}`)), { timeout: 20_000 });
      return wide();
    };
    const near = await at(1);
    expect(await at(90)).toBeLessThan(near);
    const ring = part('oc-side-view', '.handle.ring');
    pointer(ring, 'pointerdown', middle(ring));
    pointer(ring, 'pointerup', middle(ring), { buttons: 0 });
    expect(await at(1)).toBe(near);
  });
});

describe('a drag', () => {
  beforeEach(() => begin(UNEVEN));

  test('turns the receiver by as much as the pointer turns, wherever the knob was taken', async () => {
    const target = part('oc-margin-map', '.handle.turn');
    const [x, y] = middle(target);
    pointer(target, 'pointerdown', [x + 5, y + 15]);
    pointer(target, 'pointermove', [x + 5, y + 13]);
    expect(Math.abs(placement().yawDeg - 21.4)).toBeLessThan(2);
    pointer(target, 'pointerup', [x + 5, y + 13], { buttons: 0 });
  });

  test('ends when the station is left, and another begins as ever', async () => {
    await drag(part('oc-margin-map', '.handle.ring'), [40, 0], { release: false });
    expect(store().dragging.value).toBe(true);
    const x = placement().offsetXMm;
    location.hash = '#feed';
    await vi.waitFor(() => expect(mounted.station().localName).toBe('oc-feed'), { timeout: 20_000 });
    pointer(document.body, 'pointermove', [500, 500]);
    expect(store().dragging.value).toBe(false);
    expect(placement().offsetXMm).toBe(x);
    expect(store().undoCount.value).toBe(1);
    pointer(document.body, 'pointermove', [700, 500]);
    pointer(document.body, 'pointerup', [700, 500], { buttons: 0 });
    expect(placement().offsetXMm).toBe(x);
    location.hash = '#place';
    await vi.waitFor(() => expect(mounted.station().localName).toBe('oc-place'), { timeout: 20_000 });
    await answered(mounted);
    await drag(part('oc-margin-map', '.handle.ring'), [40, 0]);
    expect(placement().offsetXMm).toBeGreaterThan(x + 1);
    expect(store().undoCount.value).toBe(2);
  });

  test('is not disturbed by a second finger on another handle', async () => {
    const ring = part('oc-margin-map', '.handle.ring');
    const layer = part('oc-side-view', '.handle.layer');
    const [rx, ry] = middle(ring);
    const [lx, ly] = middle(layer);
    const first = { pointerId: 7, pointerType: 'touch', isPrimary: true };
    const second = { pointerId: 8, pointerType: 'touch', isPrimary: false };
    pointer(ring, 'pointerdown', [rx, ry], first);
    pointer(ring, 'pointermove', [rx + 20, ry], first);
    pointer(layer, 'pointerdown', [lx, ly], second);
    for (let i = 1; i <= 4; i += 1) {
      pointer(layer, 'pointermove', [lx, ly - 10 * i], second);
      pointer(ring, 'pointermove', [rx + 20 + 5 * i, ry], first);
    }
    pointer(layer, 'pointerup', [lx, ly - 40], { ...second, buttons: 0 });
    pointer(ring, 'pointerup', [rx + 40, ry], { ...first, buttons: 0 });
    await settled(document);
    expect(store().undoCount.value).toBe(1);
    expect(store().undoLabel.value).toBe('Move the receiver');
    expect(placement().offsetXMm).toBeGreaterThan(5);
    expect(placement().gapMm).toBeCloseTo(5.93, 9);
  });

  test('taken back by Ctrl Z stays taken back when the pointer is let go', async () => {
    const before = JSON.stringify(shaped());
    const ring = part('oc-margin-map', '.handle.ring');
    const [x, y] = middle(ring);
    pointer(ring, 'pointerdown', [x, y]);
    pointer(ring, 'pointermove', [x + 30, y]);
    window.dispatchEvent(new KeyboardEvent('keydown', { key: 'z', ctrlKey: true, bubbles: true }));
    expect(JSON.stringify(shaped())).toBe(before);
    pointer(ring, 'pointermove', [x + 32, y]);
    pointer(ring, 'pointerup', [x + 32, y], { buttons: 0 });
    await settled(document);
    expect(JSON.stringify(shaped())).toBe(before);
    expect(store().undoCount.value).toBe(0);
    expect(store().redoLabel.value).toBe('Move the receiver');
    expect(store().dragging.value).toBe(false);
    await drag(part('oc-margin-map', '.handle.ring'), [30, 0]);
    expect(store().undoCount.value).toBe(1);
  });
});

describe('a gap below the marks', () => {
  beforeEach(() => begin({ ...DEMO_DESIGN, stack: [], placement: { gapMm: 0.06 } }));

  test.each([
    ['the line', '#against-gap', '.handle.marker'],
    ['the ring of the stack', 'oc-side-view', '.handle.ring'],
  ])('is not opened by closing it at %s', async (_name, chart, selector) => {
    const target = part(chart, selector);
    expect(Number(target.getAttribute('aria-valuemin'))).toBeLessThanOrEqual(0.06);
    await press(target, 'ArrowDown');
    expect(placement().gapMm).toBeLessThanOrEqual(0.06);
    await press(part(chart, selector), 'ArrowUp');
    expect(placement().gapMm).toBeGreaterThan(0.06);
    expect(placement().gapMm).toBeLessThan(0.7);
  });
});

describe('refused text in the field of the gap', () => {
  beforeEach(() => begin(UNEVEN));

  test('goes when the gap gets a value otherwise, and comes back with undo', async () => {
    const field = () => deep(mounted.app, 'oc-dimension[slot="gap"]');
    const said = () => field().shadowRoot?.querySelector('input')?.value.replace(/\s/g, ' ') ?? '';
    await type(field(), 'wide');
    await vi.waitFor(() => expect(store().faults.value).toHaveLength(1), { timeout: 20_000 });
    // Another number that the layers do not make leaves it.
    await press(part('oc-margin-map', '.handle.ring'), 'ArrowRight');
    expect(said()).toBe('wide');
    await press(part('oc-side-view', '.handle.layer'), 'ArrowUp');
    expect(store().faults.value).toEqual([]);
    expect(said()).toBe('6.03 mm');
    store().undo();
    await settled(document);
    expect(said()).toBe('wide');
    expect(store().faults.value).toHaveLength(1);
    await press(part('#against-gap', '.handle.marker'), 'ArrowRight');
    expect(store().faults.value).toEqual([]);
    expect(said()).toBe('6.03 mm');
  });
});

describe('the stack to scale', () => {
  beforeEach(() => begin({ ...DEMO_DESIGN, placement: { offsetXMm: 4, tiltYDeg: -5 } }));

  test('tilts the receiver whole: no conductor lies in its ferrite', () => {
    const root = deep(mounted.app, 'oc-side-view').shadowRoot as ShadowRoot;
    const marks = [...root.querySelectorAll('.conductors.receiver > *')].map((mark) => mark.getBoundingClientRect());
    const ferrite = [...root.querySelectorAll<SVGRectElement>('rect.slab.ferrite')].at(-1) as SVGRectElement;
    const inverse = ferrite.getScreenCTM()?.inverse();
    expect(marks.length).toBeGreaterThan(10);
    const { x, y, width, height } = ferrite.getBBox();
    for (const mark of marks) {
      const at = new DOMPoint(mark.left + mark.width / 2, mark.top + mark.height / 2).matrixTransform(inverse);
      expect(at.x).toBeGreaterThan(x);
      expect(at.x).toBeLessThan(x + width);
      expect(at.y).toBeGreaterThan(y + height);
    }
  });

  test('its offset has its number, to be typed over', async () => {
    const field = () => deep(mounted.app, 'oc-side-view > oc-dimension[slot="offset-x"]');
    await type(field(), '7.2');
    await vi.waitFor(() => expect(placement().offsetXMm).toBe(7.2), { timeout: 20_000 });
    expect(field().getBoundingClientRect().width).toBeGreaterThan(20);
  });
});

describe('a finger', () => {
  beforeEach(async () => {
    await begin(UNEVEN);
    await cdp().send('Emulation.setTouchEmulationEnabled', { enabled: true });
  });
  afterEach(() => cdp().send('Emulation.setTouchEmulationEnabled', { enabled: false }));

  /** Through the browser's own input, which scrolls the page where nobody forbids it. */
  async function swipe(target: Element, dx: number, dy: number): Promise<void> {
    target.scrollIntoView({ block: 'center' });
    await settled(document);
    const frame = window.frameElement?.getBoundingClientRect();
    const scale = frame ? frame.width / innerWidth : 1;
    const [x, y] = middle(target);
    const at = (part: number) => [
      { x: (frame?.left ?? 0) + (x + part * dx) * scale, y: (frame?.top ?? 0) + (y + part * dy) * scale },
    ];
    const send = (type: string, touchPoints: readonly object[]) =>
      cdp().send('Input.dispatchTouchEvent', { type, touchPoints } as never);
    await send('touchStart', at(0));
    for (let i = 1; i <= 6 && (dx !== 0 || dy !== 0); i += 1) await send('touchMove', at(i / 6));
    await send('touchEnd', []);
    await settled(document);
  }

  test('drags the ring of the map, a layer and a marker instead of the page', async () => {
    await page.viewport(390, 844);
    await settled(document);
    await swipe(part('oc-margin-map', '.handle.ring .knob'), 30, -60);
    expect(placement().offsetYMm).toBeGreaterThan(3);
    expect(store().undoCount.value).toBe(1);
    const oak = store().design.value.stack[0]?.thicknessMm ?? 0;
    await swipe(part('oc-side-view', '.handle.layer .knob'), 0, -40);
    expect(store().design.value.stack[0]?.thicknessMm).toBeGreaterThan(oak + 1);
    const gap = placement().gapMm;
    await swipe(part('#against-gap', '.handle.marker .knob'), -30, 40);
    expect(placement().gapMm).toBeLessThan(gap);
    expect(store().dragging.value).toBe(false);
  });

  test('reads the map and the lines where it taps; the reading stays, and is linked', async () => {
    await page.viewport(390, 844);
    await settled(document);
    const said = (figure: number): string =>
      [...(mounted.station().shadowRoot?.querySelectorAll('oc-figure') ?? [])][figure]?.getAttribute('reading') ?? '';
    await swipe(part('oc-margin-map', '.handle.reading .focus'), 0, 0);
    await vi.waitFor(() => expect(said(0)).toMatch(/^x .*\smm: .*\sA, k 0\./), { timeout: 20_000 });
    expect(part('#against-offset', '.crosshair')).not.toBeNull();
    expect(store().undoCount.value).toBe(0);
    await swipe(part('#against-gap', '.handle.reading .focus'), 0, 0);
    await vi.waitFor(() => expect(said(2)).toMatch(/^Gap .*\smm: /), { timeout: 20_000 });
  });
});
