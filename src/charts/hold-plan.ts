import { html, nothing, type PropertyValues, svg, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { chartStyle } from './chart-style.ts';
import { dimensionLine } from './dimension-line.ts';
import { arrowStep, type DragPhase, followPointer, rounded } from './drag.ts';
import { drawPlan, planAxes } from './hold-plan-drawing.ts';
import { type HoldPlanData, type PlanFrame, type PlanZoom, planExtents, planFrame } from './hold-plan-frame.ts';
import { type PlanLabel, planLabels } from './hold-plan-labels.ts';
import { planReading } from './hold-plan-reading.ts';
import { holdPlanStyle } from './hold-plan-style.ts';
import { type Box, placeLabels } from './place-labels.ts';
import { placed } from './placed.ts';
import { SizedElement } from './sized-element.ts';
import { withUnit } from './tick-text.ts';

export interface ClearanceMovedDetail {
  readonly clearanceMm: number;
  readonly phase: DragPhase;
}

export interface MagnetMovedDetail {
  readonly index: number;
  readonly xMm: number;
  readonly yMm: number;
  readonly phase: DragPhase;
}

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
    this.#boxes = placeLabels(this.#labels, this.#obstacles(data), room, this.#boxes);
  }

  #obstacles(data: HoldPlanData): Box[] {
    const around = (x: number, y: number, half: number): Box => ({
      x: x - half,
      y: y - half,
      width: 2 * half,
      height: 2 * half,
    });
    const boxes: Box[] = [];
    const wall = this.#wall(data);
    if (wall) boxes.push(around(wall.x, wall.y, 13), { x: wall.slotX - 4, y: wall.y - 12, width: 70, height: 24 });
    for (const [x, y] of this.#magnetPlaces(data)) boxes.push(around(x, y, 12));
    const field = this.#magnetField(data);
    if (field) boxes.push({ x: field.x - 32, y: field.y - 12, width: 64, height: 24 });
    return boxes;
  }

  /** The handle on the pocket's right wall and the place of its number. */
  #wall({ pocket, restMm, yawDeg }: HoldPlanData): { x: number; y: number; slotX: number } | null {
    if (!pocket || this.zoom !== 'device') return null;
    const { plot } = this.#frame;
    const yaw = (yawDeg * Math.PI) / 180;
    const at = pocket.halfWidthMm;
    const up = -0.45 * pocket.halfHeightMm;
    const x = this.#frame.x(restMm[0] + at * Math.cos(yaw) - up * Math.sin(yaw));
    const y = this.#frame.y(restMm[1] + at * Math.sin(yaw) + up * Math.cos(yaw));
    const right = x + 84 < plot.x + plot.width;
    return { x, y, slotX: right ? x + 14 : x - 82 };
  }

  #magnetPlaces({ magnets, restMm, yawDeg }: HoldPlanData): [number, number][] {
    const yaw = (yawDeg * Math.PI) / 180;
    return (magnets?.positionsMm ?? []).map(([mx, my]) => [
      this.#frame.x(restMm[0] + mx * Math.cos(yaw) - my * Math.sin(yaw)),
      this.#frame.y(restMm[1] + mx * Math.sin(yaw) + my * Math.cos(yaw)),
    ]);
  }

  /** Under the first magnet, inside the plot. */
  #magnetField(data: HoldPlanData): { x: number; y: number } | null {
    const [first] = this.#magnetPlaces(data);
    if (!first || this.zoom !== 'device') return null;
    const { plot, pxPerMm } = this.#frame;
    const radius = (data.magnets?.radiusMm ?? 0) * pxPerMm;
    const x = Math.min(Math.max(first[0], plot.x + 40), plot.x + plot.width - 40);
    const below = first[1] + radius + 15;
    return { x, y: below < plot.y + plot.height - 12 ? below : first[1] - radius - 15 };
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
          <g role="img" aria-label=${this.#description()}>
            ${planAxes(frame)} ${data ? drawPlan(data, frame) : nothing}
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

  #description(): string {
    const { data } = this;
    if (!data) return 'Plan of what holds the device: not computed yet.';
    const parts = ['Plan of what holds the device'];
    if (data.playMm)
      parts.push(
        `the recess lets its centre go ${withUnit(data.playMm.halfXMm, 'mm')} along x and ${withUnit(data.playMm.halfYMm, 'mm')} along y`,
      );
    if (data.magnets) parts.push(`${data.magnets.positionsMm.length} pairs of magnets`);
    if (data.placements) {
      const works = data.placements.works.reduce((sum, one) => sum + one, 0);
      parts.push(`${works} of ${data.placements.works.length} casual placements drawn work`);
    }
    return `${parts.join('; ')}.`;
  }

  #deviceDimensions({ device, restMm, yawDeg }: HoldPlanData): unknown {
    if (yawDeg !== 0) return nothing;
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
    const wall = this.#wall(data);
    const magnet = this.#magnetField(data);
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
    const wall = this.#wall(data);
    const clearance = this.#clearance(data);
    return svg`${
      this.zoom === 'device'
        ? this.#magnetPlaces(data).map(([x, y], index) => {
            const [mx, my] = data.magnets?.positionsMm[index] ?? [0, 0];
            return svg`<g class="handle move" tabindex="0" role="slider" aria-label=${`Magnet ${index + 1}`}
              aria-valuemin="0" aria-valuemax="200" aria-valuenow=${rounded(Math.hypot(mx, my), 0.01)}
              aria-valuetext=${`x ${withUnit(mx, 'mm')}, y ${withUnit(my, 'mm')}`}
              @pointerdown=${(event: PointerEvent) => this.#onMagnetDown(event, index)}
              @keydown=${(event: KeyboardEvent) => this.#onMagnetKey(event, index)}>
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
          @pointerdown=${this.#onWallDown} @keydown=${this.#onWallKey}>
          <circle class="target" cx=${wall.x} cy=${wall.y} r="15"></circle>
          <circle class="focus" cx=${wall.x} cy=${wall.y} r="11"></circle>
          <circle class="knob" cx=${wall.x} cy=${wall.y} r="6.5"></circle>
        </g>`
        : nothing
    }`;
  }

  #clearance({ pocket, device }: HoldPlanData): number {
    return pocket ? pocket.halfWidthMm - device.halfWidthMm : 0;
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

  #emit<T>(name: string, detail: T): void {
    this.dispatchEvent(new CustomEvent<T>(name, { detail, bubbles: true, composed: true }));
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

  readonly #onWallDown = (event: PointerEvent): void => {
    const { data } = this;
    if (!data) return;
    const from = this.#clearance(data);
    this.#read(null);
    let grab = 0;
    followPointer(event, {
      origin: this._frameElement,
      moved: (_x, _y, phase, source) => {
        this.#dragging = phase === 'start' || phase === 'move';
        // Where the pointer is on the screen: what stands above the plan may change its height meanwhile.
        const x = source instanceof PointerEvent ? source.clientX : grab;
        if (phase === 'start') grab = x;
        const still = phase === 'start' || phase === 'cancel';
        const by = (x - grab) / this.#frame.pxPerMm;
        const clearanceMm = still ? from : Math.max(0, rounded(from + by, source.shiftKey ? 0.01 : 0.05));
        this.#emit<ClearanceMovedDetail>('clearance-moved', { clearanceMm, phase });
      },
    });
  };

  readonly #onWallKey = (event: KeyboardEvent): void => {
    const step = arrowStep(event, 0.05, 0.01, 0.5);
    if (!step || !this.data) return;
    event.preventDefault();
    const clearanceMm = Math.max(0, rounded(this.#clearance(this.data) + step[0] + step[1], 0.01));
    this.#emit<ClearanceMovedDetail>('clearance-moved', { clearanceMm, phase: 'step' });
  };

  #onMagnetDown(event: PointerEvent, index: number): void {
    const { data } = this;
    const held = data?.magnets?.positionsMm[index];
    if (!data || !held) return;
    this.#read(null);
    const yaw = (data.yawDeg * Math.PI) / 180;
    let from: readonly [number, number] = [0, 0];
    followPointer(event, {
      origin: this._frameElement,
      moved: (_x, _y, phase, source) => {
        this.#dragging = phase === 'start' || phase === 'move';
        const [x, y] = source instanceof PointerEvent ? [source.clientX, source.clientY] : from;
        if (phase === 'start') from = [x, y];
        const still = phase === 'start' || phase === 'cancel';
        const dx = (x - from[0]) / this.#frame.pxPerMm;
        const dy = (from[1] - y) / this.#frame.pxPerMm;
        const step = source.shiftKey ? 0.1 : 0.5;
        const xMm = still ? held[0] : rounded(held[0] + dx * Math.cos(yaw) + dy * Math.sin(yaw), step);
        const yMm = still ? held[1] : rounded(held[1] - dx * Math.sin(yaw) + dy * Math.cos(yaw), step);
        this.#emit<MagnetMovedDetail>('magnet-moved', { index, xMm, yMm, phase });
      },
    });
  }

  #onMagnetKey(event: KeyboardEvent, index: number): void {
    const step = arrowStep(event, 0.5, 0.1, 5);
    const held = this.data?.magnets?.positionsMm[index];
    if (!step || !held) return;
    event.preventDefault();
    this.#emit<MagnetMovedDetail>('magnet-moved', {
      index,
      xMm: rounded(held[0] + step[0], 0.1),
      yMm: rounded(held[1] + step[1], 0.1),
      phase: 'step',
    });
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-hold-plan': HoldPlan;
  }
}
