import { html, nothing, type PropertyValues, type SVGTemplateResult, svg, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { guard } from 'lit/directives/guard.js';
import { chartStyle } from './chart-style.ts';
import { arrowStep, type DragPhase, followPointer, rounded } from './drag.ts';
import { drawLines, type LineDrawing, type MarginCurve } from './line-chart-drawing.ts';
import { curveAt, type LineFrame, lineFrame } from './line-chart-frame.ts';
import { type LineLabel, lineLabels } from './line-chart-labels.ts';
import { lineChartStyle } from './line-chart-style.ts';
import { type PlacedLabel, placeLabels } from './place-labels.ts';
import { placed } from './placed.ts';
import { SizedElement } from './sized-element.ts';
import { signedPercent, withUnit } from './tick-text.ts';

export interface MarkerMovedDetail {
  readonly value: number;
  readonly phase: DragPhase;
}

export interface ReadingMovedDetail {
  readonly value: number;
}

/** What the drawing beneath the handles depends on. */
const DRAWN = ['curves', 'xDomain', 'yDomain', 'height', 'yTicks', 'wanted', 'xUnit', 'widthPx'] as const;

function samePair(now: unknown, before: unknown): boolean {
  return Array.isArray(now) && Array.isArray(before) && now[0] === before[0] && now[1] === before[1];
}

function sameCurves(now: readonly MarginCurve[] | undefined, before: readonly MarginCurve[] | undefined): boolean {
  return (
    now !== undefined &&
    now.length === before?.length &&
    now.every((curve, i) => {
      const other = before[i];
      return (['id', 'label', 'x', 'y', 'low', 'high', 'stroke'] as const).every((key) => curve[key] === other[key]);
    })
  );
}

/**
 * Margin along a line, with zero as its strongest stroke, bands of uncertainty and a marker for where the design stands.
 *
 * @fires marker-moved - {@link MarkerMovedDetail} while the marker is dragged or stepped
 * @fires reading-moved - {@link ReadingMovedDetail} under the pointer, null when it leaves
 */
@customElement('oc-line-chart')
export class LineChart extends SizedElement {
  static override readonly styles = [chartStyle, lineChartStyle];

  // Every step of a drag brings new lists of the same things, which must not draw the lines anew.
  @property({
    attribute: false,
    hasChanged: (now?: readonly MarginCurve[], before?: readonly MarginCurve[]) => !sameCurves(now, before),
  })
  curves: readonly MarginCurve[] = [];
  @property({ attribute: false, hasChanged: (now, before) => !samePair(now, before) })
  xDomain: readonly [number, number] = [0, 10];
  @property({ attribute: false, hasChanged: (now, before) => !samePair(now, before) })
  yDomain: readonly [number, number] = [-20, 100];
  /** What runs along x, for the axis and for screen readers: `gap`. */
  @property() xName = '';
  @property() xUnit = 'mm';
  @property({ type: Number }) height = 230;
  @property({ type: Boolean }) yTicks = true;
  /** Wanted margin, percent: a dashed line; 0 draws none. */
  @property({ type: Number }) wanted = 0;
  /** Where the design stands on x; null: no marker. */
  @property({ attribute: false }) marker: number | null = null;
  @property({ attribute: false, hasChanged: (now, before) => !samePair(now, before) })
  markerLimits: readonly [number, number] = [0, 100];
  /** Reading line set by another figure. */
  @property({ attribute: false }) reading: number | null = null;
  @property({ type: Boolean, reflect: true }) stale = false;

  @state() private _own: number | null = null;
  @state() private _announcement = '';
  @query('.frame') private _frameElement!: HTMLElement;
  #frame: LineFrame = lineFrame({ width: 300, height: 200, xDomain: [0, 1], yDomain: [0, 1], left: 50, bottom: 24 });
  #boxes: Map<string, PlacedLabel> = new Map();
  #labels: readonly LineLabel[] = [];
  #lines: SVGTemplateResult = svg``;
  #dragging = false;

  protected override willUpdate(changed: PropertyValues<this>): void {
    // Without a reason of its own an update is one for the fonts, which change every width.
    if (changed.size === 0 || !this.hasUpdated || DRAWN.some((name) => (changed as Map<string, unknown>).has(name))) {
      this.#draw((changed as Map<string, unknown>).has('widthPx') || changed.has('xDomain'));
    }
    const { plot, x } = this.#frame;
    const marker = this.marker === null ? [] : [{ x: x(this.marker) - 1, y: plot.y, width: 2, height: plot.height }];
    this.#boxes = placeLabels(this.#labels, marker, plot, this.#boxes, 1);
  }

  /** What stays while the marker is dragged. */
  #draw(rescaled: boolean): void {
    this.#frame = lineFrame({
      width: this.widthPx || 300,
      height: this.height,
      xDomain: this.xDomain,
      yDomain: this.yDomain,
      left: this.yTicks ? 54 : 12,
      bottom: 24,
    });
    if (rescaled) this.#boxes = new Map();
    const { curves, wanted, yTicks, xUnit } = this;
    const drawing: LineDrawing = { frame: this.#frame, curves, wanted, yTicks, xUnit };
    this.#lines = drawLines(drawing);
    this.#labels = lineLabels(drawing, this.xDomain, this.yDomain, (text) => this.labelWidth(text));
  }

  protected override render(): TemplateResult {
    const { width, height } = this.#frame;
    return html`<div
        class="frame"
        style=${placed({ height: `${height}px` })}
        @pointermove=${this.#onHover}
        @pointerleave=${this.#onLeave}
        @click=${this.#onTap}
      >
        <svg width=${width} height=${height} role="group" aria-label=${`Margin against ${this.xName}`}>
          <g class="looked-at" role="img" aria-label=${this.#description()}>
            ${guard([this.#lines], () => this.#lines)} ${this.#markerLine()}
            ${this.#labels.map((label) => {
              const box = this.#boxes.get(label.id);
              return box
                ? svg`<text class="halo ${label.kind}" x=${box.x + box.width / 2} y=${box.y + 12} text-anchor="middle">${label.text}</text>`
                : nothing;
            })}
            ${this.#readingLine()}
          </g>
          ${this.#readingHandle()} ${this.#markerHandle()}
        </svg>
      </div>
      <p class="quiet" aria-live="polite">${this._announcement}</p>`;
  }

  #description(): string {
    const ends = this.curves.map((curve) => {
      let last = Number.NaN;
      for (let i = 1; i < curve.x.length; i += 1) {
        if (curve.y[i - 1] >= 0 && curve.y[i] < 0) last = curve.x[i - 1];
      }
      return Number.isFinite(last) ? `${curve.label}: zero at ${withUnit(last, this.xUnit)}` : `${curve.label}`;
    });
    return `Margin against ${this.xName}. ${ends.join('; ')}.`;
  }

  #readingLine(): unknown {
    const at = this._own ?? this.reading;
    const { plot, x, y } = this.#frame;
    if (at === null || at < this.xDomain[0] || at > this.xDomain[1]) return nothing;
    return svg`<path class="crosshair" d=${`M${x(at)},${plot.y}v${plot.height}`}></path>
      ${this.curves.map((curve) => {
        const value = curveAt(curve.x, curve.y, at);
        return value >= this.yDomain[0] && value <= this.yDomain[1]
          ? svg`<circle class="reading-dot ${curve.stroke}" cx=${x(at)} cy=${y(value)} r="3.6"></circle>`
          : nothing;
      })}`;
  }

  #markerX(marker: number): number {
    return this.#frame.x(Math.min(Math.max(marker, this.xDomain[0]), this.xDomain[1]));
  }

  /** Part of the drawing, on paper and in a picture too; its handle is only for the hand. */
  #markerLine(): unknown {
    if (this.marker === null) return nothing;
    const { plot } = this.#frame;
    const px = this.#markerX(this.marker);
    return svg`<line class="now" x1=${px} x2=${px} y1=${plot.y} y2=${plot.y + plot.height}></line>`;
  }

  #markerHandle(): unknown {
    if (this.marker === null) return nothing;
    const { plot, y } = this.#frame;
    const px = this.#markerX(this.marker);
    const first = this.curves[0];
    const value = first ? curveAt(first.x, first.y, this.marker) : Number.NaN;
    const knob = Math.min(Math.max(Number.isFinite(value) ? y(value) : y(0), plot.y), plot.y + plot.height);
    return svg`<g class="handle marker" tabindex="0" role="slider" aria-label=${this.xName}
      aria-valuemin=${this.markerLimits[0]} aria-valuemax=${this.markerLimits[1]} aria-valuenow=${this.marker}
      aria-valuetext=${withUnit(this.marker, this.xUnit, 2)}
      @pointerdown=${this.#onMarkerDown} @keydown=${this.#onMarkerKey}>
      <rect class="target" x=${px - 14} y=${plot.y} width="28" height=${plot.height}></rect>
      <circle class="focus" cx=${px} cy=${knob} r="12"></circle>
      <circle class="knob" cx=${px} cy=${knob} r="6.5"></circle>
    </g>`;
  }

  #readingHandle(): unknown {
    const { plot } = this.#frame;
    const at = this._own ?? this.marker ?? this.xDomain[0];
    return svg`<g class="handle reading" tabindex="0" role="slider" aria-label=${`Reading line on ${this.xName}`}
      aria-valuemin=${this.xDomain[0]} aria-valuemax=${this.xDomain[1]} aria-valuenow=${rounded(at, 0.01)}
      aria-valuetext=${this._own === null ? 'arrow keys read the curves' : this.readingText(at)}
      @keydown=${this.#onReadKey} @blur=${this.#onLeave}>
      <rect class="focus" x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height}></rect>
    </g>`;
  }

  /** What the curves say at x, in one line. */
  readingText(at: number): string {
    const parts = this.curves.map((curve) => {
      const value = curveAt(curve.x, curve.y, at);
      return Number.isFinite(value) ? `${curve.label} ${signedPercent(value)}` : `${curve.label} not computed`;
    });
    return `${this.xName} ${withUnit(at, this.xUnit)}: ${parts.join(', ')}`;
  }

  #emit<T>(name: string, detail: T): void {
    this.dispatchEvent(new CustomEvent<T>(name, { detail, bubbles: true, composed: true }));
  }

  #read(value: number | null): void {
    this._own = value;
    this.#emit<ReadingMovedDetail | null>('reading-moved', value === null ? null : { value });
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
    const { plot, x } = this.#frame;
    const px = event.clientX - box.left;
    const py = event.clientY - box.top;
    if (px < plot.x || px > plot.x + plot.width || py < plot.y || py > plot.y + plot.height) this.#onLeave();
    else this.#read(x.invert(px));
  }

  readonly #onLeave = (): void => {
    if (this._own !== null) this.#read(null);
  };

  readonly #onReadKey = (event: KeyboardEvent): void => {
    const span = this.xDomain[1] - this.xDomain[0];
    const step = arrowStep(event, span / 40, span / 400, span / 8);
    if (!step) return;
    event.preventDefault();
    const from = this._own ?? this.marker ?? this.xDomain[0];
    const at = Math.min(Math.max(from + step[0] + step[1], this.xDomain[0]), this.xDomain[1]);
    this.#read(at);
    this._announcement = this.readingText(at);
  };

  readonly #onMarkerDown = (event: PointerEvent): void => {
    const from = this.marker ?? 0;
    this.#read(null);
    let grab = 0;
    followPointer(event, {
      origin: this._frameElement,
      moved: (px, _py, phase, source) => {
        this.#dragging = phase === 'start' || phase === 'move';
        if (phase === 'start') grab = this.#frame.x(from) - px;
        const still = phase === 'start' || phase === 'cancel';
        const value = still ? from : rounded(this.#frame.x.invert(px + grab), source.shiftKey ? 0.01 : 0.1);
        this.#emit<MarkerMovedDetail>('marker-moved', { value: this.#limited(value), phase });
      },
    });
  };

  #limited(value: number): number {
    return Math.min(Math.max(value, this.markerLimits[0]), this.markerLimits[1]);
  }

  readonly #onMarkerKey = (event: KeyboardEvent): void => {
    const step = arrowStep(event, 0.1, 0.01, 1);
    if (!step || this.marker === null) return;
    event.preventDefault();
    const value = this.#limited(rounded(this.marker + step[0] + step[1], 0.01));
    this.#emit<MarkerMovedDetail>('marker-moved', { value, phase: 'step' });
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-line-chart': LineChart;
  }
}
