import type { DesignDocument } from '../../design/schema.ts';
import type { Command } from '../command.ts';
import { withStack } from './stack-of.ts';

export interface AddLayerArgs {
  /** Place in the stack, from the transmitter up. */
  readonly index: number;
  readonly name: string;
  readonly thicknessMm: number;
}

/** Puts a new layer between the coils. A design without a stack gets its gap as a first layer of air. */
export const addLayer: Command<AddLayerArgs> = Object.freeze({
  name: 'add-layer',
  label: ({ name }: AddLayerArgs) => `Add ${name}`,
  perform: (document: DesignDocument, { index, name, thicknessMm }: AddLayerArgs): DesignDocument => {
    const gapMm = document.placement?.gapMm;
    const known = document.stack ?? [];
    const stack = known.length === 0 && gapMm !== undefined ? [{ name: 'air', thicknessMm: gapMm }] : [...known];
    stack.splice(Math.min(Math.max(index, 0), stack.length), 0, { name, thicknessMm });
    return withStack(document, stack);
  },
});
