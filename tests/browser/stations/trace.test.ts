import axe from 'axe-core';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { GLOSSARY } from '../../../src/stations/glossary.ts';
import '../../../src/stations/oc-rivals-trace.ts';
import { chooseTheme } from '../../../src/stations/theme.ts';
import { type MountedPart, mountPart, settled } from './mount-part.ts';

let mounted: MountedPart<'oc-rivals-trace'>;

/** A drawn picture of a coil beside a ruler: 10 px are 1 mm, the outermost turn 40 x 30 mm about (500, 350). */
async function picture(type = 'image/png'): Promise<File> {
  const canvas = new OffscreenCanvas(1000, 800);
  const context = canvas.getContext('2d') as OffscreenCanvasRenderingContext2D;
  context.fillStyle = '#b9b2a4';
  context.fillRect(0, 0, 1000, 800);
  context.strokeStyle = '#a4551f';
  context.lineWidth = 8;
  for (let turn = 0; turn < 6; turn++)
    context.strokeRect(300 + 12 * turn, 200 + 12 * turn, 400 - 24 * turn, 300 - 24 * turn);
  context.fillStyle = '#f1e9c9';
  context.fillRect(200, 650, 600, 60);
  return new File([await canvas.convertToBlob({ type })], type === 'image/png' ? 'coil.png' : 'coil.jpg', { type });
}

beforeEach(async () => {
  await page.viewport(1200, 900);
  mounted = await mountPart('oc-rivals-trace');
});

afterEach(() => {
  mounted.unmount();
  chooseTheme('system');
});

const root = (): ShadowRoot => mounted.element.shadowRoot as ShadowRoot;
const words = (): string => (root().textContent ?? '').replace(/\s+/g, ' ');
const board = (): ShadowRoot => root().querySelector('oc-trace-board')?.shadowRoot as ShadowRoot;
const marks = () => mounted.session.trace.marks.value;

async function choose(file: File): Promise<void> {
  const input = root().querySelector<HTMLInputElement>('input[type=file]') as HTMLInputElement;
  const transfer = new DataTransfer();
  transfer.items.add(file);
  input.files = transfer.files;
  input.dispatchEvent(new Event('change'));
  await settled();
  await settled();
}

/** A tap on the picture, px of the picture. */
async function tap(x: number, y: number): Promise<void> {
  const ground = board().querySelector('svg') as SVGElement;
  const box = ground.getBoundingClientRect();
  const zoom = box.width / 1000;
  const at = {
    clientX: box.left + x * zoom,
    clientY: box.top + y * zoom,
    pointerId: 3,
    bubbles: true,
    composed: true,
    button: 0,
  };
  ground.dispatchEvent(new PointerEvent('pointerdown', at));
  ground.dispatchEvent(new PointerEvent('pointerup', at));
  await settled();
}

const CORNERS = [
  [300, 200],
  [700, 200],
  [700, 500],
  [300, 500],
] as const;

/** The scale's ends on the ruler's: 60 mm. */
async function scaled(): Promise<void> {
  const { trace } = mounted.session;
  trace.scaleMm.value = 60;
  trace.change({ ...marks(), from: [200, 680], to: [800, 680] }, 'drag from');
  await settled();
}

async function said(): Promise<string> {
  // The inductance takes some tenths of a second.
  for (let i = 0; i < 60 && words().includes('…'); i++) await settled();
  return words();
}

test('a picture is traced by tapping, measured, and taken over in one step', async () => {
  await choose(await picture());
  expect(words()).toContain('coil.png, 1000 × 800 px');
  await scaled();
  for (const [x, y] of CORNERS) await tap(x, y);
  expect(marks().points).toHaveLength(4);
  mounted.session.trace.pitchMm.value = 1.2;
  await settled();
  const text = await said();
  // 40 mm and 30 mm, known within the ruler's 0.5 of 60 mm and the pointing.
  expect(text).toMatch(/Traced width ?40\.[0-3]\d? ± 0\.[3-9]\d?.mm/);
  expect(text).toMatch(/Traced height ?(30\.[0-3]\d?|29\.9\d?) ± 0\.[3-9]\d?.mm/);
  expect(text).toMatch(/Inductance in air ?[\d.]+ ± [\d.]+.µH/);
  const before = mounted.session.store.document.value;
  [...root().querySelectorAll('button')].find((button) => button.textContent?.trim() === 'Take it over')?.click();
  await settled();
  const { coil } = mounted.session.store.design.value.receiver;
  if (coil.outline.shape !== 'path') throw new Error('a free outline is expected');
  expect(coil.outline.pointsMm).toHaveLength(4);
  expect(coil.outline.pitchMm).toBe(1.2);
  expect(coil.inductanceTolerancePercent).toBeGreaterThan(5);
  mounted.session.store.undo();
  expect(mounted.session.store.document.value).toEqual(before);
});

