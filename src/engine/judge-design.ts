import type { PlateSensitivity } from '../analysis/margin/plate-sensitivity.ts';
import type { CandidateReport } from '../analysis/pair/candidate-report.ts';
import type { NarrowPlan } from '../analysis/pair/narrow-model.ts';
import type { Design } from '../design/types.ts';
import { inChunks } from './in-chunks.ts';
import type { Runner } from './runner.ts';
import type { Outcome } from './types.ts';

/** Poses per chunk on the coarse grids. */
const POSE_CHUNK = 12;
/** What the parts of the work take, roughly, of its time. */
const SHARES = Object.freeze({ plan: 0.4, poses: 0.4 });

/** The plan of a design's narrow model and the values of its poses. @param told share done, 0..1 */
export async function narrowValues(
  runner: Runner,
  design: Design,
  signal: AbortSignal,
  told: (share: number) => void,
): Promise<Outcome<{ readonly plan: NarrowPlan; readonly values: Float64Array }>> {
  const lane = { lane: 'back', signal } as const;
  const plan = await runner.run('narrowPlan', { design }, lane);
  if (!plan.ok) return plan;
  told(SHARES.plan);
  // The numbers of a pose come with the plan: the page's own thread has no use for the field model.
  const { poses, outputs } = plan.value;
  const values = new Float64Array(poses * outputs);
  let solved = 0;
  const failure = await inChunks(poses, POSE_CHUNK, 1, async (from) => {
    const to = Math.min(poses, from + POSE_CHUNK);
    const part = await runner.run('narrowPoses', { design, plan: plan.value, from, to }, lane);
    if (!part.ok) return part;
    values.set(part.value, from * outputs);
    solved += to - from;
    told(SHARES.plan + (SHARES.poses * solved) / poses);
    return null;
  });
  return failure ?? { ok: true, value: { plan: plan.value, values }, elapsedMs: 0 };
}

/** Judges one design by direct solutions and a map of its own. @param told share done, 0..1 */
export async function judgeDesign(
  runner: Runner,
  plateAnswers: (design: Design, signal: AbortSignal) => Promise<Outcome<readonly PlateSensitivity[]>>,
  design: Design,
  signal: AbortSignal,
  told: (share: number) => void,
): Promise<Outcome<CandidateReport>> {
  const narrow = await narrowValues(runner, design, signal, told);
  if (!narrow.ok) return narrow;
  const plates = await plateAnswers(design, signal);
  if (!plates.ok) return plates;
  return runner.run('candidate', { design, ...narrow.value, plates: plates.value }, { lane: 'back', signal });
}
