import '../../../src/main.css';
import axe from 'axe-core';
import { render } from 'lit';
import { afterEach, beforeAll, describe, expect, test, vi } from 'vitest';
import { page } from 'vitest/browser';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { Session } from '../../../src/state/session.ts';
import { GLOSSARY } from '../../../src/stations/glossary.ts';
import '../../../src/stations/oc-sensitivity.ts';
import '../../../src/stations/oc-supply-choice.ts';
import { operatingNotes } from '../../../src/stations/supply-notes.ts';
import { chooseTheme } from '../../../src/stations/theme.ts';
import '../../../src/units/parse.ts';
import { createFakeEngine, type FakeEngine } from '../../support/fake-engine.ts';
import { memoryKeeper, memoryLocal } from '../../support/memory-keeper.ts';
import { deep, deepAll, press, settled, type as typeInto } from './mount-app.ts';

type Tag = 'oc-supply-choice' | 'oc-sensitivity';

let session: Session;
let engine: FakeEngine;
let main: HTMLElement | null = null;

async function mount(tag: Tag, delayMs = 0): Promise<HTMLElement> {
  engine = createFakeEngine({ delayMs });
  session = new Session({
    start: DEMO_DESIGN,
    engine,
    autosave: {
      keeper: memoryKeeper(),
      local: memoryLocal(),
    },
  });
  await session.open('');
  main = document.createElement('main');
  const heading = document.createElement('h1');
  heading.textContent = 'A part of a station';
  const element = document.createElement(tag);
  element.session = session;
  main.append(heading, element);
  document.body.append(main);
  await settled(element);
  return element;
}

async function there(tag: Tag): Promise<HTMLElement> {
  const element = await mount(tag);
  const answer = tag === 'oc-supply-choice' ? session.supply : session.sensitivity;
  await vi.waitFor(() => expect(answer.fresh.value).toBe(true), { timeout: 10_000 });
  await settled(element);
  return element;
}

afterEach(() => {
  main?.remove();
  session.close();
  chooseTheme('system');
});

beforeAll(() => page.viewport(900, 800));

/** Plain spaces for those that do not break. */
const spaced = (text: string | null): string | null => text?.replace(/\u00a0/g, ' ') ?? null;
const plain = (element: Element): string => (element.textContent ?? '').replace(/\s+/g, ' ').trim();

describe('the supply choice', () => {
  test('says which to take, shows every supply, and takes one into the design', async () => {
    const view = await there('oc-supply-choice');
    expect(plain(deep(view, 'p'))).toMatch(/^Take 5 V: it gives 1\.10 A for the 0\.78 A asked/);
    expect(deepAll(view, 'th[scope=col]').map(plain)).toEqual(['5 V', '9 V', '12 V']);
    expect(deepAll(view, 'path.end')).toHaveLength(3);
    expect(deepAll(view, 'li').map(plain)[1]).toContain('safe only from 2.4 mm off centre outwards');
    deep(view, 'button[aria-label="take it: 9 V"]').click();
    await settled(view);
    expect(session.store.design.value.transmitter.drive.supplyV).toBe(9);
    // The same comparison: nothing is worked out anew.
    expect(engine.asked.supplies).toBe(1);
    session.store.undo();
    expect(session.store.design.value.transmitter.drive.supplyV).toBe(5);
  });

  test('other voltages are compared as typed, two to four of them', async () => {
    const view = await there('oc-supply-choice');
    await typeInto(deepAll(view, 'oc-unit-field')[1]!, '7.5');
    await vi.waitFor(() => expect(session.supply.suppliesV.value).toEqual([5, 7.5, 12]));
    await vi.waitFor(() => expect(deepAll(view, 'th[scope=col]').map(plain)).toEqual(['5 V', '7.5 V', '12 V']));
    const button = (words: string): HTMLElement =>
      deepAll(view, '.fields button').find((each) => plain(each).startsWith(words)) as HTMLElement;
    button('Compare').click();
    await vi.waitFor(() => expect(session.supply.suppliesV.value).toEqual([5, 7.5, 9, 12]));
    for (const left of [3, 2]) {
      await vi.waitFor(() => expect(button('Leave out')).toBeDefined());
      button('Leave out').click();
      await vi.waitFor(() => expect(session.supply.suppliesV.value).toHaveLength(left));
      await settled(view);
    }
    expect(button('Leave out')).toBeUndefined();
  });

  test('is worked out only while it is on show, and can be stopped', async () => {
    const view = await mount('oc-supply-choice', 400);
    await vi.waitFor(() => expect(deepAll(deep(view, 'oc-progress'), 'button')).toHaveLength(1));
    deep(deep(view, 'oc-progress'), 'button').click();
    await vi.waitFor(() => expect(session.supply.progress.value).toBeNull());
    view.remove();
    const asked = engine.asked.supplies;
    session.supply.compare([5, 15]);
    await settled(document);
    expect(engine.asked.supplies).toBe(asked);
  });

  test('the curves are read by keyboard and pointer, in words', async () => {
    const view = await there('oc-supply-choice');
    const heard: (string | null)[] = [];
    view.addEventListener('load-read', (event) => heard.push(spaced((event as CustomEvent).detail?.text ?? null)));
    const slider = deep(deep(view, 'oc-supply-curves'), '[role=slider]');
    await press(slider, 'ArrowRight');
    expect(heard.at(-1)).toMatch(/^0\.8\d? A: 5 V \d\d %, 9 V \d\d %, 12 V \d\d %$/u);
    await press(slider, 'End');
    for (let i = 0; i < 20; i += 1) await press(slider, 'ArrowRight', { shiftKey: true });
    expect(deep(view, 'oc-figure').getAttribute('reading')).toContain('A:');
    deep(deep(view, 'oc-supply-curves'), '.frame').dispatchEvent(new PointerEvent('pointerleave'));
    expect(heard.at(-1)).toBeNull();
    expect(spaced(deep(deep(view, 'oc-supply-curves'), '[role=img]').getAttribute('aria-label'))).toMatch(
      /5 V: at best \d\d %, ends at 1\.1/u,
    );
  });

  test('voltages above 50 V carry their caution where the numbers stand', async () => {
    const view = await there('oc-supply-choice');
    expect(plain(deep(view, 'oc-note'))).toContain('At 12 V a series capacitor or coil carries more than 50 V peak');
  });
});

