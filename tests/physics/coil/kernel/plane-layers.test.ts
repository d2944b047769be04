import { describe, expect, it } from 'vitest';
import { filamentRule } from '../../../../src/physics/coil/kernel/filament-rule.ts';
import { planeLayers } from '../../../../src/physics/coil/kernel/plane-layers.ts';
import { turnRuns } from '../../../../src/physics/coil/kernel/turn-runs.ts';
import { windCoil } from '../../../../src/physics/coil/winding.ts';
import { demoReceiver } from './support/coils.ts';

const settings = { distance: () => 3e-3, lineEffort: 10, turnEffort: 30, share: 1 };

describe('flat layers', () => {
  it('shares the planform of equal layers', () => {
    const layers = planeLayers(filamentRule(turnRuns(demoReceiver()), settings), 0.3);
    expect(layers.map((layer) => layer.heights)).toEqual([[-0.375e-3, 0.375e-3]]);
    expect(layers[0]!.rising).toBeNull();
  });

  it('keeps layers with different turns apart', () => {
    const uneven = windCoil({ ...demoReceiver().spec, turns: 13 });
    const layers = planeLayers(filamentRule(turnRuns(uneven), settings), 0);
    expect(layers.map((layer) => layer.heights)).toEqual([[-0.375e-3], [0.375e-3]]);
  });

  it('turns by the yaw', () => {
    const rule = filamentRule(turnRuns(demoReceiver()), settings);
    const [still] = planeLayers(rule, 0);
    const [turned] = planeLayers(rule, Math.PI / 2);
    for (let k = 0; k < 20; k++) {
      expect(turned!.currents.x[k]).toBeCloseTo(-still!.currents.y[k]!, 14);
      expect(turned!.currents.dy[k]).toBeCloseTo(still!.currents.dx[k]!, 14);
    }
  });

  it('shares sloping pieces out so that sums and heights are kept', () => {
    const rule = filamentRule(turnRuns(windCoil({ ...demoReceiver().spec, winding: 'spiral' })), settings);
    const layers = planeLayers(rule, 0);
    const sloping = layers.filter((layer) => layer.rising !== null);
    expect(sloping.length).toBe(4);
    const total = (part: (layer: (typeof sloping)[number]) => number) =>
      sloping.reduce((sum, layer) => sum + part(layer), 0);
    const { nodes, looseFrom } = rule;
    let rise = 0;
    let moment = 0;
    for (let k = looseFrom; k < nodes.count; k++) {
      rise += Math.abs(nodes.dz[k]!);
      moment += nodes.dz[k]! * nodes.z[k]! ** 3;
    }
    const sum = (values: Float64Array) => values.reduce((all, value) => all + value, 0);
    expect(Math.abs(total((layer) => sum(layer.rising!) * layer.heights[0]! ** 3) - moment)).toBeLessThan(1e-12 * rise);
  });
});
