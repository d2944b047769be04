import type { DesignDocument } from '../../design/schema.ts';
import type { Command } from '../command.ts';
import { type StackLayer as Layer, withStack } from './stack-of.ts';

export interface SetGapArgs {
  readonly gapMm: number;
}

/** Without the 0.1 + 0.2 digits: layers are written to a thousandth of a millimetre. */
function tidy(value: number): number {
  return Number(value.toFixed(4));
}

/** Index of the layer that gives way: the air, else the thickest. */
function softestLayer(stack: readonly Layer[]): number {
  const air = stack.findIndex((layer) => /^air\b/i.test(layer.name));
  if (air >= 0 && stack[air].thicknessMm > 0) return air;
  return stack.reduce((best, layer, i) => (layer.thicknessMm > stack[best].thicknessMm ? i : best), 0);
}

/**
 * Opens or closes a stack to a new sum: more gap is air (an air layer is added where there is none); less gap takes the
 * air away first, then from the thickest layer down.
 */
export function stackOfGap(stack: readonly Layer[], gapMm: number): Layer[] {
  const layers = stack.map((layer) => ({ ...layer }));
  let change = tidy(gapMm - layers.reduce((sum, layer) => sum + layer.thicknessMm, 0));
  if (change > 0) {
    const air = layers.find((layer) => /^air\b/i.test(layer.name));
    if (air) air.thicknessMm = tidy(air.thicknessMm + change);
    else layers.push({ name: 'air', thicknessMm: change });
    return layers;
  }
  for (let guard = 0; change < 0 && guard <= layers.length; guard += 1) {
    const layer = layers[softestLayer(layers)];
    const taken = Math.min(layer.thicknessMm, -change);
    layer.thicknessMm = tidy(layer.thicknessMm - taken);
    change = tidy(change + taken);
  }
  return layers;
}

/** Sets the gap. Where a stack makes the gap, the stack is changed, since the two must agree. */
export const setGap: Command<SetGapArgs> = Object.freeze({
  name: 'set-gap',
  label: () => 'Change the gap',
  perform: (document: DesignDocument, { gapMm }: SetGapArgs): DesignDocument => {
    const stack = document.stack ?? [];
    if (stack.length === 0) return { ...document, placement: { ...document.placement, gapMm } };
    return withStack(document, stackOfGap(stack, gapMm));
  },
});
