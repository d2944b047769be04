import { nothing, type SVGTemplateResult, svg } from 'lit';
import { guard } from 'lit/directives/guard.js';
import type { MapFrame } from './map-frame.ts';
import type { PlanPose } from './plan-pose.ts';
import { polylinePath } from './svg-path.ts';
import type { WindingOutline } from './turn-edge.ts';

function edges(outline: WindingOutline, side: string, frame: MapFrame): SVGTemplateResult {
  // About the winding's own centre, so that a move of the receiver is one transform.
  const own = { x: (mm: number) => mm * frame.pxPerMm, y: (mm: number) => -mm * frame.pxPerMm };
  const edge = (kind: string, points: Float64Array): SVGTemplateResult => {
    const d = polylinePath(points, own, true);
    return svg`<path class="outline halo" d=${d}></path><path class="outline ${kind}" d=${d}></path>`;
  };
  return svg`${edge(`${side} inner`, outline.innerMm)}${edge(side, outline.outerMm)}`;
}

/** Both windings seen from above, and the mark on the transmitter's axis. */
export function outlines(
  frame: MapFrame,
  transmitter: WindingOutline | null,
  receiver: WindingOutline | null,
  pose: PlanPose,
): SVGTemplateResult {
  const x0 = frame.x(0);
  const y0 = frame.y(0);
  const there = `translate(${frame.x(pose.xMm).toFixed(2)} ${frame.y(pose.yMm).toFixed(2)}) rotate(${-pose.yawDeg})`;
  return svg`<g clip-path="url(#plot)">
    ${
      transmitter
        ? svg`<g transform=${`translate(${x0} ${y0})`}>${guard([transmitter, frame.pxPerMm], () => edges(transmitter, 'transmitter', frame))}</g>`
        : nothing
    }
    ${
      receiver
        ? svg`<g transform=${there}>${guard([receiver, frame.pxPerMm], () => edges(receiver, 'receiver', frame))}</g>`
        : nothing
    }
    <path class="centre-mark" d=${`M${x0 - 6},${y0}h12M${x0},${y0 - 6}v12`}></path>
  </g>`;
}
