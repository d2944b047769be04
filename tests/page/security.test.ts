import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { shareFragment } from '../../src/state/share-link.ts';
import { answersIn, openBrowser } from '../support/open-page.ts';

const STATIONS = ['place', 'pair', 'feed', 'hold', 'prove', 'lessons', 'beside', 'report'] as const;

const NAMES = ['<img src=x onerror="owned=1">', '"><script>owned=1</script>', "' onmouseover='owned=1' x='"] as const;

/** The demo without plates, whose field takes long, with markup for names: what a stranger's link may hold. */
const HOSTILE = {
  ...DEMO_DESIGN,
  title: NAMES.join(' '),
  transmitter: { ...DEMO_DESIGN.transmitter, ferrite: null },
  receiver: { ...DEMO_DESIGN.receiver, ferrite: null, metal: null },
  stack: (DEMO_DESIGN.stack ?? []).map((layer, i) => ({ ...layer, name: NAMES[i % NAMES.length] })),
  demand: {
    ...DEMO_DESIGN.demand,
    loads: DEMO_DESIGN.demand.loads.map((load, i) => ({
      ...load,
      name: `${NAMES[i % NAMES.length]} ${i}`,
      alongside: [],
    })),
  },
};

it('no script of the build makes a program of text, and the expression parser of mathjs is left out', () => {
  const scripts = readdirSync('dist/page', { recursive: true, encoding: 'utf8' }).filter((name) =>
    name.endsWith('.js'),
  );
  expect(scripts.length).toBeGreaterThan(20);
  for (const name of scripts) {
    const code = readFileSync(join('dist/page', name), 'utf8');
    expect(code, name).not.toMatch(/\bnew Function\b|(?<![.\w])(eval|Function)\(/);
    // What the parser says of a wrong expression; no other part of mathjs says it.
    expect(code, name).not.toMatch(/Unexpected end of expression|Parenthesis \) expected/);
  }
  // And unit reading, which is wanted, is there.
  expect(scripts.some((name) => readFileSync(join('dist/page', name), 'utf8').includes('fahrenheit'))).toBe(true);
});

interface Watched extends Window {
  refused?: string[];
  owned?: unknown;
}

describe('the policy of the built page', () => {
  const url = inject('pageUrl');
  let browser: Browser;
  let page: Page;
  const strangers: string[] = [];
  const complaints: string[] = [];

  beforeAll(async () => {
    browser = await openBrowser();
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    page = await context.newPage();
    await page.addInitScript(() => {
      const watched = window as Watched;
      watched.refused = [];
      document.addEventListener('securitypolicyviolation', ({ violatedDirective, blockedURI, sample }) => {
        watched.refused?.push(`${violatedDirective}: ${blockedURI} ${sample}`);
      });
    });
    // The context hears of its workers' and service workers' requests too.
    context.on('request', (request) => {
      if (!request.url().startsWith(url) && !/^(data|blob):/.test(request.url())) strangers.push(request.url());
    });
    page.on('console', (message) => {
      if (message.type() === 'error') complaints.push(message.text());
    });
    page.on('pageerror', (error) => complaints.push(error.message));
  });
  afterAll(() => browser.close());

  const refused = (): Promise<readonly string[]> =>
    page.evaluate(() => (window as Watched).refused ?? ['nobody listened']);

  it.each(STATIONS)(
    "%s: a stranger's link runs nothing, breaks no rule of the policy and asks no other host",
    async (station) => {
      await page.goto('about:blank');
      await page.goto(`${url}${await shareFragment(HOSTILE as never, station)}`);
      await answersIn(page);
      if (station !== 'lessons') {
        expect(await page.evaluate(() => document.querySelector('oc-app')?.session?.store.document.value.title)).toBe(
          HOSTILE.title,
        );
      }
      expect(await page.evaluate(() => (window as Watched).owned)).toBeUndefined();
      expect(await refused()).toEqual([]);
      expect(strangers).toEqual([]);
      expect(complaints).toEqual([]);
    },
  );

  it('a picture taken of a figure breaks no rule either', async () => {
    await page.goto('about:blank');
    await page.goto(`${url}${await shareFragment(HOSTILE as never, 'place')}`);
    await answersIn(page);
    const figure = page.locator('oc-figure').first();
    await figure.getByRole('button').first().waitFor();
    const saves = figure.locator('button', { hasText: /PNG/ });
    for (let i = 0; i < (await saves.count()); i++) await saves.nth(i).click({ force: true });
    expect(await refused()).toEqual([]);
  });

  // What the rules above forbid is forbidden: without this, silence would prove nothing.
  it.each([
    [
      'a script in an attribute',
      (): void => {
        const image = document.createElement('img');
        image.setAttribute('onerror', 'owned=1');
        image.src = 'data:,none';
        document.body.append(image);
      },
      'script-src-attr',
    ],
    [
      'a script in the page',
      (): void => {
        const script = document.createElement('script');
        script.textContent = 'owned=1';
        document.body.append(script);
      },
      'script-src-elem',
    ],
    [
      'a script of another host',
      (): void => {
        const script = document.createElement('script');
        script.src = 'https://elsewhere.invalid/x.js';
        document.body.append(script);
      },
      'script-src-elem',
    ],
    ['text run as a program', (): void => void setTimeout('owned=1'), 'script-src'],
    [
      'a request to another host',
      (): void => void fetch('https://elsewhere.invalid/').catch(() => null),
      'connect-src',
    ],
    [
      'a picture of another host',
      (): void => {
        new Image().src = 'https://elsewhere.invalid/x.png';
      },
      'img-src',
    ],
    [
      'a style in an attribute',
      (): void => {
        document.body.setAttribute('style', 'color: red');
      },
      'style-src-attr',
    ],
    [
      'a form sent away',
      (): void => {
        const form = document.createElement('form');
        form.action = 'https://elsewhere.invalid/';
        document.body.append(form);
        form.submit();
      },
      'form-action',
    ],
  ] as const)('%s is refused', async (_, attempt, rule) => {
    await page.goto('about:blank');
    await page.goto(url);
    await page.locator('oc-app').waitFor();
    await page.evaluate(attempt);
    // Told once by the header's policy and once by the meta tag's.
    const rules = async (): Promise<string[]> => [
      ...new Set((await refused()).map((line) => line.split(':')[0] ?? '')),
    ];
    await expect.poll(rules, { timeout: 10_000 }).toEqual([rule]);
    expect(await page.evaluate(() => (window as Watched).owned)).toBeUndefined();
    strangers.length = 0;
    complaints.length = 0;
  });

  it('a worker is held by the same policy, sent with its script', async () => {
    await page.goto(url);
    const headers = await page.evaluate(async () => {
      const { headers } = await fetch('./service-worker.js');
      return [headers.get('content-security-policy'), headers.get('x-content-type-options')];
    });
    const meta = await page.locator('meta[http-equiv="Content-Security-Policy"]').getAttribute('content');
    expect(headers).toEqual([meta, 'nosniff']);
    for (const loose of ["'unsafe-inline'", "'unsafe-eval'", '*', 'http:', 'https:']) expect(meta).not.toContain(loose);
  });
});
