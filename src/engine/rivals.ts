import { PLATE_OUTPUTS } from '../analysis/link/plates.ts';
import type { PlateSensitivity } from '../analysis/margin/plate-sensitivity.ts';
import type { CandidateReport } from '../analysis/pair/candidate-report.ts';
import { type Candidate, type RefusedRival, type RivalsRequest, retuned } from '../analysis/pair/rivals.ts';
import type { Judged, RivalsAnswer } from '../analysis/pair/verdict.ts';
import type { Design } from '../design/types.ts';
import { type Failed, inChunks } from './in-chunks.ts';
import type { Runner } from './runner.ts';
import type { Outcome, Progress } from './types.ts';

/** Poses per chunk on the coarse grids. */
const POSE_CHUNK = 12;
/** What the parts of one candidate's work take, roughly, of its time. */
const SHARES = Object.freeze({ inductances: 0.45, poses: 0.4 });

/** Judges a design and its rivals, one candidate after the other (or beside each other, where there are workers). */
export async function compareRivals(
  runner: Runner,
  plateAnswers: (design: Design, signal: AbortSignal) => Promise<Outcome<readonly PlateSensitivity[]>>,
  request: RivalsRequest,
  signal: AbortSignal,
  now: () => number,
  onProgress?: (progress: Progress) => void,
): Promise<Outcome<RivalsAnswer>> {
  const began = now();
  const { design } = request;
  const lane = { lane: 'back', signal } as const;
  const made = await runner.run('rivals', { design }, lane);
  if (!made.ok) return made;
  const plates = await plateAnswers(design, signal);
  if (!plates.ok) return plates;
  const first = await runner.run('centredInductances', { design }, lane);
  if (!first.ok) return first;
  const kept = request.kept.map(
    ({ name, design: other }, i): Candidate => ({
      id: `kept${i + 1}`,
      kind: 'kept',
      name,
      note: 'Kept by you, as it is.',
      design: other,
    }),
  );
  const candidates = [...made.value.candidates, ...kept];
  const refused: RefusedRival[] = [...made.value.refused];
  const judged = new Array<Judged | null>(candidates.length).fill(null);
  const done = new Float64Array(candidates.length);
  const say = (index: number, share: number): void => {
    done[index] = share;
    const fraction = done.reduce((sum, value) => sum + value, 0) / done.length;
    onProgress?.({ fraction, stage: 'judging the rivals' });
  };
  const failed = await inChunks(candidates.length, 1, runner.width, async (index) => {
    const candidate = candidates[index]!;
    const report = await judge(candidate, (share) => say(index, share));
    if (report.ok) judged[index] = { ...named(candidate), report: report.value };
    else if (candidate.kind === 'own') return report;
    else refused.push({ kind: candidate.kind, name: candidate.name, reason: report.message });
    say(index, 1);
    return null;
  });
  if (failed) return failed;
  return {
    ok: true,
    elapsedMs: now() - began,
    value: { judged: judged.filter((entry) => entry !== null), refused },
  };

  async function judge(candidate: Candidate, say_: (share: number) => void): Promise<Outcome<CandidateReport>> {
    let own = candidate.design;
    if (candidate.kind !== 'own' && candidate.kind !== 'kept') {
      const at = await runner.run('centredInductances', { design: own }, lane);
      if (!at.ok) return at;
      if (first.ok) own = retuned(own, first.value, at.value);
    }
    say_(SHARES.inductances);
    const plan = await runner.run('narrowPlan', { design: own }, lane);
    if (!plan.ok) return plan;
    const { poses } = plan.value;
    const values = new Float64Array(poses * PLATE_OUTPUTS);
    let solved = 0;
    const failure: Failed | null = await inChunks(poses, POSE_CHUNK, 1, async (from) => {
      const to = Math.min(poses, from + POSE_CHUNK);
      const part = await runner.run('narrowPoses', { design: own, plan: plan.value, from, to }, lane);
      if (!part.ok) return part;
      values.set(part.value, from * PLATE_OUTPUTS);
      solved += to - from;
      say_(SHARES.inductances + (SHARES.poses * solved) / poses);
      return null;
    });
    if (failure) return failure;
    const answers = plates.ok ? plates.value : [];
    return runner.run('candidate', { design: own, plan: plan.value, values, plates: answers }, lane);
  }
}

function named({ id, kind, name, note }: Candidate): Omit<Judged, 'report'> {
  return { id, kind, name, note };
}
