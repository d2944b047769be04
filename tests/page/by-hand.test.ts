import { readFile } from 'node:fs/promises';
import type { Browser, Download, Locator, Page } from 'playwright';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, inject, it } from 'vitest';
import { shareFragment } from '../../src/state/share-link.ts';
import { answersIn, openBrowser, openPage } from '../support/open-page.ts';
import { quickDesign } from '../support/quick-design.ts';

/** What the workshop offers, done on the built page as a user would: once with the pointer, once with nothing but keys. */

interface Document {
  readonly title: string;
  readonly stack: readonly { readonly thicknessMm: number }[];
  readonly placement?: Readonly<Record<string, number>>;
  readonly receiver: { readonly coil: { readonly turns: number; readonly outline: Readonly<Record<string, number>> } };
}

interface App extends HTMLElement {
  readonly session: {
    readonly store: {
      readonly document: { readonly value: Document };
      readonly design: { readonly value: Document };
      readonly dragging: { readonly value: boolean };
      readonly undoCount: { readonly value: number };
      readonly compare: { readonly value: Document | null };
    };
  };
}

/** On a loaded machine the page takes its time. */
const PATIENT = { timeout: 20_000, interval: 100 } as const;

let browser: Browser;
let page: Page;
let complaints: string[];

beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(() => browser.close());

const open = async (station: string): Promise<void> => {
  await page.goto(`${inject('pageUrl')}${await shareFragment(quickDesign(), station)}`);
  await page.locator('oc-answer h1').first().waitFor({ timeout: 60_000 });
  await answersIn(page);
};
const state = () =>
  page.evaluate(() => {
    const { store } = document.querySelector<App>('oc-app' as never)!.session;
    return {
      text: JSON.stringify(store.document.value),
      document: store.document.value,
      design: store.design.value,
      dragging: store.dragging.value,
      undoCount: store.undoCount.value,
      compare: store.compare.value,
    };
  });
/** Goes on with Tab until the focus is on what is meant; the whole way by keyboard. */
const tabTo = async (name: RegExp, most = 90): Promise<void> => {
  for (let i = 0; i < most; i++) {
    await page.keyboard.press('Tab');
    const here = await page.evaluate(() => {
      let element: Element | null = document.activeElement;
      while (element?.shadowRoot?.activeElement) element = element.shadowRoot.activeElement;
      return `${element?.getAttribute('aria-label') ?? ''} ${element?.textContent?.trim() ?? ''}`.trim();
    });
    if (name.test(here)) return;
  }
  throw new Error(`Tab never came to ${name}`);
};
const contentOf = async (download: Download): Promise<Buffer> => readFile(await download.path());

beforeEach(async () => {
  ({ page, complaints } = await openPage(browser, {
    viewport: { width: 1100, height: 720 },
    reducedMotion: 'reduce',
    acceptDownloads: true,
    permissions: ['clipboard-read', 'clipboard-write'],
  }));
});
afterEach(async () => {
  expect(complaints).toEqual([]);
  await page.context().close();
});

