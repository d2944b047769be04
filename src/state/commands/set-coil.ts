import type { DesignDocument } from '../../design/schema.ts';
import type { Command } from '../command.ts';
import { withPath } from './set-value.ts';

export type CoilQuantity =
  | 'outerDiameterMm'
  | 'innerDiameterMm'
  | 'outerWidthMm'
  | 'outerHeightMm'
  | 'innerWidthMm'
  | 'innerHeightMm'
  | 'outerCornerRadiusMm'
  | 'innerCornerRadiusMm'
  | 'turns'
  | 'layers';

export interface SetCoilArgs {
  readonly side: 'transmitter' | 'receiver';
  readonly quantity: CoilQuantity;
  readonly value: number;
}

/** Document path of a quantity of a coil. */
export function coilPath(side: 'transmitter' | 'receiver', quantity: CoilQuantity): string {
  return quantity === 'turns' || quantity === 'layers'
    ? `${side}.coil.${quantity}`
    : `${side}.coil.outline.${quantity}`;
}

/** Sets one size of a coil, or its number of turns, as dragged or typed. */
export const setCoil: Command<SetCoilArgs> = Object.freeze({
  name: 'set-coil',
  label: ({ side, quantity }: SetCoilArgs) =>
    quantity === 'turns' ? `Change the ${side}'s turns` : `Resize the ${side}`,
  perform: (document: DesignDocument, { side, quantity, value }: SetCoilArgs): DesignDocument =>
    withPath(document, coilPath(side, quantity).split('.'), value),
});
