import { afterAll, describe, expect, test } from 'vitest';
import type { SupplyChoice } from '../../src/analysis/supply/supply-choice.ts';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { parseDesign } from '../../src/design/resolve.ts';
import type { Design } from '../../src/design/types.ts';
import { createLocalEngine } from '../../src/engine/local-engine.ts';

/** The demo's coils in air, so that no plates are set up, tuned a little for their smaller inductances. */
function airPair(): Design {
  const parsed = parseDesign({
    ...DEMO_DESIGN,
    demand: { loads: [{ name: 'on', kind: 'typical', atV: 5, currentA: 0.5 }] },
  });
  if (!parsed.ok) throw new Error('the demo must resolve');
  const { design } = parsed;
  const { transmitter, receiver } = design;
  return {
    ...design,
    transmitter: { ...transmitter, ferrite: null, drive: { ...transmitter.drive, seriesCapacitanceNf: 620 } },
    receiver: {
      ...receiver,
      ferrite: null,
      metal: null,
      pickup: { ...receiver.pickup, seriesCapacitanceNf: 220 },
      thermal: { ...receiver.thermal, touchMaxC: 90, cellChargeMaxC: 90, shutdownC: 110 },
    },
  };
}

describe('the choice between supplies, through the engine', () => {
  const engine = createLocalEngine();
  afterAll(() => engine.dispose());
  const design = airPair();

  test('circuits first, then the reaches; stages are told; the lowest comes first', async () => {
    const firsts: SupplyChoice[] = [];
    const stages = new Set<string>();
    let last = 0;
    const outcome = await engine.supplies(
      { design, suppliesV: [7, 5] },
      undefined,
      ({ fraction, stage }) => {
        stages.add(stage);
        expect(fraction).toBeGreaterThanOrEqual(last - 1e-9);
        last = fraction;
      },
      (choice) => firsts.push(choice),
    );
    if (!outcome.ok) throw new Error(outcome.message);
    const { options, grades, demandA } = outcome.value;
    expect(firsts).toHaveLength(1);
    expect(firsts[0]!.options.every(({ reach }) => reach === null)).toBe(true);
    expect(options.map(({ report }) => report.supplyV)).toEqual([5, 7]);
    expect(demandA).toBe(0.5);
    expect(grades).toHaveLength(2);
    expect(last).toBeCloseTo(1, 9);
    expect(stages.has('how far at each supply')).toBe(true);
    for (const { curve, report, reach } of options) {
      expect(reach).not.toBeNull();
      // A curve ends where the current does.
      if (report.maxOutputA.value > 0) expect(curve.loadA.at(-1)! / report.maxOutputA.value).toBeCloseTo(0.998, 6);
      expect(Math.max(...curve.efficiency)).toBeGreaterThan(0.4);
      expect(reach!.gap.holdMm.low).toBeLessThanOrEqual(reach!.gap.holdMm.value);
      expect(reach!.offsetMm.high).toBeGreaterThanOrEqual(reach!.offsetMm.value);
    }
  });

  test('fewer than two supplies are refused with what is wanted', async () => {
    const outcome = await engine.supplies({ design, suppliesV: [5] });
    expect(outcome.ok).toBe(false);
    if (!outcome.ok) expect(outcome.message).toMatch(/2 to 4 different voltages/);
  });

  test('sensitivities: the pose answer’s own inputs, ranked by the exact circuit', async () => {
    const [outcome, pose] = [await engine.sensitivity(design), await engine.solve(design)];
    if (!outcome.ok || !pose.ok) throw new Error('no answer');
    const { rows, maxOutputA } = outcome.value;
    expect(maxOutputA).toBeCloseTo(pose.value.margin.maxOutputA, 9);
    const known = new Set(pose.value.sensitivity.map(({ path }) => path));
    const sizes = rows.map(({ up, down }) => Math.max(Math.abs(up), Math.abs(down)));
    expect(sizes).toEqual([...sizes].sort((a, b) => b - a));
    for (const row of rows) if (row.tolerance !== null) expect(known.has(row.path)).toBe(true);
  });
});
