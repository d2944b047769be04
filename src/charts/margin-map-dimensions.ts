import { html, nothing, type SVGTemplateResult, svg, type TemplateResult } from 'lit';
import { dimensionLine } from './dimension-line.ts';
import type { MapFrame } from './map-frame.ts';
import { placed } from './placed.ts';
import type { PlanPose } from './plan-pose.ts';

/** Distance of the dimensions from the plot, px. */
const BELOW = 38;
const BESIDE = 68;
/** A dimension must be this long, px, before its number stands on it rather than beside it. */
const ROOM_ALONG = 110;
const ROOM_UP = 60;

/** Dimensions of the offset along the plot's lower and left edge, with thin lines to the ring. */
export function poseDimensions(frame: MapFrame, pose: PlanPose): SVGTemplateResult {
  const { plot } = frame;
  const low = plot.y + plot.height;
  const x = Math.min(Math.max(frame.x(pose.xMm), plot.x), plot.x + plot.width);
  const y = Math.min(Math.max(frame.y(pose.yMm), plot.y), low);
  const guides = svg`<path class="extension" stroke-dasharray="1 3" d=${`M${x},${y + 14}V${low}M${x - 14},${y}H${plot.x}`}></path>`;
  if (frame.narrow) return guides;
  const line = low + BELOW;
  const far = plot.x - BESIDE;
  const x0 = frame.x(0);
  const y0 = frame.y(0);
  const along = Math.abs(x - x0);
  const up = Math.abs(y - y0);
  return svg`${guides}
    ${
      along < 1
        ? nothing
        : svg`<path class="extension" d=${`M${x0},${low + 22}V${line + 6}M${x},${low + 22}V${line + 6}`}></path>
          ${dimensionLine(x0, line, x, line, along > ROOM_ALONG ? 74 : 0)}`
    }
    ${
      up < 1
        ? nothing
        : svg`<path class="extension" d=${`M${plot.x - 34},${y0}H${far - 6}M${plot.x - 34},${y}H${far - 6}`}></path>
          ${dimensionLine(far, y0, far, y, up > ROOM_UP ? 30 : 0)}`
    }`;
}

/** Places of the numbers: on the dimensions or beside them; in a row beneath a narrow map. */
export function poseFields(
  frame: MapFrame,
  pose: PlanPose,
  knob: { readonly slotX: number; readonly y: number },
): TemplateResult {
  const { plot } = frame;
  const at = (left: number, top: number) => placed({ left: `${left}px`, top: `${top}px` });
  if (frame.narrow) {
    const row = plot.y + plot.height + 42;
    return html`<div class="place from-left" style=${at(plot.x, row)}><slot name="offset-x"></slot></div>
      <div class="place" style=${at(plot.x + plot.width / 2, row)}><slot name="offset-y"></slot></div>
      <div class="place to-right" style=${at(plot.x + plot.width, row)}><slot name="yaw"></slot></div>`;
  }
  const x0 = frame.x(0);
  const y0 = frame.y(0);
  const x = Math.min(Math.max(frame.x(pose.xMm), plot.x), plot.x + plot.width);
  const y = Math.min(Math.max(frame.y(pose.yMm), plot.y), plot.y + plot.height);
  const wide = Math.abs(x - x0) > ROOM_ALONG;
  const beside = pose.xMm >= 0 ? Math.max(x, x0) + 22 : Math.min(x, x0) - 22;
  const tall = Math.abs(y - y0) > ROOM_UP;
  const above = pose.yMm >= 0 ? Math.min(y, y0) - 24 : Math.max(y, y0) + 24;
  const side = wide ? '' : pose.xMm >= 0 ? 'from-left' : 'to-right';
  return html`<div class="place ${side}" style=${at(wide ? (x + x0) / 2 : beside, plot.y + plot.height + BELOW)}>
      <slot name="offset-x"></slot>
    </div>
    <div class="place" style=${at(plot.x - BESIDE, tall ? (y + y0) / 2 : above)}><slot name="offset-y"></slot></div>
    <div class="place from-left" style=${at(knob.slotX, knob.y)}><slot name="yaw"></slot></div>`;
}
