import { type FaultDetail, safeText } from '../numerics/errors.ts';

/** Keys and list indices from the root of the document. */
export type PathSegment = string | number;

const PLAIN_KEY = /^[A-Za-z_$][\w$]{0,59}$/;

/** `stack[2].thicknessMm`; keys that are no plain words stand quoted in brackets. */
export function formatPath(segments: readonly PathSegment[]): string {
  let out = '';
  for (const segment of segments) {
    if (typeof segment === 'number') out += `[${segment}]`;
    else if (PLAIN_KEY.test(segment)) out += out === '' ? segment : `.${segment}`;
    else out += `[${JSON.stringify(safeText(segment))}]`;
  }
  return out;
}

/**
 * Reads a path as `formatPath` writes it; `stack.2.thicknessMm` is accepted as well.
 *
 * @returns the segments, or a fault where the text is no path.
 */
export function parsePath(text: string): { ok: true; segments: PathSegment[] } | { ok: false; fault: FaultDetail } {
  const segments: PathSegment[] = [];
  const pattern = /(?:^|(?<=.)\.)([A-Za-z_$][\w$]*)|\.?(?:\[(\d{1,6})\])|\.(\d{1,6})(?=[.[]|$)/y;
  let at = 0;
  while (at < text.length) {
    pattern.lastIndex = at;
    const found = pattern.exec(text);
    if (found === null) break;
    segments.push(found[1] ?? Number(found[2] ?? found[3]));
    at = pattern.lastIndex;
  }
  if (at < text.length || segments.length === 0 || typeof segments[0] !== 'string') {
    return {
      ok: false,
      fault: {
        code: 'not-a-path',
        path: '',
        required: 'reached by a path such as transmitter.coil.turns or stack[2].thicknessMm',
        received: JSON.stringify(safeText(text)),
      },
    };
  }
  return { ok: true, segments };
}

/** The value at a path, or undefined. Only own keys are followed. */
export function valueAt(root: unknown, segments: readonly PathSegment[]): unknown {
  let here = root;
  for (const segment of segments) {
    if (typeof here !== 'object' || here === null || !Object.hasOwn(here, segment)) return undefined;
    here = (here as Record<PathSegment, unknown>)[segment];
  }
  return here;
}
