/**
 * Indices of the points that no other beats in both: `gain` as large, `cost` as small as may be; ascending in gain. Of
 * equal points the first stays.
 */
export function paretoFront(gain: ArrayLike<number>, cost: ArrayLike<number>): number[] {
  const order = Array.from({ length: gain.length }, (_, i) => i)
    .filter((i) => Number.isFinite(gain[i]) && Number.isFinite(cost[i]))
    .sort((a, b) => gain[b]! - gain[a]! || cost[a]! - cost[b]! || a - b);
  const front: number[] = [];
  let least = Number.POSITIVE_INFINITY;
  for (const i of order) {
    if (cost[i]! >= least) continue;
    least = cost[i]!;
    front.push(i);
  }
  return front.reverse();
}
