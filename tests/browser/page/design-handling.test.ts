import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { page } from 'vitest/browser';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { STARTING_POINTS } from '../../../src/design/starting-points.ts';
import { Autosave } from '../../../src/state/autosave.ts';
import { moveReceiver } from '../../../src/state/commands/move-receiver.ts';
import { setValue } from '../../../src/state/commands/set-value.ts';
import { databaseKeeper } from '../../../src/state/session-storage.ts';
import { readShareFragment, shareFragment } from '../../../src/state/share-link.ts';
import { DesignStore } from '../../../src/state/store.ts';
import { STATIONS } from '../../../src/stations/stations.ts';
import { chooseTheme } from '../../../src/stations/theme.ts';
import { failingKeeper } from '../../support/memory-keeper.ts';
import {
  answered,
  answerText,
  deep,
  deepAll,
  type MountedApp,
  mountApp,
  press,
  settled,
} from '../stations/mount-app.ts';

let mounted: MountedApp;

beforeEach(async () => {
  await page.viewport(1280, 800);
  mounted = await mountApp();
  await answered(mounted);
});

afterEach(() => {
  mounted.unmount();
  chooseTheme('system');
});

const store = () => mounted.session.store;
const button = (words: string) => {
  const found = deepAll(mounted.app, 'button').find((b) => b.textContent?.trim().startsWith(words));
  if (!found) throw new Error(`no button ${words}`);
  return found;
};

test('the title is edited in the menu and undone from the keyboard', async () => {
  deep(mounted.app, '.title').click();
  const field = deep<HTMLInputElement>(mounted.app, '.field input');
  field.value = 'Shelf two';
  field.dispatchEvent(new Event('change', { bubbles: true }));
  await settled(document);
  expect(deep(mounted.app, '.title .text').textContent).toBe('Shelf two');
  expect(button('Undo').textContent).toContain('Change the title');
  await press(document.body, 'z', { ctrlKey: true });
  expect(store().document.value.title).toBe(DEMO_DESIGN.title);
  await press(document.body, 'y', { ctrlKey: true });
  expect(store().document.value.title).toBe('Shelf two');
});

test('each starting point opens, gives an answer and can be undone', async () => {
  for (const start of STARTING_POINTS) {
    deep(mounted.app, '.title').click();
    await vi.waitFor(() => button(start.name), { timeout: 10_000 });
    button(start.name).click();
    await settled(document);
    expect(store().document.value.title).toBe(start.document.title);
    expect(store().faults.value).toEqual([]);
    await answered(mounted);
    expect(answerText(mounted.app)).not.toBe('');
    store().undo();
    expect(store().document.value).toBe(DEMO_DESIGN);
  }
});

describe('a file dropped on the page', () => {
  const drop = (name: string, text: string) => {
    const transfer = new DataTransfer();
    transfer.items.add(new File([text], name, { type: 'application/json' }));
    window.dispatchEvent(new DragEvent('dragover', { dataTransfer: transfer, cancelable: true }));
    window.dispatchEvent(new DragEvent('drop', { dataTransfer: transfer, cancelable: true }));
  };
  test('is opened', async () => {
    drop('two.json', JSON.stringify({ ...DEMO_DESIGN, title: 'Dropped' }));
    await vi.waitFor(() => expect(store().document.value.title).toBe('Dropped'));
    expect(store().undoLabel.value).toBe('Open two.json');
  });
  test('that is wrong is told line by line, and the design stays', async () => {
    drop('bad.json', JSON.stringify({ ...DEMO_DESIGN, colour: 'red', placement: { gapMm: -3 } }));
    await vi.waitFor(() => expect(deepAll(mounted.app, '.notice').length).toBe(1));
    const said = deep(mounted.app, '.notice').textContent ?? '';
    expect(said).toContain('bad.json was not opened');
    expect(said).toContain('colour');
    expect(said).toContain('placement.gapMm');
    expect(store().document.value).toBe(DEMO_DESIGN);
    // The first visit's hint may stand there too, with a button of the same words.
    deep<HTMLButtonElement>(mounted.app, '.notice button').click();
    await settled(document);
    expect(deepAll(mounted.app, '.notice')).toEqual([]);
  });
  test('that is a table is told where tables are taken', async () => {
    drop('bench.csv', 'supply V;supply A\n5;0,5\n');
    await vi.waitFor(() => expect(deepAll(mounted.app, '.notice').length).toBe(1));
    expect(deep(mounted.app, '.notice').textContent).toContain(
      'Prove takes tables of readings, Hold tables of placements',
    );
  });
  test('that is no design at all is told too', async () => {
    drop('notes.txt', 'hello');
    await vi.waitFor(() => expect(deepAll(mounted.app, '.notice').length).toBe(1));
    expect(store().document.value).toBe(DEMO_DESIGN);
  });
});

