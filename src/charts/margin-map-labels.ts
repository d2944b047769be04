import type { OffsetMap } from '../analysis/types.ts';
import { valueAt } from './contours.ts';
import { alongLines, around } from './line-candidates.ts';
import type { MapFrame } from './map-frame.ts';
import type { MarginShapes } from './margin-shapes.ts';
import type { LabelRequest } from './place-labels.ts';
import { plain, signedPercent, withUnit } from './tick-text.ts';

export interface MapLabel extends LabelRequest {
  readonly text: string;
  readonly kind: 'here' | 'line' | 'step' | 'zone' | 'reach' | 'transmitter' | 'receiver';
}

interface Sources {
  readonly map: OffsetMap | null;
  readonly shapes: MarginShapes | null;
  readonly frame: MapFrame;
  /** Coil outlines as drawn, flat x y in mm. */
  readonly transmitterMm: Float64Array | null;
  readonly receiverMm: Float64Array | null;
  readonly ring: readonly [number, number];
  readonly hereText: string;
  readonly width: (text: string) => number;
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

/** What the map would like to write, most important first, with the places each may take. */
export function mapLabels(from: Sources): MapLabel[] {
  const { map, shapes, frame, width } = from;
  const height = 17;
  const labels: MapLabel[] = [];
  const add: Add = (id, kind, text, candidates) => {
    if (text !== '' && candidates.length > 0)
      labels.push({ id, kind, text, width: width(text) + 6, height, candidates });
  };
  const here = width(from.hereText);
  add('here', 'here', from.hereText, around(from.ring[0], from.ring[1], here / 2, 14));
  if (map && shapes) {
    add('zero', 'line', `${withUnit(map.demandA, 'A', 2)} just held`, alongLines(shapes.zero, frame, 90));
    if (!frame.narrow) addLineNames(add, map, shapes, frame);
    if (map.reachMm.value * frame.pxPerMm > 40) {
      const angle = (map.tightestDeg * Math.PI) / 180;
      const places = [0.55, 0.7, 0.4, 0.82].flatMap((part) => {
        const r = part * map.reachMm.value;
        const x = frame.x(r * Math.cos(angle));
        const y = frame.y(r * Math.sin(angle));
        return [
          x + 12 * Math.sin(angle),
          y + 12 * Math.cos(angle) * -1,
          x - 12 * Math.sin(angle),
          y + 12 * Math.cos(angle),
        ];
      });
      add('reach', 'reach', `reach ${withUnit(map.reachMm.value, 'mm')}`, places);
    }
    add('collapse', 'zone', 'collapses', collapsePlaces(map, shapes, frame));
    add('beyond', 'zone', 'not computed', beyondPlaces(map, frame));
  }
  if (from.transmitterMm)
    add('transmitter', 'transmitter', 'transmitter', alongLines([from.transmitterMm], frame, 150));
  if (from.receiverMm) {
    const centre = frame.toMm(from.ring[0], from.ring[1]);
    const own = { x: (v: number) => frame.x(v + centre[0]), y: (v: number) => frame.y(v + centre[1]) };
    const relative = from.receiverMm.map((v, i) => v - centre[i % 2]);
    add('receiver', 'receiver', 'receiver', alongLines([relative], own, -35));
  }
  // A narrow map names its lines in a legend beneath: labels on them would leave nothing of the lines.
  if (shapes && !frame.narrow) {
    for (const step of shapes.steps) {
      add(
        `step-${plain(step.levelPercent)}`,
        'step',
        signedPercent(step.levelPercent),
        alongLines(step.lines, frame, 35),
      );
    }
  }
  return labels;
}
