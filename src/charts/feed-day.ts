import { css, html, nothing, type PropertyValues, svg, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import type { DayCurve, DayStretch } from '../analysis/feed/day-curve.ts';
import { chartStyle } from './chart-style.ts';
import { arrowStep, type DragPhase, followPointer, rounded } from './drag.ts';
import { curveAt, type LineFrame, lineFrame } from './line-chart-frame.ts';
import { placed } from './placed.ts';
import { SizedElement } from './sized-element.ts';
import { bandPath, curvePath } from './svg-path.ts';
import { plain, withUnit } from './tick-text.ts';

export interface DockHoursDetail {
  readonly hours: number;
  readonly phase: DragPhase;
}

export interface DayReadDetail {
  readonly text: string;
}

const TOP = 26;
const NBSP = '\u00a0';

/**
 * Charge of the cell over a day: use, rest and dock one after the other. The beginning of the hours on the dock is taken
 * hold of and moved.
 *
 * @fires dock-hours-changed - {@link DockHoursDetail}
 * @fires day-read - {@link DayReadDetail} under the pointer or the keyboard, null when it leaves
 */
@customElement('oc-feed-day')
export class FeedDay extends SizedElement {
  static override readonly styles = [
    chartStyle,
    css`
      .stretch.use {
        fill: var(--ink);
        fill-opacity: 0.09;
      }
      .stretch.use.odd {
        fill-opacity: 0.16;
      }
      .stretch.dock {
        fill: var(--steel);
        fill-opacity: 0.14;
      }
      .stretch.off {
        fill: none;
      }
      .curve {
        fill: none;
        stroke: var(--ink);
        stroke-width: 2;
      }
      .band {
        fill: var(--ink);
        fill-opacity: 0.13;
      }
      .flat {
        stroke: var(--bad);
        stroke-width: 2.6;
      }
      .marker .now {
        stroke: var(--steel);
        stroke-width: 1.2;
      }
      .marker .knob {
        stroke: var(--steel);
        stroke-width: 2.6;
      }
      .marker {
        cursor: ew-resize;
      }
      .reading {
        pointer-events: none;
      }
      .dot {
        fill: var(--sheet);
        stroke: var(--ink);
        stroke-width: 2;
      }
    `,
  ];

  @property({ attribute: false }) curve: DayCurve | null = null;
  @property({ attribute: false }) band: { readonly low: Float64Array; readonly high: Float64Array } | null = null;
  @property({ type: Number }) height = 230;
  @state() private _at: number | null = null;
  @state() private _announcement = '';
  @query('.frame') private _frameElement!: HTMLElement;
  #frame: LineFrame = lineFrame({ width: 300, height: 200, xDomain: [0, 24], yDomain: [0, 100], left: 46, bottom: 24 });

  protected override willUpdate(_changed: PropertyValues<this>): void {
    const frame = lineFrame({
      width: this.widthPx || 300,
      height: this.height - TOP,
      xDomain: [0, 24],
      yDomain: [0, 100],
      left: 46,
      bottom: 24,
    });
    this.#frame = frame;
  }

  protected override render(): TemplateResult {
    const { width } = this.#frame;
    const curve = this.curve;
    if (!curve) return html`<div class="frame" style=${placed({ height: `${this.height}px` })}></div>`;
    return html`<div
        class="frame"
        style=${placed({ height: `${this.height}px` })}
        @pointermove=${this.#onHover}
        @pointerleave=${this.#onLeave}
      >
        <svg width=${width} height=${this.height} role="group" aria-label="The day and the cell">
          <g transform=${`translate(0 ${TOP})`}>
            <g role="img" aria-label=${this.#description(curve)}>
              ${this.#ground(curve)} ${this.#lines(curve)} ${this.#read(curve)}
            </g>
            ${this.#reader()} ${this.#dockHandle(curve)}
          </g>
        </svg>
      </div>
      <p class="quiet" aria-live="polite">${this._announcement}</p>`;
  }

  #description(curve: DayCurve): string {
    const least = Math.min(...curve.charge);
    return `Charge of the cell over a day: from ${Math.round(100 * curve.charge[0])} % down to ${Math.round(100 * least)} %.`;
  }

  #ground(curve: DayCurve): unknown {
    const { plot, x, y } = this.#frame;
    const right = plot.x + plot.width;
    const low = plot.y + plot.height;
    return svg`<rect class="ground" x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height}></rect>
      ${curve.stretches.map(
        (part, i) =>
          svg`<rect class="stretch ${part.kind} ${i % 2 === 1 ? 'odd' : ''}" x=${x(part.fromH)} y=${plot.y}
            width=${x(part.toH) - x(part.fromH)} height=${plot.height}></rect>`,
      )}
      ${[0, 6, 12, 18, 24].map(
        (hour) => svg`<line class="grid" x1=${x(hour)} x2=${x(hour)} y1=${plot.y} y2=${low}></line>
          <text class="tick" x=${x(hour)} y=${low + 17} text-anchor=${hour === 24 ? 'end' : 'middle'}>${
            hour === 24 ? withUnit(24, 'h') : plain(hour)
          }</text>`,
      )}
      ${[0, 50, 100].map(
        (
          percent,
        ) => svg`<line class="grid ${percent === 0 ? 'axis' : ''}" x1=${plot.x} x2=${right} y1=${y(percent)} y2=${y(percent)}></line>
          <text class="tick" x=${plot.x - 7} y=${y(percent) + 4} text-anchor="end">${withUnit(percent, '%')}</text>`,
      )}
      ${this.#stretchLabels(curve.stretches)}`;
  }

  /** Above the plot: use at the left, dock at the right, off between where there is room. */
  #stretchLabels(stretches: readonly DayStretch[]): unknown {
    const { plot, x } = this.#frame;
    const right = plot.x + plot.width;
    const hours = (kind: DayStretch['kind']): number =>
      stretches.filter((part) => part.kind === kind).reduce((sum, part) => sum + part.toH - part.fromH, 0);
    const text = (kind: DayStretch['kind'], word: string): string => `${word} ${withUnit(hours(kind), 'h', 2)}`;
    const use = hours('use') > 0 ? text('use', 'in use') : '';
    const dock = hours('dock') > 0 ? text('dock', 'on the dock') : '';
    const off = hours('off') > 0 ? text('off', 'off') : '';
    const useEnd = plot.x + (use === '' ? 0 : this.labelWidth(use) + 8);
    const dockStart = dock === '' ? right : Math.max(x(24 - hours('dock')), right - this.labelWidth(dock) - 60);
    const offAt = x(hours('use') + hours('off') / 2);
    const half = this.labelWidth(off) / 2 + 6;
    const offX = Math.min(Math.max(offAt, useEnd + half), dockStart - half);
    return svg`<text x=${plot.x} y="-2">${use}</text>
      ${offX - half >= useEnd - 1 ? svg`<text x=${offX} y="-2" text-anchor="middle">${off}</text>` : nothing}
      <text x=${right} y="-2" text-anchor="end">${dock}</text>`;
  }

  #lines(curve: DayCurve): unknown {
    const { x, y } = this.#frame;
    const percent = { x, y: (share: number) => y(100 * share) };
    const band = this.band;
    const shade =
      band && band.low.length === curve.hours.length ? bandPath(curve.hours, band.low, band.high, percent) : null;
    const flat = Array.from(curve.hours.keys()).filter((i) => curve.charge[i] <= 0);
    return svg`${shade ? svg`<path class="band" d=${shade}></path>` : nothing}
      <path class="curve" d=${curvePath(curve.hours, curve.charge, percent)}></path>
      ${
        flat.length > 1
          ? svg`<line class="flat" x1=${x(curve.hours[flat[0]])} x2=${x(curve.hours[flat[flat.length - 1]])} y1=${y(0)} y2=${y(0)}></line>`
          : nothing
      }`;
  }

  #read(curve: DayCurve): unknown {
    const at = this._at;
    if (at === null) return nothing;
    const { plot, x, y } = this.#frame;
    return svg`<path class="crosshair" d=${`M${x(at)},${plot.y}v${plot.height}`}></path>
      <circle class="dot" cx=${x(at)} cy=${y(100 * curveAt(curve.hours, curve.charge, at))} r="3.6"></circle>`;
  }

  #reader(): unknown {
    const { plot } = this.#frame;
    return svg`<g class="handle reading" tabindex="0" role="slider" aria-label="Reading line on the day"
      aria-valuemin="0" aria-valuemax="24" aria-valuenow=${rounded(this._at ?? 0, 0.01)}
      aria-valuetext=${this._at === null ? 'arrow keys read the curve' : this.#text(this._at)}
      @keydown=${this.#onReadKey} @blur=${this.#onLeave}>
      <rect class="focus" x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height}></rect>
    </g>`;
  }

  #dockHandle(curve: DayCurve): unknown {
    const { plot, x, y } = this.#frame;
    const hours = this.#dockHours(curve);
    const px = x(24 - hours);
    const knob = y(50);
    return svg`<g class="handle marker" tabindex="0" role="slider" aria-label="Hours on the dock"
      aria-valuemin="0" aria-valuemax="24" aria-valuenow=${hours} aria-valuetext=${withUnit(hours, 'h', 2)}
      @pointerdown=${this.#onDockDown} @keydown=${this.#onDockKey}>
      <rect class="target" x=${px - 14} y=${plot.y} width="28" height=${plot.height}></rect>
      <line class="now" x1=${px} x2=${px} y1=${plot.y} y2=${plot.y + plot.height}></line>
      <circle class="focus" cx=${px} cy=${knob} r="12"></circle>
      <circle class="knob" cx=${px} cy=${knob} r="6.5"></circle>
    </g>`;
  }

  #dockHours(curve: DayCurve): number {
    const dock = curve.stretches.find((part) => part.kind === 'dock');
    return dock ? rounded(dock.toH - dock.fromH, 0.01) : 0;
  }

  #text(at: number): string {
    const curve = this.curve;
    if (!curve) return '';
    const part = curve.stretches.find((stretch) => at <= stretch.toH);
    const percent = (of: Float64Array): number => Math.round(100 * curveAt(curve.hours, of, at));
    const band = this.band;
    const range = band ? ` (${percent(band.low)}\u2060–\u2060${percent(band.high)})` : '';
    const doing = part ? (part.kind === 'dock' ? 'on the dock' : part.name) : '';
    return `After ${withUnit(at, 'h')}, ${doing}: cell at ${percent(curve.charge)}${range}${NBSP}%`;
  }

  #show(at: number | null): void {
    this._at = at;
    const detail: DayReadDetail | null = at === null ? null : { text: this.#text(at) };
    this.dispatchEvent(new CustomEvent<DayReadDetail | null>('day-read', { detail, bubbles: true, composed: true }));
  }

  #emit(hours: number, phase: DragPhase): void {
    const detail: DockHoursDetail = { hours: Math.min(Math.max(hours, 0), 24), phase };
    this.dispatchEvent(
      new CustomEvent<DockHoursDetail>('dock-hours-changed', { detail, bubbles: true, composed: true }),
    );
  }

  readonly #onHover = (event: PointerEvent): void => {
    if (event.pointerType === 'touch' || event.buttons !== 0) return;
    const box = this._frameElement.getBoundingClientRect();
    const { plot, x } = this.#frame;
    const px = event.clientX - box.left;
    const py = event.clientY - box.top - TOP;
    if (px < plot.x || px > plot.x + plot.width || py < plot.y || py > plot.y + plot.height) this.#onLeave();
    else this.#show(x.invert(px));
  };

  readonly #onLeave = (): void => {
    if (this._at !== null) this.#show(null);
  };

  readonly #onReadKey = (event: KeyboardEvent): void => {
    const step = arrowStep(event, 0.5, 0.1, 3);
    if (!step) return;
    event.preventDefault();
    const at = Math.min(Math.max((this._at ?? 0) + step[0] + step[1], 0), 24);
    this.#show(at);
    this._announcement = this.#text(at);
  };

  readonly #onDockDown = (event: PointerEvent): void => {
    if (!this.curve) return;
    const from = this.#dockHours(this.curve);
    this.#onLeave();
    let grab = 0;
    followPointer(event, {
      origin: this._frameElement,
      moved: (px, _py, phase, source) => {
        if (phase === 'start') grab = this.#frame.x(24 - from) - px;
        const still = phase === 'start' || phase === 'cancel';
        const hours = still ? from : rounded(24 - this.#frame.x.invert(px + grab), source.shiftKey ? 0.05 : 0.25);
        this.#emit(hours, phase);
      },
    });
  };

  readonly #onDockKey = (event: KeyboardEvent): void => {
    const step = arrowStep(event, 0.25, 0.05, 1);
    if (!step || !this.curve) return;
    event.preventDefault();
    // Left moves the beginning of the dock's hours to the left: more of them; up is more as well.
    this.#emit(rounded(this.#dockHours(this.curve) - step[0] + step[1], 0.01), 'step');
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-feed-day': FeedDay;
  }
  interface HTMLElementEventMap {
    'dock-hours-changed': CustomEvent<DockHoursDetail>;
    'day-read': CustomEvent<DayReadDetail | null>;
  }
}
