import type { GivenOptions, OptionRules } from './options.ts';
import type { Terminal } from './terminal.ts';

/** Does the work of one command. @returns the exit code. */
export type Command = (given: GivenOptions, terminal: Terminal) => Promise<number>;

export interface CommandEntry {
  readonly summary: string;
  /** What follows the command's name in its usage line. */
  readonly takes: string;
  /** How many files it wants: least and most. */
  readonly files: readonly [number, number];
  readonly options: OptionRules;
  readonly notes?: string;
  readonly load: () => Promise<Command>;
}
