/** Left end and baseline of a label, px. */
export interface LabelSpot {
  readonly x: number;
  readonly y: number;
}

interface Frame {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

interface Box {
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
}

/** Height of a label above and below its baseline, px. */
const ABOVE = 11;
const BELOW = 4;

/** Finds room for labels, one after the other: the first spot that covers no curve, no dot and no other label. */
export interface LabelPlacer {
  /** Keeps labels off a round spot. */
  avoid(x: number, y: number, radius: number): void;
  /** The first free spot of a list; where none is free the one that covers least; null for an empty list. */
  put(width: number, spots: readonly LabelSpot[]): LabelSpot | null;
}

/** @param curvesAt heights of all curves at x, NaN where one is not there */
export function labelPlacer(frame: Frame, curvesAt: (x: number) => readonly number[]): LabelPlacer {
  const taken: Box[] = [];
  const boxOf = (width: number, { x, y }: LabelSpot): Box => ({
    x0: x - 2,
    x1: x + width + 2,
    y0: y - ABOVE,
    y1: y + BELOW,
  });
  const cost = (box: Box): number => {
    let sum = 0;
    if (box.x0 < frame.left || box.x1 > frame.right || box.y0 < frame.top || box.y1 > frame.bottom) sum += 100;
    for (const other of taken)
      if (box.x0 < other.x1 && other.x0 < box.x1 && box.y0 < other.y1 && other.y0 < box.y1) sum += 10;
    for (let i = 0; i <= 6; i++) {
      const x = box.x0 + ((box.x1 - box.x0) * i) / 6;
      for (const y of curvesAt(x)) if (y > box.y0 - 2 && y < box.y1 + 2) sum += 1;
    }
    return sum;
  };
  return {
    avoid(x, y, radius) {
      taken.push({ x0: x - radius, x1: x + radius, y0: y - radius, y1: y + radius });
    },
    put(width, spots) {
      let best: LabelSpot | null = null;
      let least = Number.POSITIVE_INFINITY;
      for (const spot of spots) {
        const here = cost(boxOf(width, spot));
        if (here >= least) continue;
        least = here;
        best = spot;
        if (here === 0) break;
      }
      if (best) taken.push(boxOf(width, best));
      return best;
    },
  };
}