test('a picture taken aslant is put right by a card, its corners dragged or moved with the keys', async () => {
  await choose(await picture());
  const choice = [...root().querySelectorAll('oc-choice')].find((one) => one.label === 'Known');
  const rectangle = [...(choice?.shadowRoot?.querySelectorAll('input, button') ?? [])].at(-1) as HTMLElement;
  rectangle.click();
  await settled();
  expect(words()).toContain('Put 1 to 4 on the corners clockwise');
  expect(words()).not.toContain('Length of the scale');
  // Seen aslant: what lies higher in the picture is further away. A plane point (u, v) mm, v away from the camera.
  const look = (u: number, v: number): [number, number] => [
    500 + (9 * u) / (1 + v / 150),
    700 - (6 * v) / (1 + v / 150),
  ];
  const names = [...board().querySelectorAll('[data-mark^="corner"]')].map((mark) => mark.getAttribute('aria-label'));
  expect(names).toHaveLength(4);
  expect(names[0]).toMatch(/^Corner 1 of the rectangle, \d+ px to the right/);
  const corners = [look(-42.8, 53.98), look(42.8, 53.98), look(42.8, 0), look(-42.8, 0)] as const;
  mounted.session.trace.change({ ...marks(), corners }, 'drag corner-0');
  await settled();
  // One corner by hand: five coarse steps away by the keys, and taken back with the button.
  const corner = board().querySelector<SVGElement>('[data-mark="corner-2"]');
  corner?.focus();
  await userEvent.keyboard('{ArrowRight}{ArrowRight}{ArrowDown}');
  await settled();
  expect(marks().corners[2][0]).toBeGreaterThan(corners[2][0]);
  expect(marks().corners[2][1]).toBeGreaterThan(corners[2][1]);
  [...root().querySelectorAll('button')].find((one) => one.textContent?.trim() === 'Take the last step back')?.click();
  await settled();
  expect(marks().corners).toEqual(corners);
  // A coil of 40 x 30 mm on the same table, behind the card.
  for (const [u, v] of [
    [-20, 100],
    [20, 100],
    [20, 70],
    [-20, 70],
  ] as const)
    await tap(...look(u, v));
  mounted.session.trace.pitchMm.value = 1.2;
  await settled();
  const text = await said();
  expect(text).toMatch(/Traced width ?(40\.[0-2]\d?|39\.[89]\d?) ± \d\.\d+.mm/);
  expect(text).toMatch(/Traced height ?(30\.[0-2]\d?|29\.[89]\d?) ± \d\.\d+.mm/);
  const report = await axe.run(mounted.element, { resultTypes: ['violations'] });
  expect(report.violations.map(({ id }) => id)).toEqual([]);
});

test('everything goes by the keyboard alone', async () => {
  await choose(await picture());
  const add = [...root().querySelectorAll('button')].find((button) => button.textContent?.trim() === 'Add a point');
  add?.focus();
  await userEvent.keyboard('{Enter}');
  await settled();
  expect(marks()).toMatchObject({ selected: 0, points: { length: 1 } });
  expect(board().activeElement?.getAttribute('aria-label')).toContain('Point 1 of 1, selected');
  const [x, y] = marks().points[0]!;
  await userEvent.keyboard('{ArrowRight}{ArrowUp}{ArrowUp}{Shift>}{ArrowRight}{/Shift}');
  await settled();
  const [u, v] = marks().points[0]!;
  expect(u).toBeGreaterThan(x);
  expect(v).toBeLessThan(y);
  await userEvent.keyboard('{Enter}');
  await settled();
  await userEvent.keyboard('{ArrowDown}{Enter}');
  await settled();
  expect(marks()).toMatchObject({ selected: 2, points: { length: 3 } });
  await userEvent.keyboard('{PageDown}');
  await settled();
  expect(marks().selected).toBe(0);
  await userEvent.keyboard('{Delete}');
  await settled();
  expect(marks()).toMatchObject({ selected: 0, points: { length: 2 } });
  const end = board().querySelector<SVGElement>('.end') as SVGElement;
  end.focus();
  const from = marks().from;
  await userEvent.keyboard('{ArrowLeft}');
  await settled();
  expect(marks().from[0]).toBeLessThan(from[0]);
});

