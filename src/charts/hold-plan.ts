import { html, nothing, type PropertyValues, svg, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { chartStyle } from './chart-style.ts';
import { dimensionLine } from './dimension-line.ts';
import { arrowStep, rounded } from './drag.ts';
import { drawPlan } from './hold-plan-drawing.ts';
import { type HoldPlanData, type PlanFrame, type PlanZoom, planExtents, planFrame } from './hold-plan-frame.ts';
import { type PlanLabel, planLabels } from './hold-plan-labels.ts';
import {
  type ClearanceMovedDetail,
  dragMagnet,
  dragWall,
  type MagnetMovedDetail,
  type PlanGrip,
  stepMagnet,
  stepWall,
} from './hold-plan-moves.ts';
import {
  clearanceOf,
  magnetField,
  magnetPlaces,
  planDescription,
  planObstacles,
  wallPlace,
} from './hold-plan-places.ts';
import { planReading } from './hold-plan-reading.ts';
import { holdPlanStyle } from './hold-plan-style.ts';
import { type Box, placeLabels } from './place-labels.ts';
import { placed } from './placed.ts';
import { planGround } from './plan-axes.ts';
import { SizedElement } from './sized-element.ts';
import { withUnit } from './tick-text.ts';

/**
 * Plan of what holds the device: its outline in the pocket, where its centre is safe, where casual placements end.
 *
 * @slot clearance - number at the pocket's wall
 * @slot device-width - number on the dimension below
 * @slot device-height - number on the dimension at the left
 * @slot magnet - number at a magnet: its diameter
 * @fires clearance-moved - {@link ClearanceMovedDetail} while the pocket's wall is dragged or stepped
 * @fires magnet-moved - {@link MagnetMovedDetail} while a magnet is dragged or stepped
 * @fires plan-read - text under the pointer or reading point, null when it leaves
 */
@customElement('oc-hold-plan')
export class HoldPlan extends SizedElement {
  static override readonly styles = [chartStyle, holdPlanStyle];

  @property({ attribute: false }) data: HoldPlanData | null = null;
  @property() zoom: PlanZoom = 'device';
  @property({ type: Number }) tallest = 480;
  @property({ type: Boolean, reflect: true }) stale = false;

  @state() private _reading: readonly [number, number] | null = null;
  @state() private _announcement = '';
  @query('.frame') private _frameElement!: HTMLElement;
  #frame: PlanFrame = planFrame({ restMm: [0, 0] }, 600, 30, 24, 480);
  #labels: readonly PlanLabel[] = [];
  #boxes: Map<string, Box> = new Map();
  #dragging = false;

  protected override willUpdate(changed: PropertyValues<this>): void {
    const { data } = this;
    if (!data) return;
    // The scale stands still under the hand.
    if (!this.#dragging || (changed as Map<string, unknown>).has('widthPx') || changed.has('zoom')) {
      const { halfXMm, halfYMm } = planExtents(data, this.zoom);
      const frame = planFrame(data, this.widthPx || 600, halfXMm, halfYMm, this.tallest);
      if (frame.pxPerMm !== this.#frame.pxPerMm || frame.width !== this.#frame.width) this.#boxes = new Map();
      this.#frame = frame;
    }
    this.#labels = planLabels(data, this.#frame, (text) => this.labelWidth(text));
    const { plot } = this.#frame;
    const room = { x: plot.x + 3, y: plot.y + 3, width: plot.width - 6, height: plot.height - 6 };
    this.#boxes = placeLabels(this.#labels, planObstacles(data, this.#frame, this.zoom), room, this.#boxes);
  }

  protected override render(): TemplateResult {
    const frame = this.#frame;
    const { data } = this;
    const { plot } = frame;
    return html`<div
        class="frame"
        style=${placed({ height: `${frame.height}px` })}
        @pointermove=${this.#onHover}
        @pointerleave=${this.#onLeave}
      >
        <svg width=${frame.width} height=${frame.height} role="group" aria-label="Plan of what holds the device">
          <g role="img" aria-label=${planDescription(this.data)}>
            ${planGround(frame)} ${data ? drawPlan(data, frame) : nothing}
            ${this.#labels.map((label) => {
              const box = this.#boxes.get(label.id);
              return box
                ? svg`<text class="halo ${label.kind}" x=${box.x + box.width / 2} y=${box.y + 13} text-anchor="middle">${label.text}</text>`
                : nothing;
            })}
            ${
              this._reading
                ? svg`<path class="crosshair" d=${`M${frame.x(this._reading[0])},${plot.y}v${plot.height}M${plot.x},${frame.y(this._reading[1])}h${plot.width}`}></path>`
                : nothing
            }
            ${data && !frame.narrow && this.zoom === 'device' ? this.#deviceDimensions(data) : nothing}
          </g>
          ${this.#readingPoint()} ${data ? this.#handles(data) : nothing}
        </svg>
        ${data && this.zoom === 'device' ? this.#fields(data) : nothing}
      </div>
      <p class="quiet" aria-live="polite">${this._announcement}</p>`;
  }

  #deviceDimensions({ device, pocket, restMm, yawDeg }: HoldPlanData): unknown {
    // Without a recess the device's size is not the user's to state: there is no number to stand on the line.
    if (yawDeg !== 0 || !pocket) return nothing;
    const { plot, x, y } = this.#frame;
    const line = plot.y + plot.height + 38;
    const side = plot.x - 46;
    const x0 = x(restMm[0] - device.halfWidthMm);
    const x1 = x(restMm[0] + device.halfWidthMm);
    const y0 = y(restMm[1] - device.halfHeightMm);
    const y1 = y(restMm[1] + device.halfHeightMm);
    return svg`<path class="extension" d=${`M${x0},${plot.y + plot.height + 22}V${line + 6}M${x1},${plot.y + plot.height + 22}V${line + 6}M${plot.x - 26},${y0}H${side - 6}M${plot.x - 26},${y1}H${side - 6}`}></path>
      ${dimensionLine(x0, line, x1, line, 150)} ${dimensionLine(side, y0, side, y1, 34)}`;
  }

  #fields(data: HoldPlanData): TemplateResult {
    const { plot, narrow, x, y } = this.#frame;
    const at = (left: number, top: number) => placed({ left: `${left}px`, top: `${top}px` });
    const wall = wallPlace(data, this.#frame, this.zoom);
    const magnet = magnetField(data, this.#frame, this.zoom);
    const row = plot.y + plot.height + 44;
    const below = narrow
      ? html`<div class="place from-left" style=${at(plot.x, row)}><slot name="device-width"></slot></div>
          <div class="place to-right" style=${at(plot.x + plot.width, row)}><slot name="device-height"></slot></div>`
      : html`<div class="place" style=${at(x(data.restMm[0]), plot.y + plot.height + 38)}>
            <slot name="device-width"></slot>
          </div>
          <div class="place" style=${at(plot.x - 46, y(data.restMm[1]))}><slot name="device-height"></slot></div>`;
    return html`${below}
      ${wall ? html`<div class="place from-left" style=${at(wall.slotX, wall.y)}><slot name="clearance"></slot></div>` : nothing}
      ${magnet ? html`<div class="place" style=${at(magnet.x, magnet.y)}><slot name="magnet"></slot></div>` : nothing}`;
  }

  #handles(data: HoldPlanData): unknown {
    const wall = wallPlace(data, this.#frame, this.zoom);
    const clearance = clearanceOf(data);
    return svg`${
      this.zoom === 'device'
        ? magnetPlaces(data, this.#frame).map(([x, y], index) => {
            const [mx, my] = data.magnets?.positionsMm[index] ?? [0, 0];
            return svg`<g class="handle move" tabindex="0" role="slider" aria-label=${`Magnet ${index + 1}`}
              aria-valuemin="0" aria-valuemax="200" aria-valuenow=${rounded(Math.hypot(mx, my), 0.01)}
              aria-valuetext=${`x ${withUnit(mx, 'mm')}, y ${withUnit(my, 'mm')}`}
              @pointerdown=${(event: PointerEvent) => this.#take(() => dragMagnet(event, index, data, this.#grip))}
              @keydown=${(event: KeyboardEvent) => stepMagnet(event, index, data, this.#grip)}>
              <circle class="target" cx=${x} cy=${y} r="16"></circle>
              <circle class="focus" cx=${x} cy=${y} r="10.5"></circle>
              <circle class="knob" cx=${x} cy=${y} r="5.5"></circle>
            </g>`;
          })
        : nothing
    }
    ${
      wall
        ? svg`<g class="handle wall" tabindex="0" role="slider" aria-label="Clearance of the recess"
          aria-valuemin="0" aria-valuemax="100" aria-valuenow=${rounded(clearance, 0.001)}
          aria-valuetext=${withUnit(clearance, 'mm', 2)}
          @pointerdown=${(event: PointerEvent) => this.#take(() => dragWall(event, data, this.#grip))}
          @keydown=${(event: KeyboardEvent) => stepWall(event, data, this.#grip)}>
          <circle class="target" cx=${wall.x} cy=${wall.y} r="15"></circle>
          <circle class="focus" cx=${wall.x} cy=${wall.y} r="11"></circle>
          <circle class="knob" cx=${wall.x} cy=${wall.y} r="6.5"></circle>
        </g>`
        : nothing
    }`;
  }

  #readingPoint(): unknown {
    const { plot } = this.#frame;
    const point = this._reading;
    return svg`<g class="handle reading" tabindex="0" role="slider" aria-label="Reading point on the plan"
      aria-valuemin="0" aria-valuemax="200" aria-valuenow=${point ? rounded(Math.hypot(...point), 0.01) : 0}
      aria-valuetext=${point && this.data ? planReading(this.data, point) : 'arrow keys read the plan'}
      @keydown=${this.#onReadKey} @blur=${this.#onLeave}>
      <rect class="focus" x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height}></rect>
    </g>`;
  }

  /** What the moves need of the plan. */
  readonly #grip: PlanGrip = {
    origin: () => this._frameElement,
    pxPerMm: () => this.#frame.pxPerMm,
    clearance: (detail) => {
      this.#dragging = detail.phase === 'start' || detail.phase === 'move';
      this.#emit<ClearanceMovedDetail>('clearance-moved', detail);
    },
    magnet: (detail) => {
      this.#dragging = detail.phase === 'start' || detail.phase === 'move';
      this.#emit<MagnetMovedDetail>('magnet-moved', detail);
    },
  };

  #emit<T>(name: string, detail: T): void {
    this.dispatchEvent(new CustomEvent<T>(name, { detail, bubbles: true, composed: true }));
  }

  #take(drag: () => void): void {
    this.#read(null);
    drag();
  }

  #read(point: readonly [number, number] | null): void {
    this._reading = point;
    this.#emit<string | null>('plan-read', point && this.data ? planReading(this.data, point) : null);
  }

  readonly #onHover = (event: PointerEvent): void => {
    if (this.#dragging || event.pointerType === 'touch' || !this.data) return;
    const box = this._frameElement.getBoundingClientRect();
    const { plot, toMm } = this.#frame;
    const x = event.clientX - box.left;
    const y = event.clientY - box.top;
    if (x < plot.x || x > plot.x + plot.width || y < plot.y || y > plot.y + plot.height) this.#onLeave();
    else this.#read(toMm(x, y));
  };

  readonly #onLeave = (): void => {
    if (this._reading) this.#read(null);
  };

  readonly #onReadKey = (event: KeyboardEvent): void => {
    const step = arrowStep(event, 1, 0.1, 5);
    if (!step || !this.data) return;
    event.preventDefault();
    const from = this._reading ?? this.data.restMm;
    const point = [rounded(from[0] + step[0], 0.1), rounded(from[1] + step[1], 0.1)] as const;
    this.#read(point);
    this._announcement = planReading(this.data, point);
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-hold-plan': HoldPlan;
  }
}
