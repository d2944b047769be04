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
}

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
 * Places labels so that none touches another, an obstacle or the edge. Requests come most important first; one that finds
 * no room is left out rather than drawn over something. A label keeps its previous place while that is free, so that
 * nothing jumps during a drag.
 *
 * @returns box of each label that found room
 */
export function placeLabels(
  requests: readonly LabelRequest[],
  obstacles: readonly Box[],
  bounds: Box,
  previous: ReadonlyMap<string, Box> = new Map(),
  clearance = 3,
): Map<string, Box> {
  const placed = new Map<string, Box>();
  const taken: Box[] = [...obstacles];
  for (const request of requests) {
    const { width, height, candidates } = request;
    const free = (x: number, y: number): Box | null => {
      const box = { x: x - width / 2, y: y - height / 2, width, height };
      return inside(box, bounds) && !taken.some((other) => overlaps(box, other, clearance)) ? box : null;
    };
    let box: Box | null = null;
    const kept = previous.get(request.id);
    if (kept) {
      const x = kept.x + kept.width / 2;
      const y = kept.y + kept.height / 2;
      for (let i = 0; i < candidates.length; i += 2) {
        // Only a place that is still on offer: the line the label belongs to may have moved away.
        if (Math.abs(candidates[i] - x) < 2 && Math.abs(candidates[i + 1] - y) < 2) {
          box = free(candidates[i], candidates[i + 1]);
          break;
        }
      }
    }
    for (let i = 0; !box && i < candidates.length; i += 2) box = free(candidates[i], candidates[i + 1]);
    if (box) {
      placed.set(request.id, box);
      taken.push(box);
    }
  }
  return placed;
}
