import type { OffsetMap } from '../analysis/types.ts';
import { valueAt } from './contours.ts';
import { alongLines, around } from './line-candidates.ts';
import { linePieces } from './line-pieces.ts';
import type { MapFrame } from './map-frame.ts';
import type { MarginShapes } from './margin-shapes.ts';
import type { Box, LabelRequest } from './place-labels.ts';
import { plain, signedPercent, withUnit } from './tick-text.ts';

export interface MapLabel extends LabelRequest {
  readonly text: string;
  readonly kind: 'here' | 'line' | 'step' | 'zone' | 'reach' | 'transmitter' | 'receiver';
}

/** What does not move with the receiver. */
interface StillSources {
  readonly map: OffsetMap | null;
  readonly shapes: MarginShapes | null;
  readonly frame: MapFrame;
  /** Coil outline as drawn, flat x y in mm. */
  readonly transmitterMm: Float64Array | null;
  readonly width: (text: string) => number;
}

interface MovingSources {
  readonly frame: MapFrame;
  /** Coil outline as drawn, flat x y in mm. */
  readonly receiverMm: Float64Array | null;
  readonly ring: readonly [number, number];
  readonly hereText: string;
  readonly width: (text: string, weight?: number) => number;
}

/** Labels of the map itself: lines, zones and the transmitter, then the steps between the lines, which matter least. */
export interface StillLabels {
  readonly first: readonly MapLabel[];
  readonly last: readonly MapLabel[];
  /** Pieces of the map's strong lines, and of the transmitter's outline. */
  readonly lines: readonly Box[];
  readonly transmitter: readonly Box[];
}

/** Beyond the computed square, where there is plot left: nothing is known there, which is not the same as safe. */
function beyondPlaces(map: OffsetMap, frame: MapFrame): number[] {
  const far = Math.abs(map.xMm[0]);
  const high = Math.abs(map.yMm[0]);
  const places: number[] = [];
  const side = (frame.halfXMm + far) / 2;
  const level = (frame.halfYMm + high) / 2;
  if ((frame.halfYMm - high) * frame.pxPerMm > 24) {
    for (const u of [0.6, -0.6, 0.75, -0.75, 0])
      for (const v of [-level, level]) places.push(frame.x(u * far), frame.y(v));
  }
  if ((frame.halfXMm - far) * frame.pxPerMm > 84) {
    for (const v of [0.8, -0.8, 0.5, -0.5]) for (const u of [side, -side]) places.push(frame.x(u), frame.y(v * high));
  }
  return places;
}

/** Middle of the collapse region: the grid point farthest from any that holds, tried from the corners inwards. */
function collapsePlaces(map: OffsetMap, shapes: MarginShapes, frame: MapFrame): number[] {
  const places: { x: number; y: number; cost: number }[] = [];
  const far = Math.min(frame.halfXMm, Math.abs(map.xMm[0]));
  const high = Math.min(frame.halfYMm, Math.abs(map.yMm[0]));
  for (const u of [0.72, -0.72, 0.6, -0.6, 0.8, -0.8, 0, 0.4, -0.4]) {
    for (const v of [-0.86, 0.86, -0.7, 0.7, -0.93, 0.93, 0, 0.4, -0.4]) {
      const x = u * far;
      const y = v * high;
      const margin = valueAt(shapes.grid, x, y);
      if (margin < -12) places.push({ x: frame.x(x), y: frame.y(y), cost: margin });
    }
  }
  places.sort((a, b) => a.cost - b.cost);
  return places.flatMap((p) => [p.x, p.y]);
}

type Add = (id: string, kind: MapLabel['kind'], text: string, candidates: number[]) => void;

function addLineNames(add: Add, map: OffsetMap, shapes: MarginShapes, frame: MapFrame): void {
  add('wanted', 'line', `${signedPercent(map.wantedMarginPercent)} wanted`, alongLines(shapes.wanted, frame, -90));
  for (const peak of shapes.peaks) {
    const text = `${peak.name}, ${withUnit(peak.currentA, 'A', 2)}`;
    add(`peak-${peak.name}`, 'line', text, alongLines(peak.lines, frame, 125));
  }
  add('wake', 'line', 'wakes inside', alongLines(shapes.wake, frame, -50));
}

const HEIGHT = 17;
/** As the style has it. */
const HERE_WEIGHT = 650;

/** Collects labels that say something and have a place to say it. */
function listOf(labels: MapLabel[], width: (text: string) => number): Add {
  return (id, kind, text, candidates) => {
    if (text === '' || candidates.length === 0) return;
    labels.push({ id, kind, text, width: width(text) + 6, height: HEIGHT, candidates });
  };
}

function reachPlaces(map: OffsetMap, frame: MapFrame): number[] {
  const angle = (map.tightestDeg * Math.PI) / 180;
  return [0.55, 0.7, 0.4, 0.82].flatMap((part) => {
    const r = part * map.reachMm.value;
    const x = frame.x(r * Math.cos(angle));
    const y = frame.y(r * Math.sin(angle));
    const [dx, dy] = [12 * Math.sin(angle), 12 * Math.cos(angle)];
    return [x + dx, y - dy, x - dx, y + dy];
  });
}

