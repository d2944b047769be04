import type { DesignDocument } from '../../design/schema.ts';
import type { Command } from '../command.ts';

export interface ReplaceDesignArgs {
  readonly document: DesignDocument;
  /** Where it came from: `Open guide.json`, `New design`. */
  readonly label: string;
}

/** Puts a whole other design on the table: opened, dropped, shared or new. Undo brings the old one back. */
export const replaceDesign: Command<ReplaceDesignArgs> = Object.freeze({
  name: 'replace-design',
  undo: 'record',
  label: ({ label }: ReplaceDesignArgs) => label,
  perform: (_document: DesignDocument, { document }: ReplaceDesignArgs): DesignDocument => document,
});