test('of several files dropped at once the first is opened, and the others are named', async () => {
  const transfer = new DataTransfer();
  for (const name of ['one.json', 'two.json', 'three.csv'])
    transfer.items.add(new File([JSON.stringify({ ...DEMO_DESIGN, title: name })], name));
  window.dispatchEvent(new DragEvent('drop', { dataTransfer: transfer, cancelable: true }));
  await vi.waitFor(() => expect(store().document.value.title).toBe('one.json'));
  await settled(document);
  expect(deep(mounted.app, '.notice').textContent).toMatch(/Only one\.json was opened.*two\.json, three\.csv/s);
});

describe('shortcuts', () => {
  const typeOffset = async (text: string): Promise<HTMLInputElement> => {
    const field = deepAll(mounted.app, 'oc-dimension').find((entry) => entry.getAttribute('label') === 'Offset x');
    const input = field?.shadowRoot?.querySelector('input') as HTMLInputElement;
    input.focus();
    input.value = text;
    input.dispatchEvent(new InputEvent('input', { bubbles: true, composed: true }));
    await settled(document);
    return input;
  };

  test('a number that is still being typed is in the file that Ctrl S saves', async () => {
    const saved: Blob[] = [];
    const make = URL.createObjectURL;
    URL.createObjectURL = (content: Blob) => {
      saved.push(content);
      return 'blob:none';
    };
    const stop = (event: Event): void => event.preventDefault();
    window.addEventListener('click', stop);
    try {
      const input = await typeOffset('7,5 mm');
      await press(input, 's', { ctrlKey: true });
      await vi.waitFor(() => expect(saved).toHaveLength(1));
      expect(JSON.parse(await saved[0]!.text()).placement.offsetXMm).toBe(7.5);
      expect(document.activeElement).not.toBe(document.body);
    } finally {
      URL.createObjectURL = make;
      window.removeEventListener('click', stop);
    }
  });

  test('Ctrl Z in a text of several lines is left to that text', async () => {
    store().run(moveReceiver, { xMm: 5, yMm: 0 });
    const text = document.createElement('textarea');
    mounted.station().shadowRoot?.append(text);
    const event = new KeyboardEvent('keydown', {
      key: 'z',
      ctrlKey: true,
      bubbles: true,
      composed: true,
      cancelable: true,
    });
    text.dispatchEvent(event);
    expect(event.defaultPrevented).toBe(false);
    expect(store().design.value.placement.offsetXMm).toBe(5);
    text.remove();
  });

  test('work by the place of the key where the letters are not Latin', async () => {
    store().run(moveReceiver, { xMm: 5, yMm: 0 });
    await press(document.body, '\u044f', { code: 'KeyZ', ctrlKey: true });
    expect(store().design.value.placement.offsetXMm).toBe(0);
    // A Latin letter counts as what it is, wherever it lies.
    await press(document.body, 'y', { code: 'KeyZ', ctrlKey: true });
    expect(store().design.value.placement.offsetXMm).toBe(5);
  });
});

describe('what does not hold together', () => {
  test('is saved with a word about it, and no link is made of it', async () => {
    store().run(setValue, { path: 'transmitter.drive.frequencyMinKhz', value: 500, what: 'lowest frequency' });
    await settled(document);
    const stop = (event: Event): void => event.preventDefault();
    window.addEventListener('click', stop);
    deep(mounted.app, '.title').click();
    button('Copy a link').click();
    await vi.waitFor(() =>
      expect(deep(mounted.app, '.told').textContent).toMatch(/^No link was made: .* mend it first/),
    );
    button('Save as a file').click();
    await vi.waitFor(() =>
      expect(deepAll(mounted.app, '.notice').map((one) => one.textContent)).toContainEqual(
        expect.stringMatching(/saved as it is.*opens again once/s),
      ),
    );
    window.removeEventListener('click', stop);
  });
});

test('where the clipboard is refused the link stands in a field, and stays there', async () => {
  const write = vi.spyOn(navigator.clipboard, 'writeText').mockRejectedValue(new Error('refused'));
  deep(mounted.app, '.title').click();
  button('Copy a link').click();
  const field = await vi.waitFor(() => deep<HTMLInputElement>(mounted.app, 'input.link'));
  await settled(document);
  const fragment = field.value.slice(field.value.indexOf('#'));
  const read = await readShareFragment(fragment);
  expect(read.kind === 'design' && read.document).toEqual(DEMO_DESIGN);
  expect(field.selectionEnd).toBe(field.value.length);
  expect(location.hash).toBe('#place');
  write.mockRestore();
});