/** What the map would like to write whatever the receiver does: worked out once for each map and size. */
export function stillLabels({ map, shapes, frame, transmitterMm, width }: StillSources): StillLabels {
  const first: MapLabel[] = [];
  const last: MapLabel[] = [];
  const add = listOf(first, width);
  if (map && shapes) {
    add('zero', 'line', `${withUnit(map.demandA, 'A', 2)} just held`, alongLines(shapes.zero, frame, 90));
    if (!frame.narrow) addLineNames(add, map, shapes, frame);
    if (map.reachMm.value * frame.pxPerMm > 40) {
      add('reach', 'reach', `reach ${withUnit(map.reachMm.value, 'mm')}`, reachPlaces(map, frame));
    }
    add('collapse', 'zone', 'collapses', collapsePlaces(map, shapes, frame));
    add('beyond', 'zone', 'not computed', beyondPlaces(map, frame));
  }
  if (transmitterMm) add('transmitter', 'transmitter', 'transmitter', alongLines([transmitterMm], frame, 150));
  // A narrow map names its lines in a legend beneath: labels on them would leave nothing of the lines.
  if (shapes && !frame.narrow) {
    const addStep = listOf(last, width);
    for (const { levelPercent, lines } of shapes.steps) {
      addStep(`step-${plain(levelPercent)}`, 'step', signedPercent(levelPercent), alongLines(lines, frame, 35));
    }
  }
  const { zero = [], wanted = [], wake = [], peaks = [] } = shapes ?? {};
  const strong = [...zero, ...wanted, ...wake, ...peaks.flatMap((peak) => peak.lines), ...(map?.safeOutline ?? [])];
  return {
    first,
    last,
    lines: strong.flatMap((line) => linePieces(line, frame)),
    transmitter: transmitterMm ? linePieces(transmitterMm, frame) : [],
  };
}

/** All that is to be written, most important first, with the places each may take. */
export function mapLabels(still: StillLabels, from: MovingSources): MapLabel[] {
  const { frame, width, ring, receiverMm } = from;
  const half = width(from.hereText, HERE_WEIGHT) / 2;
  // It names the ring, not a line: it stands where it hides the least of what it lies in.
  const here: MapLabel[] =
    from.hereText === ''
      ? []
      : [
          {
            id: 'here',
            kind: 'here',
            text: from.hereText,
            width: 2 * half + 6,
            height: HEIGHT,
            candidates: around(ring[0], ring[1], half, 14),
            lines: still.lines,
            needed: true,
          },
        ];
  const receiver: MapLabel[] = [];
  if (receiverMm) {
    const centre = frame.toMm(ring[0], ring[1]);
    const own = { x: (v: number) => frame.x(v + centre[0]), y: (v: number) => frame.y(v + centre[1]) };
    const relative = receiverMm.map((v, i) => v - centre[i % 2]);
    listOf(receiver, width)('receiver', 'receiver', 'receiver', alongLines([relative], own, -35));
  }
  // A zone's name stands where it hides the least, too: the receiver's outline moves through it.
  const lines = [...still.lines, ...still.transmitter, ...(receiverMm ? linePieces(receiverMm, frame) : [])];
  const first = still.first.map((label) => (label.kind === 'zone' ? { ...label, lines, needed: true } : label));
  return [...here, ...first, ...receiver, ...still.last];
}

/** The plot without the boxes of the labels: lines break where they are named, as on a chart. */
export function besideLabels(plot: Box, labels: readonly MapLabel[], boxes: ReadonlyMap<string, Box>): string {
  let d = `M${plot.x},${plot.y}h${plot.width}v${plot.height}h${-plot.width}Z`;
  for (const label of labels) {
    const box = boxes.get(label.id);
    if (!box || label.kind === 'reach') continue;
    const { x, y, width, height } = box;
    d += `M${x.toFixed(1)},${y.toFixed(1)}h${width.toFixed(1)}v${height}h${(-width).toFixed(1)}Z`;
  }
  return d;
}

/** Space between the ring's middle and a label that needs no line to it, px. */
const BESIDE = 26;

/** A thin line from the ring to its label where that had to stand farther off; empty where it stands beside it. */
export function leaderToHere([x, y]: readonly [number, number], box: Box | undefined): string {
  if (!box) return '';
  const toX = Math.min(Math.max(x, box.x + 2), box.x + box.width - 2);
  const toY = Math.min(Math.max(y, box.y + 2), box.y + box.height - 2);
  const length = Math.hypot(toX - x, toY - y);
  if (length < BESIDE) return '';
  const [dx, dy] = [(toX - x) / length, (toY - y) / length];
  return `M${(x + 12 * dx).toFixed(1)},${(y + 12 * dy).toFixed(1)}L${toX.toFixed(1)},${toY.toFixed(1)}`;
}
