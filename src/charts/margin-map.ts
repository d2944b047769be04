import { html, nothing, type PropertyValues, svg, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { guard } from 'lit/directives/guard.js';
import type { OffsetMap } from '../analysis/types.ts';
import { chartStyle } from './chart-style.ts';
import { type MapFrame, mapExtents, mapFrame } from './map-frame.ts';
import { poseDimensions, poseFields } from './margin-map-dimensions.ts';
import { drawMap, type MapDrawing } from './margin-map-drawing.ts';
import { handleBoxes, type KnobPlace, knobPlace, readingHandle, ringHandle, turnHandle } from './margin-map-handles.ts';
import {
  besideLabels,
  leaderToHere,
  type MapLabel,
  mapLabels,
  type StillLabels,
  stillLabels,
} from './margin-map-labels.ts';
import { mapLegend } from './margin-map-legend.ts';
import {
  dragRing,
  dragTurn,
  type MapGrip,
  type ReceiverMovedDetail,
  type ReceiverTurnedDetail,
  stepRing,
  stepTurn,
} from './margin-map-moves.ts';
import { outlines } from './margin-map-outlines.ts';
import { type CrosshairDetail, mapDescription, mapReading, readingStep } from './margin-map-reading.ts';
import { marginMapStyle } from './margin-map-style.ts';
import { type MarginShapes, marginShapes } from './margin-shapes.ts';
import { type PlacedLabel, placeLabels } from './place-labels.ts';
import { placed } from './placed.ts';
import { planGround } from './plan-axes.ts';
import type { PlanPose } from './plan-pose.ts';
import { SizedElement } from './sized-element.ts';
import { moved } from './svg-path.ts';
import type { WindingOutline } from './turn-edge.ts';

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
  #still: StillLabels = { first: [], last: [], lines: [], transmitter: [] };
  #labels: readonly MapLabel[] = [];
  #boxes: Map<string, PlacedLabel> = new Map();
  #receiverMm: Float64Array = new Float64Array();
  #dragging = false;
  readonly #grip: MapGrip = {
    origin: () => this._frameElement,
    frame: () => this.#frame,
    pose: () => this.pose,
    dragging: (goesOn) => {
      this.#dragging = goesOn;
    },
    moved: (detail) => {
      this.#emit<ReceiverMovedDetail>('receiver-moved', detail);
      this.#settle(detail.phase);
    },
    turned: (detail) => {
      this.#emit<ReceiverTurnedDetail>('receiver-turned', detail);
      this.#settle(detail.phase);
    },
  };

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
      width: (text, weight) => this.labelWidth(text, weight),
    });
    const room = {
      x: frame.plot.x + 4,
      y: frame.plot.y + 3,
      width: frame.plot.width - 8,
      height: frame.plot.height - 6,
    };
    this.#boxes = placeLabels(this.#labels, handleBoxes(ring, this.#knob()), room, this.#boxes);
  }

  #knob(): KnobPlace {
    return knobPlace(this.#frame, this.pose, this.receiver?.halfWidthMm ?? 15);
  }

  protected override render(): TemplateResult {
    const frame = this.#frame;
    const knob = this.#knob();
    return html`<div
        class="frame"
        style=${placed({ height: `${frame.height}px` })}
        @pointermove=${this.#onHover}
        @pointerleave=${this.#onLeave}
        @click=${this.#onTap}
      >
        <svg width=${frame.width} height=${frame.height} role="group" aria-label="Margin over offset">
          <g class="looked-at" role="img" aria-label=${mapDescription(this.map, this.hereText)}>
            ${guard([this.#drawing, frame], () => this.#drawing?.ground ?? planGround(frame))}
            <clipPath id="beside-labels"><path clip-rule="evenodd" d=${besideLabels(frame.plot, this.#labels, this.#boxes)}></path></clipPath>
            <g clip-path="url(#beside-labels)">${guard([this.#drawing], () => this.#drawing?.lines ?? nothing)}
              ${outlines(frame, this.transmitter, this.receiver, this.pose)}</g>
            ${poseDimensions(frame, this.pose)}
            <path class="leader" d=${leaderToHere([frame.x(this.pose.xMm), frame.y(this.pose.yMm)], this.#boxes.get('here'))}></path>
            ${this.#labels.map((label) => {
              const box = this.#boxes.get(label.id);
              return box
                ? svg`<text class="halo ${label.kind}" x=${box.x + box.width / 2} y=${box.y + 13} text-anchor="middle">${label.text}</text>`
                : nothing;
            })}
            ${this.#crosshairLines()}
            <circle class="outline receiver" cx=${frame.x(this.pose.xMm)} cy=${frame.y(this.pose.yMm)} r="4"></circle>
          </g>
          ${readingHandle(
            frame,
            this._reading,
            this._reading ? this.reading(this._reading) : 'arrow keys read the map',
            {
              key: this.#onReadKey,
              blur: this.#onLeave,
            },
          )}
          ${turnHandle(knob, this.pose, {
            down: (event) => dragTurn(event, this.#grip),
            key: (event) => stepTurn(event, this.#grip),
          })}
          ${ringHandle(frame, this.pose, this.hereText, {
            down: this.#onRingDown,
            key: (event) => stepRing(event, this.#grip),
          })}
        </svg>
        ${poseFields(frame, this.pose, knob)}
      </div>
      ${frame.narrow ? mapLegend(this.map, this.#shapes) : nothing}
      <p class="quiet" aria-live="polite">${this._announcement}</p>`;
  }

  #crosshairLines(): unknown {
    const point = this._reading ?? this.crosshair;
    if (!point) return nothing;
    const { plot, x, y } = this.#frame;
    return svg`<path class="crosshair" clip-path="url(#plot)" d=${`M${x(point.xMm)},${plot.y}v${plot.height}M${plot.x},${y(point.yMm)}h${plot.width}`}></path>`;
  }

  /** What the map says at a point, in one line. */
  reading(point: CrosshairDetail): string {
    return mapReading(this.map, this.#shapes, point);
  }

  /** After a drag the frame may grow with the receiver. */
  #settle(phase: ReceiverMovedDetail['phase']): void {
    if (phase === 'end') this.requestUpdate('pose');
  }

  #emit<T>(name: string, detail: T): void {
    this.dispatchEvent(new CustomEvent<T>(name, { detail, bubbles: true, composed: true }));
  }

  #read(point: CrosshairDetail | null): void {
    this._reading = point;
    this.#emit<CrosshairDetail | null>('crosshair-moved', point);
  }

  readonly #onHover = (event: PointerEvent): void => {
    if (event.pointerType !== 'touch') this.#readAt(event);
  };

  /** A finger reads where it taps: moving it scrolls the page. */
  readonly #onTap = (event: PointerEvent): void => {
    if (event.pointerType === 'touch') this.#readAt(event);
  };

  #readAt(event: PointerEvent): void {
    if (this.#dragging) return;
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
  }

  readonly #onLeave = (): void => {
    if (this._reading) this.#read(null);
  };

  readonly #onReadKey = (event: KeyboardEvent): void => {
    const point = readingStep(event, this._reading, this.#frame);
    if (!point) return;
    this.#read(point);
    this._announcement = this.reading(point);
  };

  readonly #onRingDown = (event: PointerEvent): void => {
    this.#read(null);
    dragRing(event, this.#grip);
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-margin-map': MarginMap;
  }
}
