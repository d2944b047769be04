import type { LineSweep } from '../analysis/types.ts';
import type { MarginCurve } from '../charts/line-chart-drawing.ts';
import type { Sweeps } from '../state/answers.ts';

function curve(id: string, name: string, sweep: LineSweep, stroke: MarginCurve['stroke']): MarginCurve {
  return {
    id,
    label: name,
    x: sweep.at,
    y: sweep.marginPercent,
    low: sweep.marginLowPercent,
    high: sweep.marginHighPercent,
    stroke,
  };
}

/**
 * The lines of Place as its two charts draw them; none before they are there.
 * @param offMm how far off centre the receiver was for them
 */
export function placeCurves(
  sweeps: Sweeps | null,
  offMm: number,
): { readonly gapCurves: readonly MarginCurve[]; readonly offsetCurves: readonly MarginCurve[] } {
  if (!sweeps) return { gapCurves: [], offsetCurves: [] };
  const { gapHere, gapCentred, alongX, alongY } = sweeps;
  return {
    gapCurves: [
      curve('here', gapCentred ? `${offMm.toFixed(1)} mm off` : 'centred', gapHere, 'first'),
      ...(gapCentred ? [curve('centred', 'centred', gapCentred, 'second')] : []),
    ],
    offsetCurves: [curve('x', 'along x', alongX, 'first'), curve('y', 'along y', alongY, 'second')],
  };
}
