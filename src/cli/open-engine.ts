import { existsSync } from 'node:fs';
import { createLocalEngine } from '../engine/local-engine.ts';
import { createNodeEngine } from '../engine/node-engine.ts';
import type { Engine } from '../engine/types.ts';

/** The engine for long work: in threads where the built worker stands beside this file, else in this thread. */
export function openEngine(): Engine {
  const entry = new URL(`${'engine-worker'}.mjs`, import.meta.url);
  return existsSync(entry) ? createNodeEngine(entry) : createLocalEngine();
}
