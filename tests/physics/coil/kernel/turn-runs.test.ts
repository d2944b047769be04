import { describe, expect, it } from 'vitest';
import { turnAt, turnRuns } from '../../../../src/physics/coil/kernel/turn-runs.ts';
import { windCoil } from '../../../../src/physics/coil/winding.ts';
import { circlePath, demoReceiver, demoTransmitter, filamentWinding } from './support/coils.ts';

describe('runs of turns', () => {
  it('finds one run per layer', () => {
    expect(turnRuns(demoTransmitter()).map((run) => run.turns.length)).toEqual([10]);
    const layers = turnRuns(demoReceiver());
    expect(layers.map((run) => run.turns.length)).toEqual([7, 7]);
    expect(layers.map((run) => run.low)).toEqual([-0.375e-3, 0.375e-3]);
    expect(layers[0]!.high).toBe(layers[0]!.low);
  });

  it('measures the width between the first and the last turn', () => {
    const { width, turns } = turnRuns(demoTransmitter())[0]!;
    const radius = (k: number) => (turns[k]!.pieces[0] as { radius: number }).radius;
    expect(width).toBeCloseTo(radius(0) - radius(9), 12);
  });

  it('makes the turns it skips', () => {
    for (const run of [...turnRuns(demoTransmitter()), ...turnRuns(demoReceiver())]) {
      run.turns.forEach((turn, index) => {
        const made = turnAt(run, index);
        expect(made.z).toBe(turn.z);
        turn.pieces.forEach((piece, k) => {
          for (const [key, value] of Object.entries(piece)) {
            const other = (made.pieces[k] as unknown as Record<string, unknown>)[key];
            if (typeof value === 'number') expect(Math.abs(value - (other as number))).toBeLessThan(1e-12);
            else expect(other).toBe(value);
          }
        });
      });
    }
  });

  it('cuts where the step changes, and where the shape does', () => {
    const radii = [0.02, 0.019, 0.018, 0.0165, 0.015];
    const uneven = filamentWinding(...radii.map((radius) => circlePath(radius)));
    expect(turnRuns(uneven).map((run) => run.turns.length)).toEqual([3, 2]);
    // Concentric corners reach their least radius on the way in.
    const spec = demoReceiver().spec;
    const outline = {
      ...spec.outline,
      shape: 'roundedRectangle' as const,
      innerCornerRadius: null,
      outerCornerRadius: 4e-3,
    };
    const clamped = windCoil({ ...spec, layers: 1, turns: 7, outline } as typeof spec);
    expect(turnRuns(clamped).length).toBeGreaterThan(1);
    expect(turnRuns(clamped).reduce((sum, run) => sum + run.turns.length, 0)).toBe(7);
  });

  it('leaves a spiral whole', () => {
    const spec = { ...demoReceiver().spec, winding: 'spiral' as const };
    const runs = turnRuns(windCoil(spec));
    expect(runs.map((run) => run.turns.length)).toEqual([1]);
    expect(turnAt(runs[0]!, 0)).toBe(runs[0]!.turns[0]);
    expect(runs[0]!.high - runs[0]!.low).toBeGreaterThan(0.7e-3);
  });
});
