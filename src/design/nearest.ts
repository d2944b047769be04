/** Edit distance with adjacent swaps (optimal string alignment), cut off above `limit`. */
function distance(a: string, b: string, limit: number): number {
  if (Math.abs(a.length - b.length) > limit) return limit + 1;
  let before: number[] = [];
  let previous = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const current = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let best = Math.min(previous[j] + 1, current[j - 1] + 1, previous[j - 1] + same);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) best = Math.min(best, before[j - 2] + 1);
      current.push(best);
    }
    before = previous;
    previous = current;
  }
  return previous[b.length];
}

/**
 * The known word that was most likely meant, or null. Case is ignored; a word that begins with what was typed counts as
 * near (`gap` for `gapMm`); otherwise at most a third of the letters may differ.
 */
export function nearest(typed: string, known: readonly string[]): string | null {
  const want = typed.toLowerCase().slice(0, 60);
  if (want === '') return null;
  const limit = Math.max(1, Math.floor(want.length / 3));
  let best: string | null = null;
  let bestScore = limit + 1;
  for (const word of known) {
    const have = word.toLowerCase();
    const stem = want.length >= 3 && (have.startsWith(want) || want.startsWith(have)) ? 0.5 : Number.POSITIVE_INFINITY;
    const score = have === want ? 0 : Math.min(stem, distance(want, have, limit));
    if (score < bestScore) {
      best = word;
      bestScore = score;
    }
  }
  return best;
}
