import type { Design } from '../design/types.ts';
import { type Failed, inChunks } from './in-chunks.ts';
import type { Runner } from './runner.ts';
import type { Outcome, Progress } from './types.ts';

/** Lines per chunk: with plates each takes some tens of milliseconds. */
const CHUNK = 3;

/** Field lines of a pair, traced a few at a time so that they can be stopped. */
export async function fieldLinesInChunks(
  runner: Runner,
  now: () => number,
  design: Design,
  signal: AbortSignal,
  onProgress?: (progress: Progress) => void,
): Promise<Outcome<readonly Float64Array[]>> {
  const began = now();
  const seeds = await runner.run('fieldSeeds', { design }, { lane: 'back', signal });
  if (!seeds.ok) return seeds;
  const count = seeds.value.length / 3;
  const lines = new Array<Float64Array>(count);
  let done = 0;
  const failed = await inChunks(count, CHUNK, runner.width, async (from): Promise<Failed | null> => {
    const part = await runner.run(
      'fieldTrace',
      { design, seeds: seeds.value.slice(3 * from, 3 * (from + CHUNK)) },
      { lane: 'back', signal },
    );
    if (!part.ok) return part;
    part.value.forEach((line, i) => {
      lines[from + i] = line;
    });
    done += part.value.length;
    onProgress?.({ fraction: done / count, stage: 'field lines' });
    return null;
  });
  return failed ?? { ok: true, value: lines, elapsedMs: now() - began };
}
