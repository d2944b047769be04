import { html, nothing, svg, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { chartStyle } from './chart-style.ts';
import { placed } from './placed.ts';
import { proveValuesStyle } from './prove-values-style.ts';
import { RowReading } from './row-reading.ts';
import { rowReadingStyle } from './row-reading-style.ts';
import { SizedElement } from './sized-element.ts';

/** One value before and after: places on a scale where the prior's 95 % runs from -1 to 1. */
export interface ValueBar {
  readonly name: string;
  /** `112 to 118 nF`, as it stands beside the bar. */
  readonly text: string;
  /** In full, for the reading: prior, fitted, what decided. */
  readonly said: string;
  readonly best: number;
  readonly low: number;
  readonly high: number;
  readonly byReadings: boolean;
}

export interface ValueReadDetail {
  readonly index: number;
  readonly text: string;
}

const ROW = 34;
/** The scale runs a little beyond the priors. */
const REACH = 1.5;

/**
 * What the readings did to each value: the frame is what was known before (95 %), the bar what is known after, a stroke
 * the best value. Bars that the readings decided are coloured and say so in words.
 *
 * @fires value-read - {@link ValueReadDetail} under the pointer or the keyboard, null when it leaves
 */
@customElement('oc-prove-values')
export class ProveValues extends SizedElement {
  static override readonly styles = [chartStyle, rowReadingStyle, proveValuesStyle];

  @property({ attribute: false }) bars: readonly ValueBar[] = [];
  /** Room is kept for so many bars before they come. */
  @property({ type: Number }) rows = 1;
  @property({ type: Boolean, reflect: true }) stale = false;

  readonly #rows = new RowReading(this, {
    count: () => this.bars.length,
    rowAt: (y) => Math.floor(y / ROW),
    text: (index) => this.bars[index].said,
    read: (index) => {
      const detail: ValueReadDetail | null = index === null ? null : { index, text: this.bars[index].said };
      this.dispatchEvent(new CustomEvent('value-read', { detail, bubbles: true, composed: true }));
    },
  });

  protected override render(): TemplateResult {
    const width = this.widthPx || 300;
    const height = ROW * (this.bars.length || this.rows) + 2;
    const x = (at: number): number => 4 + ((Math.min(REACH, Math.max(-REACH, at)) + REACH) / (2 * REACH)) * (width - 8);
    return html`<div
        class="frame"
        style=${placed({ height: `${height}px` })}
        @pointermove=${this.#rows.hover}
        @pointerleave=${this.#rows.leave}
      >
        <svg width=${width} height=${height} role="group" aria-label="Values before and after the fit">
          <g role="img" aria-label=${`Values before and after the fit. ${this.bars.map(({ said }) => said).join('; ')}.`}>
            ${this.bars.map((bar, i) => this.#bar(bar, i, x, width))}
          </g>
          ${this.#rows.handle('Reading the values', 'arrow keys read the values', { y: 1, width, height: height - 2 })}
        </svg>
      </div>
      <p class="quiet" aria-live="polite">${this.#rows.said}</p>`;
  }

  #bar(bar: ValueBar, i: number, x: (at: number) => number, width: number): unknown {
    const y = ROW * i;
    const low = x(bar.low);
    const high = x(bar.high);
    return svg`${this.#rows.row === i ? svg`<rect class="row" x="0" y=${y} width=${width} height=${ROW - 2}></rect>` : nothing}
      <text class="name" x="4" y=${y + 13}>${this.#cut(bar.name, width - 16 - this.labelWidth(bar.text))}</text>
      <text class="value" x=${width - 4} y=${y + 13} text-anchor="end">${bar.text}</text>
      <line class="middle" x1=${x(0)} x2=${x(0)} y1=${y + 17} y2=${y + 31}></line>
      <rect class="fitted ${bar.byReadings ? 'readings' : ''}" x=${low} y=${y + 20} width=${Math.max(2, high - low)} height="8"></rect>
      <rect class="prior" x=${x(-1)} y=${y + 18} width=${x(1) - x(-1)} height="12"></rect>
      <line class="best" x1=${x(bar.best)} x2=${x(bar.best)} y1=${y + 17} y2=${y + 31}></line>`;
  }

  /** A name that does not fit loses its end. */
  #cut(name: string, room: number): string {
    if (this.labelWidth(name) <= room) return name;
    let text = name;
    while (text.length > 4 && this.labelWidth(`${text}\u2026`) > room) text = text.slice(0, -1);
    return `${text.trimEnd()}\u2026`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-prove-values': ProveValues;
  }
}
