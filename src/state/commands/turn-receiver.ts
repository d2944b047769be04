import type { DesignDocument } from '../../design/schema.ts';
import type { Command } from '../command.ts';

export interface TurnReceiverArgs {
  /** Those given change, the others stay. */
  readonly yawDeg?: number;
  readonly tiltXDeg?: number;
  readonly tiltYDeg?: number;
}

/** Turns or tilts the receiver. */
export const turnReceiver: Command<TurnReceiverArgs> = Object.freeze({
  name: 'turn-receiver',
  label: ({ yawDeg }: TurnReceiverArgs) => (yawDeg === undefined ? 'Tilt the receiver' : 'Turn the receiver'),
  perform: (document: DesignDocument, args: TurnReceiverArgs) => ({
    ...document,
    placement: { ...document.placement, ...args },
  }),
});
