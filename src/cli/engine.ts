import type { Outcome, Progress } from '../engine/types.ts';
import type { GivenOptions } from './options.ts';
import { tellFaults } from './read-design.ts';
import { EXIT, harmless, jsonText, type Terminal } from './terminal.ts';

/** Progress of long work on standard error: rewritten in place on a terminal, silent elsewhere. */
export function showProgress(): (progress: Progress) => void {
  if (!process.stderr.isTTY) return () => undefined;
  return ({ fraction, stage }) => {
    const percent = Math.round(Math.min(Math.max(fraction, 0), 1) * 100);
    // Past the guard: these two signs are ours and meant to be obeyed.
    process.stderr.write(`\r\u001b[K${percent < 100 ? `${percent} % ${harmless(stage)}` : ''}`);
  };
}

/** Tells what did not converge. @returns the exit code. */
export function tellNotConverged(message: string, given: GivenOptions, terminal: Terminal): number {
  const line = message.replace(/[\r\n]+/g, ' ');
  terminal.err(`${line}\n`);
  if (given.values.has('json')) terminal.out(`${jsonText({ ok: false, faults: [], message: line })}\n`);
  return EXIT.notConverged;
}

/** Tells why the engine gave no value. @returns the exit code. */
export function tellFailure(outcome: Outcome<unknown>, given: GivenOptions, terminal: Terminal): number {
  if (outcome.ok) return EXIT.done;
  if (outcome.faults.length > 0) return tellFaults(outcome.faults, given, terminal);
  return tellNotConverged(outcome.message, given, terminal);
}
