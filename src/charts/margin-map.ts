import { html, nothing, type PropertyValues, svg, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { guard } from 'lit/directives/guard.js';
import type { OffsetMap } from '../analysis/types.ts';
import { chartStyle } from './chart-style.ts';
import { valueAt } from './contours.ts';
import { arrowStep, type DragPhase, followPointer, rounded } from './drag.ts';
import { type MapFrame, mapExtents, mapFrame } from './map-frame.ts';
import { poseDimensions, poseFields } from './margin-map-dimensions.ts';
import { drawMap, emptyGround, type MapDrawing } from './margin-map-drawing.ts';
import { type MapLabel, mapLabels, type StillLabels, stillLabels } from './margin-map-labels.ts';
import { mapLegend } from './margin-map-legend.ts';
import { outlines } from './margin-map-outlines.ts';
import { marginMapStyle } from './margin-map-style.ts';
import { type MarginShapes, marginShapes } from './margin-shapes.ts';
import { type Box, placeLabels } from './place-labels.ts';
import { placed } from './placed.ts';
import type { PlanPose } from './plan-pose.ts';
import { SizedElement } from './sized-element.ts';
import { moved } from './svg-path.ts';
import { plain, signedPercent, withUnit } from './tick-text.ts';
import type { WindingOutline } from './turn-edge.ts';

export interface ReceiverMovedDetail {
  readonly xMm: number;
  readonly yMm: number;
  readonly phase: DragPhase;
}

export interface ReceiverTurnedDetail {
  readonly yawDeg: number;
  readonly phase: DragPhase;
}

export interface CrosshairDetail {
  readonly xMm: number;
  readonly yMm: number;
}

/** Pull to the axes, px, while dragging without Shift. */
const SNAP = 6;

/**
 * Margin over sideways offset, in mm at true aspect, with the receiver's place as a ring to drag.
 *
 * @slot offset-x - the number on the dimension along x
 * @slot offset-y - the number on the dimension along y
 * @slot yaw - the number at the knob that turns the receiver
 * @fires receiver-moved - {@link ReceiverMovedDetail} while the ring is dragged or stepped with the arrow keys
 * @fires receiver-turned - {@link ReceiverTurnedDetail} while the knob is dragged or stepped
 * @fires crosshair-moved - {@link CrosshairDetail} under the pointer or reading point, null when it leaves
 */
@customElement('oc-margin-map')
export class MarginMap extends SizedElement {
  static override readonly styles = [chartStyle, marginMapStyle];

  @property({ attribute: false }) map: OffsetMap | null = null;
  @property({ attribute: false }) pose: PlanPose = { xMm: 0, yMm: 0, yawDeg: 0 };
  @property({ attribute: false }) transmitter: WindingOutline | null = null;
  @property({ attribute: false }) receiver: WindingOutline | null = null;
  /** Short loads to draw a line for. */
  // Every step of a drag brings a new list of the same loads, which must not draw the map anew.
  @property({ attribute: false, hasChanged: (now, before) => JSON.stringify(now) !== JSON.stringify(before) })
  peaks: readonly { readonly name: string; readonly currentA: number }[] = [];
  /** What stands beside the ring: the margin here. */
  @property() hereText = '';
  /** Reading point set by another figure, mm. */
  @property({ attribute: false }) crosshair: CrosshairDetail | null = null;
  /** The map shown is of an earlier design and a new one is on its way. */
  @property({ type: Boolean, reflect: true }) stale = false;
  @property({ type: Number }) tallest = 560;

  @state() private _reading: CrosshairDetail | null = null;
  @state() private _announcement = '';
  @query('.frame') private _frameElement!: HTMLElement;
  #frame: MapFrame = mapFrame(600, 25, 20, 500);
  #shapes: MarginShapes | null = null;
  #drawing: MapDrawing | null = null;
  #still: StillLabels = { first: [], last: [] };
  #labels: readonly MapLabel[] = [];
  #boxes: Map<string, Box> = new Map();
  #receiverMm: Float64Array = new Float64Array();
  #dragging = false;
  #grab: { readonly dx: number; readonly dy: number; readonly from: PlanPose } | null = null;

  protected override willUpdate(changed: PropertyValues<this>): void {
    const resized = (changed as Map<string, unknown>).has('widthPx') || changed.has('tallest');
    const reshaped = changed.has('transmitter') || changed.has('receiver') || changed.has('pose');
    let framed = false;
    if (resized || (reshaped && !this.#dragging) || !this.hasUpdated) {
      const previous = this.#frame;
      const side = { halfWidthMm: 22, halfHeightMm: 18 };
      const extents = mapExtents(this.transmitter ?? side, this.receiver ?? side, this.pose);
      this.#frame = mapFrame(this.widthPx || 600, extents.halfXMm, extents.halfYMm, this.tallest);
      framed = (['pxPerMm', 'width', 'height'] as const).some((key) => previous[key] !== this.#frame[key]);
      if (framed) this.#boxes = new Map();
    }
    if (changed.has('map') || changed.has('peaks') || framed || !this.hasUpdated) {
      this.#shapes = this.map ? marginShapes(this.map, this.peaks) : null;
      this.#drawing = this.map && this.#shapes ? drawMap(this.map, this.#shapes, this.#frame) : null;
    }
    // Without a reason of its own an update is one for the fonts, which change every width.
    const redrawn = ['map', 'peaks', 'transmitter'].some((name) => (changed as Map<string, unknown>).has(name));
    if (redrawn || framed || changed.size === 0 || !this.hasUpdated) {
      this.#still = stillLabels({
        map: this.map,
        shapes: this.#shapes,
        frame: this.#frame,
        transmitterMm: this.transmitter?.outerMm ?? null,
        width: (text) => this.labelWidth(text),
      });
    }
    if (this.receiver && (changed.has('receiver') || changed.has('pose'))) {
      this.#receiverMm = moved(this.receiver.outerMm, (this.pose.yawDeg * Math.PI) / 180, this.pose.xMm, this.pose.yMm);
    }
    this.#placeLabels();
  }

  #placeLabels(): void {
    const frame = this.#frame;
    const ring: [number, number] = [frame.x(this.pose.xMm), frame.y(this.pose.yMm)];
    this.#labels = mapLabels(this.#still, {
      frame,
      receiverMm: this.receiver ? this.#receiverMm : null,
      ring,
      hereText: this.hereText,
      width: (text) => this.labelWidth(text),
    });
    const knob = this.#knob();
    const obstacles: Box[] = [
      { x: ring[0] - 14, y: ring[1] - 14, width: 28, height: 28 },
      { x: knob.x - 10, y: knob.y - 10, width: 20, height: 20 },
      { x: knob.slotX - 4, y: knob.y - 12, width: 52, height: 24 },
    ];
    const room = {
      x: frame.plot.x + 4,
      y: frame.plot.y + 3,
      width: frame.plot.width - 8,
      height: frame.plot.height - 6,
    };
    this.#boxes = placeLabels(this.#labels, obstacles, room, this.#boxes);
  }

  /** The turning knob sits on the receiver's edge, along its own x axis, kept inside the plot. */
  #knob(): { x: number; y: number; slotX: number } {
    const frame = this.#frame;
    const yaw = (this.pose.yawDeg * Math.PI) / 180;
    const reach = this.receiver?.halfWidthMm ?? 15;
    const { plot } = frame;
    const clamp = (v: number, low: number, high: number): number => Math.min(Math.max(v, low), high);
    const x = clamp(frame.x(this.pose.xMm + reach * Math.cos(yaw)), plot.x + 12, plot.x + plot.width - 12);
    const y = clamp(frame.y(this.pose.yMm + reach * Math.sin(yaw)), plot.y + 14, plot.y + plot.height - 14);
    const right = x + 64 < plot.x + plot.width;
    return { x, y, slotX: right ? x + 14 : x - 62 };
  }

  protected override render(): TemplateResult {
    const frame = this.#frame;
    const knob = this.#knob();
    return html`<div
        class="frame"
        style=${placed({ height: `${frame.height}px` })}
        @pointermove=${this.#onHover}
        @pointerleave=${this.#onLeave}
      >
        <svg width=${frame.width} height=${frame.height} role="group" aria-label="Margin over offset">
          <g class="looked-at" role="img" aria-label=${this.#description()}>
            ${guard([this.#drawing, frame], () => this.#drawing?.ground ?? emptyGround(frame))}
            <clipPath id="beside-labels"><path clip-rule="evenodd" d=${this.#besideLabels()}></path></clipPath>
            <g clip-path="url(#beside-labels)">${guard([this.#drawing], () => this.#drawing?.lines ?? nothing)}
              ${outlines(frame, this.transmitter, this.receiver, this.pose)}</g>
            ${poseDimensions(frame, this.pose)}
            ${this.#labels.map((label) => {
              const box = this.#boxes.get(label.id);
              return box
                ? svg`<text class="halo ${label.kind}" x=${box.x + box.width / 2} y=${box.y + 13} text-anchor="middle">${label.text}</text>`
                : nothing;
            })}
            ${this.#crosshairLines()}
            ${this.still ? svg`<circle class="outline receiver" cx=${frame.x(this.pose.xMm)} cy=${frame.y(this.pose.yMm)} r="4"></circle>` : nothing}
          </g>
          ${this.#readingPoint()} ${this.#knobHandle(knob)} ${this.#ringHandle()}
        </svg>
        ${poseFields(frame, this.pose, knob)}
      </div>
      ${frame.narrow ? mapLegend(this.map, this.#shapes) : nothing}
      <p class="quiet" aria-live="polite">${this._announcement}</p>`;
  }

  #description(): string {
    const map = this.map;
    if (!map) return 'Map of power margin over sideways offset: not computed yet.';
    return `Map of power margin over sideways offset at a gap of ${withUnit(map.gapMm, 'mm')}: safe within ${withUnit(map.reachMm.value, 'mm')} of the axis; here ${this.hereText}.`;
  }

  /** The plot without the boxes of the labels: lines break where they are named, as on a chart. */
  #besideLabels(): string {
    const { plot } = this.#frame;
    let d = `M${plot.x},${plot.y}h${plot.width}v${plot.height}h${-plot.width}Z`;
    for (const label of this.#labels) {
      const box = this.#boxes.get(label.id);
      if (!box || label.kind === 'here' || label.kind === 'reach') continue;
      const { x, y, width, height } = box;
      d += `M${x.toFixed(1)},${y.toFixed(1)}h${width.toFixed(1)}v${height}h${(-width).toFixed(1)}Z`;
    }
    return d;
  }

  #crosshairLines(): unknown {
    const point = this._reading ?? this.crosshair;
    if (!point) return nothing;
    const { plot, x, y } = this.#frame;
    return svg`<path class="crosshair" clip-path="url(#plot)" d=${`M${x(point.xMm)},${plot.y}v${plot.height}M${plot.x},${y(point.yMm)}h${plot.width}`}></path>`;
  }

  #ringHandle(): unknown {
    const frame = this.#frame;
    const x = frame.x(this.pose.xMm);
    const y = frame.y(this.pose.yMm);
    return svg`<g class="handle ring" tabindex="0" role="slider" aria-label="Receiver offset"
      aria-valuemin="0" aria-valuemax="100" aria-valuenow=${rounded(Math.hypot(this.pose.xMm, this.pose.yMm), 0.01)}
      aria-valuetext=${`x ${withUnit(this.pose.xMm, 'mm')}, y ${withUnit(this.pose.yMm, 'mm')}, ${this.hereText}`}
      transform=${`translate(${x} ${y})`} @pointerdown=${this.#onRingDown} @keydown=${this.#onRingKey}>
      <circle class="target" r="22"></circle>
      <circle class="focus" r="15.5"></circle>
      <circle class="knob" r="10"></circle>
      <circle class="dot" r="2.6"></circle>
    </g>`;
  }

  #knobHandle(knob: { x: number; y: number }): unknown {
    return svg`<g class="handle turn" tabindex="0" role="slider" aria-label="Yaw of the receiver"
      aria-valuemin="-180" aria-valuemax="180" aria-valuenow=${rounded(this.pose.yawDeg, 0.1)}
      aria-valuetext=${withUnit(this.pose.yawDeg, '°')}
      transform=${`translate(${knob.x} ${knob.y})`} @pointerdown=${this.#onKnobDown} @keydown=${this.#onKnobKey}>
      <circle class="target" r="18"></circle>
      <circle class="focus" r="10"></circle>
      <circle class="knob" r="5.5"></circle>
    </g>`;
  }

  #readingPoint(): unknown {
    const frame = this.#frame;
    const point = this._reading ?? { xMm: 0, yMm: 0 };
    return svg`<g class="handle reading" tabindex="0" role="slider" aria-label="Reading point on the map"
      aria-valuemin="0" aria-valuemax="100" aria-valuenow=${rounded(Math.hypot(point.xMm, point.yMm), 0.01)}
      aria-valuetext=${this._reading ? this.reading(this._reading) : 'arrow keys read the map'}
      @keydown=${this.#onReadKey} @blur=${this.#onLeave}>
      <rect class="focus" x=${frame.plot.x} y=${frame.plot.y} width=${frame.plot.width} height=${frame.plot.height}></rect>
    </g>`;
  }

  /** What the map says at a point, in one line. */
  reading(point: CrosshairDetail): string {
    const place = `x ${plain(point.xMm)}, y ${withUnit(point.yMm, 'mm')}`;
    if (!this.map || !this.#shapes) return place;
    const margin = valueAt(this.#shapes.grid, point.xMm, point.yMm);
    if (!Number.isFinite(margin)) return `${place}: not computed`;
    const { xMm, yMm } = this.map;
    const current = valueAt({ xMm, yMm, values: this.map.maxOutputA }, point.xMm, point.yMm);
    const k = valueAt({ xMm, yMm, values: this.map.coupling }, point.xMm, point.yMm);
    const verdict = margin < 0 ? 'collapses' : signedPercent(margin);
    return `${place}: ${verdict}, ${withUnit(current, 'A', 2)}, k ${plain(k, 3)}`;
  }

  #emit<T>(name: string, detail: T): void {
    this.dispatchEvent(new CustomEvent<T>(name, { detail, bubbles: true, composed: true }));
  }

  #read(point: CrosshairDetail | null): void {
    this._reading = point;
    this.#emit<CrosshairDetail | null>('crosshair-moved', point);
  }

  readonly #onHover = (event: PointerEvent): void => {
    if (this.#dragging || event.pointerType === 'touch') return;
    const box = this._frameElement.getBoundingClientRect();
    const { plot } = this.#frame;
    const x = event.clientX - box.left;
    const y = event.clientY - box.top;
    const inside = x >= plot.x && x <= plot.x + plot.width && y >= plot.y && y <= plot.y + plot.height;
    if (!inside) {
      if (this._reading) this.#read(null);
      return;
    }
    const [xMm, yMm] = this.#frame.toMm(x, y);
    this.#read({ xMm, yMm });
  };

  readonly #onLeave = (): void => {
    if (this._reading) this.#read(null);
  };

  readonly #onReadKey = (event: KeyboardEvent): void => {
    const step = arrowStep(event, 1, 0.1, 5);
    if (!step) return;
    event.preventDefault();
    const from = this._reading ?? { xMm: 0, yMm: 0 };
    const limit = (value: number, half: number): number => rounded(Math.min(Math.max(value, -half), half), 0.1);
    const point = {
      xMm: limit(from.xMm + step[0], this.#frame.halfXMm),
      yMm: limit(from.yMm + step[1], this.#frame.halfYMm),
    };
    this.#read(point);
    this._announcement = this.reading(point);
  };

  readonly #onRingDown = (event: PointerEvent): void => {
    this.#read(null);
    followPointer(event, {
      origin: this._frameElement,
      moved: (x, y, phase, source) => {
        const frame = this.#frame;
        if (phase === 'start') {
          this.#dragging = true;
          this.#grab = { dx: frame.x(this.pose.xMm) - x, dy: frame.y(this.pose.yMm) - y, from: this.pose };
          this.#emit<ReceiverMovedDetail>('receiver-moved', { xMm: this.pose.xMm, yMm: this.pose.yMm, phase });
          return;
        }
        const grab = this.#grab;
        if (!grab) return;
        if (phase === 'end' || phase === 'cancel') this.#dragging = false;
        if (phase === 'cancel') {
          this.#emit<ReceiverMovedDetail>('receiver-moved', { xMm: grab.from.xMm, yMm: grab.from.yMm, phase });
          return;
        }
        const [xMm, yMm] = frame.toMm(x + grab.dx, y + grab.dy);
        const snap = source.shiftKey ? 0 : SNAP / frame.pxPerMm;
        const near = (value: number): number =>
          Math.abs(value) < snap ? 0 : rounded(value, source.shiftKey ? 0.01 : 0.1);
        this.#emit<ReceiverMovedDetail>('receiver-moved', { xMm: near(xMm), yMm: near(yMm), phase });
        if (phase === 'end') this.requestUpdate('pose');
      },
    });
  };

  readonly #onRingKey = (event: KeyboardEvent): void => {
    const step = event.key === 'Home' ? [-this.pose.xMm, -this.pose.yMm] : arrowStep(event, 0.5, 0.1, 5);
    if (!step) return;
    event.preventDefault();
    this.#emit<ReceiverMovedDetail>('receiver-moved', {
      xMm: rounded(this.pose.xMm + step[0], 0.01),
      yMm: rounded(this.pose.yMm + step[1], 0.01),
      phase: 'step',
    });
  };

  readonly #onKnobDown = (event: PointerEvent): void => {
    const from = this.pose.yawDeg;
    followPointer(event, {
      origin: this._frameElement,
      moved: (x, y, phase, source) => {
        this.#dragging = phase === 'start' || phase === 'move';
        const frame = this.#frame;
        const turned = (Math.atan2(frame.y(this.pose.yMm) - y, x - frame.x(this.pose.xMm)) * 180) / Math.PI;
        const yawDeg = phase === 'start' || phase === 'cancel' ? from : rounded(turned, source.shiftKey ? 0.1 : 1);
        this.#emit<ReceiverTurnedDetail>('receiver-turned', { yawDeg, phase });
        if (phase === 'end') this.requestUpdate('pose');
      },
    });
  };

  readonly #onKnobKey = (event: KeyboardEvent): void => {
    const step = event.key === 'Home' ? [0, -this.pose.yawDeg] : arrowStep(event, 1, 0.1, 15);
    if (!step) return;
    event.preventDefault();
    const yawDeg = ((((this.pose.yawDeg + step[0] + step[1]) % 360) + 540) % 360) - 180;
    this.#emit<ReceiverTurnedDetail>('receiver-turned', { yawDeg: rounded(yawDeg, 0.1), phase: 'step' });
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-margin-map': MarginMap;
  }
}
