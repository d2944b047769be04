import { describe, expect, it } from 'vitest';
import { ringAxis, ringPlanes } from '../../../../src/physics/coil/kernel/ring-rule.ts';
import { turnRuns } from '../../../../src/physics/coil/kernel/turn-runs.ts';
import { windCoil } from '../../../../src/physics/coil/winding.ts';
import { circlePath, demoReceiver, demoTransmitter, filamentWinding } from './support/coils.ts';

describe('rings', () => {
  it('recognises coaxial circles and nothing else', () => {
    expect(ringAxis(turnRuns(demoTransmitter()))).toEqual({ x: 0, y: 0 });
    expect(ringAxis(turnRuns(demoReceiver()))).toBeNull();
    expect(ringAxis(turnRuns(filamentWinding(circlePath(0.02, 1, 2), circlePath(0.01, 1, 2))))).toEqual({ x: 1, y: 2 });
    expect(ringAxis(turnRuns(filamentWinding(circlePath(0.02), circlePath(0.01, 1e-3))))).toBeNull();
    const outline = { shape: 'circle' as const, outerDiameter: 0.044, innerDiameter: 0.018 };
    const spiral = windCoil({ ...demoTransmitter().spec, outline, winding: 'spiral' });
    expect(ringAxis(turnRuns(spiral))).toBeNull();
  });

  it('keeps the number of turns and the enclosed area with fewer rings', () => {
    const spec = { ...demoTransmitter().spec, layers: 2, turns: 20 };
    const winding = windCoil(spec);
    const settings = { distance: () => 8e-3, lineEffort: 6, turnEffort: 5, share: 1 };
    const planes = ringPlanes(turnRuns(winding), settings);
    expect(planes.map(({ z }) => z)).toEqual([-0.6e-3, 0.6e-3]);
    for (const { block } of planes) {
      expect(block.count).toBeLessThan(10);
      let turns = 0;
      let area = 0;
      for (let k = 0; k < block.count; k++) {
        turns += block.values[block.count + k]!;
        area += block.values[block.count + k]! * block.values[k]! ** 2;
      }
      expect(turns).toBeCloseTo(10, 10);
      const exact = winding.turns.slice(0, 10).reduce((sum, { pieces: [piece] }) => {
        return sum + (piece?.kind === 'arc' ? (1e3 * piece.radius) ** 2 : Number.NaN);
      }, 0);
      expect(area / exact).toBeCloseTo(1, 10);
    }
  });

  it('counts clockwise rings negative', () => {
    const backwards = { kind: 'arc', cx: 0, cy: 0, radius: 0.01, start: 0, sweep: -2 * Math.PI } as const;
    const settings = { distance: () => 1e-2, lineEffort: 6, turnEffort: 6, share: 1 };
    const [plane] = ringPlanes(turnRuns(filamentWinding([backwards])), settings);
    expect([...plane!.block.values]).toEqual([10, -1]);
  });
});
