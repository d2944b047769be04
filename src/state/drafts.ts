import { parsePath, valueAt } from '../design/path.ts';
import type { DesignDocument } from '../design/schema.ts';
import type { FaultDetail } from '../numerics/errors.ts';

/** Text in a field that is not yet a value, kept as typed. */
export interface Draft {
  readonly text: string;
  readonly fault: FaultDetail | null;
}

/** By the path of the field. */
export type Drafts = Readonly<Record<string, Draft>>;

const GAP = 'placement.gapMm';

/** The gap that layers make, where there are any. */
function stackGap({ stack }: DesignDocument): number | null {
  return stack && stack.length > 0 ? stack.reduce((sum, layer) => sum + layer.thicknessMm, 0) : null;
}

/** Whether a path means the same place in both documents and the same stands there. */
function untouched(path: string, before: DesignDocument, after: DesignDocument): boolean {
  if (path === GAP && stackGap(before) !== stackGap(after)) return false;
  const parsed = parsePath(path);
  if (!parsed.ok) return false;
  for (let depth = 1; depth <= parsed.segments.length; depth++) {
    const here = parsed.segments.slice(0, depth);
    const [from, to] = [valueAt(before, here), valueAt(after, here)];
    if (from === to) return true;
    // A list that grew or shrank counts its entries anew.
    if (Array.isArray(from) && Array.isArray(to) && from.length !== to.length) return false;
    if (typeof from !== 'object' || typeof to !== 'object') return false;
  }
  return false;
}

/** The texts that still stand after a change: one whose place is gone, or got another value, has had its answer. */
export function draftsAfter(drafts: Drafts, before: DesignDocument, after: DesignDocument): Drafts {
  const paths = Object.keys(drafts);
  const standing = paths.filter((path) => untouched(path, before, after));
  if (standing.length === paths.length) return drafts;
  return Object.fromEntries(standing.map((path) => [path, drafts[path]]));
}