test('a point is dragged, and a step is taken back', async () => {
  await choose(await picture());
  for (const [x, y] of CORNERS) await tap(x, y);
  const handle = board().querySelectorAll<SVGElement>('.point')[1] as SVGElement;
  const box = (handle.querySelector('.knob') as SVGElement).getBoundingClientRect();
  const at = {
    clientX: box.x + box.width / 2,
    clientY: box.y + box.height / 2,
    pointerId: 4,
    bubbles: true,
    composed: true,
    button: 0,
  };
  handle.dispatchEvent(new PointerEvent('pointerdown', at));
  for (const by of [10, 20, 30])
    handle.dispatchEvent(new PointerEvent('pointermove', { ...at, clientX: at.clientX + by }));
  handle.dispatchEvent(new PointerEvent('pointerup', { ...at, clientX: at.clientX + 30 }));
  await settled();
  expect(marks().points[1]?.[0]).toBeGreaterThan(730);
  mounted.session.trace.takeBack();
  await settled();
  expect(marks().points[1]?.[0]).toBeCloseTo(700, 0);
});

test('what is no picture is refused with its reason, and nothing is lost', async () => {
  await choose(await picture('image/jpeg'));
  for (const [x, y] of CORNERS) await tap(x, y);
  await choose(new File(['<svg xmlns="http://www.w3.org/2000/svg"></svg>'], 'coil.svg', { type: 'image/png' }));
  expect(root().querySelector('[role=alert]')?.textContent).toMatch(
    /must be a PNG or JPEG picture; received “coil.svg”/,
  );
  const whole = new Uint8Array(await (await picture()).arrayBuffer());
  await choose(new File([whole.slice(0, 60)], 'cut.png'));
  expect(root().querySelector('[role=alert]')?.textContent).toMatch(/“cut.png”, which the browser cannot decode/);
  expect(marks().points).toHaveLength(4);
  await choose(await picture());
  expect(root().querySelector<HTMLElement>('[role=alert]')?.hidden).toBe(true);
});

test('an outline that crosses itself is refused and cannot be taken over', async () => {
  await choose(await picture());
  await scaled();
  for (const at of [0, 2, 1, 3]) await tap(CORNERS[at]![0], CORNERS[at]![1] + at);
  expect(words()).toContain('It cannot be wound so.');
  expect(words()).toContain('does not cross itself');
  expect(words()).not.toContain('Take it over');
});

test('the picture’s address is given back, and the work outlasts the board', async () => {
  await choose(await picture());
  await tap(300, 200);
  const address = root().querySelector('oc-trace-board')?.getAttribute('src') ?? '';
  expect((await fetch(address)).ok).toBe(true);
  mounted.element.remove();
  await settled();
  await expect(fetch(address)).rejects.toThrow();
  document.querySelector('main')?.append(mounted.element);
  await settled();
  expect(marks().points).toHaveLength(1);
  expect(board().querySelectorAll('.point')).toHaveLength(1);
});

describe.each(['light', 'dark'] as const)('%s', (ground) => {
  test.each([1200, 390])(
    'axe finds nothing at %i px, nothing runs out sideways, labels are in the list',
    async (width) => {
      await page.viewport(width, 900);
      chooseTheme(ground);
      await choose(await picture());
      await scaled();
      for (const [x, y] of CORNERS) await tap(x, y);
      await said();
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
      const labels = [
        ...[...root().querySelectorAll('dt')].map((e) => e.textContent?.trim() ?? ''),
        ...[...root().querySelectorAll('oc-choice, oc-unit-field')].map((e) => e.getAttribute('label') ?? ''),
      ];
      expect(labels.length).toBeGreaterThan(6);
      expect(labels.filter((text) => !known.has(text))).toEqual([]);
    },
  );
});
