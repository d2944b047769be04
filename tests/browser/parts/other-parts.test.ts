import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { cdp, userEvent } from 'vitest/browser';
import '../../../src/parts/oc-anchors.ts';
import '../../../src/parts/oc-answer.ts';
import '../../../src/parts/oc-choice.ts';
import '../../../src/parts/oc-dimension.ts';
import '../../../src/parts/oc-figure.ts';
import '../../../src/parts/oc-note.ts';
import '../../../src/parts/oc-progress.ts';
import type { AnchorPlace } from '../../../src/parts/oc-anchors.ts';
import { dress, expectAccessible, listenToConsole, until } from '../scene/support/hand.ts';

let noise: ReturnType<typeof listenToConsole>;
beforeEach(() => {
  noise = listenToConsole();
  dress('light');
});
afterEach(() => {
  noise.stop();
  document.body.innerHTML = '';
  expect(noise.said.filter((line) => !line.includes('Lit is in dev mode'))).toEqual([]);
});

async function add<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  props: Partial<HTMLElementTagNameMap[K]>,
  content = '',
): Promise<HTMLElementTagNameMap[K]> {
  const element = document.createElement(tag);
  Object.assign(element, props);
  element.innerHTML = content;
  document.body.append(element);
  await (element as unknown as { updateComplete: Promise<boolean> }).updateComplete;
  return element;
}

const both = async (check: () => Promise<void>): Promise<void> => {
  for (const theme of ['light', 'dark'] as const) {
    dress(theme);
    await check();
    document.body.innerHTML = '';
  }
};

describe('oc-choice', () => {
  const options = [
    { value: 'circle', label: 'circle' },
    { value: 'roundedRectangle', label: 'rounded rectangle' },
    { value: 'stadium', label: 'stadium' },
  ];

  test('a click tells the choice and changes nothing by itself', async () => {
    const choice = await add('oc-choice', { label: 'Outline', options, value: 'circle' });
    const made: string[] = [];
    choice.addEventListener('choice-made', (event) => made.push(event.detail.value));
    const radios = [...choice.shadowRoot!.querySelectorAll('input')];
    await userEvent.click(radios[1]!);
    await choice.updateComplete;
    expect(made).toEqual(['roundedRectangle']);
    expect(radios.map((r) => r.checked)).toEqual([true, false, false]);
    choice.value = 'roundedRectangle';
    await choice.updateComplete;
    expect(radios.map((r) => r.checked)).toEqual([false, true, false]);
  });

  test('one stop for Tab; arrows choose', async () => {
    const choice = await add('oc-choice', { label: 'Outline', options, value: 'circle' });
    choice.addEventListener('choice-made', (event) => {
      choice.value = event.detail.value;
    });
    await userEvent.tab();
    await userEvent.keyboard('{ArrowRight}');
    await choice.updateComplete;
    expect(choice.value).toBe('roundedRectangle');
    await userEvent.keyboard('{ArrowRight}');
    await choice.updateComplete;
    expect(choice.value).toBe('stadium');
  });

  test('what is chosen is seen where the system sets the colours too', async () => {
    const session = cdp() as unknown as { send(method: string, params: object): Promise<unknown> };
    const media = (value: string) =>
      session.send('Emulation.setEmulatedMedia', { features: [{ name: 'forced-colors', value }] });
    const choice = await add('oc-choice', { label: 'Outline', options, value: 'stadium' });
    await media('active');
    try {
      const labels = [...choice.shadowRoot!.querySelectorAll('label')];
      const [one, two, chosen] = labels.map((entry) => getComputedStyle(entry).borderBottomColor);
      expect(matchMedia('(forced-colors: active)').matches).toBe(true);
      expect(one).toBe(two);
      expect(chosen).not.toBe(one);
    } finally {
      await media('');
    }
  });

  test('accessible in both themes', () =>
    both(async () => {
      await add('oc-choice', { label: 'Outline', options, value: 'circle' });
      await expectAccessible(document.body);
    }));
});

