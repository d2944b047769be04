import { withValueAt } from '../../design/edit.ts';
import { type PathSegment, parsePath, valueAt } from '../../design/path.ts';
import type { DesignDocument } from '../../design/schema.ts';
import type { Command } from '../command.ts';

export interface SetValueArgs {
  /** As in messages: `transmitter.drive.supplyV`, `stack[2].name`. */
  readonly path: string;
  /** In the unit the key names. */
  readonly value: unknown;
  /** Words for the undo step: `supply voltage`. */
  readonly what: string;
}

/** The document with a value put at a path of the format. */
export function withPath(document: DesignDocument, segments: readonly PathSegment[], value: unknown): DesignDocument {
  if (Object.is(valueAt(document, segments), value)) return document;
  const edited = withValueAt(document, segments, value);
  if (!edited.ok) throw new Error(`the page asked for a value that the format does not know: ${edited.fault.path}`);
  return edited.document as DesignDocument;
}

/** Puts one value into the document, as typed: whether it is allowed is for the design to say. */
export const setValue: Command<SetValueArgs> = Object.freeze({
  name: 'set-value',
  label: ({ what }: SetValueArgs) => `Change ${what}`,
  perform: (document: DesignDocument, { path, value }: SetValueArgs): DesignDocument => {
    const parsed = parsePath(path);
    if (!parsed.ok) throw new Error(`not a path: ${path}`);
    return withPath(document, parsed.segments, value);
  },
});
