import { html, nothing, svg, type TemplateResult } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { shareText } from '../analysis/hold/share-text.ts';
import { chartStyle } from './chart-style.ts';
import { arrowStep, rounded } from './drag.ts';
import { CURVE, type LotteryCurve, lotteryCurveDrawing, lotteryScales } from './hold-lottery-curve.ts';
import { holdLotteryStyle } from './hold-lottery-style.ts';
import { curveAt } from './line-chart-frame.ts';
import { linearScale } from './linear-scale.ts';
import { placed } from './placed.ts';
import { SizedElement } from './sized-element.ts';
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

const ROW = 30;

const percentText = (share: number): string => shareText(share, '\u00a0');

/**
 * The lottery of placement: a point with its interval for each aid, and how success falls with the recess's clearance.
 *
 * @fires reading-moved - `{ value }`, a clearance in mm; null when it leaves
 */
@customElement('oc-hold-lottery')
export class HoldLottery extends SizedElement {
  static override readonly styles = [chartStyle, holdLotteryStyle];

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
            ${this.curve ? svg`<g transform=${`translate(0 ${rowsHeight + 14})`}>${lotteryCurveDrawing(width, this.curve, this._reading, (text) => this.labelWidth(text))}</g>` : nothing}
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
    const { x } = lotteryScales(this.widthPx || 360, this.curve);
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
