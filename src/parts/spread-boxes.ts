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

/**
 * Moves boxes apart until none overlaps, each little by little and along the shorter way, then back inside the bounds.
 * The same input always gives the same picture, and a small change of input a small change of it.
 *
 * @param fixed boxes that stay where they are and are kept clear.
 * @param clearance least distance between two boxes, px.
 * @returns centres in the order given. Where there is no room for all, what overlap is left is as even as it gets.
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
  return boxes.map((_, i) => ({ x: x[i]!, y: y[i]! }));
}
