import { nothing, type SVGTemplateResult, svg } from 'lit';
import { curveAt } from './line-chart-frame.ts';
import { curvePieces } from './line-pieces.ts';
import { linearScale } from './linear-scale.ts';
import { placeLabels } from './place-labels.ts';
import { roomyTicks } from './roomy-ticks.ts';
import { bandPath, curvePath, type Projection } from './svg-path.ts';
import { plain, withUnit } from './tick-text.ts';

/** Success against the clearance of the recess. */
export interface LotteryCurve {
  readonly clearanceMm: Float64Array;
  readonly share: Float64Array;
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** The design's clearance; null: none. */
  readonly nowMm: number | null;
}

/** Height of the drawing, px. */
export const CURVE = 128;

/** The curve's places, px. */
export function lotteryScales(width: number, { clearanceMm, low }: LotteryCurve) {
  const end = clearanceMm[clearanceMm.length - 1] ?? 1;
  const least = Math.min(...low, 0.995);
  const from = Math.max(0, least - 0.15 * (1 - least));
  return {
    x: linearScale([0, end], [50, width - 10]),
    y: linearScale([from, 1], [CURVE - 28, 6]),
  };
}

/** What runs along the axis, in the corner where it lies on neither the curve nor the line of the clearance there is. */
function axisName(curve: LotteryCurve, to: Projection, width: number, widthOf: (text: string) => number): unknown {
  const text = 'in the recess, over its clearance';
  const plot = { x: 50, y: 6, width: Math.max(0, width - 60), height: CURVE - 34 };
  const size = { width: widthOf(text) + 8, height: 18 };
  const [left, right] = [plot.x + size.width / 2, plot.x + plot.width - size.width / 2];
  const [low, high] = [plot.y + plot.height - 12, plot.y + 12];
  const now = curve.nowMm === null ? [] : curvePieces([curve.nowMm, curve.nowMm], [0, 1], to);
  const lines = [curve.low, curve.share].flatMap((values) => curvePieces(curve.clearanceMm, values, to));
  const candidates = [left, low, right, low, left, high, right, high, (left + right) / 2, low];
  const request = { id: 'axis', ...size, candidates, lines: [...lines, ...now], needed: true };
  const box = placeLabels([request], [], plot, new Map(), 0).get('axis');
  return box
    ? svg`<text class="tick" x=${box.x + box.width / 2} y=${box.y + 13} text-anchor="middle">${text}</text>`
    : nothing;
}

/** How success falls with the recess's clearance, with the clearance there is and the one that is read. */
export function lotteryCurveDrawing(
  width: number,
  curve: LotteryCurve,
  reading: number | null,
  widthOf: (text: string) => number,
): SVGTemplateResult {
  const { x, y } = lotteryScales(width, curve);
  const [from] = y.domain();
  const [, end] = x.domain();
  const stroke = curvePath(curve.clearanceMm, curve.share, { x, y });
  const band = bandPath(curve.clearanceMm, curve.low, curve.high, { x, y });
  const across = roomyTicks(x, width - 60);
  const fine = 1 - from < 0.03 ? 1 : 0;
  const value = reading === null ? Number.NaN : curveAt(curve.clearanceMm, curve.share, reading);
  return svg`<rect class="ground" x="50" y="6" width=${Math.max(0, width - 60)} height=${CURVE - 34}></rect>
      ${across.map(
        (v, i) => svg`<line class="grid" x1=${x(v)} x2=${x(v)} y1="6" y2=${CURVE - 28}></line>
        <text class="tick" x=${x(v)} y=${CURVE - 11} text-anchor=${i === across.length - 1 && x(v) > width - 30 ? 'end' : 'middle'}>${
          i === across.length - 1 ? withUnit(v, 'mm', 2) : plain(v, 2)
        }</text>`,
      )}
      ${y.ticks(3).map(
        (v) => svg`<line class="grid" x1="50" x2=${width - 10} y1=${y(v)} y2=${y(v)}></line>
        <text class="tick" x="43" y=${y(v) + 4} text-anchor="end">${plain(100 * v, fine)}\u00a0%</text>`,
      )}
      <path class="band" d=${band ?? ''}></path>
      <path class="curve" d=${stroke ?? ''}></path>
      ${
        curve.nowMm !== null && curve.nowMm <= end
          ? svg`<line class="now" x1=${x(curve.nowMm)} x2=${x(curve.nowMm)} y1="6" y2=${CURVE - 28}></line>`
          : nothing
      }
      ${axisName(curve, { x, y }, width, widthOf)}
      ${
        reading !== null && Number.isFinite(value)
          ? svg`<path class="crosshair" d=${`M${x(reading)},6V${CURVE - 28}`}></path><circle class="reading-dot" cx=${x(reading)} cy=${y(value)} r="3.6"></circle>`
          : nothing
      }`;
}
