import type { ArcPiece, LinePiece, Piece } from './types.ts';

const TAU = 2 * Math.PI;

/** Length of a piece, m. */
export function pieceLength(piece: Piece): number {
  return piece.kind === 'arc'
    ? piece.radius * Math.abs(piece.sweep)
    : Math.hypot(piece.x1 - piece.x0, piece.y1 - piece.y0, (piece.dz1 ?? 0) - (piece.dz0 ?? 0));
}

/** Point at the fraction `at` (0..1) of a piece: x, y, and the height above the turn's plane, m. */
export function piecePoint(piece: Piece, at: number): readonly [number, number, number] {
  if (piece.kind === 'arc') {
    const angle = piece.start + piece.sweep * at;
    return [piece.cx + piece.radius * Math.cos(angle), piece.cy + piece.radius * Math.sin(angle), piece.dz ?? 0];
  }
  const dz0 = piece.dz0 ?? 0;
  return [
    piece.x0 + (piece.x1 - piece.x0) * at,
    piece.y0 + (piece.y1 - piece.y0) * at,
    dz0 + ((piece.dz1 ?? 0) - dz0) * at,
  ];
}

/** True for an arc that closes on itself. */
export function isFullCircle(piece: Piece): boolean {
  return piece.kind === 'arc' && Math.abs(Math.abs(piece.sweep) - TAU) < 1e-12;
}

/** Largest |x| and |y| that a piece reaches, m. */
export function pieceReach(piece: Piece): readonly [number, number] {
  if (piece.kind === 'line') {
    return [Math.max(Math.abs(piece.x0), Math.abs(piece.x1)), Math.max(Math.abs(piece.y0), Math.abs(piece.y1))];
  }
  const [x0, y0] = piecePoint(piece, 0);
  const [x1, y1] = piecePoint(piece, 1);
  let reachX = Math.max(Math.abs(x0), Math.abs(x1));
  let reachY = Math.max(Math.abs(y0), Math.abs(y1));
  for (let quarter = 0; quarter < 4; quarter++) {
    const angle = (quarter * Math.PI) / 2;
    if (!arcContains(piece, angle)) continue;
    if (quarter % 2 === 0) reachX = Math.max(reachX, Math.abs(piece.cx + piece.radius * Math.cos(angle)));
    else reachY = Math.max(reachY, Math.abs(piece.cy + piece.radius * Math.sin(angle)));
  }
  return [reachX, reachY];
}

/** The line or arc through three points of which the middle one lies between the others. Nearly straight: a line. */
export function pieceThrough(
  start: readonly [number, number, number],
  middle: readonly [number, number, number],
  end: readonly [number, number, number],
): Piece {
  const ax = middle[0] - start[0];
  const ay = middle[1] - start[1];
  const bx = end[0] - start[0];
  const by = end[1] - start[1];
  const cross = ax * by - ay * bx;
  const chord2 = bx * bx + by * by;
  if (Math.abs(cross) < 1e-9 * chord2) {
    return { kind: 'line', x0: start[0], y0: start[1], x1: end[0], y1: end[1], dz0: start[2], dz1: end[2] };
  }
  const a2 = ax * ax + ay * ay;
  const ux = (by * a2 - ay * chord2) / (2 * cross);
  const uy = (ax * chord2 - bx * a2) / (2 * cross);
  const from = Math.atan2(-uy, -ux);
  let sweep = Math.atan2(by - uy, bx - ux) - from;
  if (cross < 0 && sweep > 0) sweep -= TAU;
  if (cross > 0 && sweep < 0) sweep += TAU;
  const radius = Math.hypot(ux, uy);
  return { kind: 'arc', cx: start[0] + ux, cy: start[1] + uy, radius, start: from, sweep, dz: start[2] };
}

/** Least distance between two pieces projected on the plane, m; 0 where they cross or touch. Exact. */
export function pieceDistance(a: Piece, b: Piece): number {
  if (a.kind === 'line') return b.kind === 'line' ? lineLine(a, b) : lineArc(a, b);
  return b.kind === 'line' ? lineArc(b, a) : arcArc(a, b);
}

/** Whether the direction `angle` from the arc's centre meets the arc (ends included). */
function arcContains(arc: ArcPiece, angle: number): boolean {
  const from = arc.sweep >= 0 ? arc.start : arc.start + arc.sweep;
  let turn = (angle - from) % TAU;
  if (turn < 0) turn += TAU;
  const span = Math.abs(arc.sweep);
  return turn <= span + 1e-12 || turn >= TAU - 1e-12;
}

function pointLine(x: number, y: number, line: LinePiece): number {
  const dx = line.x1 - line.x0;
  const dy = line.y1 - line.y0;
  const length2 = dx * dx + dy * dy;
  const at = length2 > 0 ? ((x - line.x0) * dx + (y - line.y0) * dy) / length2 : 0;
  const clamped = Math.min(1, Math.max(0, at));
  return Math.hypot(x - line.x0 - dx * clamped, y - line.y0 - dy * clamped);
}

function pointArc(x: number, y: number, arc: ArcPiece): number {
  const dx = x - arc.cx;
  const dy = y - arc.cy;
  const fromCentre = Math.hypot(dx, dy);
  if (fromCentre === 0) return arc.radius;
  if (arcContains(arc, Math.atan2(dy, dx))) return Math.abs(fromCentre - arc.radius);
  const [x0, y0] = piecePoint(arc, 0);
  const [x1, y1] = piecePoint(arc, 1);
  return Math.min(Math.hypot(x - x0, y - y0), Math.hypot(x - x1, y - y1));
}

