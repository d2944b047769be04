import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import { tmpdir } from 'node:os';
import { extname, join } from 'node:path';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { precacheOf } from '../../src/service-worker/precache-plugin.ts';
import { args, browser as chromiumFiles } from '../support/chromium.ts';

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.woff2': 'font/woff2',
};

/** A copy of the build on a server of this test's own, so that it can be taken away and replaced. */
describe('after the first visit', () => {
  let browser: Browser;
  let context: BrowserContext;
  let page: Page;
  let directory: string;
  let server: Server;
  let url: string;
  let complaints: string[];

  beforeAll(async () => {
    const { executablePath, env } = await chromiumFiles();
    browser = await chromium.launch({
      executablePath,
      args,
      env: { ...(process.env as Record<string, string>), ...env },
    });
  });
  afterAll(() => browser.close());

  beforeEach(async () => {
    directory = mkdtempSync(join(tmpdir(), 'offcentre-'));
    cpSync('dist/page', directory, { recursive: true });
    server = createServer((request, response) => {
      const path = (request.url ?? '/').split(/[?#]/)[0] ?? '/';
      try {
        const file = readFileSync(join(directory, path === '/' ? 'index.html' : path));
        response.writeHead(200, { 'Content-Type': TYPES[extname(path === '/' ? '.html' : path)] ?? 'text/html' });
        response.end(file);
      } catch {
        response.writeHead(404).end();
      }
    });
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    const address = server.address();
    if (address === null || typeof address === 'string') throw new Error('no port');
    url = `http://127.0.0.1:${address.port}/`;
    context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    complaints = [];
    page = await open();
  });
  afterEach(async () => {
    await context.close();
    stopServer();
    rmSync(directory, { recursive: true });
  });

  async function open(): Promise<Page> {
    const fresh = await context.newPage();
    fresh.on('console', (message) => {
      if (message.type() === 'error') complaints.push(message.text());
    });
    fresh.on('pageerror', (error) => complaints.push(error.message));
    await fresh.goto(`${url}#place`);
    return fresh;
  }
  const stopServer = (): void => {
    server.closeAllConnections();
    server.close();
  };
  /** The worker has taken the page over, so everything is kept. */
  const kept = async (): Promise<void> => {
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null, null, { timeout: 60_000 });
  };
  const gap = (): Promise<string> => page.getByRole('slider', { name: /gap/i }).first().inputValue();

  it('everything opens without a network, parts not yet looked at as well', async () => {
    await kept();
    stopServer();
    await page.reload();
    await page.locator('oc-answer h1').first().waitFor();
    expect(await page.title()).toBe('Place · Offcentre');
    await page.getByRole('link', { name: 'Pair', exact: true }).click();
    await page.locator('canvas').first().waitFor({ timeout: 60_000 });
    const fonts = await page.evaluate(async () => {
      await document.fonts.ready;
      return [...document.fonts].filter(({ status }) => status === 'loaded').length;
    });
    expect(fonts).toBeGreaterThan(1);
    // The field reads units with what loads when somebody types.
    await page.getByRole('link', { name: 'Place', exact: true }).click();
    const x = page.getByRole('textbox', { name: /offset x/i }).first();
    await x.fill('0,4 cm');
    await x.press('Enter');
    await expect.poll(() => page.evaluate(() => document.title), { timeout: 10_000 }).toBe('Place · Offcentre');
    await expect.poll(() => x.inputValue(), { timeout: 30_000 }).toMatch(/^4\s?mm$/);
    expect(complaints.filter((text) => !/ERR_CONNECTION_REFUSED|Failed to update a ServiceWorker/.test(text))).toEqual(
      [],
    );
  }, 180_000);

  it('a newer version is told in one sentence, waits, and loses nothing', async () => {
    await kept();
    await page.getByRole('slider', { name: /gap/i }).first().focus();
    for (let i = 0; i < 3; i++) await page.keyboard.press('ArrowRight');
    const changed = await gap();
    // The next build: another page, and some parts of the old one are no longer on the server.
    const before = JSON.stringify(precacheOf(directory));
    const assets = join(directory, 'assets');
    for (const name of readdirSync(assets)) if (/^oc-(pair|hold)-.*\.js$/.test(name)) rmSync(join(assets, name));
    const html = join(directory, 'index.html');
    writeFileSync(html, readFileSync(html, 'utf8').replace('<html lang="en">', '<html lang="en" data-build="next">'));
    const worker = join(directory, 'service-worker.js');
    const text = readFileSync(worker, 'utf8');
    expect(text).toContain(before);
    writeFileSync(
      worker,
      text.replaceAll(before, () => JSON.stringify(precacheOf(directory))),
    );
    await page.evaluate(async () => {
      await (await navigator.serviceWorker.ready).update();
    });
    const notice = page.locator('.notice', { hasText: 'newer version' });
    await notice.waitFor({ timeout: 60_000 });
    expect(((await notice.textContent()) ?? '').match(/\.\s/g)?.length ?? 0).toBeLessThanOrEqual(2);
    expect(await gap()).toBe(changed);
    // The open page goes on: a part that it has not fetched so far comes although the server has it no more.
    await page.getByRole('link', { name: 'Hold', exact: true }).click();
    await page.locator('oc-hold oc-answer h1').first().waitFor({ timeout: 60_000 });
    expect(await page.locator('.notice', { hasText: 'could not be fetched' }).count()).toBe(0);
    await page.getByRole('link', { name: 'Place', exact: true }).click();
    // A reload still is the old version, with all its files; parts not looked at so far arrive.
    await page.reload();
    await expect.poll(gap, { timeout: 30_000 }).toBe(changed);
    expect(await page.evaluate(() => document.documentElement.dataset.build)).toBeUndefined();
    await page.getByRole('link', { name: 'Pair', exact: true }).click();
    await page.locator('canvas').first().waitFor({ timeout: 60_000 });
    await page.close();
    page = await open();
    // A worker may need the moment after the last page has gone.
    for (let round = 0; round < 5; round++) {
      if ((await page.evaluate(() => document.documentElement.dataset.build)) === 'next') break;
      await page.close();
      page = await open();
    }
    expect(await page.evaluate(() => document.documentElement.dataset.build)).toBe('next');
    await expect.poll(gap, { timeout: 30_000 }).toBe(changed);
    expect(await page.evaluate(() => caches.keys())).toHaveLength(1);
    expect(complaints).toEqual([]);
  }, 240_000);
});
