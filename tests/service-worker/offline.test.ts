import { describe, expect, it } from 'vitest';
import { Offline, type OfflineHost } from '../../src/service-worker/offline.ts';

const SCOPE = 'https://page.test/tool/';

/** Caches and a network of this test's own. */
function hostOf(
  files: Readonly<Record<string, string>>,
): OfflineHost & { readonly stored: Map<string, Map<string, string>>; asked: string[]; down: boolean } {
  const stored = new Map<string, Map<string, string>>();
  const host = {
    scope: SCOPE,
    stored,
    asked: [] as string[],
    down: false,
    fetch: async (request: Request): Promise<Response> => {
      host.asked.push(request.url);
      if (host.down) throw new TypeError('no network');
      const text = files[request.url.slice(SCOPE.length) || 'index.html'];
      return text === undefined ? new Response('', { status: 404 }) : new Response(text);
    },
    caches: {
      open: async (name: string) => {
        if (!stored.has(name)) stored.set(name, new Map());
        const kept = stored.get(name) as Map<string, string>;
        return {
          put: async (request: Request, response: Response) => void kept.set(request.url, await response.text()),
          match: async (url: URL) => (kept.has(url.href) ? new Response(kept.get(url.href)) : undefined),
        } as unknown as Cache;
      },
      keys: async () => [...stored.keys()],
      delete: async (name: string) => stored.delete(name),
    },
  };
  return host;
}

const FILES = { 'index.html': 'the page', 'assets/main-1a.js': 'main' };
const made = (version: string, host: OfflineHost) => new Offline({ version, files: Object.keys(FILES) }, host);
const navigation = (url: string): Request => ({ method: 'GET', url, mode: 'navigate' }) as unknown as Request;

describe('the offline store', () => {
  it('keeps every file, and answers without a network from then on', async () => {
    const host = hostOf(FILES);
    const offline = made('1', host);
    await offline.install();
    host.down = true;
    for (const url of [SCOPE, `${SCOPE}index.html`, `${SCOPE}?a=b`, `${SCOPE}#pair~1.xyz`]) {
      expect(await (await offline.respond(navigation(url)))?.text(), url).toBe('the page');
    }
    expect(await (await offline.respond(new Request(`${SCOPE}assets/main-1a.js`)))?.text()).toBe('main');
  });

  it('leaves alone what is not its own', () => {
    const offline = made('1', hostOf(FILES));
    expect(offline.respond(new Request('https://elsewhere.test/tool/index.html'))).toBeNull();
    expect(offline.respond(new Request(`${SCOPE}assets/other.js`))).toBeNull();
    expect(offline.respond(new Request(SCOPE, { method: 'POST' }))).toBeNull();
    expect(offline.respond(navigation('https://page.test/'))).toBeNull();
  });

  it('is not installed where a file is missing', async () => {
    const host = hostOf({ 'index.html': 'the page' });
    await expect(made('1', host).install()).rejects.toThrow(/assets\/main-1a\.js: 404/);
  });

  it('a new version takes nothing from the old one, and puts it away when it takes over', async () => {
    const host = hostOf({ ...FILES });
    const old = made('1', host);
    await old.install();
    const fresh = hostOf({ ...FILES, 'index.html': 'the new page' });
    const next = new Offline({ version: '2', files: Object.keys(FILES) }, { ...fresh, caches: host.caches });
    await next.install();
    // Both stand side by side: the open page goes on with the old one.
    expect(await (await old.respond(navigation(SCOPE)))?.text()).toBe('the page');
    expect(await (await next.respond(navigation(SCOPE)))?.text()).toBe('the new page');
    host.stored.set('of-somebody-else', new Map());
    await next.activate();
    expect([...host.stored.keys()]).toEqual(['offcentre-2', 'of-somebody-else']);
  });

  it('asks the network where its cache was taken away', async () => {
    const host = hostOf(FILES);
    const offline = made('1', host);
    await offline.install();
    host.stored.clear();
    expect(await (await offline.respond(navigation(SCOPE)))?.text()).toBe('the page');
  });

  it('asks the network where its cache cannot be opened or read', async () => {
    const host = hostOf(FILES);
    await made('1', host).install();
    const refuse = () => Promise.reject(new DOMException('damaged', 'UnknownError'));
    const unreadable = { match: refuse } as unknown as Cache;
    for (const open of [refuse, async () => unreadable]) {
      const offline = made('1', { ...host, caches: { ...host.caches, open } });
      expect(await (await offline.respond(navigation(SCOPE)))?.text()).toBe('the page');
    }
  });
});
