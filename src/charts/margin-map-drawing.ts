import { nothing, type SVGTemplateResult, svg } from 'lit';
import type { OffsetMap } from '../analysis/types.ts';
import type { MapFrame } from './map-frame.ts';
import type { MarginShapes } from './margin-shapes.ts';
import { planAxes } from './plan-axes.ts';
import { type Projection, polylinePath } from './svg-path.ts';

/** Everything below the handles, as it depends on the map and the frame only; built once per answer and size. */
export interface MapDrawing {
  readonly ground: SVGTemplateResult;
  readonly lines: SVGTemplateResult;
}

function paths(lines: readonly Float64Array[], to: Projection): string {
  return lines.map((line) => polylinePath(line, to)).join('');
}

function ringPaths(rings: readonly Float64Array[], to: Projection): string {
  return rings.map((ring) => polylinePath(ring, to, true)).join('');
}

function gridSquare(map: OffsetMap, frame: MapFrame): { x: number; y: number; width: number; height: number } {
  const x0 = Math.max(frame.plot.x, frame.x(map.xMm[0]));
  const x1 = Math.min(frame.plot.x + frame.plot.width, frame.x(map.xMm[map.xMm.length - 1]));
  const y0 = Math.max(frame.plot.y, frame.y(map.yMm[map.yMm.length - 1]));
  const y1 = Math.min(frame.plot.y + frame.plot.height, frame.y(map.yMm[0]));
  return { x: x0, y: y0, width: Math.max(0, x1 - x0), height: Math.max(0, y1 - y0) };
}

/** Short strokes along closed rings, `every` px apart, pointing to the ring's inside: the mark of the safe outline. */
function inwardTicks(rings: readonly Float64Array[], to: Projection, every: number, length: number): string {
  let d = '';
  for (const ring of rings) {
    const count = ring.length / 2;
    let area = 0;
    for (let i = 0; i < count; i += 1) {
      const j = (i + 1) % count;
      area += to.x(ring[2 * i]) * to.y(ring[2 * j + 1]) - to.x(ring[2 * j]) * to.y(ring[2 * i + 1]);
    }
    // The first ring bounds the region from outside, the others are holes: there the safe side is outside the ring.
    const inward = Math.sign(area) * (ring === rings[0] ? 1 : -1);
    let along = 0;
    for (let i = 0; i < count; i += 1) {
      const j = (i + 1) % count;
      const x0 = to.x(ring[2 * i]);
      const y0 = to.y(ring[2 * i + 1]);
      const dx = to.x(ring[2 * j]) - x0;
      const dy = to.y(ring[2 * j + 1]) - y0;
      const size = Math.hypot(dx, dy);
      if (size === 0) continue;
      while (along < size) {
        const x = x0 + (dx * along) / size;
        const y = y0 + (dy * along) / size;
        d += `M${x.toFixed(1)},${y.toFixed(1)}l${((-dy / size) * inward * length).toFixed(1)},${((dx / size) * inward * length).toFixed(1)}`;
        along += every;
      }
      along -= size;
    }
  }
  return d;
}

export function drawMap(map: OffsetMap, shapes: MarginShapes, frame: MapFrame): MapDrawing {
  const { plot } = frame;
  const square = gridSquare(map, frame);
  const everything = `M${plot.x},${plot.y}h${plot.width}v${plot.height}h${-plot.width}Z`;
  const held = (shapes.washes[0]?.area ?? []).map((rings) => ringPaths(rings, frame)).join('');
  const ground = svg`
    <defs>
      <pattern id="collapse" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <line class="hatch" x1="0.5" x2="0.5" y1="0" y2="7"></line>
      </pattern>
      <pattern id="asleep" width="9" height="9" patternUnits="userSpaceOnUse">
        <circle class="asleep" cx="2.5" cy="2.5" r="0.9"></circle><circle class="asleep" cx="7" cy="7" r="0.9"></circle>
      </pattern>
      <clipPath id="held"><path clip-rule="evenodd" d=${held}></path></clipPath>
      <clipPath id="plot"><rect x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height}></rect></clipPath>
    </defs>
    <rect class="ground" x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height}></rect>
    <g clip-path="url(#plot)">
      <rect x=${square.x} y=${square.y} width=${square.width} height=${square.height} fill="url(#collapse)"></rect>
      <g>
        ${shapes.washes.map(
          (wash) =>
            svg`<path class="wash tone-${wash.tone}" fill-rule="evenodd" d=${wash.area.map((rings) => ringPaths(rings, frame)).join('')}></path>`,
        )}
      </g>
      <rect class="computed" x=${square.x} y=${square.y} width=${square.width} height=${square.height}></rect>
      <path class="veil" fill-rule="evenodd" d=${everything + ringPaths(map.safeOutline, frame)}></path>
      ${
        map.wakeOutline.length > 0 && shapes.washes.length > 0
          ? svg`<g clip-path="url(#held)"><path fill="url(#asleep)" fill-rule="evenodd" d=${everything + ringPaths(map.wakeOutline, frame)}></path></g>`
          : nothing
      }
    </g>
    ${planAxes(frame)}`;
  const reach = map.reachMm.value * frame.pxPerMm;
  const angle = (map.tightestDeg * Math.PI) / 180;
  const lines = svg`<g clip-path="url(#plot)">
      ${shapes.steps.map((step) => svg`<path class="step" d=${paths(step.lines, frame)}></path>`)}
      <path class="safe" d=${ringPaths(map.safeOutline, frame)}></path>
      <path class="safe-ticks" d=${inwardTicks(map.safeOutline, frame, 9, 5)}></path>
      ${
        reach > 6
          ? svg`<circle class="reach" cx=${frame.x(0)} cy=${frame.y(0)} r=${reach}></circle>
            <line class="reach" x1=${frame.x(0)} y1=${frame.y(0)} x2=${frame.x(0) + reach * Math.cos(angle)} y2=${frame.y(0) - reach * Math.sin(angle)}></line>`
          : nothing
      }
      ${shapes.peaks.map((peak) => svg`<path class="peak" d=${paths(peak.lines, frame)}></path>`)}
      <path class="wake" d=${paths(shapes.wake, frame)}></path>
      <path class="wanted" d=${paths(shapes.wanted, frame)}></path>
      <path class="zero" d=${paths(shapes.zero, frame)}></path>
    </g>`;
  return { ground, lines };
}
