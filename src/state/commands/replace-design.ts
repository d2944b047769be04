import type { DesignDocument } from '../../design/schema.ts';
import type { Command } from '../command.ts';

export interface ReplaceDesignArgs {
  readonly document: DesignDocument;
  /** What was done to get it: `Retune`, `Take over the traced outline`. */
  readonly label: string;
}

/** Puts a document on the table that was made from the one there, where more than one part of it changed. */
export const replaceDesign: Command<ReplaceDesignArgs> = Object.freeze({
  name: 'replace-design',
  label: ({ label }: ReplaceDesignArgs) => label,
  perform: (_document: DesignDocument, { document }: ReplaceDesignArgs): DesignDocument => document,
});
