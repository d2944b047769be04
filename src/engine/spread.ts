import type { ExposureReport, FieldSource } from '../analysis/exposure/exposure-report.ts';
import type { OperatingSpread } from '../analysis/feed/operating-spread.ts';
import type { PlateSensitivity } from '../analysis/margin/plate-sensitivity.ts';
import type { Design } from '../design/types.ts';
import type { Runner } from './runner.ts';
import type { Outcome } from './types.ts';

type PlateAnswers = (design: Design, signal: AbortSignal) => Promise<Outcome<readonly PlateSensitivity[]>>;

/** Bands of the operating point: after the plates' answers, on the worker that has just solved the pose. */
export async function spreadOf(
  runner: Runner,
  plateAnswers: PlateAnswers,
  design: Design,
  signal: AbortSignal,
): Promise<Outcome<OperatingSpread>> {
  const plates = await plateAnswers(design, signal);
  if (!plates.ok) return plates;
  return runner.run('operatingSpread', { design, plates: plates.value }, { lane: 'front', signal });
}

/** The field around the link at an operating point: the same worker again, whose plates stand. */
export async function exposureOf(
  runner: Runner,
  plateAnswers: PlateAnswers,
  design: Design,
  source: FieldSource,
  signal: AbortSignal,
): Promise<Outcome<ExposureReport | null>> {
  const plates = await plateAnswers(design, signal);
  if (!plates.ok) return plates;
  return runner.run('exposure', { design, source, plates: plates.value }, { lane: 'front', signal });
}
