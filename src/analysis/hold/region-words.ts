/** What the worst region covers, in words, for page and command alike. */
import type { RegionReport, WorstCheck } from './region-report.ts';

const degrees = (radians: number) => `${((radians * 180) / Math.PI).toFixed(1)}°`;

/** `gap (5.4 to 6.4 mm), turn (up to 2.1°) and tilt (up to 0.8°)`. */
export function allowedWords({ worstGapsMm, worstTurns, worstTilts }: RegionReport): string {
  const [thin, thick] = [worstGapsMm[0] ?? 0, worstGapsMm[worstGapsMm.length - 1] ?? 0];
  const turn = worstTurns.reduce((most, yaw) => Math.max(most, Math.abs(yaw)), 0);
  const tilt = Math.max(...worstTilts);
  const gap = thick > thin ? `gap (${thin.toFixed(1)} to ${thick.toFixed(1)} mm)` : `gap (${thin.toFixed(1)} mm)`;
  return `${gap}, turn (up to ${degrees(turn)}) and tilt (${tilt > 0 ? `up to ${degrees(tilt)}` : 'none known'})`;
}

/** How far the worst region was checked. */
export function checkWords({ places, shortfallPercent }: WorstCheck): string {
  const found =
    shortfallPercent < 0.05
      ? 'none had less margin than the map says'
      : `the margin was at most ${shortfallPercent.toFixed(1)} points below the map’s, which the band holds`;
  return `${places} allowed places on its border solved directly, turned and tilted: ${found}.`;
}
