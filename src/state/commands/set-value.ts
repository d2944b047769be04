import { type PathSegment, parsePath } from '../../design/path.ts';
import type { DesignDocument } from '../../design/schema.ts';
import type { Command } from '../command.ts';
import { withValue } from '../with-value.ts';

export interface SetValueArgs {
  /** As in messages: `transmitter.drive.supplyV`, `stack[2].name`. */
  readonly path: string;
  /** In the unit the key names; undefined takes the key out, so that its default applies. */
  readonly value: unknown;
  /** Words for the undo step: `supply voltage`. */
  readonly what: string;
}

export function segmentsOf(path: string): readonly PathSegment[] {
  const parsed = parsePath(path);
  if (!parsed.ok) throw new Error(`not a path: ${path}`);
  return parsed.segments;
}

/** Puts one value into the document, as typed: whether it is allowed is for the design to say. */
export const setValue: Command<SetValueArgs> = Object.freeze({
  name: 'set-value',
  undo: 'merge',
  label: ({ what }: SetValueArgs) => `Change ${what}`,
  perform: (document: DesignDocument, { path, value }: SetValueArgs) => withValue(document, segmentsOf(path), value),
});
