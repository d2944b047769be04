import { expect, test } from 'vitest';
import type { PlateSensitivity } from '../../src/analysis/margin/plate-sensitivity.ts';
import type { Runner } from '../../src/engine/runner.ts';
import { spreadOf } from '../../src/engine/spread.ts';
import type { Outcome } from '../../src/engine/types.ts';
import { demoWith } from '../analysis/feed/designs.ts';

const plates: readonly PlateSensitivity[] = [{ path: 'x', l1: 1, l2: 2, m: 3 }];

test('the plates’ answers come first and go into the job, on the lane of the pose', async () => {
  const asked: unknown[] = [];
  const runner = {
    run: async (...args: unknown[]) => {
      asked.push(args);
      return { ok: true, value: 'done', elapsedMs: 1 };
    },
  } as unknown as Runner;
  const design = demoWith();
  const signal = new AbortController().signal;
  const outcome = await spreadOf(runner, async () => ({ ok: true, value: plates, elapsedMs: 0 }), design, signal);
  expect(outcome).toMatchObject({ ok: true, value: 'done' });
  expect(asked).toEqual([['operatingSpread', { design, plates }, { lane: 'front', signal }]]);
});

test('a failure on the way is handed on, and no job is sent', async () => {
  const runner = { run: () => Promise.reject(new Error('not to be called')) } as unknown as Runner;
  const failed: Outcome<readonly PlateSensitivity[]> = { ok: false, faults: [], message: 'no' };
  expect(await spreadOf(runner, async () => failed, demoWith(), new AbortController().signal)).toEqual(failed);
});
