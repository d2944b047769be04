import type { Browser, Page, Route } from 'playwright';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, inject, it } from 'vitest';
import {
  airLink,
  answerOf,
  keptGap,
  launchBrowser,
  type OpenedContext,
  openContext,
  widenGap,
} from '../support/air-page.ts';

/**
 * Workers and drawing that fail on the built page. Each fault is real: the worker's script is served with a line before it, or
 * not at all. What the page then shows is read from the page.
 */
const WORKER = '**/assets/engine.worker-*.js';
/** No page should wait longer for a fault to be over, on a machine that does other work too. */
const LONG = { timeout: 60_000, interval: 100 };

let browser: Browser;
beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser.close());

let opened: OpenedContext;
let page: Page;
let workers: number;
beforeEach(async () => {
  opened = await openContext(browser);
  page = await opened.context.newPage();
  workers = 0;
  page.on('worker', () => {
    workers += 1;
  });
});
afterEach(() => opened.close());

/** The first `count` workers get this line before their script. */
async function spoil(line: string, count: number): Promise<void> {
  let served = 0;
  await page.route(WORKER, async (route: Route) => {
    served += 1;
    if (served > count) return route.continue();
    const response = await route.fetch();
    return route.fulfill({ response, body: `${line}\n${await response.text()}` });
  });
}

const answered = (): Promise<void> => expect.poll(() => answerOf(page), LONG).toMatch(/Holds|Does not hold|collapse/);
const open = async (): Promise<void> => {
  await page.goto(`${inject('pageUrl')}${await airLink()}`);
};
const alert = () => page.locator('.notice[role="alert"]');

describe('a worker', () => {
  it('that throws at its first job is replaced, its job done by another, and nobody need know', async () => {
    // Not within the job, which would be told: as a fault of the browser would.
    await spoil(
      "addEventListener('message', () => setTimeout(() => { throw new Error('struck') }), { once: true });addEventListener('message', (event) => event.stopImmediatePropagation());",
      1,
    );
    await open();
    await answered();
    expect(workers).toBeGreaterThan(1);
    expect(await alert().count()).toBe(0);
    // The browser itself reports what a worker throws; nothing else may be on the console.
    expect(opened.complaints.filter((text) => !text.includes('struck'))).toEqual([]);
  });

  it('that dies again and again is told in a sentence; work goes on, is kept, and "try again" works', async () => {
    await spoil("throw new Error('struck');", 6);
    await open();
    await alert().waitFor({ timeout: 60_000 });
    const said = (await alert().textContent()) ?? '';
    expect(said).toMatch(/stopped twice .* was given up\. Your design is untouched/);
    expect(said).not.toMatch(/\bat \S+:\d+|\.js/);
    const gap = await widenGap(page, 3);
    await expect.poll(() => keptGap(page), LONG).toBe(gap);
    await expect
      .poll(async () => {
        const again = page.getByRole('button', { name: 'try again' });
        if (await again.count()) await again.click({ timeout: 1000 }).catch(() => undefined);
        return answerOf(page);
      }, LONG)
      .toMatch(/Holds|Does not hold|collapse/);
    await expect.poll(() => alert().count(), LONG).toBe(0);
    expect(opened.complaints.filter((text) => !text.includes('struck'))).toEqual([]);
  });

  it('that never ends is taken for hung after its time, and replaced', async () => {
    // The page waits two minutes; here its ticks pass twenty times as fast.
    await page.addInitScript(() => {
      const { setInterval: real } = window;
      window.setInterval = ((act: () => void, ms: number) =>
        real(act, ms >= 5000 ? ms / 20 : ms)) as typeof setInterval;
    });
    await spoil("addEventListener('message', (event) => { event.stopImmediatePropagation(); for (;;); });", 1);
    await open();
    await answered();
    expect(workers).toBeGreaterThan(1);
    expect(await alert().count()).toBe(0);
    expect(opened.complaints).toEqual([]);
  });

  it('that has no memory left is replaced, and the job done in a fresh one', async () => {
    // What the engine asks for first in each job fails as an allocation does.
    await spoil(
      '{ const now = performance.now.bind(performance); performance.now = () => { new ArrayBuffer(2 ** 53 - 1); return now(); }; }',
      1,
    );
    await open();
    await answered();
    expect(workers).toBeGreaterThan(1);
    expect(await alert().count()).toBe(0);
    expect(opened.complaints).toEqual([]);
  });

  it('that has none in a fresh one either is told as that, and the design stays as it is', async () => {
    await spoil('{ performance.now = () => new ArrayBuffer(2 ** 53 - 1).byteLength; }', 100);
    await open();
    await alert().waitFor({ timeout: 60_000 });
    expect(await alert().textContent()).toMatch(
      /There was not enough memory for this calculation\. Your design is untouched/,
    );
    const gap = await widenGap(page, 2);
    await expect.poll(() => keptGap(page), LONG).toBe(gap);
    expect(opened.complaints).toEqual([]);
  });

  it('that cannot be fetched is told as a matter of the connection, and comes when that is back', async () => {
    await page.route(WORKER, (route) => route.abort());
    await open();
    await alert().waitFor({ timeout: 60_000 });
    expect(await alert().textContent()).toMatch(/could not be fetched; look at the connection/);
    await page.unroute(WORKER);
    await page.getByRole('button', { name: 'try again' }).click();
    await answered();
    expect(await alert().count()).toBe(0);
    expect(opened.complaints.filter((text) => !text.includes('Failed to load resource'))).toEqual([]);
  });
});

