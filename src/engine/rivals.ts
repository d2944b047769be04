import type { PlateSensitivity } from '../analysis/margin/plate-sensitivity.ts';
import type { CandidateReport } from '../analysis/pair/candidate-report.ts';
import { type Candidate, type RefusedRival, type RivalsRequest, retuned } from '../analysis/pair/rivals.ts';
import type { Judged, RivalsAnswer } from '../analysis/pair/verdict.ts';
import type { Design } from '../design/types.ts';
import { inChunks } from './in-chunks.ts';
import { judgeDesign } from './judge-design.ts';
import type { Runner } from './runner.ts';
import type { Outcome, Progress } from './types.ts';

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
  const judge = async (candidate: Candidate, told: (share: number) => void): Promise<Outcome<CandidateReport>> => {
    if (candidate.kind === 'own' || candidate.kind === 'kept')
      return judgeDesign(runner, plateAnswers, candidate.design, signal, told);
    const at = await runner.run('centredInductances', { design: candidate.design }, lane);
    if (!at.ok) return at;
    return judgeDesign(runner, plateAnswers, retuned(candidate.design, first.value, at.value), signal, told);
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
}

function named({ id, kind, name, note }: Candidate): Omit<Judged, 'report'> {
  return { id, kind, name, note };
}