describe('handles of the 3-D view', () => {
  /** Handle, key, and the number of the design that it changes. */
  const HANDLES: readonly (readonly [string, string, (design: Document) => number | undefined])[] = [
    ['Offset', 'ArrowRight', ({ placement }) => placement?.offsetXMm],
    ['Gap', 'ArrowUp', ({ placement }) => placement?.gapMm],
    ['Yaw', 'ArrowUp', ({ placement }) => placement?.yawDeg],
    ['Tilt about x', 'ArrowUp', ({ placement }) => placement?.tiltXDeg],
    ['Tilt about y', 'ArrowUp', ({ placement }) => placement?.tiltYDeg],
    ['Receiver outer width', 'ArrowUp', ({ receiver }) => receiver.coil.outline.outerWidthMm],
    ['Receiver outer height', 'ArrowUp', ({ receiver }) => receiver.coil.outline.outerHeightMm],
    ['Receiver inner width', 'ArrowUp', ({ receiver }) => receiver.coil.outline.innerWidthMm],
    ['Receiver inner height', 'ArrowUp', ({ receiver }) => receiver.coil.outline.innerHeightMm],
    ['Receiver corner radius', 'ArrowDown', ({ receiver }) => receiver.coil.outline.outerCornerRadiusMm],
    ['Receiver turns', 'ArrowUp', ({ receiver }) => receiver.coil.turns],
  ];
  const handle = (name: string): Locator => page.locator('oc-link-view').getByRole('slider', { name, exact: true });

  it('each by its keys, and back by Ctrl Z', async () => {
    await open('pair');
    // A rounded rectangle has all of them.
    await page.getByRole('group', { name: 'Receiver' }).getByText('rounded rectangle').first().click();
    await handle('Gap').waitFor();
    for (const [name, key, number] of HANDLES) {
      const before = await state();
      await handle(name).focus();
      await page.keyboard.press(key);
      const after = await state();
      expect(number(after.design), name).toBeDefined();
      expect(number(after.design), name).not.toBe(number(before.design));
      expect(after.undoCount, name).toBe(before.undoCount + 1);
      await page.keyboard.press('Control+z');
      expect((await state()).text, name).toBe(before.text);
    }
  });

  it('by pointer: offset and gap follow the hand, Escape takes it back', async () => {
    await open('pair');
    for (const [name, number] of [
      ['Offset', ({ placement }: Document) => placement?.offsetXMm],
      ['Gap', ({ placement }: Document) => placement?.gapMm],
    ] as const) {
      const before = await state();
      const box = (await handle(name).boundingBox())!;
      const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
      const drag = async (): Promise<void> => {
        await page.mouse.move(x, y);
        await page.mouse.down();
        await page.mouse.move(x + 25, y - 30, { steps: 4 });
      };
      await drag();
      expect(number((await state()).design), name).not.toBe(number(before.design));
      await page.keyboard.press('Escape');
      await page.mouse.up();
      expect((await state()).text, name).toBe(before.text);
      await drag();
      await page.mouse.up();
      const after = await state();
      expect(after.undoCount, name).toBe(before.undoCount + 1);
      expect(after.dragging, name).toBe(false);
      await page.keyboard.press('Control+z');
    }
  });

  it('exactly, by the number beside it, with a decimal comma', async () => {
    await open('pair');
    await page.getByRole('textbox', { name: 'Gap, mm' }).first().fill('3,25');
    await page.keyboard.press('Enter');
    await expect.poll(async () => (await state()).design.placement?.gapMm, PATIENT).toBe(3.25);
  });
});

describe('the slider through the gap', () => {
  it('follows the pointer as one step and lets go', async () => {
    await open('place');
    const before = await state();
    const box = (await page.getByRole('slider', { name: 'Gap' }).first().boundingBox())!;
    const y = box.y + box.height / 2;
    await page.mouse.move(box.x + box.width * 0.3, y);
    await page.mouse.down();
    for (let i = 0; i < 5; i++) await page.mouse.move(box.x + box.width * (0.3 + 0.08 * i), y);
    expect((await state()).dragging).toBe(true);
    await page.mouse.up();
    const after = await state();
    expect(after.dragging).toBe(false);
    expect(after.design.placement?.gapMm).not.toBe(before.design.placement?.gapMm);
    expect(after.undoCount).toBe(before.undoCount + 1);
    // Pressed and let go where it is: nothing is held either.
    await page.mouse.down();
    await page.mouse.up();
    expect((await state()).dragging).toBe(false);
  });
});

