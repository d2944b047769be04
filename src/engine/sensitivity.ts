import type { PlateSensitivity } from '../analysis/margin/plate-sensitivity.ts';
import type { Sensitivity, SensitivityRow } from '../analysis/sensitivity/sensitivity.ts';
import type { Design } from '../design/types.ts';
import { inChunks } from './in-chunks.ts';
import type { Runner } from './runner.ts';
import type { Outcome, Progress } from './types.ts';

/** What moves the margin most at the design's pose: one input after the other, a few seconds in all. */
export async function sensitivityOf(
  runner: Runner,
  plateAnswers: (design: Design, signal: AbortSignal) => Promise<Outcome<readonly PlateSensitivity[]>>,
  now: () => number,
  design: Design,
  signal: AbortSignal,
  onProgress?: (progress: Progress) => void,
): Promise<Outcome<Sensitivity>> {
  const began = now();
  const lane = { lane: 'back', signal } as const;
  const links = await runner.run('poseLinks', { design }, lane);
  if (!links.ok) return links;
  const plates = await plateAnswers(design, signal);
  if (!plates.ok) return plates;
  const start = await runner.run('sensitivityStart', { design, links: links.value }, lane);
  if (!start.ok) return start;
  const { base, inputs } = start.value;
  const rows = new Array<SensitivityRow>(inputs.length);
  let done = 0;
  const failed = await inChunks(inputs.length, 1, runner.width, async (index) => {
    const job = { design, links: links.value, plates: plates.value, base, input: inputs[index]! };
    const row = await runner.run('sensitivityRow', job, lane);
    if (!row.ok) return row;
    rows[index] = row.value;
    done++;
    onProgress?.({ fraction: done / inputs.length, stage: 'what moves the margin' });
    return null;
  });
  if (failed) return failed;
  const ranked = await runner.run('sensitivityRank', { design, base, rows }, lane);
  return ranked.ok ? { ...ranked, elapsedMs: now() - began } : ranked;
}
