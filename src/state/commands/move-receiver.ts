import type { DesignDocument } from '../../design/schema.ts';
import type { Command } from '../command.ts';

export interface MoveReceiverArgs {
  readonly xMm: number;
  readonly yMm: number;
}

/** Puts the receiver's centre at an offset from the transmitter's axis. */
export const moveReceiver: Command<MoveReceiverArgs> = Object.freeze({
  name: 'move-receiver',
  label: () => 'Move the receiver',
  perform: (document: DesignDocument, { xMm, yMm }: MoveReceiverArgs) => ({
    ...document,
    placement: { ...document.placement, offsetXMm: xMm, offsetYMm: yMm },
  }),
});
