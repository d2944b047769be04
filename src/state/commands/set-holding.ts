import type { DesignDocument } from '../../design/schema.ts';
import type { Command } from '../command.ts';

type Holding = NonNullable<DesignDocument['holding']>;

export interface SetHoldingArgs {
  /** Absent: stays as it is; null: taken away. */
  readonly recess?: Holding['recess'];
  readonly magnets?: Holding['magnets'];
}

/** Gives the design a recess or magnets, or takes them away. */
export const setHolding: Command<SetHoldingArgs> = Object.freeze({
  name: 'set-holding',
  label: () => 'Choose what holds it',
  perform: (document: DesignDocument, change: SetHoldingArgs): DesignDocument => ({
    ...document,
    holding: { ...document.holding, ...change },
  }),
});
