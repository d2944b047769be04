import { css, html, nothing, type PropertyValues, svg, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { chartStyle } from './chart-style.ts';
import { areaAbove, type OffsetGrid, valueAt } from './contours.ts';
import { arrowStep } from './drag.ts';
import { placed } from './placed.ts';
import { SizedElement } from './sized-element.ts';
import { polylinePath } from './svg-path.ts';
import { plain, withUnit } from './tick-text.ts';

/** Charge time over where the device may lie. */
export interface ChargeMapModel {
  readonly xMm: Float64Array;
  readonly yMm: Float64Array;
  /** Row-major, h; Infinity where the cell gets nothing. */
  readonly hours: Float64Array;
  /** Shortest: where the link has enough, h. */
  readonly fullHours: number;
  readonly fullBand: { readonly low: number; readonly high: number } | null;
  readonly atXMm: number;
  readonly atYMm: number;
}

export interface OffsetReadDetail {
  readonly text: string;
}

const NICE_HOURS = [1, 1.5, 2, 3, 4, 5, 6, 7, 8, 10, 12, 16, 20, 24, 36, 48, 72, 100, 150, 200, 300, 500];

/** Half-widths that show all that is charged with a rim, and where the device lies, mm; at most the whole map. */
export function chargedExtent({ xMm, yMm, hours, atXMm, atYMm }: ChargeMapModel): { xMm: number; yMm: number } {
  const ends = { xMm: xMm[xMm.length - 1], yMm: yMm[yMm.length - 1] };
  let x = Math.abs(atXMm);
  let y = Math.abs(atYMm);
  for (let i = 0; i < hours.length; i += 1) {
    if (!Number.isFinite(hours[i])) continue;
    x = Math.max(x, Math.abs(xMm[i % xMm.length]));
    y = Math.max(y, Math.abs(yMm[Math.floor(i / xMm.length)]));
  }
  const rim = (half: number, end: number): number => (half > 0 ? Math.min(1.25 * half + 2, end) : end);
  return { xMm: rim(x, ends.xMm), yMm: rim(y, ends.yMm) };
}

/** Steps of charge time, h: full speed and the four round numbers above it. */
export function chargeSteps(fullHours: number): number[] {
  if (!Number.isFinite(fullHours)) return [];
  return [fullHours * 1.005, ...NICE_HOURS.filter((hours) => hours > fullHours * 1.08).slice(0, 4)];
}

function fullText({ fullHours, fullBand }: ChargeMapModel): string {
  const [low, high] = [fullBand?.low ?? fullHours, fullBand?.high ?? fullHours].map((hours) => hours.toFixed(1));
  return `${withUnit(fullHours, 'h')}${low === high ? '' : ` (${low}\u2060–\u2060${high})`}, full speed`;
}

const FRAME = { left: 34, right: 6, top: 6, bottom: 24 } as const;

/**
 * Charge time as a filled map over offset, in mm; hatched where the cell gets nothing.
 *
 * @fires offset-read - {@link OffsetReadDetail} under the pointer or the keyboard, null when it leaves
 */
@customElement('oc-feed-offset')
export class FeedOffset extends SizedElement {
  static override readonly styles = [
    chartStyle,
    css`
      .hatch {
        stroke: var(--hatch);
        stroke-width: 1;
      }
      .step {
        stroke: var(--ink);
        stroke-opacity: 0.3;
        stroke-width: 0.8;
      }
      .tone-0 {
        fill: var(--margin-6);
      }
      .tone-1 {
        fill: var(--margin-5);
      }
      .tone-2 {
        fill: var(--margin-4);
      }
      .tone-3 {
        fill: var(--margin-3);
      }
      .tone-4 {
        fill: var(--margin-2);
      }
      .here {
        fill: var(--sheet);
        stroke: var(--steel);
        stroke-width: 2.6;
      }
      .reading {
        pointer-events: none;
      }
      ul {
        display: flex;
        flex-wrap: wrap;
        gap: 2px 16px;
        list-style: none;
        margin: 6px 0 0;
        padding: 0;
        color: var(--soft);
      }
      li {
        display: flex;
        align-items: center;
        gap: 6px;
      }
      .swatch {
        width: 14px;
        height: 14px;
      }
    `,
  ];

  @property({ attribute: false }) model: ChargeMapModel | null = null;
  @property({ type: Number }) height = 230;
  @state() private _at: readonly [number, number] | null = null;
  @state() private _announcement = '';
  @query('.frame') private _frameElement!: HTMLElement;
  #plot = { width: 200, height: 200, pxPerMm: 4, halfX: 25, halfY: 25 };
  #areas: { readonly hours: number; readonly path: string }[] = [];

  protected override willUpdate(changed: PropertyValues<this>): void {
    const model = this.model;
    const width = Math.max(60, (this.widthPx || 320) - FRAME.left - FRAME.right);
    const height = this.height - FRAME.top - FRAME.bottom;
    const { xMm, yMm } = model ? chargedExtent(model) : { xMm: 25, yMm: 25 };
    const pxPerMm = Math.min(width / (2 * xMm), height / (2 * yMm));
    this.#plot = { width, height, pxPerMm, halfX: width / 2 / pxPerMm, halfY: height / 2 / pxPerMm };
    if (!model) {
      this.#areas = [];
      return;
    }
    if (!changed.has('model') && !(changed as Map<string, unknown>).has('widthPx')) return;
    // As speeds, so that no charge is a plain zero.
    const grid: OffsetGrid = { xMm: model.xMm, yMm: model.yMm, values: model.hours.map((hours) => 1 / hours) };
    const to = { x: (mm: number) => this.#x(mm), y: (mm: number) => this.#y(mm) };
    this.#areas = chargeSteps(model.fullHours).map((hours) => ({
      hours,
      path: areaAbove(grid, 1 / hours)
        .flatMap((polygon) => polygon.map((ring) => polylinePath(ring, to, true)))
        .join(''),
    }));
  }

  #x(mm: number): number {
    return FRAME.left + this.#plot.width / 2 + mm * this.#plot.pxPerMm;
  }

  #y(mm: number): number {
    return FRAME.top + this.#plot.height / 2 - mm * this.#plot.pxPerMm;
  }

  protected override render(): TemplateResult {
    const model = this.model;
    const { width, height } = this.#plot;
    const whole = width + FRAME.left + FRAME.right;
    if (!model) return html`<div class="frame" style=${placed({ height: `${this.height}px` })}></div>`;
    return html`<div
        class="frame"
        style=${placed({ height: `${this.height}px` })}
        @pointermove=${this.#onHover}
        @pointerleave=${this.#onLeave}
      >
        <svg width=${whole} height=${this.height} role="group" aria-label="Charge time over offset">
          <g role="img" aria-label=${`Charge time over offset: ${this.#text([model.atXMm, model.atYMm])}.`}>
            <defs>
              <pattern id="none" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
                <line class="hatch" x1="0.5" x2="0.5" y1="0" y2="7"></line>
              </pattern>
              <clipPath id="map"><rect x=${FRAME.left} y=${FRAME.top} width=${width} height=${height}></rect></clipPath>
            </defs>
            <rect class="ground" x=${FRAME.left} y=${FRAME.top} width=${width} height=${height}></rect>
            <rect fill="url(#none)" x=${FRAME.left} y=${FRAME.top} width=${width} height=${height}></rect>
            <g clip-path="url(#map)">
              ${this.#areas
                .toReversed()
                .map(
                  (area, i) =>
                    svg`<path class="step tone-${this.#areas.length - 1 - i}" fill-rule="evenodd" d=${area.path}></path>`,
                )}
            </g>
            ${this.#axes()}
            <circle class="here" cx=${this.#x(model.atXMm)} cy=${this.#y(model.atYMm)} r="5"></circle>
            ${this.#crosshair()}
          </g>
          ${this.#reader()}
        </svg>
      </div>
      <ul>
        ${this.#areas.map(
          (area, i) =>
            html`<li>
              <svg class="swatch" aria-hidden="true"><rect class="tone-${i}" width="14" height="14"></rect></svg>
              ${i === 0 ? fullText(model) : `to ${withUnit(area.hours, 'h')}`}
            </li>`,
        )}
        <li>
          <svg class="swatch" aria-hidden="true"><rect fill="url(#none)" width="14" height="14"></rect></svg>
          slower, or never
        </li>
      </ul>
      <p class="quiet" aria-live="polite">${this._announcement}</p>`;
  }

  #axes(): unknown {
    const { halfX, halfY, width, height } = this.#plot;
    const step = halfX > 40 ? 20 : halfX > 12 ? 10 : 5;
    const ticks = (half: number): number[] => {
      const n = Math.floor(half / step);
      return Array.from({ length: 2 * n + 1 }, (_, i) => (i - n) * step);
    };
    const across = ticks(halfX);
    return svg`${across.map(
      (
        mm,
        i,
      ) => svg`<line class="grid" x1=${this.#x(mm)} x2=${this.#x(mm)} y1=${FRAME.top} y2=${FRAME.top + height}></line>
        <text class="tick" x=${this.#x(mm)} y=${FRAME.top + height + 17} text-anchor="middle">${
          i === across.length - 1 ? withUnit(mm, 'mm') : plain(mm)
        }</text>`,
    )}
    ${ticks(halfY).map(
      (
        mm,
      ) => svg`<line class="grid" x1=${FRAME.left} x2=${FRAME.left + width} y1=${this.#y(mm)} y2=${this.#y(mm)}></line>
        <text class="tick" x=${FRAME.left - 6} y=${this.#y(mm) + 4} text-anchor="end">${plain(mm)}</text>`,
    )}`;
  }

  #crosshair(): unknown {
    if (!this._at) return nothing;
    const [x, y] = [this.#x(this._at[0]), this.#y(this._at[1])];
    return svg`<path class="crosshair"
      d=${`M${x},${FRAME.top}v${this.#plot.height}M${FRAME.left},${y}h${this.#plot.width}`}></path>`;
  }

  #reader(): unknown {
    const at = this._at;
    return svg`<g class="handle reading" tabindex="0" role="slider" aria-label="Reading point on the offset"
      aria-valuemin="0" aria-valuemax="100" aria-valuenow="0"
      aria-valuetext=${at ? this.#text(at) : 'arrow keys read the map'} @keydown=${this.#onKey} @blur=${this.#onLeave}>
      <rect class="focus" x=${FRAME.left} y=${FRAME.top} width=${this.#plot.width} height=${this.#plot.height}></rect>
    </g>`;
  }

  #text([xMm, yMm]: readonly [number, number]): string {
    const model = this.model;
    if (!model) return '';
    const speeds = { xMm: model.xMm, yMm: model.yMm, values: model.hours.map((hours) => 1 / hours) };
    const speed = valueAt(speeds, xMm, yMm);
    const where = `x ${plain(xMm)}, y ${withUnit(yMm, 'mm')}`;
    if (Number.isNaN(speed)) return `${where}: not computed`;
    return speed > 0 ? `${where}: charged in ${withUnit(1 / speed, 'h')}` : `${where}: the cell gets nothing`;
  }

  #show(at: readonly [number, number] | null): void {
    this._at = at;
    const detail: OffsetReadDetail | null = at === null ? null : { text: this.#text(at) };
    this.dispatchEvent(
      new CustomEvent<OffsetReadDetail | null>('offset-read', { detail, bubbles: true, composed: true }),
    );
  }

  readonly #onHover = (event: PointerEvent): void => {
    if (event.pointerType === 'touch') return;
    const box = this._frameElement.getBoundingClientRect();
    const { width, height, pxPerMm } = this.#plot;
    const px = event.clientX - box.left - FRAME.left;
    const py = event.clientY - box.top - FRAME.top;
    if (px < 0 || px > width || py < 0 || py > height) this.#onLeave();
    else this.#show([(px - width / 2) / pxPerMm, (height / 2 - py) / pxPerMm]);
  };

  readonly #onLeave = (): void => {
    if (this._at !== null) this.#show(null);
  };

  readonly #onKey = (event: KeyboardEvent): void => {
    const step = arrowStep(event, 1, 0.1, 5);
    const model = this.model;
    if (!step || !model) return;
    event.preventDefault();
    const { halfX, halfY } = this.#plot;
    const from = this._at ?? [model.atXMm, model.atYMm];
    const within = (value: number, half: number): number => Math.min(Math.max(value, -half), half);
    const at: [number, number] = [within(from[0] + step[0], halfX), within(from[1] + step[1], halfY)];
    this.#show(at);
    this._announcement = this.#text(at);
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-feed-offset': FeedOffset;
  }
  interface HTMLElementEventMap {
    'offset-read': CustomEvent<OffsetReadDetail | null>;
  }
}
