import { describe, expect, it } from 'vitest';
import { filamentRule, pieceRule, turnOrder } from '../../../../src/physics/coil/kernel/filament-rule.ts';
import { turnRuns } from '../../../../src/physics/coil/kernel/turn-runs.ts';
import type { Piece } from '../../../../src/physics/coil/types.ts';
import { windCoil } from '../../../../src/physics/coil/winding.ts';
import { demoReceiver, demoTransmitter } from './support/coils.ts';

const line: Piece = { kind: 'line', x0: 0, y0: 0, x1: 0.03, y1: 0 };
const circle: Piece = { kind: 'arc', cx: 0, cy: 0, radius: 0.02, start: 0, sweep: 2 * Math.PI };
const corner: Piece = { kind: 'arc', cx: 0, cy: 0, radius: 0.003, start: 0, sweep: Math.PI / 2 };

describe('node counts', () => {
  it('rise with the effort and fall with the distance', () => {
    for (const piece of [line, circle, corner]) {
      let last = Number.POSITIVE_INFINITY;
      for (const distance of [0.5e-3, 2e-3, 8e-3, 40e-3]) {
        const { count } = pieceRule(piece, distance, 8);
        expect(count).toBeLessThanOrEqual(last);
        expect(pieceRule(piece, distance, 16).count).toBeGreaterThanOrEqual(count);
        last = count;
      }
    }
    expect(pieceRule(circle, 2e-3, 8).kind).toBe('trapezoid');
    expect(pieceRule(line, 2e-3, 8).kind).toBe('mapped');
    expect(pieceRule(corner, 2e-3, 8).kind).toBe('gauss');
  });

  it('are cut by at least one for a rule to compare with', () => {
    for (const piece of [line, circle, corner]) {
      for (const distance of [2e-3, 40e-3]) {
        const fine = pieceRule(piece, distance, 6).count;
        expect(pieceRule(piece, distance, 6, 0.72).count).toBeLessThan(Math.max(2, fine));
      }
    }
    const run = turnRuns(demoTransmitter())[0]!;
    expect(turnOrder(run, 10e-3, 6)).toBeGreaterThan(turnOrder(run, 10e-3, 6, 0.72));
    expect(turnOrder(run, 2e-3, 60)).toBe(10);
    expect(turnOrder(run, 2e-3, Number.POSITIVE_INFINITY)).toBe(10);
  });
});

describe('rules', () => {
  const settings = (share = 1) => ({ distance: () => 4e-3, lineEffort: 14, turnEffort: 14, share });

  it('carry each coil’s length, area and closed loops', () => {
    for (const winding of [demoTransmitter(), demoReceiver()]) {
      const { nodes, planes, looseFrom } = filamentRule(turnRuns(winding), settings());
      expect(looseFrom).toBe(nodes.count);
      expect(planes.length).toBe(winding.spec.layers);
      let length = 0;
      let area = 0;
      let open = 0;
      for (let k = 0; k < nodes.count; k++) {
        length += Math.hypot(nodes.dx[k]!, nodes.dy[k]!, nodes.dz[k]!);
        area += (nodes.x[k]! * nodes.dy[k]! - nodes.y[k]! * nodes.dx[k]!) / 2;
        open += nodes.dx[k]!;
      }
      expect(Math.abs(length / winding.wireLength - 1)).toBeLessThan(1e-7);
      expect(Math.abs(open)).toBeLessThan(1e-7 * length);
      const exact = winding.turns.reduce(
        (sum, { pieces }) => sum + pieces.reduce((part, p) => part + pieceArea(p), 0),
        0,
      );
      expect(Math.abs(area / exact - 1)).toBeLessThan(1e-7);
    }
  });

  it('put the nodes of a plane next to each other, sloping pieces last', () => {
    const spiral = windCoil({ ...demoReceiver().spec, winding: 'spiral' });
    const { nodes, planes, looseFrom } = filamentRule(turnRuns(spiral), settings());
    let at = 0;
    for (const { z, from, to } of planes) {
      expect(from).toBe(at);
      for (let k = from; k < to; k++) {
        expect(nodes.z[k]).toBeCloseTo(z, 12);
        expect(nodes.dz[k]).toBe(0);
      }
      at = to;
    }
    expect(looseFrom).toBe(at);
    expect(looseFrom).toBeLessThan(nodes.count);
    let rise = 0;
    for (let k = looseFrom; k < nodes.count; k++) rise += nodes.dz[k]!;
    expect(Math.abs(rise)).toBeLessThan(1e-12);
  });
});

/** Share of the enclosed area: half the integral of x dy - y dx, in closed form. */
function pieceArea(piece: Piece): number {
  if (piece.kind === 'line') return (piece.x0 * piece.y1 - piece.x1 * piece.y0) / 2;
  const { cx, cy, radius, start, sweep } = piece;
  const end = start + sweep;
  return (
    (radius * (cx * (Math.sin(end) - Math.sin(start)) - cy * (Math.cos(end) - Math.cos(start))) + radius ** 2 * sweep) /
    2
  );
}
