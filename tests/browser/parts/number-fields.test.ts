import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { userEvent } from 'vitest/browser';
import '../../../src/parts/oc-dimension.ts';
import '../../../src/parts/oc-unit-field.ts';
import type { TextRefusedDetail, ValueCommittedDetail } from '../../../src/parts/number-entry.ts';
import type { Dimension } from '../../../src/parts/oc-dimension.ts';
import type { UnitField } from '../../../src/parts/oc-unit-field.ts';
import { parseQuantity } from '../../../src/units/parse.ts';
import { dress, expectAccessible, listenToConsole, until } from '../scene/support/hand.ts';

let noise: ReturnType<typeof listenToConsole>;
beforeEach(() => {
  noise = listenToConsole();
  dress('light');
});
afterEach(() => {
  noise.stop();
  document.body.innerHTML = '';
  // Lit says once that it runs in development mode; anything else is a mistake of ours.
  expect(noise.said.filter((line) => !line.includes('Lit is in dev mode'))).toEqual([]);
});

type Field = UnitField | Dimension;

async function mount(tag: 'oc-unit-field' | 'oc-dimension', change: Partial<UnitField> = {}) {
  const field = document.createElement(tag) as Field;
  Object.assign(field, { label: 'Gap', unit: 'mm', value: 5.9 }, change);
  const committed: number[] = [];
  const refused: TextRefusedDetail[] = [];
  field.addEventListener('value-committed', (event) => {
    committed.push((event as CustomEvent<ValueCommittedDetail>).detail.value);
  });
  field.addEventListener('text-refused', (event) => {
    refused.push((event as CustomEvent<TextRefusedDetail>).detail);
  });
  document.body.append(field);
  await field.updateComplete;
  const input = field.shadowRoot!.querySelector('input')!;
  const complaint = (): string => field.shadowRoot!.querySelector('[aria-live]')!.textContent!.trim();
  return { field, input, committed, refused, complaint };
}

