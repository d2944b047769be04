import { html, nothing, type PropertyValues, svg, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import type { OffsetMap } from '../analysis/types.ts';
import { chartStyle } from './chart-style.ts';
import { valueAt } from './contours.ts';
import { arrowStep, rounded } from './drag.ts';
import { type MapFrame, mapFrame } from './map-frame.ts';
import { type Box, placeLabels } from './place-labels.ts';
import { placed } from './placed.ts';
import { planGround } from './plan-axes.ts';
import { SizedElement } from './sized-element.ts';
import { polylinePath } from './svg-path.ts';
import { plain, signedPercent, withUnit } from './tick-text.ts';
import { twoOutlinesStyle } from './two-outlines-style.ts';

export interface ReadingPoint {
  readonly xMm: number;
  readonly yMm: number;
}

/** Room left round the larger outline, as a share of it. */
const ROOM = 1.18;
/** Half-width of a plot with nothing in it, mm. */
/** Room for the numbers beneath, px; there are no dimensions here. */
const TICKS = 26;
const EMPTY_HALF = 12;

/**
 * The safe outlines of two designs over each other, in mm at true aspect: the first solid, the second dashed, each with its
 * reach as a thin circle.
 *
 * @fires reading-moved - `{ text } | null`: what both say under the pointer or the reading point
 */
@customElement('oc-two-outlines')
export class TwoOutlines extends SizedElement {
  static override readonly styles = [chartStyle, twoOutlinesStyle];

  @property({ attribute: false }) here: OffsetMap | null = null;
  @property({ attribute: false }) there: OffsetMap | null = null;
  @property() hereName = '';
  @property() thereName = '';
  @property({ type: Number }) tallest = 460;

  @state() private _reading: ReadingPoint | null = null;
  @state() private _announcement = '';
  @query('.frame') private _frameElement!: HTMLElement;
  #frame: MapFrame = mapFrame(400, EMPTY_HALF, EMPTY_HALF, 400);
  #boxes: ReadonlyMap<string, Box> = new Map();

  protected override willUpdate(changed: PropertyValues<this>): void {
    void changed;
    const rings = [this.here, this.there].flatMap((map) => [...(map?.safeOutline ?? [])]);
    let half = 0;
    for (const ring of rings) for (const value of ring) half = Math.max(half, Math.abs(value));
    half = Math.ceil((half === 0 ? EMPTY_HALF : half * ROOM) / 2) * 2;
    this.#frame = mapFrame(this.widthPx || 400, half, half, this.tallest);
    const { plot, x, y } = this.#frame;
    const requests = ([this.here, this.there] as const).flatMap((map, i) => {
      const ring = (map?.safeOutline ?? []).toSorted((a, b) => Math.max(...b) - Math.max(...a))[0];
      if (!ring) return [];
      const text = i === 0 ? this.hereName : this.thereName;
      const width = this.labelWidth(text) + 6;
      const candidates: number[] = [];
      // Outside the line, or else inside it; the second the other way round, so that each keeps to its own.
      for (const side of i === 0 ? [1, -1] : [-1, 1]) {
        for (let k = 0; k < ring.length; k += 2 * Math.max(1, Math.floor(ring.length / 48))) {
          const px = x(ring[k]!);
          const py = y(ring[k + 1]!);
          const out = Math.hypot(px - x(0), py - y(0)) || 1;
          const [dx, dy] = [(px - x(0)) / out, (py - y(0)) / out];
          candidates.push(px + side * dx * (width / 2 + 6), py + side * dy * 15);
        }
      }
      return [{ id: String(i), width, height: 16, candidates }];
    });
    const obstacles: Box[] = rings.flatMap((ring) => {
      const boxes: Box[] = [];
      for (let k = 0; k < ring.length; k += 4) {
        boxes.push({ x: x(ring[k]!) - 2, y: y(ring[k + 1]!) - 2, width: 4, height: 4 });
      }
      return boxes;
    });
    this.#boxes = placeLabels(requests, obstacles, plot, new Map(), 1);
  }

  protected override render(): TemplateResult {
    const { width, plot } = this.#frame;
    const height = plot.y + plot.height + TICKS;
    return html`<div
        class="frame"
        style=${placed({ height: `${height}px` })}
        @pointermove=${this.#onHover}
        @pointerleave=${this.#onLeave}
      >
        <svg width=${width} height=${height} role="group" aria-label="Safe outlines of both designs">
          <g role="img" aria-label=${this.#description()}>
            ${planGround(this.#frame)}
            <clipPath id="plot"><rect x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height}></rect></clipPath>
            <g clip-path="url(#plot)">${this.#outline(this.here, 'first')} ${this.#outline(this.there, 'second')}</g>
            ${[this.hereName, this.thereName].map((text, i) => {
              const box = this.#boxes.get(String(i));
              return box
                ? svg`<text class="halo ${i === 0 ? 'first' : 'second'}" x=${box.x + box.width / 2} y=${box.y + 12} text-anchor="middle">${text}</text>`
                : nothing;
            })}
            ${this.#cross()}
          </g>
          ${this.#readingHandle()}
        </svg>
      </div>
      <p class="quiet" aria-live="polite">${this._announcement}</p>`;
  }

  #outline(map: OffsetMap | null, kind: 'first' | 'second'): unknown {
    if (!map) return nothing;
    const { x, y, pxPerMm } = this.#frame;
    const reach = map.reachMm.value * pxPerMm;
    const d = map.safeOutline.map((ring) => polylinePath(ring, this.#frame, true)).join('');
    return svg`<path class="area ${kind}" fill-rule="evenodd" d=${d}></path>
      <path class="line ${kind}" d=${d}></path>
      ${reach > 4 ? svg`<circle class="reach ${kind}" cx=${x(0)} cy=${y(0)} r=${reach}></circle>` : nothing}`;
  }

  #description(): string {
    const say = (name: string, map: OffsetMap | null): string =>
      map ? `${name}: safe within ${withUnit(map.reachMm.value, 'mm')}` : `${name}: not computed yet`;
    return `Safe outlines over sideways offset. ${say(this.hereName, this.here)}; ${say(this.thereName, this.there)}.`;
  }

  #cross(): unknown {
    const point = this._reading;
    if (!point) return nothing;
    const { plot, x, y } = this.#frame;
    return svg`<path class="crosshair" clip-path="url(#plot)" d=${`M${x(point.xMm)},${plot.y}v${plot.height}M${plot.x},${y(point.yMm)}h${plot.width}`}></path>`;
  }

  #readingHandle(): unknown {
    const { plot } = this.#frame;
    const point = this._reading ?? { xMm: 0, yMm: 0 };
    return svg`<g class="handle reading" tabindex="0" role="slider" aria-label="Reading point on both maps"
      aria-valuemin="0" aria-valuemax="100" aria-valuenow=${rounded(Math.hypot(point.xMm, point.yMm), 0.01)}
      aria-valuetext=${this._reading ? this.readingText(this._reading) : 'arrow keys read both maps'}
      @keydown=${this.#onKey} @blur=${this.#onLeave}>
      <rect class="focus" x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height}></rect>
    </g>`;
  }

  /** What both maps say at a point, in one line. */
  readingText({ xMm, yMm }: ReadingPoint): string {
    const say = (name: string, map: OffsetMap | null): string => {
      const margin = map ? valueAt({ xMm: map.xMm, yMm: map.yMm, values: map.marginPercent }, xMm, yMm) : Number.NaN;
      return `${name} ${Number.isFinite(margin) ? signedPercent(margin) : 'not computed'}`;
    };
    return `x ${plain(xMm)}, y ${withUnit(yMm, 'mm')}: ${say(this.hereName, this.here)}, ${say(this.thereName, this.there)}`;
  }

  #read(point: ReadingPoint | null): void {
    this._reading = point;
    const detail = point ? { text: this.readingText(point) } : null;
    this.dispatchEvent(new CustomEvent('reading-moved', { detail, bubbles: true, composed: true }));
  }

  readonly #onHover = (event: PointerEvent): void => {
    if (event.pointerType === 'touch') return;
    const box = this._frameElement.getBoundingClientRect();
    const { plot, toMm } = this.#frame;
    const x = event.clientX - box.left;
    const y = event.clientY - box.top;
    if (x < plot.x || x > plot.x + plot.width || y < plot.y || y > plot.y + plot.height) this.#onLeave();
    else {
      const [xMm, yMm] = toMm(x, y);
      this.#read({ xMm, yMm });
    }
  };

  readonly #onLeave = (): void => {
    if (this._reading) this.#read(null);
  };

  readonly #onKey = (event: KeyboardEvent): void => {
    const step = arrowStep(event, 1, 0.1, 5);
    if (!step) return;
    event.preventDefault();
    const from = this._reading ?? { xMm: 0, yMm: 0 };
    const { halfXMm, halfYMm } = this.#frame;
    const keep = (value: number, half: number): number => rounded(Math.min(Math.max(value, -half), half), 0.1);
    const point = { xMm: keep(from.xMm + step[0], halfXMm), yMm: keep(from.yMm + step[1], halfYMm) };
    this.#read(point);
    this._announcement = this.readingText(point);
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-two-outlines': TwoOutlines;
  }
}
