import { createStore, get, set } from 'idb-keyval';

/** Where a session is kept between visits: text under a name. Every call may fail; the caller says so in plain words. */
export interface Keeper {
  read(name: string): Promise<string | null>;
  write(name: string, text: string): Promise<void>;
}

/** In the browser's database. */
export function databaseKeeper(): Keeper {
  let store: ReturnType<typeof createStore> | null = null;
  const open = (): ReturnType<typeof createStore> => {
    store ??= createStore('offcentre', 'sessions');
    return store;
  };
  return {
    read: async (name) => (await get<string>(name, open())) ?? null,
    write: (name, text) => set(name, text, open()),
  };
}

/** In the page's local storage: small but written at once, so that it also works while the page is closing. */
export const localKeeper = Object.freeze({
  read(name: string): string | null {
    return globalThis.localStorage.getItem(`offcentre.${name}`);
  },
  write(name: string, text: string): void {
    globalThis.localStorage.setItem(`offcentre.${name}`, text);
  },
});

export type LocalKeeper = typeof localKeeper;
