import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, inject, it } from 'vitest';
import { shareFragment } from '../../src/state/share-link.ts';
import {
  AIR_DESIGN,
  airLink,
  answerOf,
  gapOf,
  keptGap,
  keptTexts,
  launchBrowser,
  type OpenedContext,
  openContext,
  putKept,
  widenGap,
} from '../support/air-page.ts';

/** The built page where keeping a design goes wrong: storage, several tabs, clocks, languages, other versions. */
const LONG = { timeout: 60_000, interval: 100 };

let browser: Browser;
beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser.close());

let opened: OpenedContext;
let page: Page;
beforeEach(async () => {
  opened = await openContext(browser);
  page = await opened.context.newPage();
});
afterEach(() => opened.close());

const answered = (on = page): Promise<void> =>
  expect.poll(() => answerOf(on), LONG).toMatch(/Holds|Does not hold|collapse/);
const open = async (on = page): Promise<void> => {
  await on.goto(`${inject('pageUrl')}${await airLink()}`);
  await answered(on);
};
/** The page as on the next visit, without a link. */
const visit = async (on: Page): Promise<void> => {
  await on.goto(`${inject('pageUrl')}#place`);
  await on.locator('oc-answer h1').first().waitFor();
};
const notice = (words: string | RegExp, on = page) => on.locator('.notice', { hasText: words });
const saved = (gap: string, on = page): Promise<void> => expect.poll(() => keptGap(on), LONG).toBe(gap);
const loaded = (gap: string, on = page): Promise<void> => expect.poll(() => gapOf(on), LONG).toBe(gap);

describe('the storage', () => {
  it('that is full is told in a sentence, and the file to save holds the last change', async () => {
    await open();
    // As full as storage can be: no byte more for the database, nor for local storage.
    const debug = await opened.context.newCDPSession(page);
    await debug.send('Storage.overrideQuotaForOrigin', { origin: new URL(inject('pageUrl')).origin, quotaSize: 1 });
    await page.evaluate(() => {
      for (let size = 2 ** 22; size >= 1; size = Math.floor(size / 2)) {
        try {
          for (let i = 0; ; i++) localStorage.setItem(`filler ${size} ${i}`, 'x'.repeat(size));
        } catch {
          // Full to this size.
        }
      }
    });
    const gap = await widenGap(page, 3);
    await notice('The browser has no room left to keep this design. Save it as a file').waitFor({ timeout: 60_000 });
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'save as a file' }).click(),
    ]);
    const text = readFileSync(await download.path(), 'utf8');
    expect(JSON.parse(text).placement.gapMm).toBe(Number(gap));
    // Room again: the next change is kept and the sentence goes.
    await debug.send('Storage.overrideQuotaForOrigin', { origin: new URL(inject('pageUrl')).origin });
    await page.evaluate(() => localStorage.clear());
    const next = await widenGap(page, 1);
    await saved(next);
    await expect.poll(() => notice('no room left').count(), LONG).toBe(0);
    expect(opened.complaints).toEqual([]);
  });

  it.each([
    [
      'refused',
      () => {
        const refuse = {
          get: () => {
            throw new DOMException('denied', 'SecurityError');
          },
        };
        Object.defineProperty(window, 'indexedDB', refuse);
        Object.defineProperty(window, 'localStorage', refuse);
      },
    ],
    [
      'silent',
      () => {
        // A database that opens never, as some browsers have had it.
        IDBFactory.prototype.open = () => ({}) as IDBOpenDBRequest;
        Storage.prototype.setItem = () => {
          throw new DOMException('denied', 'SecurityError');
        };
      },
    ],
  ])('that is %s leaves a page that works and says so', async (_, spoil) => {
    await page.addInitScript(spoil);
    await open();
    const gap = await widenGap(page, 2);
    await notice('does not let the page keep anything').waitFor({ timeout: 60_000 });
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'save as a file' }).click(),
    ]);
    expect(JSON.parse(readFileSync(await download.path(), 'utf8')).placement.gapMm).toBe(Number(gap));
    await answered();
    expect(opened.complaints).toEqual([]);
  });

  it('that keeps local things only still brings the last change back', async () => {
    await page.addInitScript(() => {
      Object.defineProperty(window, 'indexedDB', {
        get: () => {
          throw new DOMException('denied', 'SecurityError');
        },
      });
    });
    await open();
    const gap = await widenGap(page, 3);
    await visit(page);
    await page.reload();
    await loaded(gap);
    expect(await notice('keep').count()).toBe(0);
    expect(opened.complaints).toEqual([]);
  });

  it('that holds rubbish under our name is told, and the rubbish can be had as a file', async () => {
    await open();
    const gap = await widenGap(page, 2);
    await saved(gap);
    const whole = (await keptTexts(page)).session!;
    await putKept(page, whole.slice(0, 700));
    await visit(page);
    await page.reload();
    await notice(/is damaged and could not be opened; it was set aside and the example is shown/).waitFor();
    await page.getByRole('button', { name: 'put away' }).first().click();
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      notice('could not be read is set aside').getByRole('button', { name: 'save as a file' }).click(),
    ]);
    expect(readFileSync(await download.path(), 'utf8')).toBe(whole.slice(0, 700));
    // Later: it is there on the next visit too, beside what was done since.
    const next = await widenGap(page, 1);
    await saved(next);
    await page.reload();
    await loaded(next);
    await notice('could not be read is set aside').waitFor();
    expect(opened.complaints).toEqual([]);
  });
});