describe('a link', () => {
  test('opened while the page is open brings its design, as a step', async () => {
    location.hash = await shareFragment({ ...DEMO_DESIGN, title: 'From afar' }, 'place');
    await vi.waitFor(() => expect(store().document.value.title).toBe('From afar'));
    expect(location.hash).toBe('#place');
    store().undo();
    expect(store().document.value.title).toBe(DEMO_DESIGN.title);
  });
  test('that is damaged is told, and the design stays', async () => {
    location.hash = '#place~1.AAAAbroken';
    await vi.waitFor(() => expect(deepAll(mounted.app, '.notice').length).toBe(1));
    expect(deep(mounted.app, '.notice').textContent).toMatch(/cannot be read/);
    expect(store().document.value).toBe(DEMO_DESIGN);
    expect(location.hash).toBe('#place');
  });
});

test('a second design lies beside and changes places', async () => {
  deep(mounted.app, '.title').click();
  button('Lay a copy beside').click();
  store().run(moveReceiver, { xMm: 5, yMm: 0 });
  await settled(document);
  button('Change places').click();
  await settled(document);
  expect(store().design.value.placement.offsetXMm).toBe(0);
  button('Change places').click();
  expect(store().design.value.placement.offsetXMm).toBe(5);
  await settled(document);
  button('Take away').click();
  expect(store().compare.value).toBeNull();
});

test('the session is kept in the browser and comes back', async () => {
  const keeper = databaseKeeper();
  const first = new DesignStore(DEMO_DESIGN);
  const saving = new Autosave(first, { keeper, delayMs: 10 });
  const stop = saving.start();
  first.run(moveReceiver, { xMm: 4.2, yMm: -1 });
  await vi.waitFor(() => expect(saving.state.value.kind).toBe('saved'), { timeout: 1000 });
  stop();
  const second = new DesignStore(DEMO_DESIGN);
  await new Autosave(second, { keeper }).restore();
  expect(second.design.value.placement).toMatchObject({ offsetXMm: 4.2, offsetYMm: -1 });
});

test('what changed while the page is closed at once is not lost', async () => {
  const refused = failingKeeper(() => Promise.reject(new Error('closing')));
  const first = new DesignStore(DEMO_DESIGN);
  const saving = new Autosave(first, { keeper: refused });
  const stop = saving.start();
  first.run(moveReceiver, { xMm: 9.5, yMm: 0 });
  window.dispatchEvent(new Event('pagehide'));
  stop();
  const second = new DesignStore(DEMO_DESIGN);
  await new Autosave(second, { keeper: refused }).restore();
  expect(second.design.value.placement.offsetXMm).toBe(9.5);
  for (const key of Object.keys(localStorage)) if (key.startsWith('offcentre.session')) localStorage.removeItem(key);
});

test('light and dark follow the choice', async () => {
  const ground = () => getComputedStyle(document.body).backgroundColor;
  chooseTheme('light');
  const light = ground();
  chooseTheme('dark');
  expect(ground()).not.toBe(light);
  expect(getComputedStyle(document.documentElement).getPropertyValue('--copper')).toMatch(/^rgb/);
});

test('every station is named in the head and opens', async () => {
  for (const { id: name, load } of STATIONS) {
    location.hash = `#${name}`;
    await vi.waitFor(
      () => {
        expect(deep(mounted.app, 'nav a[aria-current="page"]').getAttribute('href')).toBe(`#${name}`);
        expect(mounted.station().localName).toBe(load === null ? 'section' : `oc-${name}`);
      },
      { timeout: 20_000 },
    );
  }
  location.hash = '#place';
});

test('coming and going leaves no listener behind', async () => {
  mounted.unmount();
  // As the browser counts: adding twice is once, removing what is not there is nothing.
  const alive = new Set<string>();
  const names = new Map<unknown, number>();
  const name = (listener: unknown): number => {
    if (!names.has(listener)) names.set(listener, names.size);
    return names.get(listener) ?? -1;
  };
  const restore = ([window, document] as const).map((target) => {
    const { addEventListener, removeEventListener } = target;
    const key = (type: string, listener: unknown, options: unknown): string =>
      `${target === window ? 'window' : 'document'} ${type} ${name(listener)} ${JSON.stringify(options) ?? ''}`;
    target.addEventListener = function (this: EventTarget, ...args: Parameters<EventTarget['addEventListener']>) {
      alive.add(key(...(args as [string, unknown, unknown])));
      addEventListener.apply(this, args as never);
    } as never;
    target.removeEventListener = function (this: EventTarget, ...args: Parameters<EventTarget['removeEventListener']>) {
      alive.delete(key(...(args as [string, unknown, unknown])));
      removeEventListener.apply(this, args as never);
    } as never;
    return () => {
      Object.assign(target, { addEventListener, removeEventListener });
    };
  });
  try {
    mounted = await mountApp();
    await answered(mounted);
    expect(alive.size).toBeGreaterThan(4);
    mounted.unmount();
    expect([...alive]).toEqual([]);
  } finally {
    for (const back of restore) back();
  }
  mounted = await mountApp();
});
