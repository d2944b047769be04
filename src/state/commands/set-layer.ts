import type { DesignDocument } from '../../design/schema.ts';
import type { Command } from '../command.ts';
import { withStack } from './stack-of.ts';

export interface SetLayerArgs {
  readonly index: number;
  readonly name?: string;
  readonly thicknessMm?: number;
  readonly toleranceMm?: number;
}

/** Changes a layer of the stack; the gap follows, so a gap stated beside the stack is taken out. */
export const setLayer: Command<SetLayerArgs> = Object.freeze({
  name: 'set-layer',
  label: ({ name }: SetLayerArgs) => (name === undefined ? 'Change a layer' : 'Rename a layer'),
  perform: (document: DesignDocument, { index, ...change }: SetLayerArgs): DesignDocument => {
    const stack = (document.stack ?? []).map((layer, i) => (i === index ? { ...layer, ...change } : layer));
    return withStack(document, stack);
  },
});
