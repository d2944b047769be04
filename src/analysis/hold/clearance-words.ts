/** What a millimetre of clearance is worth, in words, for page and command alike. */
import type { LotteryReport } from './lottery-report.ts';

const SPACE = '\u00a0';

/**
 * How many more placements work for each millimetre of clearance taken away, with the drawing's interval; empty where there is
 * no recess to take it from.
 */
export function perMillimetre({ curve, clearanceMm }: LotteryReport): string {
  if (!curve || clearanceMm === null) return '';
  let nearest = 0;
  curve.clearanceMm.forEach((at, k) => {
    if (Math.abs(at - clearanceMm) < Math.abs(curve.clearanceMm[nearest] - clearanceMm)) nearest = k;
  });
  const gain = -100 * curve.perMm[nearest];
  const half = 100 * curve.perMmHalf[nearest];
  const about = `About ${clearanceMm.toFixed(2)}${SPACE}mm of clearance`;
  if (Math.abs(gain) <= Math.max(0.05, half))
    return `${about} another millimetre changes no more than ${Math.max(0.1, Math.abs(gain) + half).toFixed(1)}${SPACE}% of all placements.`;
  return `${about} each millimetre taken away ${gain > 0 ? 'gains' : 'loses'} ${Math.abs(gain).toFixed(1)} ± ${half.toFixed(1)}${SPACE}% of all placements.`;
}
