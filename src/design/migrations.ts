import { isPlainObject } from './schema-node.ts';

/** Turns a document of version `from` into one of version `from + 1`. Must not change its argument. */
export interface Migration {
  readonly from: number;
  readonly change: (document: Record<string, unknown>) => Record<string, unknown>;
}

/** In order. Version 1 is the first that was ever written, so there is nothing to do yet. */
export const MIGRATIONS: readonly Migration[] = Object.freeze([]);

/**
 * Brings an older document up to date; leaves anything else (newer, no version, no object) as it is for the schema to
 * judge.
 */
export function migrate(document: unknown, migrations: readonly Migration[] = MIGRATIONS): unknown {
  if (!isPlainObject(document)) return document;
  let current = document;
  for (const step of migrations) {
    if (current.version === step.from)
      current = {
        ...step.change(JSON.parse(JSON.stringify(current)) as Record<string, unknown>),
        version: step.from + 1,
      };
  }
  return current;
}
