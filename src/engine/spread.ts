import type { OperatingSpread } from '../analysis/feed/operating-spread.ts';
import type { PlateSensitivity } from '../analysis/margin/plate-sensitivity.ts';
import type { Design } from '../design/types.ts';
import type { Runner } from './runner.ts';
import type { Outcome } from './types.ts';

/** Bands of the operating point: after the plates' answers, on the worker that has just solved the pose. */
export async function spreadOf(
  runner: Runner,
  plateAnswers: (design: Design, signal: AbortSignal) => Promise<Outcome<readonly PlateSensitivity[]>>,
  design: Design,
  signal: AbortSignal,
): Promise<Outcome<OperatingSpread>> {
  const plates = await plateAnswers(design, signal);
  if (!plates.ok) return plates;
  return runner.run('operatingSpread', { design, plates: plates.value }, { lane: 'front', signal });
}
