import type { PlateSensitivity } from '../analysis/margin/plate-sensitivity.ts';
import type { BoardBounds } from '../analysis/pair/board-bounds.ts';
import type { Design } from '../design/types.ts';
import { inChunks } from './in-chunks.ts';
import { narrowValues } from './judge-design.ts';
import type { Runner } from './runner.ts';
import type { Outcome, Progress } from './types.ts';

/** Boards per chunk: some thirty milliseconds each. */
const BOARD_CHUNK = 4;
/** Share of the time that the link takes. */
const LINK_SHARE = 0.3;

/** The intervals over plausible boards of a design that does not know its own. */
export async function boundsOf(
  runner: Runner,
  plateAnswers: (design: Design, signal: AbortSignal) => Promise<Outcome<readonly PlateSensitivity[]>>,
  design: Design,
  signal: AbortSignal,
  now: () => number,
  onProgress?: (progress: Progress) => void,
): Promise<Outcome<BoardBounds>> {
  const began = now();
  const lane = { lane: 'back', signal } as const;
  const count = await runner.run('boardCount', { design }, lane);
  if (!count.ok) return count;
  const narrow = await narrowValues(runner, design, signal, (share) =>
    onProgress?.({ fraction: LINK_SHARE * share, stage: 'the link over the offsets' }),
  );
  if (!narrow.ok) return narrow;
  const boards = count.value;
  let trials = new Float64Array();
  let done = 0;
  const failed = await inChunks(boards, BOARD_CHUNK, runner.width, async (from) => {
    const to = Math.min(boards, from + BOARD_CHUNK);
    const part = await runner.run('boardTrials', { design, ...narrow.value, from, to }, lane);
    if (!part.ok) return part;
    const numbers = part.value.length / (to - from);
    if (trials.length === 0) trials = new Float64Array(boards * numbers);
    trials.set(part.value, from * numbers);
    done += to - from;
    const fraction = LINK_SHARE + ((1 - LINK_SHARE) * done) / boards;
    onProgress?.({ fraction, stage: `board ${done} of ${boards}` });
    return null;
  });
  if (failed) return failed;
  const plates = await plateAnswers(design, signal);
  if (!plates.ok) return plates;
  const bounds = await runner.run('boardBounds', { design, plates: plates.value, trials }, lane);
  return bounds.ok ? { ...bounds, elapsedMs: now() - began } : bounds;
}
