/** What the build knows of itself: names that differ with the content, and the list of all files. */
export interface Precache {
  /** Changes with any file of the build. */
  readonly version: string;
  /** Relative to the page, `index.html` among them. */
  readonly files: readonly string[];
}

/** What is taken from the browser; tests bring their own. */
export interface OfflineHost {
  readonly caches: Pick<CacheStorage, 'open' | 'keys' | 'delete'>;
  readonly fetch: (request: Request) => Promise<Response>;
  /** Address that all files are relative to, with its closing slash. */
  readonly scope: string;
}

const PREFIX = 'offcentre-';

/**
 * Keeps the whole build in one cache for each version and answers from it, so that the page opens without a network and a
 * page that is open never meets files of another version. A new version waits until no page of the old one is open.
 */
export class Offline {
  readonly #precache: Precache;
  readonly #host: OfflineHost;

  constructor(precache: Precache, host: OfflineHost) {
    this.#precache = precache;
    this.#host = host;
  }

  get #name(): string {
    return PREFIX + this.#precache.version;
  }

  /** Fetches everything; fails as a whole where one file is missing, and is tried again at the next visit. */
  async install(): Promise<void> {
    const cache = await this.#host.caches.open(this.#name);
    await Promise.all(
      this.#precache.files.map(async (file) => {
        // Files under assets/ have their content in their name: what the browser already has is right.
        const mode: RequestCache = file.startsWith('assets/') ? 'default' : 'reload';
        const request = new Request(new URL(file, this.#host.scope), { cache: mode });
        const response = await this.#host.fetch(request);
        if (!response.ok) throw new Error(`${file}: ${response.status}`);
        await cache.put(request, response);
      }),
    );
  }

  /** Puts the caches of other versions away. */
  async activate(): Promise<void> {
    const { caches } = this.#host;
    const others = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== this.#name);
    await Promise.all(others.map((name) => caches.delete(name)));
  }

  /** The kept answer to a request, else what the network says; null where it is none of ours. */
  respond(request: Request): Promise<Response> | null {
    const file = this.#fileOf(request);
    return file === null ? null : this.#answer(request, file);
  }

  #fileOf({ method, url, mode }: Request): string | null {
    if (method !== 'GET') return null;
    const { scope } = this.#host;
    const bare = url.split(/[?#]/)[0] ?? '';
    if (!bare.startsWith(scope)) return null;
    const file = bare.slice(scope.length);
    if (mode === 'navigate' && (file === '' || file === 'index.html')) return 'index.html';
    return this.#precache.files.includes(file) ? file : null;
  }

  async #answer(request: Request, file: string): Promise<Response> {
    try {
      const cache = await this.#host.caches.open(this.#name);
      const kept = await cache.match(new URL(file, this.#host.scope));
      if (kept) return kept;
    } catch {
      // A storage that is damaged or refused must not take the page away while there is a network.
    }
    return this.#host.fetch(request);
  }
}
