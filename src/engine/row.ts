import type { PlateSensitivity } from '../analysis/margin/plate-sensitivity.ts';
import type { CoilRowReport, MemberMap } from '../analysis/pair/coil-row.ts';
import type { Design } from '../design/types.ts';
import { inChunks } from './in-chunks.ts';
import { narrowValues } from './judge-design.ts';
import type { Runner } from './runner.ts';
import type { Outcome, Progress } from './types.ts';

/** Points a side of each coil's map. Odd, so that the centre is one of them. */
const MAP_POINTS = 41;

/** The union of a row of transmitter coils (`transmitter.furtherCoils`), of which the best one is driven. */
export async function coilRow(
  runner: Runner,
  plateAnswers: (design: Design, signal: AbortSignal) => Promise<Outcome<readonly PlateSensitivity[]>>,
  design: Design,
  signal: AbortSignal,
  now: () => number,
  onProgress?: (progress: Progress) => void,
): Promise<Outcome<CoilRowReport>> {
  const began = now();
  const lane = { lane: 'back', signal } as const;
  const members = await runner.run('rowMembers', { design }, lane);
  if (!members.ok) return members;
  const plates = await plateAnswers(members.value[0]!.design, signal);
  if (!plates.ok) return plates;
  const count = members.value.length;
  const maps = new Array<MemberMap>(count);
  const done = new Float64Array(count);
  const failed = await inChunks(count, 1, runner.width, async (index) => {
    const { design: own } = members.value[index]!;
    const told = (share: number): void => {
      done[index] = share;
      onProgress?.({ fraction: done.reduce((sum, value) => sum + value, 0) / count, stage: 'the coils of the row' });
    };
    const narrow = await narrowValues(runner, own, signal, told);
    if (!narrow.ok) return narrow;
    const map = await runner.run(
      'rowMap',
      { design: own, ...narrow.value, points: MAP_POINTS, plates: plates.value },
      lane,
    );
    if (!map.ok) return map;
    maps[index] = map.value;
    told(1);
    return null;
  });
  if (failed) return failed;
  const row = await runner.run('rowAnswer', { design, members: members.value, maps }, lane);
  return row.ok ? { ...row, elapsedMs: now() - began } : row;
}
