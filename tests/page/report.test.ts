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