describe('a part of the page', () => {
  it('that cannot be fetched any more, because a newer build has taken its place, is told; the rest works on', async () => {
    await open();
    await answered();
    const gap = await widenGap(page, 2);
    await page.route('**/assets/oc-pair-*.js', (route) => route.fulfill({ status: 404, body: 'not here' }));
    await page.getByRole('link', { name: 'Pair', exact: true }).click();
    const notice = page.locator('.notice', { hasText: 'could not be fetched' });
    await notice.waitFor({ timeout: 60_000 });
    expect(await notice.textContent()).toMatch(/look at the connection, then load the page anew: your work is kept/);
    await page.getByRole('link', { name: 'Place', exact: true }).click();
    await answered();
    await page.unroute('**/assets/oc-pair-*.js');
    await page.reload();
    await answered();
    await expect.poll(() => keptGap(page), LONG).toBe(gap);
    await page.getByRole('link', { name: 'Pair', exact: true }).click();
    await page.locator('canvas').first().waitFor({ timeout: 60_000 });
    expect(opened.complaints.filter((text) => !text.includes('404'))).toEqual([]);
  });
});

describe('a fault that nobody foresaw', () => {
  it.each([
    ['thrown', () => void setTimeout(() => Object.freeze({} as { x?: number }).x!.toFixed())],
    ['in a promise', () => void Promise.reject(new TypeError('struck'))],
  ])('%s is told in a sentence, and the work goes on', async (_, strike) => {
    await open();
    await answered();
    await page.evaluate(strike);
    const notice = page.locator('.notice', { hasText: 'A fault of the program met something on this page' });
    await notice.waitFor({ timeout: 60_000 });
    expect(await notice.textContent()).not.toMatch(/\bat \S+:\d+|\.js/);
    const gap = await widenGap(page, 2);
    await expect.poll(() => keptGap(page), LONG).toBe(gap);
    await notice.getByRole('button', { name: 'put away' }).click();
    await expect.poll(() => notice.count(), LONG).toBe(0);
    expect(opened.complaints).toHaveLength(1);
  });
});

describe('the 3-D drawing', () => {
  it('that the browser takes away for good leaves a plan with a sentence, and the work is kept', async () => {
    await page.goto(`${inject('pageUrl')}${await airLink('pair')}`);
    const canvas = page.locator('canvas').first();
    await canvas.waitFor({ timeout: 60_000 });
    await canvas.evaluate((element) => {
      (element as HTMLCanvasElement).getContext('webgl2')?.getExtension('WEBGL_lose_context')?.loseContext();
    });
    await page
      .getByText('The browser took the 3-D drawing away; this plan stands in until it gives it back.')
      .waitFor();
    await page.getByRole('slider', { name: 'Receiver offset' }).focus();
    for (let i = 0; i < 4; i++) await page.keyboard.press('ArrowRight');
    const x = page.getByRole('textbox', { name: /^Offset x/ }).first();
    await expect.poll(() => x.inputValue(), LONG).toMatch(/^2\s?mm/);
    // Going and coming back asks for a new drawing.
    await page.getByRole('link', { name: 'Place', exact: true }).click();
    await answered();
    await page.getByRole('link', { name: 'Pair', exact: true }).click();
    await canvas.waitFor({ timeout: 60_000 });
    await page.reload();
    await canvas.waitFor({ timeout: 60_000 });
    const moved = () =>
      page.evaluate(
        () =>
          (
            document.querySelector('oc-app' as never) as unknown as {
              session: { store: { design: { value: { placement: { offsetXMm: number } } } } };
            }
          ).session.store.design.value.placement.offsetXMm,
      );
    await expect.poll(moved, LONG).toBe(2);
    expect(opened.complaints).toEqual([]);
  });
});
