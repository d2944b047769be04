import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Browser, Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { shareFragment } from '../../src/state/share-link.ts';
import { answersIn, openBrowser, openPage } from '../support/open-page.ts';

/**
 * For everybody: every station of the built page with its answers in. axe-core (rules of WCAG 2.2 A and AA, and best
 * practice) finds nothing in light and dark; text in drawings has the contrast of WCAG 2.2, 1.4.3 (4.5:1), which axe does
 * not measure there; nothing runs out sideways and no text is cut at 320 px (1.4.10, reflow) and at 200 % (1.4.4), which is
 * half the width of the window.
 */

const STATIONS = ['place', 'pair', 'feed', 'hold', 'prove', 'lessons', 'beside', 'report'] as const;
type StationId = (typeof STATIONS)[number];

/** The demo without plates, whose field takes long; everything else of it stays. */
const BARE = {
  ...DEMO_DESIGN,
  transmitter: { ...DEMO_DESIGN.transmitter, ferrite: null },
  receiver: { ...DEMO_DESIGN.receiver, ferrite: null, metal: null },
};

/** What is worked out on request only. */
const ASKED: Partial<Record<StationId, readonly string[]>> = {
  pair: ['Compare with fair rivals', 'Look at the row', 'Tune for this place'],
  lessons: ['Show it without a guess'],
};

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** @param crowded the 3-D view, whose handles come close to each other: each has a number field, the exception of 2.5.8 */
function axeFindings(page: Page, crowded: boolean): Promise<string[]> {
  return page.evaluate(async (target) => {
    type Node = { html: string; failureSummary?: string };
    type Results = { violations: { id: string; nodes: Node[] }[] };
    const { axe } = window as unknown as { axe: { run(root: Document, options: object): Promise<Results> } };
    const { violations } = await axe.run(document, {
      runOnly: { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] },
      rules: { 'target-size': { enabled: target } },
    });
    return violations.flatMap(({ id, nodes }) =>
      nodes.map((node) => `${id}: ${node.html.slice(0, 160)} ${node.failureSummary?.split('\n')[1] ?? ''}`),
    );
  }, !crowded);
}

/** Text in drawings that is fainter than 4.5:1 against the page's paper or a figure's ground. */
function faintText(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const context = document.createElement('canvas').getContext('2d', { willReadFrequently: true })!;
    const channels = (colour: string): readonly number[] => {
      context.clearRect(0, 0, 1, 1);
      context.fillStyle = colour;
      context.fillRect(0, 0, 1, 1);
      return [...context.getImageData(0, 0, 1, 1).data];
    };
    // Relative luminance and contrast ratio as WCAG 2.2 defines them.
    const luminance = (colour: readonly number[]): number => {
      const [r, g, b] = colour.map((value) => {
        const part = value / 255;
        return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
      });
      return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
    };
    const contrast = (a: readonly number[], b: readonly number[]): number => {
      const [high, low] = [luminance(a), luminance(b)].toSorted((x, y) => y - x);
      return (high! + 0.05) / (low! + 0.05);
    };
    const root = getComputedStyle(document.documentElement);
    const grounds = ['--paper', '--sheet'].map((name) => channels(root.getPropertyValue(name)));
    const found = new Set<string>();
    const walk = (from: ParentNode): void => {
      for (const element of from.querySelectorAll('*')) {
        if (element.shadowRoot) walk(element.shadowRoot);
        if (!(element instanceof SVGTextElement) || !element.checkVisibility() || !element.textContent?.trim())
          continue;
        const style = getComputedStyle(element);
        const alpha = Number(style.fillOpacity) * Number(style.opacity);
        const ink = channels(style.fill);
        for (const ground of grounds) {
          const seen = ink.map((value, i) => value * alpha + ground[i]! * (1 - alpha));
          const ratio = contrast(seen, ground);
          if (ratio < 4.5)
            found.add(`${ratio.toFixed(2)}: ${element.textContent.trim()} (${element.getAttribute('class')})`);
        }
      }
    };
    walk(document);
    return [...found];
  });
}

