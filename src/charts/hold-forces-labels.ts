import { curveAt, type LineFrame } from './line-chart-frame.ts';
import { type Box, type LabelRequest, placeLabels } from './place-labels.ts';
import { withUnit } from './tick-text.ts';

/** Forces over the offset in one direction. mm, N, N mm; all of one length. */
export interface ForceCurves {
  readonly offsetMm: Float64Array;
  readonly restoringN: Float64Array;
  readonly frictionN: Float64Array;
  readonly pullN: Float64Array;
  readonly tippingNmm: Float64Array;
  /** Restoring force without ferrite; null: the same. */
  readonly airRestoringN: Float64Array | null;
  /** Where friction may let it stop, and from where it slides home, mm; null: nowhere. */
  readonly restBandMm: number | null;
  readonly captureMm: number | null;
}

export interface ForceLabel {
  readonly id: string;
  readonly text: string;
  readonly kind: string;
}

/** Range of values from zero, with some room, and at least up to `least`. */
export function valueSpan(lists: readonly (Float64Array | null)[], least: number): [number, number] {
  let low = 0;
  let high = least;
  for (const values of lists)
    for (const value of values ?? []) {
      low = Math.min(low, value);
      high = Math.max(high, value);
    }
  const room = 0.06 * (high - low);
  return [low < 0 ? low - room : 0, high + room];
}

/** Labels of the force curves, placed clear of curves and marks; `before`: where they stood. */
export function forceLabels(
  curves: ForceCurves,
  { plot, x, y }: LineFrame,
  widthOf: (text: string) => number,
  before: Map<string, Box>,
): { readonly labels: readonly ForceLabel[]; readonly boxes: Map<string, Box> } {
  const requests: LabelRequest[] = [];
  const obstacles: Box[] = [];
  const labels: ForceLabel[] = [];
  const add = (id: string, text: string, kind: string, candidates: number[]): void => {
    labels.push({ id, text, kind });
    requests.push({ id, width: widthOf(text) + 6, height: 16, candidates });
  };
  const end = curves.offsetMm[curves.offsetMm.length - 1];
  const along = (values: Float64Array, text: string): number[] => {
    const half = widthOf(text) / 2;
    const places: number[] = [];
    for (const share of [0.5, 0.6, 0.4, 0.7, 0.3, 0.8, 0.2, 0.12, 0.9, 0.06]) {
      const at = share * end;
      const py = y(curveAt(curves.offsetMm, values, at));
      for (const out of [14, 20, 28])
        places.push(x(at) + half * 0.8, py - out, x(at) - half * 0.8, py - out, x(at), py - out, x(at), py + out);
      places.push(x(at) + half + 8, py, x(at) - half - 8, py);
    }
    return places;
  };
  for (const [id, text, at] of [
    ['capture', 'capture', curves.captureMm],
    ['rest', 'rest band', curves.restBandMm],
  ] as const) {
    if (at === null || at <= 0 || at > end) continue;
    obstacles.push({ x: x(at) - 1, y: plot.y, width: 2, height: plot.height });
    const half = widthOf(text) / 2 + 6;
    add(
      id,
      text,
      'mark',
      [12, 28, 44].flatMap((down) => [x(at) + half, plot.y + down, x(at) - half, plot.y + down]),
    );
  }
  add('restoring', 'restoring force', 'restoring', along(curves.restoringN, 'restoring force'));
  add('pull', 'pull', 'pull', along(curves.pullN, 'pull'));
  add('friction', 'friction', 'friction', along(curves.frictionN, 'friction'));
  if (curves.airRestoringN) add('air', 'without ferrite', 'air', along(curves.airRestoringN, 'without ferrite'));
  for (const values of [curves.restoringN, curves.pullN, curves.frictionN])
    for (let k = 0; k < values.length; k += 1)
      obstacles.push({ x: x(curves.offsetMm[k]) - 2, y: y(values[k]) - 3, width: 4, height: 6 });
  return { labels, boxes: placeLabels(requests, obstacles, plot, before, 1) };
}

/** What the curves say at an offset, in one line. */
export function forceReading(curves: ForceCurves, axis: string, at: number): string {
  const value = (values: Float64Array) => curveAt(curves.offsetMm, values, at);
  const [restoring, friction] = [value(curves.restoringN), value(curves.frictionN)];
  const verdict = restoring > friction ? 'slides home' : restoring < -friction ? 'slides away' : 'stays';
  return `${axis} ${withUnit(at, 'mm')}: ${verdict}; restoring ${withUnit(restoring, 'N', 2)}, friction ${withUnit(friction, 'N', 2)}, pull ${withUnit(value(curves.pullN), 'N', 2)}, tips ${withUnit(value(curves.tippingNmm), 'N mm')}`;
}
