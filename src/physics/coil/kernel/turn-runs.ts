import type { Piece, Turn, Winding } from '../types.ts';

/** Neighbouring turns of one plane whose pieces change linearly with the index, so that turns in between can be made. */
export interface TurnRun {
  readonly turns: readonly Turn[];
  /** Distance between the first and the last turn: the largest distance between corresponding piece ends, m. */
  readonly width: number;
  /** Heights between which its wires lie, m. */
  readonly low: number;
  readonly high: number;
}

/**
 * Splits a winding into the longest such runs, in order. Circles, rounded rectangles, stadiums and offset polygons give
 * one run per layer (two where corner radii reach their least value on the way); a spiral is a run of one.
 */
export function turnRuns(winding: Winding): readonly TurnRun[] {
  const { turns } = winding;
  const tolerance = 1e-9 * Math.max(winding.halfWidth, winding.halfHeight);
  const runs: TurnRun[] = [];
  let start = 0;
  while (start < turns.length) {
    let end = start + 1;
    while (end < turns.length && continues(turns, start, end, tolerance)) end++;
    const members = turns.slice(start, end);
    const heights = members[0]!.pieces.flatMap((piece) =>
      piece.kind === 'arc' ? [piece.dz ?? 0] : [piece.dz0 ?? 0, piece.dz1 ?? 0],
    );
    runs.push({
      turns: members,
      width: turnDistance(members[0]!, members[members.length - 1]!),
      low: members[0]!.z + Math.min(...heights),
      high: members[0]!.z + Math.max(...heights),
    });
    start = end;
  }
  return runs;
}

/**
 * The turn at a real index 0 .. turns.length - 1 of a run, between the first and the last one.
 */
export function turnAt(run: TurnRun, index: number): Turn {
  const first = run.turns[0]!;
  if (run.turns.length === 1) return first;
  const last = run.turns[run.turns.length - 1]!;
  const share = index / (run.turns.length - 1);
  const pieces = first.pieces.map((piece, at) => between(piece, last.pieces[at]!, share));
  return { pieces, z: first.z, weight: first.weight };
}

/** Whether turn `end` lies where the run from `start` leads. */
function continues(turns: readonly Turn[], start: number, end: number, tolerance: number): boolean {
  const first = turns[start]!;
  const next = turns[end]!;
  if (next.z !== first.z || next.weight !== first.weight || next.pieces.length !== first.pieces.length) return false;
  const second = turns[start + 1]!;
  return next.pieces.every((piece, at) => {
    const from = first.pieces[at]!;
    const by = second.pieces[at]!;
    if (piece.kind !== from.kind || by.kind !== from.kind) return false;
    const a = parameters(from);
    const b = parameters(by);
    return parameters(piece).every((value, k) => {
      if (k >= linearParameters(piece)) return value === a[k];
      return Math.abs(value - (a[k]! + (end - start) * (b[k]! - a[k]!))) <= tolerance * (end - start);
    });
  });
}

function turnDistance(a: Turn, b: Turn): number {
  let largest = 0;
  a.pieces.forEach((piece, at) => {
    const other = b.pieces[at]!;
    if (piece.kind === 'line' && other.kind === 'line') {
      largest = Math.max(
        largest,
        Math.hypot(piece.x0 - other.x0, piece.y0 - other.y0),
        Math.hypot(piece.x1 - other.x1, piece.y1 - other.y1),
      );
    } else if (piece.kind === 'arc' && other.kind === 'arc') {
      largest = Math.max(
        largest,
        Math.hypot(piece.cx - other.cx, piece.cy - other.cy) + Math.abs(piece.radius - other.radius),
      );
    }
  });
  return largest;
}

function between(a: Piece, b: Piece, share: number): Piece {
  const mix = (from: number, to: number): number => from + (to - from) * share;
  if (a.kind === 'line' && b.kind === 'line') {
    return { ...a, x0: mix(a.x0, b.x0), y0: mix(a.y0, b.y0), x1: mix(a.x1, b.x1), y1: mix(a.y1, b.y1) };
  }
  if (a.kind === 'arc' && b.kind === 'arc') {
    return { ...a, cx: mix(a.cx, b.cx), cy: mix(a.cy, b.cy), radius: mix(a.radius, b.radius) };
  }
  return a;
}

/** Lengths that may change along a run come first, then what must stay: angles and heights. */
function parameters(piece: Piece): readonly number[] {
  return piece.kind === 'line'
    ? [piece.x0, piece.y0, piece.x1, piece.y1, piece.dz0 ?? 0, piece.dz1 ?? 0]
    : [piece.cx, piece.cy, piece.radius, piece.start, piece.sweep, piece.dz ?? 0];
}

function linearParameters(piece: Piece): number {
  return piece.kind === 'line' ? 4 : 3;
}
