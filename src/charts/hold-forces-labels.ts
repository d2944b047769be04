import { curveAt, type LineFrame } from './line-chart-frame.ts';
import { curvePieces } from './line-pieces.ts';
import { type Box, type LabelRequest, type PlacedLabel, placeLabels } from './place-labels.ts';
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

/** Without magnets friction alone acts. */
export const acts = (values: Float64Array): boolean => values.some((value) => value !== 0);

/** Curves that are nowhere farther apart than this look like one, px. */
const SAME = 4;

function apart(a: Float64Array, b: Float64Array, y: (value: number) => number): number {
  return a.reduce((most, value, k) => Math.max(most, Math.abs(y(value) - y(b[k]))), 0);
}

/** Labels of the force curves, clear of curves and marks where there is room; `before`: where they stood. */
export function forceLabels(
  curves: ForceCurves,
  frame: LineFrame,
  widthOf: (text: string) => number,
  before: ReadonlyMap<string, PlacedLabel>,
): { readonly labels: readonly ForceLabel[]; readonly boxes: Map<string, PlacedLabel> } {
  const { plot, x, y } = frame;
  const requests: LabelRequest[] = [];
  const labels: ForceLabel[] = [];
  const drawn = { restoring: curves.restoringN, pull: curves.pullN, friction: curves.frictionN };
  const pieces = Object.entries(drawn).map(
    ([id, values]) => [id, curvePieces(curves.offsetMm, values, frame)] as const,
  );
  const end = curves.offsetMm[curves.offsetMm.length - 1];
  const [low, high] = [plot.y, plot.y + plot.height];
  const marked = [
    { id: 'capture', text: 'capture', at: curves.captureMm },
    { id: 'rest', text: 'rest band', at: curves.restBandMm },
  ].flatMap(({ at, ...mark }) => (at === null || at <= 0 || at > end ? [] : [{ ...mark, at }]));
  const marks: Box[] = [
    ...curvePieces([0, end], [0, 0], frame),
    ...marked.flatMap(({ at }) => curvePieces([at, at], [low, high], { x, y: (value) => value })),
  ];
  const add = (id: string, text: string, kind: string, candidates: number[]): void => {
    labels.push({ id, text, kind });
    requests.push({
      id,
      width: widthOf(text) + 6,
      height: 16,
      candidates,
      lines: [...marks, ...pieces.filter(([name]) => name !== id).flatMap(([, boxes]) => boxes)],
      own: pieces.find(([name]) => name === id)?.[1] ?? [],
      needed: id in drawn,
    });
  };
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
  for (const { id, text, at } of marked) {
    const half = widthOf(text) / 2 + 6;
    add(
      id,
      text,
      'mark',
      [12, 28, 44].flatMap((down) => [x(at) + half, low + down, x(at) - half, low + down]),
    );
  }
  if (acts(curves.restoringN))
    add('restoring', 'restoring force', 'restoring', along(curves.restoringN, 'restoring force'));
  if (acts(curves.pullN)) add('pull', 'pull', 'pull', along(curves.pullN, 'pull'));
  add('friction', 'friction', 'friction', along(curves.frictionN, 'friction'));
  if (curves.airRestoringN && apart(curves.restoringN, curves.airRestoringN, y) > SAME)
    add('air', 'without ferrite', 'air', along(curves.airRestoringN, 'without ferrite'));
  return { labels, boxes: placeLabels(requests, [], plot, before, 1) };
}

/** What the curves say at an offset, in one line. */
export function forceReading(curves: ForceCurves, axis: string, at: number): string {
  const value = (values: Float64Array) => curveAt(curves.offsetMm, values, at);
  const [restoring, friction] = [value(curves.restoringN), value(curves.frictionN)];
  const verdict = restoring > friction ? 'slides home' : restoring < -friction ? 'slides away' : 'stays';
  return `${axis} ${withUnit(at, 'mm')}: ${verdict}; restoring ${withUnit(restoring, 'N', 2)}, friction ${withUnit(friction, 'N', 2)}, pull ${withUnit(value(curves.pullN), 'N', 2)}, tips ${withUnit(value(curves.tippingNmm), 'N mm')}`;
}
