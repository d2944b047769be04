import type { Browser, BrowserContext, Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { shareFragment } from '../../src/state/share-link.ts';
import { answersIn, openBrowser } from '../support/open-page.ts';

/**
 * Nothing moves while it arrives: every station of the built page, opened afresh, from its first picture until all its answers are in.
 * Layout shift as the browsers measure it (Layout Instability API, a draft of the W3C's incubator group): for every frame the share of
 * the window that is touched times the distance moved; what follows a key or a click within half a second does not count. Their
 * common mark for a good page is a sum of 0.1 (web.dev, "Cumulative Layout Shift", from memory); ours has a quarter of that for all
 * that arrives in a minute.
 */
const BUDGET = 0.025;

const STATIONS = ['place', 'pair', 'feed', 'hold', 'prove', 'lessons', 'beside', 'report'] as const;
const WINDOWS = [
  { width: 1440, height: 900 },
  { width: 390, height: 844 },
] as const;

/** The demo without plates, whose field takes long; everything else of it stays, its readings and the way to its cell included. */
const BARE = {
  ...DEMO_DESIGN,
  transmitter: { ...DEMO_DESIGN.transmitter, ferrite: null },
  receiver: { ...DEMO_DESIGN.receiver, ferrite: null, metal: null },
};

interface Shift {
  readonly value: number;
  readonly atMs: number;
  /** What moved, from where to where. */
  readonly moved: readonly string[];
}

type Watching = Window & { shifts?: Shift[] };

/** Begins before anything of the page is there. */
function watchShifts(context: BrowserContext): Promise<unknown> {
  return context.addInitScript(() => {
    interface Entry extends PerformanceEntry {
      readonly value: number;
      readonly hadRecentInput: boolean;
      readonly sources: readonly { readonly previousRect: DOMRectReadOnly; readonly currentRect: DOMRectReadOnly }[];
    }
    const shifts: Shift[] = [];
    (window as Watching).shifts = shifts;
    const place = ({ x, y, width, height }: DOMRectReadOnly): string => `${[x, y, width, height].map(Math.round)}`;
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries() as Entry[]) {
        if (entry.hadRecentInput) continue;
        const moved = entry.sources.map((source) => `${place(source.previousRect)} -> ${place(source.currentRect)}`);
        shifts.push({ value: entry.value, atMs: Math.round(entry.startTime), moved });
      }
    }).observe({ type: 'layout-shift', buffered: true });
  });
}

const shiftsOf = (page: Page): Promise<readonly Shift[]> => page.evaluate(() => (window as Watching).shifts ?? []);

describe.each(WINDOWS)('in a window of $width x $height', ({ width, height }) => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser.close());

  it.each(STATIONS)(
    '%s moves nothing while it arrives',
    async (station) => {
      const context = await browser.newContext({ viewport: { width, height }, serviceWorkers: 'block' });
      await watchShifts(context);
      const page = await context.newPage();
      const beside = station === 'beside';
      await page.goto(`${inject('pageUrl')}${await shareFragment(BARE, beside ? 'place' : station)}`);
      if (beside) {
        await answersIn(page);
        await page.evaluate(() => {
          type Document = { title?: string; receiver: { coil: { turns: number } } };
          type App = HTMLElement & {
            session: { store: { document: { value: Document }; setCompare(design: Document): void } };
          };
          const { store } = document.querySelector<App>('oc-app' as never)!.session;
          const design = structuredClone(store.document.value);
          design.receiver.coil.turns = 12;
          store.setCompare({ ...design, title: 'Fewer turns' });
          (window as Watching).shifts?.splice(0);
          location.hash = '#beside';
        });
      }
      await page.waitForTimeout(500);
      await answersIn(page);
      await page.waitForTimeout(300);
      const shifts = await shiftsOf(page);
      const sum = shifts.reduce((total, { value }) => total + value, 0);
      expect(sum, JSON.stringify(shifts.filter(({ value }) => value > 0.001))).toBeLessThan(BUDGET);
      await context.close();
    },
    240_000,
  );

  it('notices what does move', async () => {
    const context = await browser.newContext({ viewport: { width, height }, serviceWorkers: 'block' });
    await watchShifts(context);
    const page = await context.newPage();
    await page.goto(`${inject('pageUrl')}${await shareFragment(BARE, 'lessons')}`);
    await answersIn(page);
    await page.evaluate(() => {
      const block = document.createElement('div');
      block.textContent = 'late';
      Object.assign(block.style, { height: '120px' });
      document.body.prepend(block);
    });
    await page.waitForTimeout(300);
    const shifts = await shiftsOf(page);
    expect(shifts.reduce((total, { value }) => total + value, 0)).toBeGreaterThan(BUDGET);
    await context.close();
  });
});
