import { parsePath, valueAt } from '../../design/path.ts';
import type { DesignDocument } from '../../design/schema.ts';
import type { Command } from '../command.ts';
import { withPath } from './set-value.ts';

export interface TakeOverArgs {
  /** As in messages: `transmitter.drive.supplyV`. */
  readonly path: string;
  /** The design whose value is taken. */
  readonly from: DesignDocument;
  /** Words for the undo step: `transmitter, supply voltage`. */
  readonly words: string;
}

/** Takes one value of another design over. Where it is of the stack, the gap follows. */
export const takeOver: Command<TakeOverArgs> = Object.freeze({
  name: 'take-over',
  label: ({ words }: TakeOverArgs) => `Take over ${words}`,
  perform: (document: DesignDocument, { path, from }: TakeOverArgs): DesignDocument => {
    const parsed = parsePath(path);
    if (!parsed.ok) throw new Error(`not a path: ${path}`);
    const next = withPath(document, parsed.segments, valueAt(from, parsed.segments));
    if (parsed.segments[0] !== 'stack') return next;
    const stacked = (next.stack?.length ?? 0) > 0;
    return withPath(next, ['placement', 'gapMm'], stacked ? undefined : from.placement?.gapMm);
  },
});