describe('oc-answer', () => {
  test('shows the tones and says the sentence once it stands still', async () => {
    const answer = await add('oc-answer', {});
    answer.stretches = [
      { text: 'Holds ', tone: 'plain' },
      { text: '0.48 A', tone: 'strong' },
    ];
    await answer.updateComplete;
    answer.stretches = [
      { text: 'Holds ', tone: 'plain' },
      { text: '0.47 A', tone: 'strong' },
      { text: ' (0.4–0.5)', tone: 'uncertain' },
      { text: ' only 6.1 mm', tone: 'bad' },
    ];
    await answer.updateComplete;
    const root = answer.shadowRoot!;
    expect(root.querySelector('h1')!.textContent).toBe('Holds 0.47 A (0.4–0.5) only 6.1 mm');
    expect(root.querySelector('.bad')!.textContent).toBe(' only 6.1 mm');
    const spoken = root.querySelector('[role=status]')!;
    expect(spoken.textContent).toBe('');
    await until(() => spoken.textContent !== '');
    expect(spoken.textContent).toBe('Holds 0.47 A (0.4–0.5) only 6.1 mm');
  });

  test('keeps its height while the sentence changes from short to two lines', async () => {
    document.body.style.width = '700px';
    const answer = await add('oc-answer', { stretches: [{ text: 'Working it out …', tone: 'uncertain' }], why: ' ' });
    const before = answer.getBoundingClientRect().height;
    answer.stretches = [
      { text: 'Holds 0.48 A up to 7.1 mm off centre and 9.6 mm apart; start-up needs 5.2 mm.', tone: 'plain' },
    ];
    await answer.updateComplete;
    expect(answer.getBoundingClientRect().height).toBe(before);
    document.body.style.width = '';
  });

  test('accessible in both themes', () =>
    both(async () => {
      await add('oc-answer', {
        stretches: [
          { text: 'Holds ', tone: 'plain' },
          { text: ' (6.4–7.8)', tone: 'uncertain' },
          { text: ' only 6 mm', tone: 'bad' },
        ],
        why: 'Tightest towards +x.',
      });
      await expectAccessible(document.body);
    }));
});

describe('oc-progress', () => {
  test('says how far it is and can be stopped from the keyboard', async () => {
    const line = await add('oc-progress', { running: true, fraction: 0.418, stage: 'Refining the map' });
    const bar = line.shadowRoot!.querySelector('[role=progressbar]')!;
    expect(bar.getAttribute('aria-valuenow')).toBe('42');
    expect(bar.getAttribute('aria-label')).toBe('Refining the map');
    const done = bar.firstElementChild as HTMLElement;
    expect(done.style.transform).toBe('scaleX(0.418)');
    let stops = 0;
    line.addEventListener('stop-requested', () => stops++);
    await userEvent.tab();
    await userEvent.keyboard('{Enter}');
    expect(stops).toBe(1);
  });

  test('takes the same room whether something runs or not', async () => {
    const line = await add('oc-progress', { running: true, fraction: null, stage: 'Refining' });
    const busy = line.getBoundingClientRect().height;
    expect(line.shadowRoot!.querySelector('[role=progressbar]')!.hasAttribute('aria-valuenow')).toBe(false);
    line.running = false;
    await line.updateComplete;
    expect(line.shadowRoot!.querySelector('[role=progressbar]')).toBeNull();
    expect(line.getBoundingClientRect().height).toBe(busy);
  });

  test('accessible in both themes', () =>
    both(async () => {
      await add('oc-progress', { running: true, fraction: 0.3, stage: 'Refining the map' });
      await expectAccessible(document.body);
    }));
});

describe('oc-note', () => {
  test('a caution is a note with its word', async () => {
    const note = await add('oc-note', {}, 'Metal between the coils can get hot enough to burn.');
    const box = note.shadowRoot!.querySelector('[role=note]')!;
    expect(box.getAttribute('aria-label')).toBe('Caution');
    expect(box.textContent).toContain('Caution.');
  });

  test('accessible in both themes, caution and help', () =>
    both(async () => {
      await add('oc-note', {}, 'Hot.');
      await add('oc-note', { kind: 'help' }, 'The coupling factor is M over the root of L1 L2.');
      await expectAccessible(document.body);
    }));
});

