import { describe, expect, it } from 'vitest';
import { SEARCH_DIMENSIONS, type SearchRequest } from '../../src/analysis/pair/search-space.ts';
import type { TrialResult } from '../../src/analysis/pair/search-trial.ts';
import type { Design } from '../../src/design/types.ts';
import type { Runner } from '../../src/engine/runner.ts';
import { searchDesigns } from '../../src/engine/search.ts';
import { airPair } from '../analysis/pair/air-pair.ts';

/** A reach with one greatest value, 20 mm at 0.7 and 0.3, whatever the other coordinates; forbidden in a corner. */
const reachAt = (x: ArrayLike<number>): number => 20 - 30 * (x[2]! - 0.7) ** 2 - 40 * (x[8]! - 0.3) ** 2;
const lossAt = (x: ArrayLike<number>): number => 0.3 + x[2]!;

/** A runner over that landscape; a design carries its trial in its title. */
function landscape(directly: (reachMm: number) => number): Runner {
  const rows = (all: Float64Array): Float64Array[] =>
    Array.from({ length: all.length / SEARCH_DIMENSIONS }, (_, i) =>
      all.slice(i * SEARCH_DIMENSIONS, (i + 1) * SEARCH_DIMENSIONS),
    );
  const result = (x: Float64Array): TrialResult => ({
    violation: x[8]! > 0.9 ? 1 : 0,
    value: -reachAt(x),
    reachMm: reachAt(x),
    maxOutputA: 1,
    lossW: lossAt(x),
    receiverC: 40,
  });
  const titled = (x: Float64Array): Design => ({ ...airPair(), title: JSON.stringify(Array.from(x)) });
  const run = async (name: string, args: { trials: Float64Array; design: Design }) => {
    const value = ((): unknown => {
      switch (name) {
        case 'searchTrials':
          return rows(args.trials).map(result);
        case 'searchDesigns':
          return rows(args.trials).map(titled);
        case 'narrowPlan':
          return { poses: 1, outputs: 1 };
        case 'narrowPoses':
          return new Float64Array(1);
        case 'candidate': {
          const reachMm = args.design.title.startsWith('[')
            ? directly(reachAt(JSON.parse(args.design.title) as number[]))
            : 6;
          return { design: args.design, at: { reachMm, maxOutputA: 1 } };
        }
        default:
          return {};
      }
    })();
    return { ok: true, value, elapsedMs: 0 };
  };
  return { width: 2, run, dispose: () => undefined } as unknown as Runner;
}

const request: SearchRequest = {
  design: airPair(),
  side: 'receiver',
  goal: 'reach',
  footprintMm: { width: 46, height: 33 },
  thicknessMm: 1.7,
  wires: [{ kind: 'solid', diameterMm: 0.5, insulatedDiameterMm: 0.55 }],
  shapes: ['circle'],
  mostTurns: 24,
  printed: null,
  seed: 1,
  generations: 24,
};

const ask = (runner: Runner, hooks = {}) =>
  searchDesigns(
    runner,
    async () => ({ ok: true, value: [], elapsedMs: 0 }),
    request,
    new AbortController().signal,
    () => 0,
    hooks,
  );

describe('the whole search', () => {
  it('finds the best of a brute-force grid within 1 %', async () => {
    const outcome = await ask(landscape((reachMm) => reachMm));
    if (!outcome.ok) throw new Error(outcome.message);
    let grid = 0;
    for (let i = 0; i <= 40; i++)
      for (let j = 0; j <= 36; j++) {
        const x = new Float64Array(SEARCH_DIMENSIONS);
        x[2] = i / 40;
        x[8] = j / 40;
        grid = Math.max(grid, reachAt(x));
      }
    expect(grid).toBeGreaterThan(19.9);
    expect(outcome.value.confirmed[0]?.report.at.reachMm).toBeGreaterThan(0.99 * grid);
    expect(outcome.value.confirmed).toHaveLength(3);
  });

  it('puts what the direct solution likes best first, and leaves out what it cannot keep', async () => {
    // The direct solution turns the order of the quick values about.
    const outcome = await ask(landscape((reachMm) => 40 - reachMm));
    if (!outcome.ok) throw new Error(outcome.message);
    const direct = outcome.value.confirmed.map(({ report }) => report.at.reachMm);
    expect(direct).toEqual(direct.toSorted((a, b) => b - a));
    expect(outcome.value.front.every(({ result }) => result.violation === 0)).toBe(true);
  });

  it('looks further down the front where the highest quick values do not hold', async () => {
    // Above 18 mm the direct solution gives nothing: gone too far.
    const outcome = await ask(landscape((reachMm) => (reachMm > 18 ? 0 : reachMm)));
    if (!outcome.ok) throw new Error(outcome.message);
    const [best, ...rest] = outcome.value.confirmed;
    const promised = outcome.value.front.map(({ result }) => result.reachMm).filter((reachMm) => reachMm <= 18);
    expect(best?.report.at.reachMm).toBe(Math.max(...promised));
    expect(rest.some(({ report }) => report.at.reachMm === 0)).toBe(true);
  });

  it('gives a front of which none beats another in both, and tells it on the way', async () => {
    const seen: number[] = [];
    const outcome = await ask(
      landscape((reachMm) => reachMm),
      {
        onFront: (front: readonly unknown[]) => seen.push(front.length),
      },
    );
    if (!outcome.ok) throw new Error(outcome.message);
    const { front } = outcome.value;
    expect(front.length).toBeGreaterThan(3);
    for (const a of front)
      for (const b of front) expect(b.result.reachMm > a.result.reachMm && b.result.lossW < a.result.lossW).toBe(false);
    expect(seen).toHaveLength(request.generations + 1);
  });
});
