import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright';
import { args, browser as chromiumFiles } from './chromium.ts';

/** The browser for tests of the built page. */
export async function openBrowser(): Promise<Browser> {
  const { executablePath, env } = await chromiumFiles();
  return chromium.launch({ executablePath, args, env: { ...(process.env as Record<string, string>), ...env } });
}

/** A page with everything it complains about. */
export async function openPage(
  browser: Browser,
  options: BrowserContextOptions,
): Promise<{ readonly page: Page; readonly complaints: string[] }> {
  const page = await (await browser.newContext(options)).newPage();
  const complaints: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(error.message));
  return { page, complaints };
}

interface Busy {
  readonly busy?: { readonly value: boolean };
  readonly running?: { readonly value: boolean };
}

/** Waits until no question of the session is being answered, three looks in a row. */
export async function answersIn(page: Page): Promise<void> {
  await page.locator('oc-app main > *').first().waitFor({ timeout: 60_000 });
  await page.waitForFunction(
    () => {
      const app = document.querySelector<HTMLElement & { session: Record<string, Busy> }>('oc-app' as never);
      const counter = window as Window & { still?: number };
      const busy =
        !app?.session ||
        Object.values(app.session).some((answer) => answer?.busy?.value || answer?.running?.value) ||
        app.shadowRoot?.querySelector('.arriving');
      counter.still = busy ? 0 : (counter.still ?? 0) + 1;
      if (counter.still < 4) return false;
      counter.still = 0;
      return true;
    },
    undefined,
    { polling: 150, timeout: 180_000 },
  );
}
