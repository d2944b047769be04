/** Where a command writes. Replaced by the tests. */
export interface Terminal {
  /** Results. */
  readonly out: (text: string) => void;
  /** Progress, warnings and faults. */
  readonly err: (text: string) => void;
}

/**
 * What a terminal might obey rather than show (control characters but line end and tab, direction marks and overrides),
 * and halves of a character.
 */
const OBEYED =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for.
  /[\0-\b\v-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

/** Text that a terminal only shows: names from a file may hold anything. Written out as in JSON, so that JSON stays JSON. */
export function harmless(text: string): string {
  return text.replace(OBEYED, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`);
}

/** The same terminal, to which only harmless text comes. */
export function guarded(terminal: Terminal): Terminal {
  return { out: (text) => terminal.out(harmless(text)), err: (text) => terminal.err(harmless(text)) };
}

/** Exit codes, as in the README: done, the design is wrong, wrong usage, did not converge. */
export const EXIT = Object.freeze({ done: 0, wrongDesign: 1, usage: 2, notConverged: 3 });

/** Wrong use of the command line: one line and a pointer to the help. */
export class UsageError extends Error {
  override readonly name = 'UsageError';
}

/** Typed arrays as lists, what JSON cannot hold as null; two spaces of indent only where the object is small. */
export function jsonText(value: unknown, indent = 2): string {
  return JSON.stringify(
    value,
    (_, entry: unknown) => {
      if (ArrayBuffer.isView(entry)) return Array.from(entry as Float64Array, (x) => (Number.isFinite(x) ? x : null));
      return typeof entry === 'number' && !Number.isFinite(entry) ? null : entry;
    },
    indent,
  );
}
