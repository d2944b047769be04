import type { DesignDocument } from '../../design/schema.ts';
import type { Command } from '../command.ts';
import { withLoads, without } from './loads-of.ts';

export interface RemoveLoadArgs {
  readonly index: number;
}

/** Takes a load out, and its name from those it ran beside. */
export const removeLoad: Command<RemoveLoadArgs> = Object.freeze({
  name: 'remove-load',
  label: () => 'Take out a load',
  perform: (document: DesignDocument, { index }: RemoveLoadArgs): DesignDocument => {
    const { loads } = document.demand;
    const gone = loads[index];
    if (!gone) return document;
    const left = loads.filter((_, i) => i !== index).map((load) => without(load, gone.name));
    return withLoads(document, left);
  },
});
