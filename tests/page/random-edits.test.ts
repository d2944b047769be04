import { type Browser, type CDPSession, chromium, type Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { STARTING_POINTS } from '../../src/design/starting-points.ts';
import { shareFragment } from '../../src/state/share-link.ts';
import { args, browser as chromiumFiles } from '../support/chromium.ts';

/**
 * Random edits by hand on the built page: keys on handles, typed numbers, drags, layers, undo, changes of station. As many as
 * OFFCENTRE_PAGE_EDITS says (1000: some minutes), else a short run.
 */
const EDITS = Number(process.env.OFFCENTRE_PAGE_EDITS ?? 60);
const SEED = Number(process.env.OFFCENTRE_SEED ?? 20260725);

/** Park and Miller's minimal standard generator, Comm. ACM 31 (1988) 1192; from memory. */
function randomFrom(seed: number): () => number {
  let state = (seed % 2147483646) + 1;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

interface AppHandle extends HTMLElement {
  readonly session: {
    readonly store: {
      readonly document: { readonly value: unknown };
      readonly undoLabel: { readonly value: string | null };
      undo(): void;
    };
  };
}

describe('random edits by hand', () => {
  let browser: Browser;
  let page: Page;
  let debug: CDPSession;
  const complaints: string[] = [];

  beforeAll(async () => {
    const { executablePath, env } = await chromiumFiles();
    browser = await chromium.launch({
      executablePath,
      args,
      env: { ...(process.env as Record<string, string>), ...env },
    });
    const context = await browser.newContext({ viewport: { width: 1000, height: 700 }, reducedMotion: 'reduce' });
    page = await context.newPage();
    page.on('console', (message) => {
      if (message.type() === 'error') complaints.push(message.text());
    });
    page.on('pageerror', (error) => complaints.push(error.message));
    debug = await context.newCDPSession(page);
  });
  afterAll(() => browser.close());

  const documentText = (): Promise<string> =>
    page.evaluate(() =>
      JSON.stringify(document.querySelector<AppHandle>('oc-app' as never)?.session.store.document.value),
    );
  const heap = async (): Promise<number> => {
    await debug.send('HeapProfiler.collectGarbage');
    return (await debug.send('Runtime.getHeapUsage')).usedSize;
  };
  /** What the drawing of Pair holds, once it is drawn. */
  const counts = async (): Promise<{ geometries: number; textures: number }> => {
    await page.evaluate(() => {
      location.hash = '#pair';
    });
    await page.locator('canvas').first().waitFor({ timeout: 60_000 });
    return page.evaluate(async () => {
      type View = HTMLElement & { counts(): { geometries: number; textures: number; frames: number } | null };
      const find = (): View | null | undefined =>
        document
          .querySelector('oc-app')
          ?.shadowRoot?.querySelector('oc-pair')
          ?.shadowRoot?.querySelector<View>('oc-link-view');
      for (let i = 0; i < 400; i++) {
        const now = find()?.counts();
        if (now && now.frames > 2 && now.geometries > 0) break;
        await new Promise((resolve) => setTimeout(resolve, 50));
      }
      const { geometries, textures } = find()?.counts() ?? { geometries: -1, textures: -1 };
      return { geometries, textures };
    });
  };
  const show = async (hash: string): Promise<void> => {
    await page.evaluate((to) => {
      location.hash = to;
    }, hash);
    await page.waitForTimeout(60);
  };

  it(`${EDITS} of them (seed ${SEED}) leave no error, nothing on the graphics card, and a way back`, async () => {
    const random = randomFrom(SEED);
    const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)] as T;
    // Without ferrite and metal: the answers are quick, and the test is of the page.
    const plain = STARTING_POINTS.find(({ document }) => !document.receiver.ferrite && !document.transmitter.ferrite);
    const { document: bare } = plain ?? STARTING_POINTS[0]!;
    const start = {
      ...bare,
      transmitter: { ...bare.transmitter, ferrite: null, metal: null },
      receiver: { ...bare.receiver, ferrite: null, metal: null },
    };
    await page.goto(`${inject('pageUrl')}${await shareFragment(start, 'place')}`);
    await page.locator('oc-answer h1').first().waitFor();
    const first = await documentText();
    expect(JSON.parse(first)).toEqual(start);
    const drawn = await counts();
    const stations = ['#place', '#pair', '#feed', '#hold', '#prove', '#lessons', '#beside', '#report'];
    // Every part is loaded once before memory is counted.
    for (const station of stations) await show(station);
    await show('#place');
    const before = await heap();

    const actions: Readonly<Record<string, () => Promise<void>>> = {
      station: async () => {
        // Mostly where there is something to edit.
        await show(pick([...stations, '#place', '#pair', '#hold', '#place', '#pair', '#place', '#pair']));
      },
      keys: async () => {
        const handles = page.locator('main [role="slider"]:visible');
        const count = await handles.count();
        if (count === 0) return;
        await handles
          .nth(Math.floor(random() * count))
          .focus({ timeout: 1000 })
          .catch(() => undefined);
        for (let i = 0; i < 3; i++)
          await page.keyboard.press(pick(['ArrowUp', 'ArrowRight', 'ArrowLeft', 'PageUp', 'Home']));
      },
      type: async () => {
        const fields = page.locator('main oc-dimension input:visible');
        const count = await fields.count();
        if (count === 0) return;
        const field = fields.nth(Math.floor(random() * count));
        await field
          .fill(pick(['3', '4,5 mm', '0.2 cm', 'seven', '900', '12']), { timeout: 1000 })
          .catch(() => undefined);
        await page.keyboard.press('Enter');
      },
      drag: async () => {
        const box = await page
          .locator('main .handle:visible')
          .nth(Math.floor(random() * 3))
          .boundingBox({ timeout: 500 })
          .catch(() => null);
        if (!box) return;
        await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
        await page.mouse.down();
        await page.mouse.move(box.x + 60 * (random() - 0.5), box.y + 60 * (random() - 0.5), { steps: 3 });
        if (random() < 0.3) await page.keyboard.press('Escape');
        await page.mouse.up();
      },
      layer: async () => {
        const fold = page.locator('details.layers summary:visible').first();
        if ((await fold.count()) === 0) return;
        await fold.click({ timeout: 1000 }).catch(() => undefined);
        await page
          .getByRole('button', { name: pick(['add a layer', /^Take .* out$/]) })
          .first()
          .click({ timeout: 500 })
          .catch(() => undefined);
      },
      undo: async () => {
        // Not past the design of the link, which is where the way back is to end.
        const next = await page.evaluate(
          () => document.querySelector<AppHandle>('oc-app' as never)?.session.store.undoLabel.value,
        );
        if (next !== 'Open the link') await page.locator('body').press('Control+z');
      },
      redo: async () => {
        await page.locator('body').press('Control+y');
      },
    };
    // Mostly forwards, so that there is something to take back.
    const names = [...Object.keys(actions), 'keys', 'type', 'drag', 'keys', 'type', 'drag', 'layer'];
    let changes = 0;
    let last = first;
    for (let i = 0; i < EDITS; i++) {
      await actions[pick(names)]?.();
      const now = await documentText();
      if (now !== last) changes++;
      last = now;
    }
    await page.keyboard.press('Escape');
    await page.waitForTimeout(300);
    // Two kinds of number typed wrongly are refused and kept; that is not an error.
    expect(complaints).toEqual([]);

    // Undo among the edits takes back some of them, so that what counts is how often the design changed.
    expect(changes).toBeGreaterThan(EDITS / 12);
    await page.evaluate(() => {
      const { store } = document.querySelector<AppHandle>('oc-app' as never)!.session;
      while (store.undoLabel.value !== null && store.undoLabel.value !== 'Open the link') store.undo();
    });
    expect(await documentText()).toBe(first);
    expect(await counts()).toEqual(drawn);
    await show('#place');
    await page.waitForTimeout(500);
    const growth = (await heap()) - before;
    // Bounded caches of answers fill meanwhile: some MB, however many edits there were.
    expect(growth).toBeLessThan(30e6);
    expect(complaints).toEqual([]);
  }, 600_000);
});
