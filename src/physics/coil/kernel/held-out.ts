import { type RandomSource, randomSource } from '../../../numerics/random.ts';

/**
 * Random numbers for held-out points: another sequence for every other set of inputs, the same for the same inputs, so
 * that checks are not tuned to fixed points and results stay reproducible.
 */
export function heldOutSource(...inputs: readonly number[]): RandomSource {
  const words = new Uint32Array(Float64Array.from(inputs).buffer);
  let hash = 0x811c9dc5;
  for (const word of words) hash = Math.imul(hash ^ word ^ (word >>> 15), 0x01000193);
  return randomSource(hash >>> 0);
}
