import { createEngine } from './coordinator.ts';
import { createLocalRunner } from './local-runner.ts';
import type { Engine } from './types.ts';

/** The engine in this thread: for tests and for the command line's short answers. */
export function createLocalEngine(): Engine {
  return createEngine(createLocalRunner(), () => performance.now());
}
