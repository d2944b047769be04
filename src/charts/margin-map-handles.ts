import { type SVGTemplateResult, svg } from 'lit';
import { rounded } from './drag.ts';
import type { MapFrame } from './map-frame.ts';
import type { CrosshairDetail } from './margin-map-reading.ts';
import type { Box } from './place-labels.ts';
import type { PlanPose } from './plan-pose.ts';
import { withUnit } from './tick-text.ts';

/** Where the knob that turns the receiver stands, and the left edge of its number; px. */
export interface KnobPlace {
  readonly x: number;
  readonly y: number;
  readonly slotX: number;
}

/** What a handle listens to. */
interface Heard {
  readonly down?: (event: PointerEvent) => void;
  readonly key: (event: KeyboardEvent) => void;
  readonly blur?: () => void;
}

/** On the receiver's edge, along its own x axis, kept inside the plot. */
export function knobPlace({ x: toX, y: toY, plot }: MapFrame, pose: PlanPose, reachMm: number): KnobPlace {
  const yaw = (pose.yawDeg * Math.PI) / 180;
  const clamp = (v: number, low: number, high: number): number => Math.min(Math.max(v, low), high);
  const x = clamp(toX(pose.xMm + reachMm * Math.cos(yaw)), plot.x + 12, plot.x + plot.width - 12);
  const y = clamp(toY(pose.yMm + reachMm * Math.sin(yaw)), plot.y + 14, plot.y + plot.height - 14);
  const right = x + 64 < plot.x + plot.width;
  return { x, y, slotX: right ? x + 14 : x - 62 };
}

/** What no label may cover: ring, knob and the knob's number. */
export function handleBoxes(ring: readonly [number, number], knob: KnobPlace): Box[] {
  return [
    { x: ring[0] - 14, y: ring[1] - 14, width: 28, height: 28 },
    { x: knob.x - 10, y: knob.y - 10, width: 20, height: 20 },
    { x: knob.slotX - 4, y: knob.y - 12, width: 52, height: 24 },
  ];
}

/** The receiver's centre, to be dragged. */
export function ringHandle(frame: MapFrame, pose: PlanPose, hereText: string, heard: Heard): SVGTemplateResult {
  const { xMm, yMm } = pose;
  return svg`<g class="handle ring" tabindex="0" role="slider" aria-label="Receiver offset"
    aria-valuemin="0" aria-valuemax="100" aria-valuenow=${rounded(Math.hypot(xMm, yMm), 0.01)}
    aria-valuetext=${`x ${withUnit(xMm, 'mm')}, y ${withUnit(yMm, 'mm')}, ${hereText}`}
    transform=${`translate(${frame.x(xMm)} ${frame.y(yMm)})`} @pointerdown=${heard.down} @keydown=${heard.key}>
    <circle class="target" r="22"></circle>
    <circle class="focus" r="15.5"></circle>
    <circle class="knob" r="10"></circle>
    <circle class="dot" r="2.6"></circle>
  </g>`;
}

/** The knob that turns the receiver. */
export function turnHandle(knob: KnobPlace, { yawDeg }: PlanPose, heard: Heard): SVGTemplateResult {
  return svg`<g class="handle turn" tabindex="0" role="slider" aria-label="Yaw of the receiver"
    aria-valuemin="-180" aria-valuemax="180" aria-valuenow=${rounded(yawDeg, 0.1)}
    aria-valuetext=${withUnit(yawDeg, '°')}
    transform=${`translate(${knob.x} ${knob.y})`} @pointerdown=${heard.down} @keydown=${heard.key}>
    <circle class="target" r="18"></circle>
    <circle class="focus" r="10"></circle>
    <circle class="knob" r="5.5"></circle>
  </g>`;
}

/** The whole plot as the place from which arrow keys read it. */
export function readingHandle(
  { plot }: MapFrame,
  point: CrosshairDetail | null,
  words: string,
  heard: Heard,
): SVGTemplateResult {
  const distance = point ? Math.hypot(point.xMm, point.yMm) : 0;
  return svg`<g class="handle reading" tabindex="0" role="slider" aria-label="Reading point on the map"
    aria-valuemin="0" aria-valuemax="100" aria-valuenow=${rounded(distance, 0.01)}
    aria-valuetext=${words} @keydown=${heard.key} @blur=${heard.blur}>
    <rect class="focus" x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height}></rect>
  </g>`;
}