describe('the page', () => {
  it('killed without a word comes back with what was done, less than a second of it missing', async () => {
    await open();
    const gap = await widenGap(page, 5);
    // Half a second on a machine that does nothing else.
    await saved(gap);
    await Promise.all([page.waitForEvent('crash'), page.goto('chrome://crash').catch(() => undefined)]);
    page = await opened.context.newPage();
    await visit(page);
    await loaded(gap);
  });

  it('closed at the very moment of a change comes back with it', async () => {
    await open();
    const gap = await widenGap(page, 5);
    await page.close({ runBeforeUnload: true });
    page = await opened.context.newPage();
    await visit(page);
    await loaded(gap);
    expect(opened.complaints).toEqual([]);
  });
});

describe('two tabs', () => {
  it('that change the design each keep theirs, and either can be gone on with', async () => {
    await open();
    await widenGap(page, 1);
    await saved(await gapOf(page));
    const other = await opened.context.newPage();
    await visit(other);
    await loaded(await gapOf(page), other);
    const theirs = await widenGap(other, 6);
    await saved(theirs, other);
    // This one knows nothing of it and goes on.
    const own = await widenGap(page, 1);
    expect(own).not.toBe(theirs);
    const told = notice('Another tab has changed the design since this one saw it; both versions are kept.');
    await told.waitFor({ timeout: 60_000 });
    expect(await gapOf(page)).toBe(own);
    // Nothing was written over: the common copy is the other's, this one's stands beside it.
    await expect.poll(async () => Object.keys(await keptTexts(page)).length, LONG).toBe(2);
    expect(await keptGap(page)).toBe(theirs);
    await told.getByRole('button', { name: 'go on with the other' }).click();
    await loaded(theirs);
    await expect.poll(() => told.count(), LONG).toBe(0);
    await page.keyboard.press('Control+z');
    await loaded(own);
    await saved(own);
    // Now the other tab has not seen that.
    const further = await widenGap(other, 1);
    const toldThere = notice('Another tab has changed the design', other);
    await toldThere.waitFor({ timeout: 60_000 });
    await toldThere.getByRole('button', { name: 'go on with this one' }).click();
    await saved(further, other);
    await other.close();
    await page.close();
    // The next visit shows the one gone on with; what it took the place of is offered.
    page = await opened.context.newPage();
    await visit(page);
    await loaded(further);
    const apart = notice(/Another tab kept a version of its own \(\d{4}-\d\d-\d\d \d\d:\d\d\)\./);
    await apart.getByRole('button', { name: 'open it' }).click();
    await loaded(own);
    expect(opened.complaints).toEqual([]);
  });

  it('of which one opens a link: the design there was before is offered afterwards', async () => {
    await open();
    const before = await widenGap(page, 4);
    await saved(before);
    const other = await opened.context.newPage();
    await other.goto(`${inject('pageUrl')}${await shareFragment({ ...AIR_DESIGN, placement: { gapMm: 9 } }, 'place')}`);
    await answered(other);
    const changed = await widenGap(other, 1);
    await saved(changed, other);
    await page.close({ runBeforeUnload: true });
    await other.close({ runBeforeUnload: true });
    page = await opened.context.newPage();
    await visit(page);
    await loaded(changed);
    const apart = notice('The design you had before you opened a link is still kept');
    await apart.getByRole('button', { name: 'open it' }).click();
    await loaded(before);
    await expect.poll(() => apart.count(), LONG).toBe(0);
    expect(opened.complaints).toEqual([]);
  });
});

