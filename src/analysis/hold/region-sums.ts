/** Regions over several gaps, turns and tilts. */

/**
 * The lowest of several slack fields point by point: the worst over gap, yaw and tilt before a region is drawn. NaN counts as
 * unmet. All arrays of one length.
 */
export function worstSlack(fields: readonly Float64Array[]): Float64Array {
  const first = fields[0];
  if (!first) return new Float64Array(0);
  return first.map((_, k) => {
    let least = Number.POSITIVE_INFINITY;
    for (const field of fields) {
      const v = field[k];
      if (Number.isNaN(v)) return Number.NEGATIVE_INFINITY;
      least = Math.min(least, v);
    }
    return least;
  });
}

/**
 * Volume of the safe region over the gap, mm^3: piecewise cubic through the areas (Simpson between three neighbours where
 * there are enough), so that a handful of gaps will do.
 * @param gapsMm ascending. @param areasMm2 safe area at each.
 */
export function safeVolume(gapsMm: ArrayLike<number>, areasMm2: ArrayLike<number>): number {
  let volume = 0;
  const n = gapsMm.length;
  for (let k = 0; k + 1 < n; k += 1) {
    const h = gapsMm[k + 1] - gapsMm[k];
    let part = (h * (areasMm2[k] + areasMm2[k + 1])) / 2;
    // Mean of the parabola corrections from both sides; none where the region ends (a kink).
    const bends: number[] = [];
    for (const c of [k - 1, k])
      if (c >= 0 && c + 2 < n && [c, c + 1, c + 2].every((i) => areasMm2[i] > 0)) {
        const slopeA = (areasMm2[c + 1] - areasMm2[c]) / (gapsMm[c + 1] - gapsMm[c]);
        const slopeB = (areasMm2[c + 2] - areasMm2[c + 1]) / (gapsMm[c + 2] - gapsMm[c + 1]);
        bends.push((slopeB - slopeA) / (gapsMm[c + 2] - gapsMm[c]));
      }
    if (bends.length > 0) part -= ((h ** 3 / 6) * bends.reduce((s, b) => s + b, 0)) / bends.length;
    volume += part;
  }
  return volume;
}