describe('oc-figure', () => {
  const mount = async () => {
    const figure = await add(
      'oc-figure',
      { heading: 'The pair', hint: 'drag the ring', formats: ['svg', 'png', 'csv'] },
      '<p>drawing</p>',
    );
    const asked: string[] = [];
    figure.addEventListener('export-requested', (event) => asked.push(`${event.detail.action} ${event.detail.format}`));
    return { figure, asked, root: figure.shadowRoot! };
  };

  test('the menu opens by click, offers copy and save, and tells what was asked', async () => {
    const { figure, asked, root } = await mount();
    await userEvent.click(root.querySelector('.open')!);
    await figure.updateComplete;
    const items = [...root.querySelectorAll('[role=menuitem]')];
    expect(items.map((i) => i.textContent!.trim())).toEqual([
      'Copy picture',
      'Copy SVG',
      'Copy numbers',
      'Save SVG',
      'Save PNG',
      'Save CSV',
    ]);
    await expectAccessible(document.body);
    await userEvent.click(items[4]!);
    expect(asked).toEqual(['save png']);
    expect(root.querySelector('[role=menu]')).toBeNull();
  });

  test('by keyboard: arrow opens, arrows go round, Escape closes and gives the focus back', async () => {
    const { figure, asked, root } = await mount();
    await userEvent.tab();
    await userEvent.keyboard('{ArrowDown}');
    await figure.updateComplete;
    await userEvent.keyboard('{ArrowUp}');
    expect(root.activeElement!.textContent!.trim()).toBe('Save CSV');
    await userEvent.keyboard('{ArrowDown}');
    expect(root.activeElement!.textContent!.trim()).toBe('Copy picture');
    await userEvent.keyboard('{Escape}');
    await figure.updateComplete;
    expect(root.querySelector('[role=menu]')).toBeNull();
    expect(root.activeElement!.className).toBe('open');
    await userEvent.keyboard('{ArrowDown}');
    await figure.updateComplete;
    await userEvent.keyboard('{End}{Enter}');
    expect(asked).toEqual(['save csv']);
  });

  test('a press elsewhere closes it; nothing listens once it is gone', async () => {
    const { figure, root } = await mount();
    await userEvent.click(root.querySelector('.open')!);
    await figure.updateComplete;
    const other = document.createElement('p');
    other.textContent = 'elsewhere';
    document.body.append(other);
    await userEvent.click(other);
    await figure.updateComplete;
    expect(root.querySelector('[role=menu]')).toBeNull();
  });

  test('what stands under the pointer takes the place of the hint without moving anything', async () => {
    const { figure, root } = await mount();
    const before = figure.getBoundingClientRect().height;
    figure.reading = 'x 3.0 mm, y 1.5 mm: +54 %';
    await figure.updateComplete;
    expect(root.querySelector('.hint')!.textContent).toBe('x 3.0 mm, y 1.5 mm: +54 %');
    expect(figure.getBoundingClientRect().height).toBe(before);
  });

  test('accessible in both themes', () =>
    both(async () => {
      await mount();
      await expectAccessible(document.body);
    }));
});

describe('oc-anchors', () => {
  const place = (id: string, x: number, y: number, visible = true): AnchorPlace => ({
    id,
    x,
    y,
    visible,
    towardX: 1,
    towardY: 0,
  });
  const mount = async () => {
    document.body.innerHTML = '<div style="position:relative;width:400px;height:300px"></div>';
    const box = document.body.firstElementChild!;
    const anchors = document.createElement('oc-anchors');
    anchors.innerHTML =
      '<oc-dimension data-anchor="a" label="A" value="5"></oc-dimension><oc-dimension data-anchor="b" label="B"></oc-dimension>';
    box.append(anchors);
    await anchors.updateComplete;
    const [a, b] = [...anchors.querySelectorAll('oc-dimension')];
    a!.value = 5;
    b!.value = 7;
    await until(() => a!.getBoundingClientRect().width > 20);
    return { anchors, a: a!, b: b!, box };
  };

  test('children stand beside their places and follow them without a render', async () => {
    const { anchors, a, box } = await mount();
    anchors.place([place('a', 100, 80), place('b', 300, 200)]);
    await until(() => a.hasAttribute('data-placed'));
    const origin = box.getBoundingClientRect();
    const at = a.getBoundingClientRect();
    expect(at.left - origin.left).toBeCloseTo(111, 0);
    expect(at.top + at.height / 2 - origin.top).toBeCloseTo(80, 0);
    anchors.place([place('a', 150, 90), place('b', 300, 200)]);
    expect(a.getBoundingClientRect().left - origin.left).toBeCloseTo(161, 0);
  });

  test('two at the same place do not cover each other', async () => {
    const { anchors, a, b } = await mount();
    anchors.place([place('a', 100, 80), place('b', 102, 82)]);
    await until(() => a.hasAttribute('data-placed') && b.hasAttribute('data-placed'));
    const p = a.getBoundingClientRect();
    const q = b.getBoundingClientRect();
    expect(p.bottom <= q.top || q.bottom <= p.top || p.right <= q.left || q.right <= p.left).toBe(true);
  });

  test('what is hidden cannot be reached, except where it has the focus', async () => {
    const { anchors, a, b } = await mount();
    anchors.place([place('a', 100, 80), place('b', 300, 200)]);
    await until(() => a.hasAttribute('data-placed'));
    a.focus();
    anchors.place([place('a', 100, 80, false), place('b', 300, 200, false)]);
    expect(a.hasAttribute('data-placed')).toBe(true);
    expect(b.hasAttribute('data-placed')).toBe(false);
    expect(getComputedStyle(b).visibility).toBe('hidden');
    a.blur();
    anchors.place([place('a', 100, 80, false)]);
    expect(a.hasAttribute('data-placed')).toBe(false);
  });

  test('children that come later are placed, children that go are forgotten', async () => {
    const { anchors, a } = await mount();
    anchors.place([place('a', 100, 80), place('c', 200, 150)]);
    const late = document.createElement('oc-dimension');
    late.dataset.anchor = 'c';
    late.label = 'C';
    anchors.append(late);
    await until(() => late.hasAttribute('data-placed'));
    a.remove();
    anchors.place([place('a', 100, 80), place('c', 200, 150)]);
    expect(late.hasAttribute('data-placed')).toBe(true);
  });
});