/** What runs out of the page sideways, and text that is cut. */
function misfits(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const found: string[] = [];
    const wide = document.documentElement.clientWidth;
    const over = document.documentElement.scrollWidth - wide;
    if (over > 0) found.push(`the page is ${over} px too wide`);
    const walk = (from: ParentNode, where: string): void => {
      for (const element of from.querySelectorAll<HTMLElement | SVGElement>('*')) {
        if (element.shadowRoot) walk(element.shadowRoot, element.localName);
        const text = [...element.childNodes].some(
          (node) => node.nodeType === Node.TEXT_NODE && node.textContent?.trim(),
        );
        if (!text || !element.checkVisibility({ opacityProperty: true, visibilityProperty: true })) continue;
        const box = element.getBoundingClientRect();
        if (box.width < 2 || box.height < 2) continue;
        const name = `${where} ${element.localName}: ${element.textContent?.trim().slice(0, 40)}`;
        // What is kept out of sight for screen readers lies left of the window.
        if (box.right < 0 || box.bottom < 0) continue;
        if (box.right > wide + 1 || box.left < -1) {
          // A table may scroll by itself.
          if (!element.closest('[tabindex="0"]')) found.push(`${name} runs from ${box.left} to ${box.right}`);
        }
        if (
          element instanceof HTMLElement &&
          element.scrollWidth > element.clientWidth + 1 &&
          element.clientWidth > 0
        ) {
          const hides = getComputedStyle(element).overflowX !== 'visible' && element.localName !== 'input';
          // The title in the head stands whole in the menu that it opens.
          if (hides && !(where === 'oc-design-menu' && element.matches('.text'))) found.push(`${name} is cut`);
        }
      }
    };
    walk(document, 'page');
    return found;
  });
}

describe('for everybody', () => {
  let browser: Browser;
  let page: Page;
  let complaints: string[];

  beforeAll(async () => {
    browser = await openBrowser();
    ({ page, complaints } = await openPage(browser, {
      viewport: { width: 1280, height: 800 },
      reducedMotion: 'reduce',
      colorScheme: 'light',
    }));
    await page.goto(`${inject('pageUrl')}${await shareFragment(BARE, 'place')}`);
    await page.locator('oc-answer h1').first().waitFor({ timeout: 60_000 });
    // Two designs beside each other.
    await page.evaluate(() => {
      type App = HTMLElement & {
        session: { store: { document: { value: unknown }; setCompare(design: unknown): void } };
      };
      const { store } = document.querySelector<App>('oc-app' as never)!.session;
      const design = structuredClone(store.document.value) as { transmitter: { drive: { supplyV: number } } };
      design.transmitter.drive.supplyV = 9;
      store.setCompare(design);
    });
    // The page forbids foreign scripts; the test's own goes in through the debugger, not through the document.
    await page.evaluate(axeSource);
  }, 120_000);
  afterAll(() => browser.close());

  it.each(STATIONS)(
    '%s with its answers in',
    async (station) => {
      await page.setViewportSize({ width: 1280, height: 800 });
      await page.evaluate((to) => {
        location.hash = `#${to}`;
      }, station);
      await answersIn(page);
      for (const name of ASKED[station] ?? []) await page.getByRole('button', { name }).first().click();
      await answersIn(page);
      const findings: Record<string, string[]> = {};
      for (const colorScheme of ['light', 'dark'] as const) {
        await page.emulateMedia({ colorScheme });
        findings[`axe, ${colorScheme}`] = await axeFindings(page, station === 'pair');
        findings[`contrast, ${colorScheme}`] = await faintText(page);
      }
      for (const [width, height] of [
        [640, 400],
        [320, 640],
      ] as const) {
        await page.setViewportSize({ width, height });
        await page.waitForTimeout(400);
        findings[`${width} px`] = await misfits(page);
      }
      findings['axe, 320 px, dark'] = await axeFindings(page, station === 'pair');
      expect(Object.entries(findings).filter(([, found]) => found.length > 0)).toEqual([]);
      expect(complaints).toEqual([]);
    },
    240_000,
  );
});
