import { html, nothing, svg, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { chartStyle } from './chart-style.ts';
import { linearScale } from './linear-scale.ts';
import { placed } from './placed.ts';
import { rankedBarsStyle } from './ranked-bars-style.ts';
import { RowReading } from './row-reading.ts';
import { rowReadingStyle } from './row-reading-style.ts';
import { SizedElement } from './sized-element.ts';
import { signedPercent } from './tick-text.ts';

/** One input: what more of it and less of it do, percent. */
export interface RankedBar {
  readonly name: string;
  /** `± 5 %`, `1 % more`. */
  readonly note: string;
  readonly more: number;
  readonly less: number;
}

export interface BarReadDetail {
  readonly index: number;
  readonly text: string;
}

const ROW = 30;
const TOP = 20;

/**
 * Inputs ranked by what they do: one row each, bars to both sides of nothing. More of the input is filled, less of it
 * outlined. A line stands where the power would collapse, where that lies within the picture.
 *
 * @fires bar-read - {@link BarReadDetail} under the pointer or the keyboard, null when it leaves
 */
@customElement('oc-ranked-bars')
export class RankedBars extends SizedElement {
  static override readonly styles = [chartStyle, rowReadingStyle, rankedBarsStyle];

  @property({ attribute: false }) bars: readonly RankedBar[] = [];
  /** What the percents are of, for the axis and for screen readers. */
  @property() of = '';
  /** Change at which the power collapses, percent; NaN: no line. */
  @property({ type: Number }) collapse = Number.NaN;
  @property({ type: Boolean, reflect: true }) stale = false;

  readonly #rows = new RowReading(this, {
    count: () => this.bars.length,
    rowAt: (y) => Math.floor((y - TOP) / ROW),
    text: (index) => this.barText(index),
    read: (index) => {
      const detail: BarReadDetail | null = index === null ? null : { index, text: this.barText(index) };
      this.dispatchEvent(new CustomEvent('bar-read', { detail, bubbles: true, composed: true }));
    },
  });

  protected override render(): TemplateResult {
    const width = this.widthPx || 300;
    const height = TOP + ROW * this.bars.length + 22;
    const names = Math.max(
      60,
      ...this.bars.map(({ name, note }) => Math.max(this.labelWidth(name), this.labelWidth(note))),
    );
    // On a phone the names stand above their bars.
    const beside = names + 190 <= width;
    const left = beside ? names + 12 : 4;
    const largest = Math.max(0.5, ...this.bars.flatMap(({ more, less }) => [Math.abs(more), Math.abs(less)]));
    const least = Math.min(-0.02 * largest, ...this.bars.flatMap(({ more, less }) => [more, less]));
    const most = Math.max(0.02 * largest, ...this.bars.flatMap(({ more, less }) => [more, less]));
    const room = 0.06 * (most - least);
    const shown = Number.isFinite(this.collapse) && this.collapse < 0 && this.collapse > 2.2 * least - most;
    const low = shown ? Math.min(least, this.collapse) - room : least - room;
    const x = linearScale([low, most + room], [left, width - 6]);
    return html`<div class="frame" style=${placed({ height: `${height}px` })} @pointermove=${this.#rows.hover} @pointerleave=${this.#rows.leave}>
        <svg width=${width} height=${height} role="group" aria-label=${`What moves ${this.of}`}>
          <g role="img" aria-label=${this.#description()}>
            ${x.ticks(Math.max(2, Math.floor((width - left) / 74))).map(
              (v) => svg`<line class="grid" x1=${x(v)} x2=${x(v)} y1=${TOP} y2=${height - 22}></line>
                <text class="tick" x=${x(v)} y=${height - 6} text-anchor="middle">${signedPercent(v, 1)}</text>`,
            )}
            ${
              shown
                ? svg`<line class="collapse" x1=${x(this.collapse)} x2=${x(this.collapse)} y1=${TOP - 4} y2=${height - 22}></line>
                  <text class="collapse-word" x=${x(this.collapse) + 5} y=${TOP - 7}>collapses</text>`
                : nothing
            }
            ${this.bars.map((bar, i) => this.#bar(bar, i, x, beside, left))}
            <line class="nothing" x1=${x(0)} x2=${x(0)} y1=${TOP} y2=${height - 22}></line>
          </g>
          ${this.#rows.handle('Reading the bars', 'arrow keys read the bars', { y: TOP, width, height: ROW * this.bars.length })}
        </svg>
      </div>
      <p class="quiet" aria-live="polite">${this.#rows.said}</p>`;
  }

  #bar(
    { name, note, more, less }: RankedBar,
    i: number,
    x: (v: number) => number,
    beside: boolean,
    left: number,
  ): unknown {
    const y = TOP + i * ROW;
    const box = (value: number, kind: string): unknown =>
      value === 0
        ? nothing
        : svg`<rect class="bar ${kind}" x=${Math.min(x(0), x(value))} y=${y + (beside ? 7 : 15)}
            width=${Math.max(1, Math.abs(x(value) - x(0)))} height=${beside ? 16 : 11}></rect>`;
    return svg`${this.#rows.row === i ? svg`<rect class="row" x="0" y=${y} width=${this.widthPx} height=${ROW}></rect>` : nothing}
      ${
        beside
          ? svg`<text class="name" x=${left - 10} y=${y + 13} text-anchor="end">${name}</text>
            <text x=${left - 10} y=${y + 27} text-anchor="end">${note}</text>`
          : svg`<text class="name above" x=${left} y=${y + 12}>${name} <tspan class="note">${note}</tspan></text>`
      }
      ${Math.sign(more) === Math.sign(less) && Math.abs(less) > Math.abs(more) ? svg`${box(less, 'less')}${box(more, 'more')}` : svg`${box(more, 'more')}${box(less, 'less')}`}`;
  }

  #description(): string {
    return `What moves ${this.of}, largest first. ${this.bars.map((_, i) => this.barText(i)).join('; ')}.`;
  }

  /** One row in words. */
  barText(index: number): string {
    const bar = this.bars[index];
    if (!bar) return '';
    const { name, note, more, less } = bar;
    const ends =
      less === 0
        ? signedPercent(more, 1)
        : `more of it ${signedPercent(more, 1)}, less of it ${signedPercent(less, 1)}`;
    return `${name} (${note}): ${ends}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-ranked-bars': RankedBars;
  }
}
