import type { DesignDocument } from '../../design/schema.ts';
import type { Command } from '../command.ts';
import { withStack } from './stack-of.ts';

export interface RemoveLayerArgs {
  readonly index: number;
}

/** Takes a layer out. The last one leaves its thickness behind as the gap. */
export const removeLayer: Command<RemoveLayerArgs> = Object.freeze({
  name: 'remove-layer',
  label: () => 'Remove a layer',
  perform: (document: DesignDocument, { index }: RemoveLayerArgs): DesignDocument => {
    const known = document.stack ?? [];
    const rest = known.filter((_, i) => i !== index);
    if (known.length === rest.length) return document;
    const without = withStack(document, rest);
    return rest.length > 0
      ? without
      : { ...without, placement: { ...without.placement, gapMm: known[index].thicknessMm } };
  },
});
