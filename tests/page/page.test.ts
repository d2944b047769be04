import { type Browser, type ConsoleMessage, chromium, type Page } from 'playwright';
import { afterAll, beforeAll, beforeEach, describe, expect, inject, it } from 'vitest';
import { args, browser as chromiumFiles } from '../support/chromium.ts';

/** The built page in a real browser, with its real workers: what a newcomer meets after `npm start`. */
describe('the built page', () => {
  const url = inject('pageUrl');
  let browser: Browser;
  let page: Page;
  let complaints: string[];
  let strangers: string[];

  beforeAll(async () => {
    const { executablePath, env } = await chromiumFiles();
    browser = await chromium.launch({
      executablePath,
      args,
      env: { ...(process.env as Record<string, string>), ...env },
    });
  });
  afterAll(async () => {
    await browser.close();
  });
  beforeEach(async () => {
    const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
    page = await context.newPage();
    complaints = [];
    strangers = [];
    page.on('console', (message: ConsoleMessage) => {
      if (message.type() === 'error') complaints.push(message.text());
    });
    page.on('pageerror', (error) => complaints.push(error.message));
    page.on('request', (request) => {
      if (!request.url().startsWith(url) && !/^(data|blob):/.test(request.url())) strangers.push(request.url());
    });
    return () => context.close();
  });

  const answer = async (): Promise<string> => (await page.locator('oc-answer h1').first().textContent()) ?? '';
  const settled = async (): Promise<void> => {
    await expect.poll(answer, { timeout: 60_000, interval: 200 }).toMatch(/Holds 0\.\d+\s?A|collapse/);
  };

  it('opens the demo with its answer, text that has width, and asks no other host', async () => {
    await page.goto(`${url}#place`);
    await settled();
    const width = await page
      .locator('oc-answer')
      .first()
      .evaluate((element) => element.getBoundingClientRect().width);
    expect(width).toBeGreaterThan(200);
    expect(await answer()).toMatch(/0\.78\s?A/);
    expect(strangers).toEqual([]);
    expect(complaints).toEqual([]);
  });

  it('brings the map with its reach', async () => {
    await page.goto(`${url}#place`);
    await expect.poll(answer, { timeout: 170_000, interval: 500 }).toMatch(/up to .*mm/);
    expect(complaints).toEqual([]);
  }, 180_000);

  it('draws both windings on the Pair station', async () => {
    await page.goto(`${url}#pair`);
    await page.locator('canvas').first().waitFor({ timeout: 60_000 });
    const picture = async (): Promise<number> => {
      const shot = (await page.locator('canvas').first().screenshot()).toString('base64');
      // Decoded by the browser itself: how many different colours does the picture hold?
      return page.evaluate(async (base64) => {
        const image = new Image();
        image.src = `data:image/png;base64,${base64}`;
        await image.decode();
        const canvas = new OffscreenCanvas(image.width, image.height);
        const context = canvas.getContext('2d');
        if (!context) return 0;
        context.drawImage(image, 0, 0);
        const { data } = context.getImageData(0, 0, image.width, image.height);
        const colours = new Set<number>();
        for (let i = 0; i < data.length; i += 4) colours.add((data[i]! << 16) | (data[i + 1]! << 8) | data[i + 2]!);
        return colours.size;
      }, shot);
    };
    await expect.poll(picture, { timeout: 60_000, interval: 500 }).toBeGreaterThan(200);
    expect(complaints).toEqual([]);
  });

  /** The gap as the first slider of Place holds it. */
  const gap = (): Promise<string> => page.getByRole('slider', { name: /gap/i }).first().inputValue();
  const widen = async (steps: number): Promise<void> => {
    await page.getByRole('slider', { name: /gap/i }).first().focus();
    for (let i = 0; i < steps; i++) await page.keyboard.press('ArrowRight');
  };

  it('follows a change of the gap and undoes it with the keyboard', async () => {
    await page.goto(`${url}#place`);
    await settled();
    const [before, gapBefore] = [await answer(), await gap()];
    await widen(6);
    expect(Number(await gap())).toBeGreaterThan(Number(gapBefore));
    await expect.poll(answer, { timeout: 60_000, interval: 200 }).not.toBe(before);
    for (let i = 0; i < 6; i++) await page.keyboard.press('Control+z');
    await expect.poll(gap, { timeout: 10_000, interval: 200 }).toBe(gapBefore);
    expect(complaints).toEqual([]);
  });

  it('keeps the work over a reload', async () => {
    await page.goto(`${url}#place`);
    await settled();
    const gapBefore = await gap();
    await widen(4);
    const changed = await gap();
    expect(changed).not.toBe(gapBefore);
    await page.waitForTimeout(2000);
    await page.reload();
    await settled();
    await expect.poll(gap, { timeout: 10_000, interval: 200 }).toBe(changed);
  });
});