function lineLine(a: LinePiece, b: LinePiece): number {
  const side = (x: number, y: number, line: LinePiece) =>
    (line.x1 - line.x0) * (y - line.y0) - (line.y1 - line.y0) * (x - line.x0);
  const crosses = side(b.x0, b.y0, a) * side(b.x1, b.y1, a) < 0 && side(a.x0, a.y0, b) * side(a.x1, a.y1, b) < 0;
  if (crosses) return 0;
  return Math.min(
    pointLine(a.x0, a.y0, b),
    pointLine(a.x1, a.y1, b),
    pointLine(b.x0, b.y0, a),
    pointLine(b.x1, b.y1, a),
  );
}

function lineArc(line: LinePiece, arc: ArcPiece): number {
  const dx = line.x1 - line.x0;
  const dy = line.y1 - line.y0;
  const length = Math.hypot(dx, dy);
  let least = Math.min(pointArc(line.x0, line.y0, arc), pointArc(line.x1, line.y1, arc));
  for (const at of [0, 1]) {
    const [x, y] = piecePoint(arc, at);
    least = Math.min(least, pointLine(x, y, line));
  }
  if (length === 0) return least;
  // Critical points inside both pieces lie on the perpendicular from the centre; crossings at the chord's ends.
  const foot = ((arc.cx - line.x0) * dx + (arc.cy - line.y0) * dy) / length;
  const offset = ((arc.cx - line.x0) * dy - (arc.cy - line.y0) * dx) / length;
  if (foot >= 0 && foot <= length) {
    for (const turn of [0, Math.PI]) {
      const angle = Math.atan2(dx * offset, -dy * offset) + turn;
      if (offset !== 0 && arcContains(arc, angle))
        least = Math.min(
          least,
          pointLine(arc.cx + arc.radius * Math.cos(angle), arc.cy + arc.radius * Math.sin(angle), line),
        );
    }
  }
  const half2 = arc.radius * arc.radius - offset * offset;
  if (half2 >= 0) {
    for (const at of [foot - Math.sqrt(half2), foot + Math.sqrt(half2)]) {
      if (at < 0 || at > length) continue;
      const x = line.x0 + (dx * at) / length;
      const y = line.y0 + (dy * at) / length;
      if (arcContains(arc, Math.atan2(y - arc.cy, x - arc.cx))) return 0;
    }
  }
  return least;
}

function arcArc(a: ArcPiece, b: ArcPiece): number {
  let least = Number.POSITIVE_INFINITY;
  for (const at of [0, 1]) {
    const [ax, ay] = piecePoint(a, at);
    const [bx, by] = piecePoint(b, at);
    least = Math.min(least, pointArc(ax, ay, b), pointArc(bx, by, a));
  }
  const dx = b.cx - a.cx;
  const dy = b.cy - a.cy;
  const between = Math.hypot(dx, dy);
  const scale = Math.max(a.radius, b.radius);
  if (between <= 1e-12 * scale) {
    // Concentric: either a common direction exists (the radii's difference) or the ends decide.
    const [ax, ay] = piecePoint(a, 0.5);
    const [bx, by] = piecePoint(b, 0.5);
    return Math.min(least, pointArc(ax, ay, b), pointArc(bx, by, a));
  }
  const direction = Math.atan2(dy, dx);
  for (const turnA of [0, Math.PI]) {
    if (!arcContains(a, direction + turnA)) continue;
    least = Math.min(
      least,
      pointArc(a.cx + a.radius * Math.cos(direction + turnA), a.cy + a.radius * Math.sin(direction + turnA), b),
    );
  }
  for (const turnB of [0, Math.PI]) {
    if (!arcContains(b, direction + turnB)) continue;
    least = Math.min(
      least,
      pointArc(b.cx + b.radius * Math.cos(direction + turnB), b.cy + b.radius * Math.sin(direction + turnB), a),
    );
  }
  const along = (between * between + a.radius * a.radius - b.radius * b.radius) / (2 * between);
  const half2 = a.radius * a.radius - along * along;
  if (half2 >= 0) {
    const half = Math.sqrt(half2);
    for (const sign of [-1, 1]) {
      const x = a.cx + (dx * along - sign * dy * half) / between;
      const y = a.cy + (dy * along + sign * dx * half) / between;
      if (arcContains(a, Math.atan2(y - a.cy, x - a.cx)) && arcContains(b, Math.atan2(y - b.cy, x - b.cx))) return 0;
    }
  }
  return least;
}

/** Unit vector along the current at the fraction `at` of a piece. */
export function pieceTangent(piece: Piece, at: number): readonly [number, number, number] {
  if (piece.kind === 'arc') {
    const angle = piece.start + piece.sweep * at;
    const sign = Math.sign(piece.sweep);
    return [-sign * Math.sin(angle), sign * Math.cos(angle), 0];
  }
  const length = pieceLength(piece);
  return [
    (piece.x1 - piece.x0) / length,
    (piece.y1 - piece.y0) / length,
    ((piece.dz1 ?? 0) - (piece.dz0 ?? 0)) / length,
  ];
}
