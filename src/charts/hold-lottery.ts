import { css, html, nothing, svg, type TemplateResult } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { shareText } from '../analysis/hold/share-text.ts';
import { chartStyle } from './chart-style.ts';
import { arrowStep, rounded } from './drag.ts';
import { curveAt } from './line-chart-frame.ts';
import { curvePieces } from './line-pieces.ts';
import { linearScale } from './linear-scale.ts';
import { placeLabels } from './place-labels.ts';
import { placed } from './placed.ts';
import { roomyTicks } from './roomy-ticks.ts';
import { SizedElement } from './sized-element.ts';
import { bandPath, curvePath, type Projection } from './svg-path.ts';
import { plain, withUnit } from './tick-text.ts';

/** How often a casual placement works with one aid; shares 0 to 1 with the ends of their interval. */
export interface LotteryRow {
  readonly id: string;
  readonly label: string;
  readonly share: number;
  readonly low: number;
  readonly high: number;
  /** The one that the design has. */
  readonly chosen: boolean;
}

/** Success against the clearance of the recess. */
export interface LotteryCurve {
  readonly clearanceMm: Float64Array;
  readonly share: Float64Array;
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** The design's clearance; null: none. */
  readonly nowMm: number | null;
}

const ROW = 30;
const CURVE = 128;

const percentText = (share: number): string => shareText(share, '\u00a0');

/**
 * The lottery of placement: a point with its interval for each aid, and how success falls with the recess's clearance.
 *
 * @fires reading-moved - `{ value }`, a clearance in mm; null when it leaves
 */
@customElement('oc-hold-lottery')
export class HoldLottery extends SizedElement {
  static override readonly styles = [
    chartStyle,
    css`
      .row-line {
        stroke: var(--rule);
        stroke-width: 1;
      }
      .interval {
        stroke: var(--ink);
        stroke-width: 2;
      }
      .point {
        fill: var(--sheet);
        stroke: var(--ink);
        stroke-width: 2;
      }
      .chosen .point {
        fill: var(--ink);
      }
      text.name,
      text.value {
        fill: var(--soft);
      }
      .chosen text {
        fill: var(--ink);
        font-weight: 650;
      }
      .curve {
        fill: none;
        stroke: var(--ink);
        stroke-width: 2;
      }
      .band {
        fill: var(--ink);
        fill-opacity: 0.13;
        stroke: none;
      }
      .now {
        stroke: var(--ink);
        stroke-width: 1;
        stroke-dasharray: 4 3;
      }
      .reading-dot {
        fill: var(--sheet);
        stroke: var(--ink);
        stroke-width: 2;
      }
      .reading {
        pointer-events: none;
      }
      :host([stale]) .point,
      :host([stale]) .interval,
      :host([stale]) .curve {
        opacity: 0.5;
      }
    `,
  ];

  @property({ attribute: false }) rows: readonly LotteryRow[] = [];
  @property({ attribute: false }) curve: LotteryCurve | null = null;
  @property({ type: Boolean, reflect: true }) stale = false;
  @state() private _reading: number | null = null;
  @state() private _announcement = '';

