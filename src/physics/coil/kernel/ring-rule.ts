import { discreteGauss } from '../../../numerics/discrete-gauss.ts';
import { isFullCircle } from '../piece-geometry.ts';
import { type RuleSettings, turnOrder } from './filament-rule.ts';
import type { RingBlock } from './neumann-engine.ts';
import { type TurnRun, turnAt } from './turn-runs.ts';

const MM = 1e3;

/** Axis of a winding that consists of coaxial circular turns, m; null for any other winding. */
export function ringAxis(runs: readonly TurnRun[]): { readonly x: number; readonly y: number } | null {
  let axis: { readonly x: number; readonly y: number } | null = null;
  for (const run of runs) {
    for (const { pieces } of run.turns) {
      const piece = pieces[0]!;
      if (pieces.length !== 1 || piece.kind !== 'arc' || !isFullCircle(piece)) return null;
      axis ??= { x: piece.cx, y: piece.cy };
      if (piece.cx !== axis.x || piece.cy !== axis.y) return null;
    }
  }
  return axis;
}

/** Rings of a winding by plane: radius in mm, weight (negative for clockwise turns). */
export function ringPlanes(
  runs: readonly TurnRun[],
  settings: RuleSettings,
): readonly { readonly z: number; readonly block: RingBlock }[] {
  const planes = new Map<number, { radii: number[]; weights: number[] }>();
  for (const run of runs) {
    const order = turnOrder(run, settings.distance(run), settings.turnEffort, settings.share);
    const rule = discreteGauss(run.turns.length, order);
    rule.nodes.forEach((index, k) => {
      const turn = turnAt(run, index);
      const [piece] = turn.pieces;
      if (piece?.kind !== 'arc') return;
      const z = turn.z + (piece.dz ?? 0);
      const plane = planes.get(z) ?? { radii: [], weights: [] };
      planes.set(z, plane);
      plane.radii.push(MM * piece.radius);
      plane.weights.push(turn.weight * rule.weights[k]! * Math.sign(piece.sweep));
    });
  }
  return [...planes].map(([z, { radii, weights }]) => ({
    z,
    block: { count: radii.length, values: Float64Array.from([...radii, ...weights]) },
  }));
}
