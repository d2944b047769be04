import { nothing, type SVGTemplateResult, svg } from 'lit';
import type { LineFrame } from './line-chart-frame.ts';
import { bandPath, curvePath } from './svg-path.ts';
import { plain, signedPercent, withUnit } from './tick-text.ts';

/** One curve of margin, percent, over x. */
export interface MarginCurve {
  readonly id: string;
  readonly label: string;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Band of uncertainty; absent: none is drawn. */
  readonly low?: Float64Array;
  readonly high?: Float64Array;
  /** Told apart by stroke as well as by colour. */
  readonly stroke: 'first' | 'second';
}

/** What the drawing beneath labels and handles depends on. */
export interface LineDrawing {
  readonly frame: LineFrame;
  readonly curves: readonly MarginCurve[];
  readonly wanted: number;
  readonly yTicks: boolean;
  readonly xUnit: string;
}

/** The last number carries the unit and must stay within the drawing, which ends 8 px right of the plot: half its width, less that. */
const LAST_TICK = 12;

function ground({ plot, y }: LineFrame): SVGTemplateResult {
  const zero = Math.min(Math.max(y(0), plot.y), plot.y + plot.height);
  return svg`<defs>
      <pattern id="collapse" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <line class="hatch" x1="0.5" x2="0.5" y1="0" y2="7"></line>
      </pattern>
      <clipPath id="plot"><rect x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height}></rect></clipPath>
    </defs>
    <rect class="ground" x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height}></rect>
    <rect fill="url(#collapse)" x=${plot.x} y=${zero} width=${plot.width} height=${plot.y + plot.height - zero}></rect>`;
}

function axes({ frame: { plot, x, y }, wanted, yTicks, xUnit }: LineDrawing): SVGTemplateResult {
  const right = plot.x + plot.width;
  const low = plot.y + plot.height;
  const across = x.ticks(Math.max(2, Math.floor(plot.width / 62)));
  const up = y.ticks(Math.max(2, Math.floor(plot.height / 42)));
  return svg`${across.map(
    (v, i) => svg`<line class="grid ${v === 0 ? 'axis' : ''}" x1=${x(v)} x2=${x(v)} y1=${plot.y} y2=${low}></line>
      <text class="tick" x=${Math.min(x(v), right - (i === across.length - 1 ? LAST_TICK : 0))} y=${low + 17} text-anchor="middle">${
        i === across.length - 1 ? withUnit(v, xUnit) : plain(v)
      }</text>`,
  )}
  ${up.map(
    (v) => svg`<line class="grid" x1=${plot.x} x2=${right} y1=${y(v)} y2=${y(v)}></line>
      ${yTicks ? svg`<text class="tick" x=${plot.x - 7} y=${y(v) + 4} text-anchor="end">${signedPercent(v)}</text>` : nothing}`,
  )}
  ${wanted > 0 ? svg`<line class="wanted" x1=${plot.x} x2=${right} y1=${y(wanted)} y2=${y(wanted)}></line>` : nothing}
  <line class="zero" x1=${plot.x} x2=${right} y1=${y(0)} y2=${y(0)}></line>`;
}

function drawnCurve(curve: MarginCurve, frame: LineFrame): SVGTemplateResult {
  const { low, high } = curve;
  const band = low && high ? bandPath(curve.x, low, high, frame) : null;
  return svg`<g clip-path="url(#plot)">
    ${band ? svg`<path class="band ${curve.stroke}" d=${band}></path>` : nothing}
    <path class="curve ${curve.stroke}" d=${curvePath(curve.x, curve.y, frame)}></path>
  </g>`;
}

/** Ground, axes and curves: all that stays while a marker is dragged. */
export function drawLines(drawing: LineDrawing): SVGTemplateResult {
  const { frame, curves } = drawing;
  return svg`${ground(frame)} ${axes(drawing)} ${curves.map((curve) => drawnCurve(curve, frame))}`;
}