describe('the design', () => {
  it('is saved by Ctrl S and by the menu, and opened again by Ctrl O, with the same content', async () => {
    await open('place');
    const [byKey] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Control+s')]);
    const saved = await contentOf(byKey);
    const before = await state();
    expect(JSON.parse(saved.toString())).toEqual(before.document);
    await page.locator('oc-design-menu .title').click();
    const [byMenu] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save as a file' }).click(),
    ]);
    expect((await contentOf(byMenu)).equals(saved)).toBe(true);
    await page.keyboard.press('Escape');
    await page.getByRole('slider', { name: 'Receiver offset' }).focus();
    await page.keyboard.press('ArrowRight');
    expect((await state()).text).not.toBe(before.text);
    const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.keyboard.press('Control+o')]);
    await chooser.setFiles({ name: 'kept.json', mimeType: 'application/json', buffer: saved });
    await expect.poll(async () => (await state()).text, PATIENT).toBe(before.text);
  });

  it('dropped on the page as a file is opened', async () => {
    await open('place');
    const dropped = JSON.stringify({ ...quickDesign(), title: 'Dropped here' });
    await page.evaluate((text) => {
      const files = new DataTransfer();
      files.items.add(new File([text], 'dropped.json', { type: 'application/json' }));
      for (const type of ['dragover', 'drop'])
        document.body.dispatchEvent(new DragEvent(type, { dataTransfer: files, bubbles: true, cancelable: true }));
    }, dropped);
    await expect.poll(async () => (await state()).document.title, PATIENT).toBe('Dropped here');
  });

  it('goes as a link, whole: copied by keys alone, opened in another window', async () => {
    await open('place');
    await page.getByRole('slider', { name: 'Receiver offset' }).focus();
    await page.keyboard.press('ArrowRight');
    const { text } = await state();
    await page.keyboard.press('Home');
    await page.keyboard.press('Control+z');
    await page.locator('oc-design-menu .title').focus();
    await page.keyboard.press('Enter');
    await tabTo(/^Copy a link$/);
    await page.keyboard.press('Enter');
    const link = await expect
      .poll(() => page.evaluate(() => navigator.clipboard.readText()), PATIENT)
      .toMatch(/#place/)
      .then(() => page.evaluate(() => navigator.clipboard.readText()));
    const other = await openPage(browser, { viewport: { width: 900, height: 600 } });
    await other.page.goto(link);
    await other.page.locator('oc-answer h1').first().waitFor();
    const read = await other.page.evaluate(() =>
      JSON.stringify(document.querySelector<App>('oc-app' as never)!.session.store.document.value),
    );
    await other.page.context().close();
    expect(JSON.parse(read)).toEqual(JSON.parse((await state()).text));
    expect(text).not.toBe('');
  });

  it('survives a window closed without a word', async () => {
    await open('place');
    await page.getByRole('slider', { name: 'Receiver offset' }).focus();
    await page.keyboard.press('ArrowRight');
    const { text } = await state();
    await page.waitForTimeout(900);
    const next = await page.context().newPage();
    await page.close({ runBeforeUnload: false });
    page = next;
    await page.goto(`${inject('pageUrl')}#place`);
    await page.locator('oc-answer h1').first().waitFor();
    expect((await state()).text).toBe(text);
  });

  it('lies beside another, by keys alone', async () => {
    await open('beside');
    await tabTo(/^Lay a copy beside$/);
    await page.keyboard.press('Enter');
    await expect.poll(async () => (await state()).compare?.title, PATIENT).toBe(quickDesign().title);
    await page.evaluate(() => {
      location.hash = '#place';
    });
    await page.getByRole('slider', { name: 'Receiver offset' }).focus();
    await page.keyboard.press('ArrowRight');
    await page.evaluate(() => {
      location.hash = '#beside';
    });
    await expect.poll(() => page.locator('oc-beside .what').innerText(), PATIENT).toMatch(/offset.*0\.5/i);
  });
});

