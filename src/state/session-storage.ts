import { createStore, del, entries, get, set, update } from 'idb-keyval';

/** Where a session is kept between visits: text under a name. Every call may fail; the caller says so in plain words. */
export interface Keeper {
  read(name: string): Promise<string | null>;
  /** All that is kept under names that begin so. */
  list(start: string): Promise<readonly (readonly [name: string, text: string])[]>;
  write(name: string, text: string): Promise<void>;
  /**
   * Writes what `decide` makes of what is there, in one go, so that no other page can come between; null: nothing is written.
   * @returns what was there before, and whether it was replaced
   */
  exchange(name: string, decide: (before: string | null) => string | null): Promise<Exchanged>;
  remove(name: string): Promise<void>;
}

export interface Exchanged {
  readonly before: string | null;
  readonly written: boolean;
}

/** A database that says nothing at all for so long after something was to be written is taken for one that does not work, ms. */
const SILENT_AFTER_MS = 4000;

const NOT_WRITTEN = Symbol('not written');

/** Somebody else may have put anything under our names. */
function asText(value: unknown): string | null {
  if (value === undefined) return null;
  return typeof value === 'string' ? value : (JSON.stringify(value) ?? String(value));
}

/** In the browser's database. */
export function databaseKeeper(silentAfterMs = SILENT_AFTER_MS): Keeper {
  let store: ReturnType<typeof createStore> | null = null;
  const open = (): ReturnType<typeof createStore> => {
    store ??= createStore('offcentre', 'sessions');
    return store;
  };
  /** Where the database is refused, asking may throw at once, fail later or never come back. */
  function answered<T>(ask: () => Promise<T>, limitMs = silentAfterMs): Promise<T> {
    return new Promise((resolve, reject) => {
      const timer = setTimeout(() => reject(new Error('the database does not answer')), limitMs);
      const end = (): void => clearTimeout(timer);
      try {
        ask().then(resolve, reject).finally(end);
      } catch (error) {
        end();
        reject(error);
      }
    });
  }
  return {
    // Whoever reads has a patience of his own.
    read: (name) => answered(async () => asText(await get(name, open())), 60_000),
    list: (start) =>
      answered(async () =>
        (await entries<string>(open())).flatMap(([name, value]) => {
          const text = asText(value);
          return typeof name === 'string' && name.startsWith(start) && text !== null ? [[name, text] as const] : [];
        }),
      ),
    write: (name, text) => answered(() => set(name, text, open())),
    exchange: (name, decide) =>
      answered(async () => {
        let before: string | null = null;
        try {
          await update<string>(
            name,
            (now) => {
              before = asText(now);
              const next = decide(before);
              if (next === null) throw NOT_WRITTEN;
              return next;
            },
            open(),
          );
          return { before, written: true };
        } catch (error) {
          if (error === NOT_WRITTEN) return { before, written: false };
          throw error;
        }
      }),
    remove: (name) => answered(() => del(name, open())),
  };
}

const LOCAL = 'offcentre.';

/** In the page's local storage: small but written at once, so that it also works while the page is closing. */
export const localKeeper = Object.freeze({
  list(start: string): (readonly [name: string, text: string])[] {
    const storage = globalThis.localStorage;
    return Object.keys(storage).flatMap((key) => {
      const text = key.startsWith(LOCAL + start) ? storage.getItem(key) : null;
      return text === null ? [] : [[key.slice(LOCAL.length), text] as const];
    });
  },
  write(name: string, text: string): void {
    globalThis.localStorage.setItem(LOCAL + name, text);
  },
  remove(name: string): void {
    globalThis.localStorage.removeItem(LOCAL + name);
  },
});

export type LocalKeeper = typeof localKeeper;