describe('the clock', () => {
  it('set back by a day and forwards by a year while the page saves loses no change', async () => {
    await open();
    const now = Date.now();
    for (const [at, steps] of [
      [now, 1],
      [now - 86_400_000, 2],
      [now + 365 * 86_400_000, 1],
      [now - 1000, 2],
    ] as const) {
      await page.clock.setFixedTime(at);
      await saved(await widenGap(page, steps));
    }
    // Closed with a change that only local storage has, stamped earlier than what the database has.
    await page.clock.setFixedTime(now - 2 * 86_400_000);
    const last = await widenGap(page, 1);
    await page.close({ runBeforeUnload: true });
    page = await opened.context.newPage();
    await visit(page);
    await loaded(last);
    expect(await notice('kept').count()).toBe(0);
    expect(opened.complaints).toEqual([]);
  });
});

describe('the language of the browser', () => {
  const seen = async (locale: string, timezoneId: string): Promise<Record<string, string>> => {
    const abroad = await openContext(browser, { locale, timezoneId });
    try {
      const there = await abroad.context.newPage();
      await there.goto(`${inject('pageUrl')}${await airLink()}`);
      await answered(there);
      const x = there.getByRole('textbox', { name: /offset x/i }).first();
      await x.fill('3,5 mm');
      await x.press('Enter');
      await expect.poll(() => x.inputValue(), LONG).toMatch(/^3\.5\s?mm$/);
      await expect.poll(async () => (await keptTexts(there)).session ?? '', LONG).toContain('"offsetXMm":3.5');
      await there.waitForFunction(
        () => {
          type Answers = { readonly busy: { readonly value: boolean }; readonly sweeps: { readonly value: unknown } };
          const app = document.querySelector('oc-app') as unknown as { session: { answers: Answers } };
          const { busy, sweeps } = app.session.answers;
          return !busy.value && sweeps.value !== null;
        },
        undefined,
        { timeout: 60_000, polling: 100 },
      );
      // One more turn of the page's loop: what is known is drawn in the next.
      await there.evaluate(() => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve))));
      const { session = '{}' } = await keptTexts(there);
      expect(abroad.complaints).toEqual([]);
      return {
        offset: String(JSON.parse(session).document.placement.offsetXMm),
        gap: await gapOf(there),
        ticks: (await there.locator('oc-line-chart svg text').allTextContents()).join('|'),
        direction: await there.evaluate(() => getComputedStyle(document.body).direction),
      };
    } finally {
      await abroad.close();
    }
  };

  it('changes no number: decimal comma, right to left, other digits, other days', async () => {
    const [here, ...others] = [
      await seen('en-US', 'UTC'),
      await seen('de-DE', 'Europe/Berlin'),
      await seen('ar-EG', 'Pacific/Kiritimati'),
    ];
    for (const other of others) expect(other).toEqual(here);
    expect(here?.offset).toBe('3.5');
    expect(here?.ticks).toMatch(/\d/);
  });
});

describe('another version of the format', () => {
  const newer = { ...AIR_DESIGN, version: 2, somethingNew: { deep: [1, 2, 3] } };

  it('newer, in a file: refused with its number, the design and the file untouched', async () => {
    await open();
    const gap = await widenGap(page, 2);
    await page.locator('input[type="file"]').setInputFiles({
      name: 'later.json',
      mimeType: 'application/json',
      buffer: Buffer.from(JSON.stringify(newer)),
    });
    const told = notice('later.json was not opened');
    await told.waitFor({ timeout: 60_000 });
    expect(await told.textContent()).toMatch(/version: must be 1 or older; received 2\. .*newer Offcentre/);
    expect(await gapOf(page)).toBe(gap);
    await saved(gap);
    expect(opened.complaints).toEqual([]);
  });

  it('newer, in what the browser had kept: told, set aside, and to be had as a file, whole', async () => {
    await open();
    await saved(await widenGap(page, 1));
    const { session } = await keptTexts(page);
    const later = JSON.stringify({ ...JSON.parse(session!), document: newer, lastGood: newer });
    await putKept(page, later);
    await visit(page);
    await page.reload();
    await notice(/was kept by a newer version of the program/)
      .getByRole('button', { name: 'put away' })
      .click();
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      notice('A design that a newer version of the program kept is set aside here.')
        .getByRole('button', { name: 'save as a file' })
        .click(),
    ]);
    expect(readFileSync(await download.path(), 'utf8')).toBe(later);
    expect(opened.complaints).toEqual([]);
  });

  it('older, in what the browser had kept before saves were counted: opens as it was', async () => {
    await open();
    const gap = await widenGap(page, 3);
    await saved(gap);
    const { session } = await keptTexts(page);
    const { revision: _r, parent: _p, writer: _w, ...old } = JSON.parse(session!);
    await putKept(page, JSON.stringify(old));
    await visit(page);
    await page.reload();
    await loaded(gap);
    expect(await page.locator('.notice').count()).toBe(0);
    expect(opened.complaints).toEqual([]);
  });
});
