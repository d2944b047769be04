import { describe, expect, it } from 'vitest';
import { localDistance, windingExtent, wireDistance } from '../../../../src/physics/coil/kernel/local-distance.ts';
import { turnRuns } from '../../../../src/physics/coil/kernel/turn-runs.ts';
import { poseMatrix, transformNodes, windingNodes } from '../../../../src/physics/coil/nodes.ts';
import { circlePath, demoReceiver, demoTransmitter, filamentWinding, poseAt, rectanglePath } from './support/coils.ts';

const runs = { a: turnRuns(demoTransmitter()), b: turnRuns(demoReceiver()) };
const extent = { a: windingExtent(runs.a), b: windingExtent(runs.b) };

describe('distance between coils', () => {
  it('is the distance of the facing planes for parallel coils over each other', () => {
    expect(localDistance(extent.a, extent.b, poseAt(0, 0, 5e-3))).toBeCloseTo(4.625e-3, 12);
    expect(localDistance(extent.a, extent.b, poseAt(12e-3, -9e-3, 5e-3, 0.7))).toBeCloseTo(4.625e-3, 12);
    expect(localDistance(extent.a, extent.b, poseAt(0, 0, -5e-3))).toBeCloseTo(4.625e-3, 12);
  });

  it('is the gap between boxes side by side', () => {
    const radius = extent.a.high[0];
    const half = extent.b.high[0];
    expect(localDistance(extent.a, extent.b, poseAt(radius + half + 3e-3, 0, 0))).toBeCloseTo(3e-3, 9);
  });

  it('shrinks at the low edge of a tilted coil', () => {
    const tilt = 0.2;
    const pose = poseAt(0, 0, 10e-3, 0, 0, tilt);
    // The low edge lies half the outer centre-line width times sin(tilt) below.
    const low = 10e-3 - extent.b.high[0] * Math.sin(tilt) - 0.375e-3 * Math.cos(tilt);
    expect(Math.abs(localDistance(extent.a, extent.b, pose) - low)).toBeLessThan(0.1e-3);
  });

  it('is never far beyond the true distance of the wires, found from dense points', () => {
    const pose = poseAt(6e-3, 3e-3, 12e-3, 0.4, 0.15, -0.2);
    const p = windingNodes(demoTransmitter(), 0.6e-3);
    const q = transformNodes(windingNodes(demoReceiver(), 0.6e-3), poseMatrix(pose));
    let least = Number.POSITIVE_INFINITY;
    for (let j = 0; j < q.count; j++) {
      for (let i = 0; i < p.count; i++) {
        const square = (p.x[i]! - q.x[j]!) ** 2 + (p.y[i]! - q.y[j]!) ** 2 + (p.z[i]! - q.z[j]!) ** 2;
        if (square < least) least = square;
      }
    }
    const exact = Math.sqrt(least);
    expect(localDistance(extent.a, extent.b, pose)).toBeLessThan(1.1 * exact);
    expect(wireDistance(runs.a, runs.b, pose)).toBeLessThan(1.001 * exact);
    expect(wireDistance(runs.a, runs.b, pose)).toBeGreaterThan(0.5 * exact);
  });
});

describe('distance between wires', () => {
  it('sees the opening that a box hides', () => {
    const ring = turnRuns(filamentWinding(circlePath(0.05)));
    const inside = turnRuns(filamentWinding(circlePath(0.02)));
    expect(localDistance(windingExtent(ring), windingExtent(inside), poseAt(0, 0, 0))).toBe(0);
    const distance = wireDistance(ring, inside, poseAt(0, 0, 0));
    expect(distance).toBeGreaterThan(0.03 - 4e-3);
    expect(distance).toBeLessThanOrEqual(0.03);
  });

  it('is nearly nothing where wires cross', () => {
    const frame = turnRuns(filamentWinding(rectanglePath(0.04, 0.03, 0)));
    expect(wireDistance(frame, frame, poseAt(0, 0, 0))).toBeLessThan(1e-9);
    expect(wireDistance(frame, frame, poseAt(0.01, 0.01, 0))).toBeLessThan(0.5e-3);
  });
});
