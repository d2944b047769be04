/** A label: where its centre would like to be and its size, px. */
export interface WantedBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface Centre {
  readonly x: number;
  readonly y: number;
}

const ROUNDS = 100;
/** Where a box may go that still covers what is fixed, in halves of its width and its height. */
const STEPS = [0, -1, 1, -2, 2, -3, 3, -4, 4] as const;

/**
 * Where pushing found no way, a box jumps to the nearest place that covers nothing fixed and the least of other boxes: what
 * is fixed is to be taken hold of, and a name over another is the lesser evil.
 */
function freeFixed(
  boxes: readonly WantedBox[],
  fixed: readonly WantedBox[],
  x: number[],
  y: number[],
  width: number,
  height: number,
): void {
  const overlap = (b: WantedBox, atX: number, atY: number, other: WantedBox, otherX: number, otherY: number): number =>
    Math.max(0, (b.width + other.width) / 2 - Math.abs(atX - otherX)) *
    Math.max(0, (b.height + other.height) / 2 - Math.abs(atY - otherY));
  boxes.forEach((b, i) => {
    const covered = (atX: number, atY: number): number =>
      fixed.reduce((sum, f) => sum + overlap(b, atX, atY, f, f.x, f.y), 0);
    if (covered(x[i]!, y[i]!) === 0) return;
    let best = { x: x[i]!, y: y[i]!, score: Number.POSITIVE_INFINITY };
    for (const dx of STEPS)
      for (const dy of STEPS) {
        const atX = Math.max(b.width / 2, Math.min(width - b.width / 2, x[i]! + (dx * b.width) / 4));
        const atY = Math.max(b.height / 2, Math.min(height - b.height / 2, y[i]! + (dy * b.height) / 2));
        const others = boxes.reduce((sum, o, j) => (j === i ? sum : sum + overlap(b, atX, atY, o, x[j]!, y[j]!)), 0);
        const score = 100 * covered(atX, atY) + others + Math.hypot(atX - x[i]!, atY - y[i]!);
        if (score < best.score) best = { x: atX, y: atY, score };
      }
    x[i] = best.x;
    y[i] = best.y;
  });
}

/**
 * Moves boxes apart until none overlaps, each little by little and along the shorter way, then back inside the bounds.
 * The same input always gives the same picture, and a small change of input a small change of it.
 *
 * @param fixed boxes that stay where they are and are kept clear.
 * @param clearance least distance between two boxes, px.
 * @returns centres in the order given. Where there is no room for all, boxes rather lie on each other than on what is fixed.
 */
export function spreadBoxes(
  boxes: readonly WantedBox[],
  width: number,
  height: number,
  fixed: readonly WantedBox[] = [],
  clearance = 3,
): readonly Centre[] {
  const all = [...boxes, ...fixed];
  const x = all.map((b) => b.x);
  const y = all.map((b) => b.y);
  const keepInside = (i: number): void => {
    const b = boxes[i]!;
    x[i] = Math.max(b.width / 2, Math.min(width - b.width / 2, x[i]!));
    y[i] = Math.max(b.height / 2, Math.min(height - b.height / 2, y[i]!));
  };
  boxes.forEach((_, i) => {
    keepInside(i);
  });
  for (let round = 0; round < ROUNDS; round++) {
    let moved = false;
    for (let i = 0; i < boxes.length; i++)
      for (let j = i + 1; j < all.length; j++) {
        const a = all[i]!;
        const b = all[j]!;
        const overX = (a.width + b.width) / 2 + clearance - Math.abs(x[j]! - x[i]!);
        const overY = (a.height + b.height) / 2 + clearance - Math.abs(y[j]! - y[i]!);
        if (overX <= 0 || overY <= 0) continue;
        moved = true;
        const movable = j < boxes.length;
        const share = movable ? 0.5 : 1;
        // Coincident centres: the later one goes down.
        if (overY <= overX) {
          const sign = y[j]! >= y[i]! ? 1 : -1;
          y[i] = y[i]! - sign * overY * share;
          if (movable) y[j] = y[j]! + sign * overY * share;
        } else {
          const sign = x[j]! >= x[i]! ? 1 : -1;
          x[i] = x[i]! - sign * overX * share;
          if (movable) x[j] = x[j]! + sign * overX * share;
        }
        keepInside(i);
        if (movable) keepInside(j);
      }
    if (!moved) break;
  }
  freeFixed(boxes, fixed, x, y, width, height);
  return boxes.map((_, i) => ({ x: x[i]!, y: y[i]! }));
}
