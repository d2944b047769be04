import type { Outcome, Progress } from '../engine/types.ts';
import type { GivenOptions } from './options.ts';
import { tellFaults } from './read-design.ts';
import { EXIT, harmless, type Terminal } from './terminal.ts';

/** Progress of long work on standard error: rewritten in place on a terminal, silent elsewhere. */
export function showProgress(): (progress: Progress) => void {
  if (!process.stderr.isTTY) return () => undefined;
  return ({ fraction, stage }) => {
    const percent = Math.round(Math.min(Math.max(fraction, 0), 1) * 100);
    // Past the guard: these two signs are ours and meant to be obeyed.
    process.stderr.write(`\r\u001b[K${percent < 100 ? `${percent} % ${harmless(stage)}` : ''}`);
  };
}

/** Tells why the engine gave no value. @returns the exit code. */
export function tellFailure(outcome: Outcome<unknown>, given: GivenOptions, terminal: Terminal): number {
  if (outcome.ok) return EXIT.done;
  if (outcome.faults.length > 0) return tellFaults(outcome.faults, given, terminal);
  terminal.err(`${outcome.message.replace(/[\r\n]+/g, ' ')}\n`);
  return EXIT.notConverged;
}