describe.each(['oc-unit-field', 'oc-dimension'] as const)('%s', (tag) => {
  test('shows the number with its unit and says both in its name', async () => {
    const { input } = await mount(tag);
    expect(input.value.replace(/\s/g, ' ')).toBe('5.9 mm');
    expect(input.getAttribute('aria-label')).toBe('Gap, mm');
    await expectAccessible(document.body);
  });

  test('typed text is kept as typed until Enter, then read', async () => {
    const { field, input, committed } = await mount(tag);
    await userEvent.click(input);
    await userEvent.keyboard('7,25');
    expect(input.value).toBe('7,25');
    expect(committed).toEqual([]);
    await userEvent.keyboard('{Enter}');
    await until(() => committed.length === 1);
    expect(committed).toEqual([7.25]);
    field.value = 7.25;
    await field.updateComplete;
    expect(input.value.replace(/\s/g, ' ')).toBe('7.25 mm');
  });

  test('leaving the field reads it too; other units of the same quantity are understood', async () => {
    const { input, committed } = await mount(tag);
    await userEvent.click(input);
    await userEvent.keyboard('0.5 in');
    await userEvent.tab();
    await until(() => committed.length === 1);
    expect(committed).toEqual([12.7]);
  });

  test('what cannot be read stays, marked, with the reason beside it; Escape brings the number back', async () => {
    const { field, input, committed, refused, complaint } = await mount(tag);
    await userEvent.click(input);
    await userEvent.keyboard('5 kHz{Enter}');
    await until(() => refused.length === 1);
    expect(input.value).toBe('5 kHz');
    expect(input.getAttribute('aria-invalid')).toBe('true');
    expect(complaint()).toMatch(/length/);
    expect(refused[0]!.text).toBe('5 kHz');
    expect(refused[0]!.fault.code).toBe('wrong-dimension');
    expect(committed).toEqual([]);
    await expectAccessible(document.body);
    await userEvent.keyboard('{Escape}');
    await field.updateComplete;
    expect(input.value.replace(/\s/g, ' ')).toBe('5.9 mm');
    expect(complaint()).toBe('');
    expect(committed).toEqual([5.9]);
  });

  test('out of bounds is refused with the bounds, not clamped', async () => {
    const { input, committed, refused, complaint } = await mount(tag, { min: 0, max: 20 });
    await userEvent.click(input);
    await userEvent.keyboard('35{Enter}');
    await until(() => refused.length === 1);
    expect(input.value).toBe('35');
    expect(complaint()).toBe('This must be from 0 mm to 20 mm.');
    expect(committed).toEqual([]);
  });

  test('arrows step to the next mark, with Shift ten steps; not beyond the bounds', async () => {
    const { field, input, committed, refused } = await mount(tag, { max: 7 });
    await userEvent.click(input);
    await userEvent.keyboard('{ArrowUp}');
    await until(() => committed.length === 1);
    field.value = committed[0]!;
    await field.updateComplete;
    await userEvent.keyboard('{ArrowDown}{ArrowDown}');
    await until(() => committed.length >= 2);
    expect(committed.slice(0, 2)).toEqual([6, 5.9]);
    field.value = 6;
    await field.updateComplete;
    await userEvent.keyboard('{Shift>}{ArrowUp}{/Shift}');
    await until(() => committed.length >= 4);
    expect(committed.at(-1)).toBe(7);
    field.value = 7;
    await field.updateComplete;
    await userEvent.keyboard('{ArrowUp}');
    await until(() => refused.length === 1);
    expect(refused[0]!.fault.code).toBe('out-of-range');
  });

  test('stepping starts from what is typed', async () => {
    const { input, committed } = await mount(tag);
    await userEvent.click(input);
    await userEvent.keyboard('8{ArrowUp}');
    await until(() => committed.length === 1);
    expect(committed).toEqual([8.1]);
  });

  test('a draft and a fault from elsewhere are shown', async () => {
    const { input, complaint } = await mount(tag, { draft: 'abc', fault: 'Must be a length; received "abc".' });
    expect(input.value).toBe('abc');
    expect(complaint()).toContain('Must be a length');
    expect(input.getAttribute('aria-invalid')).toBe('true');
  });

  test('a value from above does not disturb typing', async () => {
    const { field, input } = await mount(tag);
    await userEvent.click(input);
    await userEvent.keyboard('3.');
    field.value = 9;
    await field.updateComplete;
    expect(input.value).toBe('3.');
  });

  test('reads through its own function where one is given', async () => {
    const { input, committed } = await mount(tag, { parse: (text) => parseQuantity(`${text}0`, 'mm') });
    await userEvent.click(input);
    await userEvent.keyboard('4{Enter}');
    await until(() => committed.length === 1);
    expect(committed).toEqual([40]);
  });

  test('an answer that comes late for text no longer there is dropped', async () => {
    const waiting: (() => void)[] = [];
    const { field, input, committed } = await mount(tag, {
      parse: (text, unit) =>
        new Promise((resolve) => {
          waiting.push(() => resolve(parseQuantity(text, unit)));
        }),
    });
    await userEvent.click(input);
    await userEvent.keyboard('1{Enter}2{Enter}');
    expect(waiting).toHaveLength(2);
    waiting[1]!();
    await until(() => committed.length === 1);
    waiting[0]!();
    await field.updateComplete;
    await new Promise((resolve) => setTimeout(resolve, 20));
    expect(committed).toEqual([12]);
  });

  test('is easy on the eye in both themes', async () => {
    for (const theme of ['light', 'dark'] as const) {
      dress(theme);
      const { field, input } = await mount(tag, { hint: 'from the stack', min: 0, max: 1 });
      await expectAccessible(document.body);
      await userEvent.click(input);
      await userEvent.keyboard('2{Enter}');
      await until(() => input.getAttribute('aria-invalid') === 'true');
      await expectAccessible(document.body);
      field.remove();
    }
  });
});

test('a dimension takes the width of its text', async () => {
  const { field, input } = await mount('oc-dimension');
  const narrow = input.getBoundingClientRect().width;
  expect(narrow).toBeGreaterThan(25);
  field.value = 1234.5678;
  await field.updateComplete;
  expect(input.getBoundingClientRect().width).toBeGreaterThan(narrow * 1.5);
});

test('mounting, unmounting and mounting again leaves one working field', async () => {
  const { field, input, committed } = await mount('oc-unit-field');
  field.remove();
  document.body.append(field);
  await field.updateComplete;
  await userEvent.click(input);
  await userEvent.keyboard('4{Enter}');
  await until(() => committed.length === 1);
  expect(committed).toEqual([4]);
});

test('pasted text does not make a number as wide as the drawing', async () => {
  const { field, input } = await mount('oc-dimension', { value: 123.456 });
  const usual = field.getBoundingClientRect().width;
  expect(input.scrollWidth).toBeLessThanOrEqual(input.clientWidth + 1);
  input.focus();
  input.value = '9'.repeat(80);
  input.dispatchEvent(new Event('input', { bubbles: true, composed: true }));
  await field.updateComplete;
  expect(field.getBoundingClientRect().width).toBeLessThan(2.5 * usual);
  await userEvent.keyboard('{Enter}');
  await until(() => input.getAttribute('aria-invalid') === 'true');
  expect(input.value).toBe('9'.repeat(80));
  expect(field.getBoundingClientRect().width).toBeLessThan(2.5 * usual);
});
