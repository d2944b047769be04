import { describe, expect, it } from 'vitest';
import { filamentRule } from '../../../../src/physics/coil/kernel/filament-rule.ts';
import { createSimdEngine, scalarEngine } from '../../../../src/physics/coil/kernel/neumann-engine.ts';
import { moveTargets, neumannSum, nodeSource, targetRoom } from '../../../../src/physics/coil/kernel/node-blocks.ts';
import { ringPlanes } from '../../../../src/physics/coil/kernel/ring-rule.ts';
import { turnRuns } from '../../../../src/physics/coil/kernel/turn-runs.ts';
import { poseMatrix, transformNodes } from '../../../../src/physics/coil/nodes.ts';
import { windCoil } from '../../../../src/physics/coil/winding.ts';
import { demoReceiver, demoTransmitter, poseAt } from './support/coils.ts';

const settings = { distance: () => 5e-3, lineEffort: 8, turnEffort: 30, share: 1 };
const spiral = windCoil({ ...demoReceiver().spec, winding: 'spiral' });
const pose = poseAt(3e-3, -2e-3, 8e-3, 0.4, 0.1, -0.05);

describe('blocks of nodes', () => {
  it('sum what the nodes sum, planes and sloping pieces, padding without effect', () => {
    for (const [a, b] of [
      [demoReceiver(), demoTransmitter()],
      [spiral, demoReceiver()],
      [spiral, spiral],
    ] as const) {
      const source = filamentRule(turnRuns(a), settings);
      const target = filamentRule(turnRuns(b), settings);
      const moved = transformNodes(target.nodes, poseMatrix(pose));
      let exact = 0;
      for (let j = 0; j < moved.count; j++) {
        for (let i = 0; i < source.nodes.count; i++) {
          const s = source.nodes;
          const distance = Math.hypot(s.x[i]! - moved.x[j]!, s.y[i]! - moved.y[j]!, s.z[i]! - moved.z[j]!);
          exact += (s.dx[i]! * moved.dx[j]! + s.dy[i]! * moved.dy[j]! + s.dz[i]! * moved.dz[j]!) / distance;
        }
      }
      const blocks = nodeSource(source);
      const room = targetRoom(target.nodes, blocks.loose !== null);
      moveTargets(room, poseMatrix(pose));
      for (const engine of [scalarEngine, createSimdEngine()!]) {
        expect(Math.abs(neumannSum(engine, blocks, room, 'double') / exact - 1)).toBeLessThan(1e-12);
      }
    }
  });

  it('sum whole rings like their nodes', () => {
    const runs = turnRuns(demoTransmitter());
    const target = filamentRule(turnRuns(demoReceiver()), settings);
    const room = targetRoom(target.nodes, false);
    moveTargets(room, poseMatrix(pose));
    const fine = nodeSource(filamentRule(runs, { ...settings, lineEffort: 30 }));
    const rings = { kind: 'rings', planes: ringPlanes(runs, settings), axis: { x: 0, y: 0 } } as const;
    const engine = createSimdEngine()!;
    const exact = neumannSum(engine, fine, room, 'double');
    expect(Math.abs(neumannSum(engine, rings, room, 'double') / exact - 1)).toBeLessThan(1e-11);
  });
});
