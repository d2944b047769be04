import { type Browser, chromium, type Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { args, browser as chromiumFiles } from '../support/chromium.ts';

/** A browser that offers no 3-D drawing: Pair falls back to its plan and side view. */
describe('without WebGL', () => {
  let browser: Browser;
  let page: Page;
  const complaints: string[] = [];

  beforeAll(async () => {
    const { executablePath, env } = await chromiumFiles();
    browser = await chromium.launch({
      executablePath,
      args: [...args.filter((arg) => !/gl|swiftshader|gpu/.test(arg)), '--disable-3d-apis'],
      env: { ...(process.env as Record<string, string>), ...env },
    });
    page = await (await browser.newContext({ viewport: { width: 1280, height: 800 } })).newPage();
    page.on('console', (message) => {
      if (message.type() === 'error') complaints.push(message.text());
    });
    page.on('pageerror', (error) => complaints.push(error.message));
    await page.goto(`${inject('pageUrl')}#pair`);
  });
  afterAll(() => browser.close());

  it('shows plan and side view, with every size to type and to step by keyboard', async () => {
    await page.getByRole('slider', { name: 'Receiver offset' }).waitFor();
    expect(await page.evaluate(() => document.createElement('canvas').getContext('webgl2'))).toBeNull();
    expect(await page.locator('canvas').count()).toBe(0);
    await page.getByText('This browser draws nothing in 3-D; this plan stands in.').waitFor();
    for (const name of [
      /^Outer diameter, transmitter/,
      /^Inner diameter, transmitter/,
      /^Turns, transmitter/,
      /^Outer width, receiver/,
      /^Inner height, receiver/,
      /^Corner radius, receiver/,
      /^Tilt about x/,
      /^Gap/,
    ])
      await page.getByRole('textbox', { name }).first().waitFor();
    await page.getByRole('slider', { name: 'Receiver: gap and offset along x' }).waitFor();
    const turns = page.getByRole('textbox', { name: /^Turns, receiver/ }).first();
    await turns.fill('12');
    await turns.press('Enter');
    await expect.poll(() => turns.inputValue(), { timeout: 20_000 }).toMatch(/^12/);
    await page.getByRole('slider', { name: 'Receiver offset' }).focus();
    for (let i = 0; i < 4; i++) await page.keyboard.press('ArrowRight');
    const x = page.getByRole('textbox', { name: /^Offset x/ }).first();
    await expect.poll(() => x.inputValue(), { timeout: 10_000 }).toMatch(/^2\s?mm/);
    // There is no picture in space to look at from anywhere, nor lines to draw in it.
    expect(await page.getByRole('button', { name: 'from the top' }).count()).toBe(0);
    expect(complaints).toEqual([]);
  }, 120_000);
});
