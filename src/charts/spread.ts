/**
 * Moves labels along one line so that none overlaps, each as little as possible (least squares; pool adjacent violators).
 *
 * @param wanted where each label's centre would like to be, px, in any order
 * @param sizes length each label takes, px
 * @param from lower end of the room
 * @param to upper end of the room; if the labels do not fit they run on beyond it, still without overlap
 * @returns centres, px, in the order given
 */
export function spread(wanted: readonly number[], sizes: readonly number[], from: number, to: number): number[] {
  const order = wanted.map((_, i) => i).sort((a, b) => wanted[a] - wanted[b] || a - b);
  // Shift every label by the room the ones before it take: the constraint becomes "not decreasing".
  const before: number[] = [];
  let taken = 0;
  for (const i of order) {
    before.push(taken + sizes[i] / 2);
    taken += sizes[i];
  }
  const top = Math.max(from, to - taken);
  const blocks: { sum: number; count: number }[] = [];
  order.forEach((i, rank) => {
    blocks.push({ sum: wanted[i] - before[rank], count: 1 });
    while (blocks.length > 1) {
      const last = blocks[blocks.length - 1];
      const previous = blocks[blocks.length - 2];
      if (previous.sum / previous.count <= last.sum / last.count) break;
      blocks.pop();
      previous.sum += last.sum;
      previous.count += last.count;
    }
  });
  const result = new Array<number>(wanted.length);
  let rank = 0;
  for (const block of blocks) {
    const start = Math.min(Math.max(block.sum / block.count, from), top);
    for (let n = 0; n < block.count; n += 1, rank += 1) result[order[rank]] = start + before[rank];
  }
  return result;
}
