import { discreteGauss } from '../../../numerics/discrete-gauss.ts';
import { gaussLegendre } from '../../../numerics/gauss-legendre.ts';
import { mappedGauss } from '../../../numerics/mapped-gauss.ts';
import { putNode } from '../nodes.ts';
import { isFullCircle, pieceLength } from '../piece-geometry.ts';
import type { FilamentNodes, Piece } from '../types.ts';
import { type TurnRun, turnAt } from './turn-runs.ts';

/** How finely a winding is sampled. Both efforts are exponents: the error aimed at is exp(-effort) of the integrand. */
export interface RuleSettings {
  /** Smallest distance from a run's centre lines to the other winding's, m. */
  readonly distance: (run: TurnRun) => number;
  /** Along the wire. */
  readonly lineEffort: number;
  /** Over the turns of a run; Infinity takes every turn. */
  readonly turnEffort: number;
  /** Below 1: every count is cut to this share, and by one at least, for a rule to compare with. */
  readonly share: number;
}

/** Nodes of a winding, those in a common plane next to each other. Metres. */
export interface FilamentRule {
  readonly nodes: FilamentNodes;
  /** Nodes from .. to - 1 lie in the plane at height z and have dz = 0. */
  readonly planes: readonly { readonly z: number; readonly from: number; readonly to: number }[];
  /** Nodes from here on are on sloping pieces. */
  readonly looseFrom: number;
}

type PieceRuleKind = 'trapezoid' | 'gauss' | 'mapped';

/**
 * Rule on a line or arc so that 1/distance to any wire at `distance` or further is integrated to about exp(-effort).
 *
 * The integrand is analytic except where the complex distance vanishes: at distance / halfLength above the middle of a
 * line (in units of the half length), at the angle 2 asinh(distance / 2 radius) off the real axis of an arc. Gauss-
 * Legendre with n nodes then errs by exp(-2 n asinh(that)), the trapezoid rule on a circle by exp(-n angle). Pieces that
 * are long against the distance take the mapped Gauss rule with 0.77 of the nodes. Short pieces keep a minimum that
 * carries the curvature of the piece itself.
 */
export function pieceRule(
  piece: Piece,
  distance: number,
  effort: number,
  share = 1,
): { readonly kind: PieceRuleKind; readonly count: number } {
  let least = 1;
  let reach: number;
  if (piece.kind === 'arc') {
    const angle = 2 * Math.asinh(distance / (2 * piece.radius));
    const sweep = Math.abs(piece.sweep);
    if (isFullCircle(piece)) {
      return { kind: 'trapezoid', count: fewer(Math.ceil(3 + effort / 2 + effort / angle), share) };
    }
    least = Math.ceil(1.5 + (effort * sweep) / 12);
    reach = Math.asinh((2 * angle) / sweep);
  } else {
    reach = Math.asinh((2 * distance) / pieceLength(piece));
  }
  const count = effort / (2 * reach);
  return reach < 0.4 && count > 5
    ? { kind: 'mapped', count: fewer(Math.ceil(0.77 * count), share) }
    : { kind: 'gauss', count: fewer(Math.max(least, Math.ceil(count + reach)), share) };
}

function fewer(count: number, share: number): number {
  return share < 1 ? Math.max(1, Math.min(count - 1, Math.ceil(share * count))) : count;
}

/** Gauss nodes for the turns of a run: the same reasoning with the run's width for the length. */
export function turnOrder(run: TurnRun, distance: number, effort: number, share = 1): number {
  const count = run.turns.length;
  if (count <= 2 || effort === Number.POSITIVE_INFINITY) return count;
  return Math.min(
    count,
    fewer(
      1 +
        Math.ceil(effort / (2 * Math.asinh((2 * distance) / run.width)) + 0.5 * Math.asinh((2 * distance) / run.width)),
      share,
    ),
  );
}

interface Part {
  readonly piece: Piece;
  readonly z: number;
  readonly weight: number;
  readonly kind: PieceRuleKind;
  readonly count: number;
}

/** The nodes of all runs of a winding. */
export function filamentRule(runs: readonly TurnRun[], settings: RuleSettings): FilamentRule {
  const parts: Part[] = [];
  for (const run of runs) {
    const distance = settings.distance(run);
    const order = turnOrder(run, distance, settings.turnEffort, settings.share);
    const rule = discreteGauss(run.turns.length, order);
    const whole = rule.nodes.length === run.turns.length;
    rule.nodes.forEach((index, k) => {
      const turn = whole ? run.turns[k]! : turnAt(run, index);
      for (const piece of turn.pieces) {
        const { kind, count } = pieceRule(piece, distance, settings.lineEffort, settings.share);
        parts.push({ piece, z: turn.z, weight: turn.weight * rule.weights[k]!, kind, count });
      }
    });
  }
  const heights = [...new Set(parts.map(planeOf))].filter((z) => z !== null).sort((a, b) => a - b);
  const total = parts.reduce((sum, part) => sum + part.count, 0);
  const row = () => new Float64Array(total);
  const nodes: FilamentNodes = { count: total, x: row(), y: row(), z: row(), dx: row(), dy: row(), dz: row() };
  let at = 0;
  const place = (height: number | null) => {
    for (const part of parts) {
      if (planeOf(part) !== height) continue;
      fillPart(part, at, nodes);
      at += part.count;
    }
  };
  const planes = heights.map((z) => {
    const from = at;
    place(z);
    return { z, from, to: at };
  });
  const looseFrom = at;
  place(null);
  return { nodes, planes, looseFrom };
}

/** Height of the plane a part lies in; null for a sloping line. */
function planeOf({ piece, z }: Part): number | null {
  if (piece.kind === 'arc') return z + (piece.dz ?? 0);
  return (piece.dz0 ?? 0) === (piece.dz1 ?? 0) ? z + (piece.dz0 ?? 0) : null;
}

function fillPart({ piece, z, weight, kind, count }: Part, at: number, out: FilamentNodes): void {
  const rule = kind === 'trapezoid' ? null : kind === 'gauss' ? gaussLegendre(count) : mappedGauss(count);
  for (let i = 0; i < count; i++) {
    const s = rule ? (rule.nodes[i]! + 1) / 2 : (i + 0.5) / count;
    putNode(piece, z, s, weight * (rule ? rule.weights[i]! / 2 : 1 / count), at + i, out);
  }
}
