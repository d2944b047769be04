import { describe, expect, it } from 'vitest';
import { fieldLineSeeds, fieldLines } from '../../src/analysis/pair/field-lines.ts';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { parseDesign } from '../../src/design/resolve.ts';
import { fieldLinesInChunks } from '../../src/engine/field-lines.ts';
import { doJob } from '../../src/engine/jobs.ts';
import { createLocalRunner } from '../../src/engine/local-runner.ts';
import { createPoolRunner } from '../../src/engine/pool-runner.ts';

function airDesign() {
  const parsed = parseDesign({
    ...DEMO_DESIGN,
    transmitter: { ...DEMO_DESIGN.transmitter, ferrite: null, metal: null },
    receiver: { ...DEMO_DESIGN.receiver, ferrite: null, metal: null },
  });
  if (!parsed.ok) throw new Error('the demo design must parse');
  return parsed.design;
}

const never = new AbortController().signal;

describe('field lines through the engine', () => {
  it('are those of the analysis, in its order, whatever the size of the pool', async () => {
    const design = airDesign();
    const expected = fieldLines(design, fieldLineSeeds(design));
    for (const width of [1, 3]) {
      const runner = createPoolRunner(
        () => ({
          call: async (name, args) => structuredClone(await doJob(name, structuredClone(args) as never)),
          onDeath: () => undefined,
          terminate: () => undefined,
        }),
        { backWorkers: width },
      );
      const told: number[] = [];
      const lines = await fieldLinesInChunks(
        runner,
        () => 0,
        design,
        never,
        ({ fraction }) => told.push(fraction),
      );
      if (!lines.ok) throw new Error(lines.message);
      expect(lines.value).toEqual(expected);
      expect(told.at(-1)).toBe(1);
      runner.dispose();
    }
  });

  it('can be stopped', async () => {
    const stop = new AbortController();
    const asked = fieldLinesInChunks(
      createLocalRunner(),
      () => 0,
      airDesign(),
      stop.signal,
      () => stop.abort(),
    );
    await expect(asked).rejects.toMatchObject({ name: 'AbortError' });
  });
});
