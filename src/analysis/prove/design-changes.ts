import { withValueAt } from '../../design/edit.ts';
import { parsePath } from '../../design/path.ts';
import type { FitParameter } from './fit-parameters.ts';

/** One key of the design that fitted values would change. */
export interface Change {
  /** As in the list of values. */
  readonly name: string;
  readonly path: string;
  readonly unit: FitParameter['unit'] | 'uH' | 'mohm';
  /** What the model uses now: the design's value, or what was computed for it. */
  readonly from: number;
  readonly to: number;
  /** Where the key says nothing yet. */
  readonly wasComputed: boolean;
}

/** What the fit would change in the design, and what it leaves. */
export interface TakeOver {
  readonly changes: readonly Change[];
  /** Values of which the readings say next to nothing: they stay. */
  readonly left: readonly string[];
}

/** The document with the changes written into it. */
export function withChanges(document: unknown, changes: readonly Change[]): unknown {
  return changes.reduce((out, { path, to }) => {
    const parsed = parsePath(path);
    const edited = parsed.ok ? withValueAt(out, parsed.segments, to) : null;
    return edited?.ok ? edited.document : out;
  }, document);
}
