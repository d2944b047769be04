import { html, nothing, type PropertyValues, svg, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { chartStyle } from './chart-style.ts';
import { arrowStep, rounded } from './drag.ts';
import { acts, type ForceCurves, type ForceLabel, forceLabels, forceReading, valueSpan } from './hold-forces-labels.ts';
import { holdForcesStyle } from './hold-forces-style.ts';
import { curveAt, type LineFrame, lineFrame } from './line-chart-frame.ts';
import type { PlacedLabel } from './place-labels.ts';
import { placed } from './placed.ts';
import { roomyTicks } from './roomy-ticks.ts';
import { SizedElement } from './sized-element.ts';
import { curvePath } from './svg-path.ts';
import { plain, withUnit } from './tick-text.ts';

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
  /** Whether there is a torque to draw. */
  #tips = true;
  #boxes: Map<string, PlacedLabel> = new Map();
  #labels: readonly ForceLabel[] = [];

  protected override willUpdate(changed: PropertyValues<this>): void {
    if ((changed as Map<string, unknown>).has('widthPx')) this.#boxes = new Map();
    const { curves } = this;
    const width = this.widthPx || 300;
    const end = curves ? curves.offsetMm[curves.offsetMm.length - 1] : 10;
    const forces = valueSpan([curves?.restoringN ?? null, curves?.pullN ?? null, curves?.frictionN ?? null], 0.2);
    // Without magnets nothing tips it: the forces' own drawing then carries the numbers along the edge.
    this.#tips = !curves || acts(curves.tippingNmm);
    const torques = valueSpan([curves?.tippingNmm ?? null], 1);
    this.#force = lineFrame({
      width,
      height: this.height,
      xDomain: [0, end],
      yDomain: forces,
      left: 50,
      bottom: this.#tips ? 8 : 24,
    });
    this.#torque = lineFrame({
      width,
      height: TORQUE_HEIGHT,
      xDomain: [0, end],
      yDomain: torques,
      left: 50,
      bottom: 24,
    });
    const labels = curves ? forceLabels(curves, this.#force, (text) => this.labelWidth(text), this.#boxes) : null;
    this.#labels = labels?.labels ?? [];
    this.#boxes = labels?.boxes ?? new Map();
  }

  protected override render(): TemplateResult {
    const total = this.height + (this.#tips ? TORQUE_HEIGHT : 0);
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
            ${this.#axes(this.#force, 'N', !this.#tips)} ${curves ? this.#forceCurves(curves) : nothing}
            ${this.#tips ? this.#torqueDrawing() : nothing}
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

  #torqueDrawing(): unknown {
    const { curves } = this;
    const { plot } = this.#torque;
    return svg`<g transform=${`translate(0 ${this.height})`}>
      ${this.#axes(this.#torque, 'N mm', true)}
      ${curves ? this.#path(this.#torque, curves.offsetMm, curves.tippingNmm, 'tipping') : nothing}
      <text class="halo tipping" x=${plot.x + 8} y=${plot.y + 14}>tipping torque</text>
      ${this.#readingDot(this.#torque, curves?.tippingNmm ?? null, 'tipping')}
    </g>`;
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
      : svg`<path class="crosshair" d=${`M${x(this._reading)},${plot.y}V${this.#tips ? this.height + this.#torque.plot.y + this.#torque.plot.height : plot.y + plot.height}`}></path>`;
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
    return forceReading(curves, this.axis, at);
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
