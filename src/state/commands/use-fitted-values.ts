import { type Change, withChanges } from '../../analysis/prove/design-changes.ts';
import type { DesignDocument } from '../../design/schema.ts';
import type { Command } from '../command.ts';

export interface UseFittedValuesArgs {
  readonly changes: readonly Change[];
}

/** Writes what a fit found into the design, all at once: one step back undoes it. */
export const useFittedValues: Command<UseFittedValuesArgs> = Object.freeze({
  name: 'use-fitted-values',
  label: ({ changes }: UseFittedValuesArgs) =>
    `Use ${changes.length} fitted ${changes.length === 1 ? 'value' : 'values'}`,
  perform: (document: DesignDocument, { changes }: UseFittedValuesArgs): DesignDocument =>
    withChanges(document, changes) as DesignDocument,
});
