import type { DesignDocument } from '../design/schema.ts';

/** One way of changing the design. `perform` is pure: the document goes in, a new one comes out. */
export interface Command<Args> {
  /** Stable kebab-case identifier. */
  readonly name: string;
  /** What the step is called beside Undo: `Move the receiver`. */
  readonly label: (args: Args) => string;
  readonly perform: (document: DesignDocument, args: Args) => DesignDocument;
}

/**
 * Where a change stands within a gesture: `start`, `move` and `end` of a drag, `cancel` when it is taken back, `step` for a
 * key press; `once` for everything else.
 */
export type GesturePhase = 'start' | 'move' | 'end' | 'cancel' | 'step' | 'once';
