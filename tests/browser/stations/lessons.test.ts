import axe from 'axe-core';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { LESSON_TITLES } from '../../../src/analysis/lessons/lesson.ts';
import { GLOSSARY } from '../../../src/stations/glossary.ts';
import '../../../src/stations/oc-lessons.ts';
import { chooseTheme } from '../../../src/stations/theme.ts';
import { type MountedPart, mountPart, settled } from './mount-part.ts';

let mounted: MountedPart<'oc-lessons'>;

async function go(fragment: string): Promise<void> {
  location.hash = fragment;
  await settled();
  await settled();
}

beforeEach(async () => {
  await page.viewport(1200, 900);
  history.replaceState(null, '', '#lessons/2');
  mounted = await mountPart('oc-lessons');
  await settled();
});

afterEach(() => {
  mounted.unmount();
  history.replaceState(null, '', '#');
  chooseTheme('system');
});

const root = (): ShadowRoot => mounted.element.shadowRoot as ShadowRoot;
const words = (): string => (root().textContent ?? '').replace(/\s+/g, ' ');
const chart = (): ShadowRoot => root().querySelector('oc-lesson-chart')?.shadowRoot as ShadowRoot;

test('opens by its link, and the list leads to every lesson', async () => {
  expect(root().querySelector('[aria-current=page]')?.textContent).toContain(LESSON_TITLES[1]);
  for (let number = 1; number <= 6; number++) {
    await go(`#lessons/${number}`);
    expect(root().querySelector('[aria-current=page]')?.textContent).toContain(LESSON_TITLES[number - 1]);
    expect(chart().querySelector('svg')).not.toBeNull();
  }
});

test('the figure stays covered until something has been predicted; then it answers', async () => {
  expect(chart().querySelector('.curve')).toBeNull();
  expect(words()).not.toContain('What it shows');
  // The aim would give the answer away.
  const aim = (): string => root().querySelector('oc-answer')?.getAttribute('why') ?? '';
  expect(aim()).not.toContain('zero');
  root().querySelectorAll<HTMLInputElement>('input[type=radio]')[2]?.click();
  await settled();
  expect(chart().querySelectorAll('.curve').length).toBe(2);
  expect(words()).toContain('As you said. It is zero at');
  expect(words()).toContain('What it shows');
  expect(aim()).toContain('passes through zero');
  expect(chart().querySelectorAll('circle.dot')).toHaveLength(1);
});

test('works from the keyboard alone', async () => {
  const radios = root().querySelectorAll<HTMLInputElement>('input[type=radio]');
  radios[0]?.focus();
  await userEvent.keyboard(' ');
  await settled();
  expect(words()).toContain('Otherwise.');
  const marker = chart().querySelector<SVGElement>('[role=slider]');
  marker?.focus();
  const before = Number(marker?.getAttribute('aria-valuenow'));
  await userEvent.keyboard('{ArrowRight}{ArrowRight}');
  await settled();
  expect(Number(marker?.getAttribute('aria-valuenow'))).toBeGreaterThan(before);
  expect(marker?.getAttribute('aria-valuetext')).toMatch(/^Offset .*mm: M.= /);
  expect(root().querySelector('.reading')?.textContent).toBe(marker?.getAttribute('aria-valuetext'));
});

test('the marker follows the pointer', async () => {
  root().querySelectorAll<HTMLInputElement>('input[type=radio]')[0]?.click();
  await settled();
  const marker = chart().querySelector('[role=slider]') as SVGElement;
  const target = marker.querySelector('.target') as SVGElement;
  const box = target.getBoundingClientRect();
  const at = {
    clientX: box.x + box.width / 2,
    clientY: box.y + 60,
    pointerId: 7,
    bubbles: true,
    composed: true,
    button: 0,
  };
  marker.dispatchEvent(new PointerEvent('pointerdown', at));
  marker.dispatchEvent(new PointerEvent('pointermove', { ...at, clientX: at.clientX + 200 }));
  marker.dispatchEvent(new PointerEvent('pointerup', { ...at, clientX: at.clientX + 200 }));
  await settled();
  expect(Number(marker.getAttribute('aria-valuenow'))).toBeGreaterThan(15);
});

test('the teacher’s sheet holds all lessons with their answers', async () => {
  await go('#lessons/sheet');
  await settled();
  const sections = root().querySelectorAll('.sheet section');
  expect(sections).toHaveLength(6);
  for (const section of sections) expect(section.querySelectorAll('ol b')).toHaveLength(1);
});

describe.each(['light', 'dark'] as const)('%s', (ground) => {
  test.each([1200, 390, 320])('axe finds nothing at %i px and nothing runs out sideways', async (width) => {
    await page.viewport(width, 844);
    chooseTheme(ground);
    for (const fragment of ['#lessons/1', '#lessons/5', '#lessons/sheet']) {
      await go(fragment);
      root().querySelectorAll<HTMLInputElement>('input[type=radio]')[1]?.click();
      await settled();
      const results = await axe.run(document.body, {
        runOnly: { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] },
      });
      expect(
        results.violations.flatMap((v) =>
          v.nodes.map((n) => `${v.id}: ${n.target.flat().join(' ')} ${n.failureSummary}`),
        ),
      ).toEqual([]);
      expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
    }
  });
});

test('labels cover neither each other nor, where there is room, the curves', async () => {
  for (const [number, width] of [
    [1, 1200],
    [2, 1200],
    [3, 1200],
    [5, 1200],
    [6, 1200],
    [1, 390],
    [5, 390],
  ] as const) {
    await page.viewport(width, 844);
    await go(`#lessons/${number}`);
    root().querySelectorAll<HTMLInputElement>('input[type=radio]')[1]?.click();
    await settled();
    const boxes = [...chart().querySelectorAll('text.halo')].map((text) => text.getBoundingClientRect());
    boxes.forEach((a, i) => {
      for (const b of boxes.slice(i + 1)) {
        const apart = a.right <= b.left + 1 || b.right <= a.left + 1 || a.bottom <= b.top + 4 || b.bottom <= a.top + 4;
        expect(apart, `lesson ${number} at ${width} px`).toBe(true);
      }
    });
  }
});

test('every heading is in the list of words', async () => {
  root().querySelectorAll<HTMLInputElement>('input[type=radio]')[1]?.click();
  await settled();
  const known = new Set(Object.values(GLOSSARY).map((term) => term.label));
  const heads = [
    ...[...root().querySelectorAll('h2, h3')].map((e) => e.textContent?.trim() ?? ''),
    root().querySelector('oc-figure')?.getAttribute('heading') ?? '',
  ];
  expect(heads.filter((head) => !known.has(head))).toEqual([]);
});
