import { describe, expect, it } from 'vitest';
import type { PlateSensitivity } from '../../src/analysis/margin/plate-sensitivity.ts';
import { rivalsOf } from '../../src/analysis/pair/rivals.ts';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { parseDesign } from '../../src/design/resolve.ts';
import type { Design } from '../../src/design/types.ts';
import { compareRivals } from '../../src/engine/rivals.ts';
import type { Runner } from '../../src/engine/runner.ts';
import type { Outcome } from '../../src/engine/types.ts';

function demo(): Design {
  const parsed = parseDesign(DEMO_DESIGN);
  if (!parsed.ok) throw new Error('the demo must parse');
  return parsed.design;
}

const widthOf = (design: Design): number => {
  const { outline } = design.transmitter.coil;
  return outline.shape === 'circle' ? outline.outerDiameterMm : outline.shape === 'path' ? 0 : outline.outerWidthMm;
};

/** A runner that notes what each candidate is judged with; its numbers say which coils they belong to. */
function noting(judgedWith: Map<string, number[]>): Runner {
  const run = async (name: string, args: { design: Design; plates?: readonly PlateSensitivity[] }) => {
    const value = ((): unknown => {
      switch (name) {
        case 'rivals':
          return rivalsOf(args.design);
        case 'centredInductances':
          return { l1: 8e-6, l2: 15e-6 };
        case 'narrowPlan':
          return { poses: 1, outputs: 1, domain: {}, attitude: {} };
        case 'narrowPoses':
          return new Float64Array(1);
        default:
          judgedWith.set(JSON.stringify([args.design.transmitter.coil, args.design.receiver.coil]), [
            ...(args.plates ?? []).map(({ l1 }) => l1),
          ]);
          return { design: args.design };
      }
    })();
    return { ok: true, value, elapsedMs: 0 };
  };
  return { width: 2, run, dispose: () => undefined } as unknown as Runner;
}

const plateAnswers = async (design: Design): Promise<Outcome<readonly PlateSensitivity[]>> => ({
  ok: true,
  value: [{ path: 'receiver.ferrite.standoffMm', l1: widthOf(design), l2: 0, m: 0 }],
  elapsedMs: 0,
});

describe('the comparison with rivals', () => {
  it('judges every candidate with its own answer to the ferrite’s tolerances', async () => {
    const judgedWith = new Map<string, number[]>();
    const design = demo();
    const kept = { ...design, transmitter: { ...design.transmitter, coil: { ...design.transmitter.coil, turns: 9 } } };
    const outcome = await compareRivals(
      noting(judgedWith),
      plateAnswers,
      { design, kept: [{ name: 'nine turns', design: kept }] },
      new AbortController().signal,
      () => 0,
    );
    if (!outcome.ok) throw new Error(outcome.message);
    expect(outcome.value.judged.length).toBeGreaterThan(3);
    expect(judgedWith.size).toBe(outcome.value.judged.length);
    for (const { report } of outcome.value.judged) {
      const key = JSON.stringify([report.design.transmitter.coil, report.design.receiver.coil]);
      expect(judgedWith.get(key)).toEqual([widthOf(report.design)]);
    }
    // The transmitter of the receiver's shape is another one: the widths are not all alike.
    expect(new Set([...judgedWith.values()].flat()).size).toBeGreaterThan(1);
  });

  it('gives the same reports whatever the order in which designs were kept', async () => {
    const design = demo();
    const named = [1, 2, 3].map((turns) => ({
      name: `${turns} turns less`,
      design: {
        ...design,
        receiver: { ...design.receiver, coil: { ...design.receiver.coil, turns: 14 - turns } },
      },
    }));
    const ask = async (kept: typeof named) => {
      const outcome = await compareRivals(
        noting(new Map()),
        plateAnswers,
        { design, kept },
        new AbortController().signal,
        () => 0,
      );
      if (!outcome.ok) throw new Error(outcome.message);
      return new Map(outcome.value.judged.map(({ name, report }) => [name, report]));
    };
    const [forward, backward] = [await ask(named), await ask(named.toReversed())];
    expect(backward.size).toBe(forward.size);
    for (const [name, report] of forward) expect(backward.get(name)).toEqual(report);
  });
});
