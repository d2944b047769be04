import { type Browser, chromium, type Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { shareFragment } from '../../src/state/share-link.ts';
import { args, browser as chromiumFiles } from '../support/chromium.ts';

describe('the report', () => {
  let browser: Browser;
  let page: Page;

  beforeAll(async () => {
    const { executablePath, env } = await chromiumFiles();
    browser = await chromium.launch({
      executablePath,
      args,
      env: { ...(process.env as Record<string, string>), ...env },
    });
    page = await (await browser.newContext({ viewport: { width: 1280, height: 800 } })).newPage();
  });
  afterAll(() => browser.close());

  it.each(['A4', 'Letter'])('of the demo, which has every kind of input, prints on one sheet of %s', async (format) => {
    // Without the plates' field, which takes long; their inputs are few beside the rest and stay in.
    const bare = {
      ...DEMO_DESIGN,
      transmitter: { ...DEMO_DESIGN.transmitter, ferrite: null },
      receiver: { ...DEMO_DESIGN.receiver, ferrite: null, metal: null },
    };
    await page.goto(`${inject('pageUrl')}${await shareFragment(bare, 'report')}`);
    const print = page.getByRole('button', { name: 'Print this page' });
    await print.waitFor({ timeout: 120_000 });
    const pdf = (await page.pdf({ format, preferCSSPageSize: true })).toString('latin1');
    expect(pdf.match(/\/Type\s*\/Page[^s]/g)).toHaveLength(1);
    // Words are printed as words: the sheet carries its fonts.
    expect(pdf).toMatch(/\/FontFile/);
    const text = await page.locator('oc-report article').innerText();
    expect(text.length).toBeGreaterThan(3500);
    await page.emulateMedia({ media: 'print' });
    for (const part of ['oc-design-menu', 'nav', 'footer']) {
      expect(await page.locator(part).first().isVisible(), part).toBe(false);
    }
    await page.emulateMedia({ media: null });
  });
});

describe('the first look', () => {
  it('brings little: at most 120 kB, compressed, of the page, its style and its programs', async () => {
    const { executablePath, env } = await chromiumFiles();
    const browser = await chromium.launch({
      executablePath,
      args,
      env: { ...(process.env as Record<string, string>), ...env },
    });
    const { gzipSync } = await import('node:zlib');
    // What the service worker fetches afterwards, in its own time, is not waited for by anybody.
    const context = await browser.newContext({ serviceWorkers: 'block' });
    const page = await context.newPage();
    const sizes: Promise<number>[] = [];
    page.on('response', (response) => {
      const { pathname } = new URL(response.url());
      if (/(\/|\.html|\.css|\.js)$/.test(pathname) && !pathname.includes('worker'))
        sizes.push(response.body().then((body) => gzipSync(body).length));
    });
    await page.goto(`${inject('pageUrl')}#place`);
    await page.locator('oc-answer h1').first().waitFor({ timeout: 60_000 });
    await page.waitForTimeout(1500);
    const total = (await Promise.all(sizes)).reduce((sum, size) => sum + size, 0);
    await browser.close();
    expect(sizes.length).toBeGreaterThan(4);
    // What it was when all stations stood, and a little: a station's own code comes when it is first looked at.
    expect(total).toBeLessThan(120_000);
  });
});