describe('what moves the margin', () => {
  test('ranked, with the line where the power collapses, and the still ones named', async () => {
    const view = await there('oc-sensitivity');
    expect(plain(deep(view, 'p'))).toMatch(/^The receiver inductance moves it most: ± 5 % is −30 % to \+13 %/);
    expect(deepAll(view, 'text.name').map((each) => plain(each).replace(/ ±.*$/, ''))).toEqual([
      'receiver inductance',
      'transmitter inductance',
      'supply voltage',
      'receiver series capacitor',
      'gap',
    ]);
    expect(deepAll(view, 'line.collapse')).toHaveLength(1);
    expect(plain(deep(view, 'p.soft'))).toBe('Moves nothing here: coil current limit.');
  });

  test('per percent another order, single bars, inputs without a tolerance too', async () => {
    const view = await there('oc-sensitivity');
    deepAll<HTMLInputElement>(deep(view, 'oc-choice'), 'input')[1]!.click();
    await settled(view);
    const names = deepAll(view, 'text.name').map((each) => plain(each).replace(/ 1 % more$/, ''));
    expect(names[0]).toBe('supply voltage');
    expect(names).toContain('regulator drop-out');
    expect(deepAll(view, 'line.collapse')).toHaveLength(0);
  });

  test('bars are read by arrow keys', async () => {
    const view = await there('oc-sensitivity');
    const slider = deep(deep(view, 'oc-ranked-bars'), '[role=slider]');
    await press(slider, 'ArrowDown');
    await press(slider, 'ArrowDown');
    expect(spaced(slider.getAttribute('aria-valuetext'))).toMatch(
      /^transmitter inductance \(± 5 %\): more of it −19 %, less of it \+13\.4 %$/u,
    );
    await press(slider, 'Home');
    expect(deep(view, 'oc-figure').getAttribute('reading')).toMatch(/^receiver inductance/);
  });
});

test('beside an operating point: its state, resonant voltages with their caution, the supply, the method', async () => {
  await mount('oc-sensitivity');
  const pose = await engine.solve(session.store.design.value);
  if (!pose.ok) throw new Error('invented');
  const place = document.createElement('div');
  main?.append(place);
  const { operatingPoint } = pose.value;
  const note = 'More than one operating point fits this load.';
  render(operatingNotes({ ...pose.value, notes: [note] }), place);
  expect(plain(place)).toContain('Resonant voltages: transmitter 15 V, receiver 21 V peak at most.');
  expect(plain(place)).toContain('At that load the supply gives 1.30 of at most 3 A. Solved by an invented method.');
  expect(plain(place)).toContain(note);
  expect(deepAll(place, 'oc-note')).toHaveLength(0);
  render(operatingNotes({ ...pose.value, operatingPoint: { ...operatingPoint, highVoltage: true } }), place);
  expect(plain(deep(place, 'oc-note'))).toContain('More than 50 V peak stands on a series capacitor or coil');
});

describe.each(['light', 'dark'] as const)('%s', (ground) => {
  test.each(['oc-supply-choice', 'oc-sensitivity'] as const)(
    'axe finds nothing in %s, on a phone neither',
    async (tag) => {
      chooseTheme(ground);
      await there(tag);
      for (const width of [900, 390, 320]) {
        await page.viewport(width, 800);
        await settled(document);
        const results = await axe.run(document.body, {
          runOnly: { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] },
        });
        expect(results.violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' ')}`)).toEqual(
          [],
        );
        expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
      }
    },
  );
});

test('every label is in the glossary', async () => {
  const known = new Set(Object.values(GLOSSARY).map((term) => term.label.toLowerCase()));
  for (const tag of ['oc-supply-choice', 'oc-sensitivity'] as const) {
    const view = await there(tag);
    const words = deepAll(view, 'h2, tbody th, legend, fieldset label, .legend span, text.halo')
      .map((each) =>
        plain(each)
          .replace(/[\d.]+ ?[AV] ?/g, '')
          .toLowerCase()
          .trim(),
      )
      .filter((text) => text !== '');
    expect(words.filter((text) => !known.has(text))).toEqual([]);
    main?.remove();
  }
});
