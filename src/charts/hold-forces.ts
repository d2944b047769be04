import { html, nothing, type PropertyValues, svg, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { chartStyle } from './chart-style.ts';
import { arrowStep, rounded } from './drag.ts';
import { holdForcesStyle } from './hold-forces-style.ts';
import { curveAt, type LineFrame, lineFrame } from './line-chart-frame.ts';
import { type Box, type LabelRequest, placeLabels } from './place-labels.ts';
import { placed } from './placed.ts';
import { SizedElement } from './sized-element.ts';
import { curvePath } from './svg-path.ts';
import { plain, withUnit } from './tick-text.ts';

/** Forces over the offset in one direction. mm, N, N mm; all of one length. */
export interface ForceCurves {
  readonly offsetMm: Float64Array;
  readonly restoringN: Float64Array;
  readonly frictionN: Float64Array;
  readonly pullN: Float64Array;
  readonly tippingNmm: Float64Array;
  /** Restoring force without ferrite; null: the same. */
  readonly airRestoringN: Float64Array | null;
  /** Where friction may let it stop, and from where it slides home, mm; null: nowhere. */
  readonly restBandMm: number | null;
  readonly captureMm: number | null;
}

/** What ticks need of a scale, whoever made it. */
interface TickedScale {
  (value: number): number;
  ticks(count: number): number[];
  range(): readonly number[];
}

/** Ticks of which the last, which carries the unit, does not touch the one before. */
export function roomyTicks(scale: TickedScale, width: number): number[] {
  const all = scale.ticks(Math.max(2, Math.floor(width / 70)));
  const [, right] = scale.range();
  const last = all.at(-1);
  const before = all.at(-2);
  if (last === undefined || before === undefined) return all;
  return right - scale(last) < 18 && scale(last) - scale(before) < 56 ? [...all.slice(0, -2), last] : all;
}

type CurveId = 'restoring' | 'pull' | 'air' | 'tipping';

/** Height of the torque's own drawing, px. */
const TORQUE_HEIGHT = 104;

/**
 * Pull, restoring force and tipping torque over the offset, with the band in which friction holds the device where it is.
 *
 * @fires reading-moved - `{ value }` in mm under the pointer, null when it leaves
 */
@customElement('oc-hold-forces')
export class HoldForces extends SizedElement {
  static override readonly styles = [chartStyle, holdForcesStyle];

  @property({ attribute: false }) curves: ForceCurves | null = null;
  /** Along which axis: `x`. */
  @property() axis = 'x';
  @property({ type: Number }) height = 210;
  @property({ type: Boolean, reflect: true }) stale = false;

  @state() private _reading: number | null = null;
  @state() private _announcement = '';
  @query('.frame') private _frameElement!: HTMLElement;
  #force: LineFrame = lineFrame({ width: 300, height: 200, xDomain: [0, 1], yDomain: [0, 1], left: 46, bottom: 10 });
  #torque: LineFrame = this.#force;
  #boxes: Map<string, Box> = new Map();
  #labels: { id: string; text: string; kind: string }[] = [];

  protected override willUpdate(changed: PropertyValues<this>): void {
    if ((changed as Map<string, unknown>).has('widthPx')) this.#boxes = new Map();
    const { curves } = this;
    const width = this.widthPx || 300;
    const end = curves ? curves.offsetMm[curves.offsetMm.length - 1] : 10;
    const span = (lists: readonly (Float64Array | null)[], least: number): [number, number] => {
      let low = 0;
      let high = least;
      for (const values of lists)
        for (const value of values ?? []) {
          low = Math.min(low, value);
          high = Math.max(high, value);
        }
      const room = 0.06 * (high - low);
      return [low < 0 ? low - room : 0, high + room];
    };
    const forces = span([curves?.restoringN ?? null, curves?.pullN ?? null, curves?.frictionN ?? null], 0.2);
    const torques = span([curves?.tippingNmm ?? null], 1);
    this.#force = lineFrame({ width, height: this.height, xDomain: [0, end], yDomain: forces, left: 50, bottom: 8 });
    this.#torque = lineFrame({
      width,
      height: TORQUE_HEIGHT,
      xDomain: [0, end],
      yDomain: torques,
      left: 50,
      bottom: 24,
    });
    this.#placeLabels();
  }

  #placeLabels(): void {
    const { plot, x, y } = this.#force;
    const requests: LabelRequest[] = [];
    const obstacles: Box[] = [];
    this.#labels = [];
    const { curves } = this;
    if (!curves) return;
    const add = (id: string, text: string, kind: string, candidates: number[]): void => {
      this.#labels.push({ id, text, kind });
      requests.push({ id, width: this.labelWidth(text) + 6, height: 16, candidates });
    };
    const end = curves.offsetMm[curves.offsetMm.length - 1];
    const along = (values: Float64Array, text: string): number[] => {
      const half = this.labelWidth(text) / 2;
      const places: number[] = [];
      for (const share of [0.5, 0.6, 0.4, 0.7, 0.3, 0.8, 0.2, 0.12, 0.9, 0.06]) {
        const at = share * end;
        const py = y(curveAt(curves.offsetMm, values, at));
        for (const out of [14, 20, 28])
          places.push(x(at) + half * 0.8, py - out, x(at) - half * 0.8, py - out, x(at), py - out, x(at), py + out);
        places.push(x(at) + half + 8, py, x(at) - half - 8, py);
      }
      return places;
    };
    for (const [id, text, at] of [
      ['capture', 'capture', curves.captureMm],
      ['rest', 'rest band', curves.restBandMm],
    ] as const) {
      if (at === null || at <= 0 || at > end) continue;
      obstacles.push({ x: x(at) - 1, y: plot.y, width: 2, height: plot.height });
      const half = this.labelWidth(text) / 2 + 6;
      add(
        id,
        text,
        'mark',
        [12, 28, 44].flatMap((down) => [x(at) + half, plot.y + down, x(at) - half, plot.y + down]),
      );
    }
    add('restoring', 'restoring force', 'restoring', along(curves.restoringN, 'restoring force'));
    add('pull', 'pull', 'pull', along(curves.pullN, 'pull'));
    add('friction', 'friction', 'friction', along(curves.frictionN, 'friction'));
    if (curves.airRestoringN) add('air', 'without ferrite', 'air', along(curves.airRestoringN, 'without ferrite'));
    for (const values of [curves.restoringN, curves.pullN, curves.frictionN])
      for (let k = 0; k < values.length; k += 1)
        obstacles.push({ x: x(curves.offsetMm[k]) - 2, y: y(values[k]) - 3, width: 4, height: 6 });
    this.#boxes = placeLabels(requests, obstacles, plot, this.#boxes, 1);
  }

  protected override render(): TemplateResult {
    const total = this.height + TORQUE_HEIGHT;
    const { curves } = this;
    return html`<div
        class="frame"
        style=${placed({ height: `${total}px` })}
        @pointermove=${this.#onHover}
        @pointerleave=${this.#onLeave}
      >
        <svg width=${this.#force.width} height=${total} role="group" aria-label="Forces over offset">
          <g role="img" aria-label=${this.#description()}>
            <clipPath id="forces"><rect x=${this.#force.plot.x} y=${this.#force.plot.y} width=${this.#force.plot.width} height=${this.#force.plot.height}></rect></clipPath>
            ${this.#axes(this.#force, 'N', false)} ${curves ? this.#forceCurves(curves) : nothing}
            <g transform=${`translate(0 ${this.height})`}>
              ${this.#axes(this.#torque, 'N mm', true)}
              ${curves ? this.#path(this.#torque, curves.offsetMm, curves.tippingNmm, 'tipping') : nothing}
              <text class="halo tipping" x=${this.#torque.plot.x + 8} y=${this.#torque.plot.y + 14}>tipping torque</text>
              ${this.#readingDot(this.#torque, curves?.tippingNmm ?? null, 'tipping')}
            </g>
            ${this.#labels.map((label) => {
              const box = this.#boxes.get(label.id);
              return box
                ? svg`<text class="halo ${label.kind}" x=${box.x + box.width / 2} y=${box.y + 12} text-anchor="middle">${label.text}</text>`
                : nothing;
            })}
            ${this.#readingLine()}
          </g>
          ${this.#readingHandle()}
        </svg>
      </div>
      <p class="quiet" aria-live="polite">${this._announcement}</p>`;
  }

  #description(): string {
    const { curves } = this;
    if (!curves) return 'Forces over offset: not computed yet.';
    const parts = [`pull ${withUnit(curves.pullN[0], 'N')} at home`];
    if (curves.restBandMm !== null) parts.push(`may stop within ${withUnit(curves.restBandMm, 'mm')}`);
    if (curves.captureMm !== null) parts.push(`slides home from ${withUnit(curves.captureMm, 'mm')}`);
    return `Forces over offset along ${this.axis}: ${parts.join(', ')}.`;
  }

  #axes({ plot, x, y }: LineFrame, unit: string, below: boolean): unknown {
    const right = plot.x + plot.width;
    const low = plot.y + plot.height;
    const across = roomyTicks(x, plot.width);
    const up = y.ticks(Math.max(2, Math.floor(plot.height / 42)));
    return svg`<rect class="ground" x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height}></rect>
      ${across.map(
        (v, i) => svg`<line class="grid" x1=${x(v)} x2=${x(v)} y1=${plot.y} y2=${low}></line>
        ${
          below
            ? svg`<text class="tick" x=${Math.min(x(v), right - (i === across.length - 1 ? 4 : 0))} y=${low + 17} text-anchor=${
                i === across.length - 1 && x(v) > right - 16 ? 'end' : 'middle'
              }>${i === across.length - 1 ? withUnit(v, 'mm') : plain(v)}</text>`
            : nothing
        }`,
      )}
      ${up.map(
        (v, i) => svg`<line class="grid" x1=${plot.x} x2=${right} y1=${y(v)} y2=${y(v)}></line>
        <text class="tick" x=${plot.x - 7} y=${y(v) + 4} text-anchor="end">${i === up.length - 1 ? withUnit(v, unit, 2) : plain(v, 2)}</text>`,
      )}
      <line class="zero" x1=${plot.x} x2=${right} y1=${y(0)} y2=${y(0)}></line>`;
  }

  #forceCurves(curves: ForceCurves): unknown {
    const { plot, x, y } = this.#force;
    const { offsetMm, frictionN } = curves;
    const top = curvePath(offsetMm, frictionN, { x, y });
    const end = offsetMm[offsetMm.length - 1];
    const mark = (at: number | null): unknown =>
      at !== null && at > 0 && at <= end
        ? svg`<line class="mark" x1=${x(at)} x2=${x(at)} y1=${plot.y} y2=${plot.y + plot.height}></line>`
        : nothing;
    return svg`<g clip-path="url(#forces)">
      <path class="friction-band" d=${`${top}L${x(end)},${y(0)}L${x(0)},${y(0)}Z`}></path>
      <path class="friction" d=${top}></path>
      ${mark(curves.restBandMm)} ${mark(curves.captureMm)}
      ${curves.airRestoringN ? this.#path(this.#force, offsetMm, curves.airRestoringN, 'air') : nothing}
      ${this.#path(this.#force, offsetMm, curves.pullN, 'pull')}
      ${this.#path(this.#force, offsetMm, curves.restoringN, 'restoring')}
    </g>
    ${this.#readingDot(this.#force, curves.restoringN, 'restoring')} ${this.#readingDot(this.#force, curves.pullN, 'pull')}`;
  }

  #path(frame: LineFrame, xs: Float64Array, ys: Float64Array, kind: CurveId): unknown {
    return svg`<path class="curve ${kind}" d=${curvePath(xs, ys, frame)}></path>`;
  }

  #readingDot({ x, y }: LineFrame, values: Float64Array | null, kind: CurveId): unknown {
    const { curves, _reading: at } = this;
    if (at === null || !curves || !values) return nothing;
    const value = curveAt(curves.offsetMm, values, at);
    return Number.isFinite(value)
      ? svg`<circle class="reading-dot ${kind}" cx=${x(at)} cy=${y(value)} r="3.6"></circle>`
      : nothing;
  }

  #readingLine(): unknown {
    const { plot, x } = this.#force;
    return this._reading === null
      ? nothing
      : svg`<path class="crosshair" d=${`M${x(this._reading)},${plot.y}V${this.height + this.#torque.plot.y + this.#torque.plot.height}`}></path>`;
  }

  #readingHandle(): unknown {
    const { plot, x } = this.#force;
    const at = this._reading ?? 0;
    const [, end] = x.domain();
    return svg`<g class="handle reading" tabindex="0" role="slider" aria-label="Reading line on the forces"
      aria-valuemin="0" aria-valuemax=${rounded(end, 0.01)} aria-valuenow=${rounded(at, 0.01)}
      aria-valuetext=${this._reading === null ? 'arrow keys read the curves' : this.readingText(at)}
      @keydown=${this.#onReadKey} @blur=${this.#onLeave}>
      <rect class="focus" x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height}></rect>
    </g>`;
  }

  /** What the curves say at an offset, in one line. */
  readingText(at: number): string {
    const { curves } = this;
    if (!curves) return '';
    const value = (values: Float64Array) => curveAt(curves.offsetMm, values, at);
    const [restoring, friction] = [value(curves.restoringN), value(curves.frictionN)];
    const verdict = restoring > friction ? 'slides home' : restoring < -friction ? 'slides away' : 'stays';
    return `${this.axis} ${withUnit(at, 'mm')}: ${verdict}; restoring ${withUnit(restoring, 'N', 2)}, friction ${withUnit(friction, 'N', 2)}, pull ${withUnit(value(curves.pullN), 'N', 2)}, tips ${withUnit(value(curves.tippingNmm), 'N mm')}`;
  }

  #read(value: number | null): void {
    this._reading = value;
    this.dispatchEvent(
      new CustomEvent('reading-moved', {
        detail: value === null ? null : { value },
        bubbles: true,
        composed: true,
      }),
    );
  }

  readonly #onHover = (event: PointerEvent): void => {
    if (event.pointerType === 'touch' || !this.curves) return;
    const box = this._frameElement.getBoundingClientRect();
    const { plot, x } = this.#force;
    const px = event.clientX - box.left;
    if (px < plot.x || px > plot.x + plot.width) this.#onLeave();
    else this.#read(x.invert(px));
  };

  readonly #onLeave = (): void => {
    if (this._reading !== null) this.#read(null);
  };

  readonly #onReadKey = (event: KeyboardEvent): void => {
    const [, end] = this.#force.x.domain();
    const step = arrowStep(event, end / 40, end / 400, end / 8);
    if (!step || !this.curves) return;
    event.preventDefault();
    const at = Math.min(Math.max((this._reading ?? 0) + step[0] + step[1], 0), end);
    this.#read(at);
    this._announcement = this.readingText(at);
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-hold-forces': HoldForces;
  }
}