  protected override render(): TemplateResult {
    const width = this.widthPx || 360;
    const rowsHeight = this.rows.length * ROW + 26;
    const height = rowsHeight + (this.curve ? CURVE + 14 : 0);
    return html`<div
        class="frame"
        style=${placed({ height: `${height}px` })}
        @pointermove=${this.#onHover}
        @pointerleave=${this.#onLeave}
      >
        <svg width=${width} height=${height} role="group" aria-label="Casual placements that work">
          <g role="img" aria-label=${this.#description()}>
            ${this.#rowsDrawing(width)}
            ${this.curve ? svg`<g transform=${`translate(0 ${rowsHeight + 14})`}>${this.#curveDrawing(width, this.curve)}</g>` : nothing}
          </g>
          ${this.curve ? this.#readingHandle(width, rowsHeight + 14) : nothing}
        </svg>
      </div>
      <p class="quiet" aria-live="polite">${this._announcement}</p>`;
  }

  #description(): string {
    if (this.rows.length === 0) return 'Casual placements that work: not computed yet.';
    return `Casual placements that work: ${this.rows
      .map((row) => `${row.label} ${percentText(row.share)} (${percentText(row.low)} to ${percentText(row.high)})`)
      .join('; ')}.`;
  }

  #rowsDrawing(width: number): unknown {
    const named = Math.max(60, ...this.rows.map((row) => this.labelWidth(row.label, 650)));
    const texts = this.rows.map((row) => percentText(row.share));
    const valued = Math.max(40, ...texts.map((text) => this.labelWidth(text, 650)));
    const left = named + 16;
    const right = width - valued - 14;
    const least = Math.min(1, ...this.rows.map((row) => row.low));
    // A round share below the least, so that small differences near certainty can be seen.
    const from = [0.99, 0.98, 0.95, 0.9, 0.8, 0.5].find((v) => v < least - 0.15 * (1 - v)) ?? 0;
    const x = linearScale([from, 1], [left, right]);
    const low = this.rows.length * ROW + 6;
    return svg`${x.ticks(Math.max(2, Math.floor((right - left) / 70))).map(
      (v) => svg`<line class="grid" x1=${x(v)} x2=${x(v)} y1="2" y2=${low}></line>
        <text class="tick" x=${x(v)} y=${low + 15} text-anchor="middle">${plain(100 * v)}${v === 1 ? '\u00a0%' : ''}</text>`,
    )}
    ${this.rows.map((row, k) => {
      const y = k * ROW + ROW / 2 + 4;
      const a = Math.max(x(row.low), left);
      const b = Math.max(a + 1, x(row.high));
      return svg`<g class=${row.chosen ? 'chosen' : ''}>
        <text class="name" x="0" y=${y + 4}>${row.label}</text>
        <line class="row-line" x1=${left} x2=${right} y1=${y} y2=${y}></line>
        <line class="interval" x1=${a} x2=${b} y1=${y} y2=${y}></line>
        <line class="interval" x1=${a} x2=${a} y1=${y - 5} y2=${y + 5}></line>
        <line class="interval" x1=${b} x2=${b} y1=${y - 5} y2=${y + 5}></line>
        <circle class="point" cx=${x(row.share)} cy=${y} r="4.6"></circle>
        <text class="value" x=${width - 2} y=${y + 4} text-anchor="end">${texts[k]}</text>
      </g>`;
    })}`;
  }

  #scales(width: number, curve: LotteryCurve) {
    const { clearanceMm, low } = curve;
    const end = clearanceMm[clearanceMm.length - 1] ?? 1;
    const least = Math.min(...low, 0.995);
    const from = Math.max(0, least - 0.15 * (1 - least));
    return {
      x: linearScale([0, end], [50, width - 10]),
      y: linearScale([from, 1], [CURVE - 28, 6]),
    };
  }

  /** What runs along the axis, in the corner where it lies on neither the curve nor the line of the clearance there is. */
  #axisName(curve: LotteryCurve, to: Projection, width: number): unknown {
    const text = 'in the recess, over its clearance';
    const plot = { x: 50, y: 6, width: Math.max(0, width - 60), height: CURVE - 34 };
    const size = { width: this.labelWidth(text) + 8, height: 18 };
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

  #curveDrawing(width: number, curve: LotteryCurve): unknown {
    const { x, y } = this.#scales(width, curve);
    const [from] = y.domain();
    const [, end] = x.domain();
    const stroke = curvePath(curve.clearanceMm, curve.share, { x, y });
    const band = bandPath(curve.clearanceMm, curve.low, curve.high, { x, y });
    const across = roomyTicks(x, width - 60);
    const fine = 1 - from < 0.03 ? 1 : 0;
    const at = this._reading;
    const value = at === null ? Number.NaN : curveAt(curve.clearanceMm, curve.share, at);
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
      ${this.#axisName(curve, { x, y }, width)}
      ${
        at !== null && Number.isFinite(value)
          ? svg`<path class="crosshair" d=${`M${x(at)},6V${CURVE - 28}`}></path><circle class="reading-dot" cx=${x(at)} cy=${y(value)} r="3.6"></circle>`
          : nothing
      }`;
  }

  #readingHandle(width: number, top: number): unknown {
    const at = this._reading ?? this.curve?.nowMm ?? 0;
    const end = this.curve?.clearanceMm.at(-1) ?? 1;
    return svg`<g class="handle reading" tabindex="0" role="slider" aria-label="Reading line on the clearance"
      aria-valuemin="0" aria-valuemax=${rounded(end, 0.01)} aria-valuenow=${rounded(at, 0.01)}
      aria-valuetext=${this._reading === null ? 'arrow keys read the curve' : this.readingText(at)}
      @keydown=${this.#onReadKey} @blur=${this.#onLeave}>
      <rect class="focus" x="50" y=${top + 6} width=${Math.max(0, width - 60)} height=${CURVE - 34}></rect>
    </g>`;
  }

  /** What the curve says at a clearance, in one line. */
  readingText(at: number): string {
    const { curve } = this;
    if (!curve) return '';
    const value = (values: Float64Array) => curveAt(curve.clearanceMm, values, at);
    const share = value(curve.share);
    if (!Number.isFinite(share)) return `clearance ${withUnit(at, 'mm', 2)}`;
    return `clearance ${withUnit(at, 'mm', 2)}: ${percentText(share)} (${percentText(value(curve.low))} to ${percentText(value(curve.high))})`;
  }

  #read(value: number | null): void {
    this._reading = value;
    this.dispatchEvent(
      new CustomEvent('reading-moved', { detail: value === null ? null : { value }, bubbles: true, composed: true }),
    );
  }

  readonly #onHover = (event: PointerEvent): void => {
    if (event.pointerType === 'touch' || !this.curve) return;
    const box = this.getBoundingClientRect();
    const rowsHeight = this.rows.length * ROW + 26;
    const { x } = this.#scales(this.widthPx || 360, this.curve);
    const px = event.clientX - box.left;
    const py = event.clientY - box.top;
    const [left, right] = x.range();
    if (px < left || px > right || py < rowsHeight + 14) this.#onLeave();
    else this.#read(x.invert(px));
  };

  readonly #onLeave = (): void => {
    if (this._reading !== null) this.#read(null);
  };

  readonly #onReadKey = (event: KeyboardEvent): void => {
    const end = this.curve?.clearanceMm.at(-1) ?? 1;
    const step = arrowStep(event, end / 40, end / 400, end / 8);
    if (!step || !this.curve) return;
    event.preventDefault();
    const from = this.curve.clearanceMm[0];
    const at = Math.min(Math.max((this._reading ?? this.curve.nowMm ?? from) + step[0] + step[1], from), end);
    this.#read(at);
    this._announcement = this.readingText(at);
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-hold-lottery': HoldLottery;
  }
}
