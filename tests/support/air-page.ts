import { type Browser, type BrowserContext, type BrowserContextOptions, chromium, type Page } from 'playwright';
import { STARTING_POINTS } from '../../src/design/starting-points.ts';
import { shareFragment } from '../../src/state/share-link.ts';
import { args, browser as chromiumFiles } from './chromium.ts';

/** The browser that comes with the packages. */
export async function launchBrowser(more: readonly string[] = []): Promise<Browser> {
  const { executablePath, env } = await chromiumFiles();
  return chromium.launch({
    executablePath,
    args: [...args, ...more],
    env: { ...(process.env as Record<string, string>), ...env },
  });
}

export interface OpenedContext {
  readonly context: BrowserContext;
  /** What the pages of the context said on the console as errors, and what they threw. */
  readonly complaints: string[];
  close(): Promise<void>;
}

/** A browser of somebody's own: nothing kept, nothing cached. Without a service worker unless asked for. */
export async function openContext(browser: Browser, options: BrowserContextOptions = {}): Promise<OpenedContext> {
  const context = await browser.newContext({
    viewport: { width: 1000, height: 700 },
    reducedMotion: 'reduce',
    serviceWorkers: 'block',
    ...options,
  });
  const complaints: string[] = [];
  context.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  context.on('weberror', (error) => complaints.push(error.error().message));
  const close = async (): Promise<void> => {
    for (const page of context.pages()) await page.unrouteAll({ behavior: 'ignoreErrors' });
    await context.close();
  };
  return { context, complaints, close };
}

/** A design without ferrite and metal, whose answers are there at once: for tests that are of the page. */
export const AIR_DESIGN = Object.freeze(airDesign());

function airDesign(): (typeof STARTING_POINTS)[number]['document'] {
  const { document } = STARTING_POINTS[0]!;
  const { transmitter, receiver } = document;
  return {
    ...document,
    title: 'In air',
    stack: [],
    placement: { gapMm: 5 },
    transmitter: { ...transmitter, ferrite: null, metal: null },
    receiver: { ...receiver, ferrite: null, metal: null },
  };
}

/** The fragment of a link to it. */
export function airLink(station = 'place'): Promise<string> {
  return shareFragment(AIR_DESIGN, station);
}

/** The gap as the first slider of Place holds it, mm. */
export function gapOf(page: Page): Promise<string> {
  return page.getByRole('slider', { name: /gap/i }).first().inputValue();
}

/** Some steps with the keyboard. @returns the gap after them */
export async function widenGap(page: Page, steps = 1): Promise<string> {
  await page.getByRole('slider', { name: /gap/i }).first().focus();
  for (let i = 0; i < steps; i++) await page.keyboard.press('ArrowRight');
  return gapOf(page);
}

/** The answer line of the station on show. */
export async function answerOf(page: Page): Promise<string> {
  return (await page.locator('oc-answer h1').first().textContent()) ?? '';
}

/** Everything the page has in the browser's database, by name. */
export function keptTexts(page: Page): Promise<Record<string, string>> {
  return page.evaluate(
    () =>
      new Promise<Record<string, string>>((resolve, reject) => {
        const opening = indexedDB.open('offcentre');
        // Not there yet: it must not come into being by being looked at.
        opening.onupgradeneeded = () => opening.transaction?.abort();
        opening.onerror = () => reject(opening.error);
        opening.onsuccess = () => {
          const database = opening.result;
          const store = database.transaction('sessions').objectStore('sessions');
          const [keys, values] = [store.getAllKeys(), store.getAll()];
          store.transaction.oncomplete = () => {
            database.close();
            resolve(Object.fromEntries(keys.result.map((key, i) => [String(key), String(values.result[i])])));
          };
        };
      }),
  );
}

/** Puts anything in the place of the common copy. */
export function putKept(page: Page, text: string): Promise<void> {
  return page.evaluate(
    (value) =>
      new Promise<void>((resolve, reject) => {
        const opening = indexedDB.open('offcentre');
        opening.onerror = () => reject(opening.error);
        opening.onsuccess = () => {
          const store = opening.result.transaction('sessions', 'readwrite').objectStore('sessions');
          store.put(value, 'session');
          store.transaction.oncomplete = () => resolve();
        };
      }),
    text,
  );
}

/** The gap of the design in the common copy, mm; null: there is none. */
export async function keptGap(page: Page): Promise<string | null> {
  const { session } = await keptTexts(page).catch(() => ({ session: undefined }));
  if (session === undefined) return null;
  const { document } = JSON.parse(session) as {
    document: { placement?: { gapMm?: number }; stack?: { thicknessMm: number }[] };
  };
  // A stack makes the gap where there is one.
  const layers = document.stack?.reduce((sum, layer) => sum + layer.thicknessMm, 0) ?? 0;
  return String(document.placement?.gapMm ?? Number(layers.toFixed(6)));
}
