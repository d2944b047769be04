/** Left, top, width, height in px. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface LabelRequest {
  readonly id: string;
  readonly width: number;
  readonly height: number;
  /** Centres to try, best first, flat x y. */
  readonly candidates: ArrayLike<number>;
  /** Pieces of lines that it should not hide. */
  readonly lines?: readonly Box[];
  /** Pieces of the line it names, if it names one: it should not hide that either, and be nearer to it than to the others. */
  readonly own?: readonly Box[];
  /** Written even where every place hides a line: at the one that hides the fewest pieces. */
  readonly needed?: boolean;
}

/** Where a label came to stand, and which of its places that is. */
export interface PlacedLabel extends Box {
  readonly candidate?: number;
}

/** Pieces of line that the next candidate must save to be worth as much as the one before it. */
const FARTHER = 0.05;
/** Pieces that another place must save before a label leaves the one it had. */
const LEAVES = 3;
/** Pieces that a place is worth less for each px by which another line is nearer than the own one. */
const UNCLEAR = 0.5;

/** Distance between the nearest edges of two boxes; 0 where they meet. */
function gapBetween(a: Box, b: Box): number {
  const dx = Math.max(0, a.x - b.x - b.width, b.x - a.x - a.width);
  const dy = Math.max(0, a.y - b.y - b.height, b.y - a.y - a.height);
  return Math.hypot(dx, dy);
}

const nearest = (box: Box, pieces: readonly Box[]): number =>
  pieces.reduce((least, piece) => Math.min(least, gapBetween(box, piece)), Number.POSITIVE_INFINITY);

export function overlaps(a: Box, b: Box, clearance = 0): boolean {
  return (
    a.x < b.x + b.width + clearance &&
    b.x < a.x + a.width + clearance &&
    a.y < b.y + b.height + clearance &&
    b.y < a.y + a.height + clearance
  );
}

function inside(box: Box, bounds: Box): boolean {
  return (
    box.x >= bounds.x &&
    box.y >= bounds.y &&
    box.x + box.width <= bounds.x + bounds.width &&
    box.y + box.height <= bounds.y + bounds.height
  );
}

/**
 * Places labels so that none touches another, an obstacle or the edge, and none lies on a line it should not hide.
 * Requests come most important first; one that finds no room is left out rather than drawn over something, unless it is
 * `needed`. A label keeps its previous place while that is free, so that nothing jumps during a drag.
 *
 * @param obstacles never covered
 * @returns box of each label that found room
 */
export function placeLabels(
  requests: readonly LabelRequest[],
  obstacles: readonly Box[],
  bounds: Box,
  previous: ReadonlyMap<string, PlacedLabel> = new Map(),
  clearance = 3,
): Map<string, PlacedLabel> {
  const placed = new Map<string, PlacedLabel>();
  const taken: Box[] = [...obstacles];
  for (const request of requests) {
    const box = request.needed
      ? leastHiding(request, taken, bounds, previous.get(request.id), clearance)
      : firstFree(request, taken, bounds, previous.get(request.id), clearance);
    if (box) {
      placed.set(request.id, box);
      taken.push(box);
    }
  }
  return placed;
}

/** The label at one of its places; null where that is taken or outside. */
function boxAt(
  { width, height, candidates }: LabelRequest,
  i: number,
  taken: readonly Box[],
  bounds: Box,
  clearance: number,
): PlacedLabel | null {
  const box = { x: candidates[2 * i] - width / 2, y: candidates[2 * i + 1] - height / 2, width, height, candidate: i };
  return inside(box, bounds) && !taken.some((other) => overlaps(box, other, clearance)) ? box : null;
}

function firstFree(
  request: LabelRequest,
  obstacles: readonly Box[],
  bounds: Box,
  kept: PlacedLabel | undefined,
  clearance: number,
): PlacedLabel | null {
  const { candidates, lines = [], own = [] } = request;
  const count = Math.floor(candidates.length / 2);
  const taken = [...obstacles, ...lines, ...own];
  if (kept) {
    const x = kept.x + kept.width / 2;
    const y = kept.y + kept.height / 2;
    for (let i = 0; i < count; i += 1) {
      // Only a place that is still on offer: the line the label belongs to may have moved away.
      if (Math.abs(candidates[2 * i] - x) < 2 && Math.abs(candidates[2 * i + 1] - y) < 2) {
        const box = boxAt(request, i, taken, bounds, clearance);
        if (box) return box;
        break;
      }
    }
  }
  for (let i = 0; i < count; i += 1) {
    const box = boxAt(request, i, taken, bounds, clearance);
    if (box) return box;
  }
  return null;
}

function leastHiding(
  request: LabelRequest,
  taken: readonly Box[],
  bounds: Box,
  kept: PlacedLabel | undefined,
  clearance: number,
): PlacedLabel | null {
  const { candidates, lines = [], own = [] } = request;
  let best: PlacedLabel | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; 2 * i + 1 < candidates.length; i += 1) {
    // The places of a label follow what it names: the same place is the one with the same number.
    const likes = FARTHER * i - (kept?.candidate === i ? LEAVES : 0);
    if (likes >= least) continue;
    const box = boxAt(request, i, taken, bounds, clearance);
    if (!box) continue;
    let hidden = likes;
    for (const pieces of [lines, own]) for (const piece of pieces) if (overlaps(box, piece, 1)) hidden += 1;
    if (hidden < least && own.length > 0) hidden += UNCLEAR * Math.max(0, nearest(box, own) - nearest(box, lines));
    if (hidden < least) {
      least = hidden;
      best = box;
    }
  }
  return best;
}
