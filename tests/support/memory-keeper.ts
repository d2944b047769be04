import type { Keeper, LocalKeeper } from '../../src/state/session-storage.ts';

export interface MemoryKeeper extends Keeper {
  readonly texts: Map<string, string>;
}

/** The database of a test: one for each test, or one for several pages of it. */
export function memoryKeeper(texts = new Map<string, string>()): MemoryKeeper {
  return {
    texts,
    read: async (name) => texts.get(name) ?? null,
    list: async (start) => [...texts].filter(([name]) => name.startsWith(start)),
    write: async (name, text) => void texts.set(name, text),
    exchange: async (name, decide) => {
      const before = texts.get(name) ?? null;
      const next = decide(before);
      if (next !== null) texts.set(name, next);
      return { before, written: next !== null };
    },
    remove: async (name) => void texts.delete(name),
  };
}

/** A database in which every call fails as `fail` says. */
export function failingKeeper(fail: () => Promise<never>): Keeper {
  return { read: fail, list: fail, write: fail, exchange: fail, remove: fail };
}

export interface MemoryLocal extends LocalKeeper {
  readonly texts: Map<string, string>;
}

export function memoryLocal(texts = new Map<string, string>()): MemoryLocal {
  return {
    texts,
    list: (start) => [...texts].filter(([name]) => name.startsWith(start)),
    write: (name, text) => void texts.set(name, text),
    remove: (name) => void texts.delete(name),
  };
}