describe('a figure is taken along', () => {
  const saved = async (name: string, key: string): Promise<Buffer> => {
    await page.getByRole('button', { name: 'Take along: Margin over offset' }).focus();
    await page.keyboard.press('ArrowDown');
    for (let i = 0; i < 8; i++) {
      const here = await page.evaluate(() => {
        let element: Element | null = document.activeElement;
        while (element?.shadowRoot?.activeElement) element = element.shadowRoot.activeElement;
        return element?.textContent?.trim();
      });
      if (here === name) break;
      await page.keyboard.press('ArrowDown');
    }
    const [download] = await Promise.all([page.waitForEvent('download'), page.keyboard.press(key)]);
    return contentOf(download);
  };

  it('as SVG with text as text, as PNG and as CSV, by keys alone', async () => {
    await open('place');
    const svg = (await saved('Save SVG', 'Enter')).toString();
    expect(svg).toMatch(/<text[^>]*>receiver<\/text>/);
    expect(svg).not.toMatch(/var\(--|currentColor|<!--/);
    const png = await saved('Save PNG', 'Space');
    expect(png.subarray(1, 4).toString()).toBe('PNG');
    expect(png.length).toBeGreaterThan(5000);
    const rows = (await saved('Save CSV', 'Enter')).toString().trim().split('\n');
    expect(rows.length).toBeGreaterThan(33 * 33);
    expect(rows.some((row) => /mm/.test(row))).toBe(true);
  });

  it('into the clipboard, by pointer', async () => {
    await open('place');
    const take = async (item: string): Promise<void> => {
      await page.getByRole('button', { name: 'Take along: Margin against gap' }).click();
      await page.getByRole('menuitem', { name: item }).click();
    };
    await take('Copy SVG');
    await expect.poll(() => page.evaluate(() => navigator.clipboard.readText()), PATIENT).toMatch(/<svg[^>]*>/);
    await take('Copy picture');
    const kinds = () => page.evaluate(async () => (await navigator.clipboard.read()).flatMap(({ types }) => types));
    await expect.poll(kinds, PATIENT).toContain('image/png');
    await take('Copy numbers');
    await expect.poll(() => page.evaluate(() => navigator.clipboard.readText()), PATIENT).toMatch(/gap/i);
  });
});

describe('in grey', () => {
  it('the washes of the map go from pale to dark by lightness alone, and lines differ by more than colour', async () => {
    await open('place');
    await page.emulateMedia({ media: 'print' });
    const seen = await page.evaluate(() => {
      const context = document.createElement('canvas').getContext('2d', { willReadFrequently: true })!;
      const grey = (colour: string): number => {
        context.fillStyle = colour;
        context.fillRect(0, 0, 1, 1);
        const [r, g, b] = context.getImageData(0, 0, 1, 1).data;
        // Luma of ITU-R BT.601, which grey printing comes close to (from memory).
        return 0.299 * r! + 0.587 * g! + 0.114 * b!;
      };
      const root = getComputedStyle(document.documentElement);
      const washes = [1, 2, 3, 4, 5, 6].map((i) => grey(root.getPropertyValue(`--margin-${i}`)));
      const find = (from: ParentNode, selector: string): Element | null => {
        for (const element of from.querySelectorAll('*')) {
          if (element.matches(selector)) return element;
          const inside = element.shadowRoot && find(element.shadowRoot, selector);
          if (inside) return inside;
        }
        return null;
      };
      const dash = (selector: string): string => {
        const element = find(document, selector);
        const { strokeDasharray, strokeWidth } = getComputedStyle(element!);
        return `${strokeDasharray} ${strokeWidth}`;
      };
      const lines = ['path.zero', 'path.wanted', 'path.wake', '.curve.first', '.curve.second'].map(dash);
      return { washes, lines };
    });
    for (let i = 1; i < seen.washes.length; i++) expect(seen.washes[i]!).toBeLessThan(seen.washes[i - 1]! - 4);
    expect(new Set(seen.lines).size).toBe(seen.lines.length);
  });
});

describe('help', () => {
  it('says what a figure and the words of an answer mean, with the formula, by keys alone', async () => {
    await open('place');
    for (const [word, formula] of [
      ['Margin over offset', 'Imax(x, y) / I − 1'],
      ['margin', 'Imax / I − 1'],
    ] as const) {
      const button = page.locator('oc-word').filter({ hasText: word }).getByRole('button', { name: word, exact: true });
      await button.first().focus();
      await page.keyboard.press('Enter');
      const shown = page.locator('oc-word [popover]:popover-open');
      await expect.poll(() => shown.innerText(), PATIENT).toContain(formula);
      await page.keyboard.press('Escape');
      await expect.poll(() => shown.count(), PATIENT).toBe(0);
    }
    await page.keyboard.press('Control+/');
    await expect.poll(() => page.getByRole('dialog', { name: 'Keys' }).isVisible(), PATIENT).toBe(true);
  });

  it('with less motion wanted nothing moves by itself', async () => {
    for (const station of ['place', 'pair', 'hold']) {
      await open(station);
      expect(await page.evaluate(() => document.getAnimations().length), station).toBe(0);
    }
  });
});
