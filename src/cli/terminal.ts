/** Where a command writes. Replaced by the tests. */
export interface Terminal {
  /** Results. */
  readonly out: (text: string) => void;
  /** Progress, warnings and faults. */
  readonly err: (text: string) => void;
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
