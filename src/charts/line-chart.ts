import { area, line } from 'd3-shape';
import { html, nothing, type PropertyValues, svg, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { chartStyle } from './chart-style.ts';
import { arrowStep, type DragPhase, followPointer, rounded } from './drag.ts';
import { curveAt, type LineFrame, lineFrame } from './line-chart-frame.ts';
import { lineChartStyle } from './line-chart-style.ts';
import { type Box, type LabelRequest, placeLabels } from './place-labels.ts';
import { placed } from './placed.ts';
import { SizedElement } from './sized-element.ts';
import { plain, signedPercent, withUnit } from './tick-text.ts';

/** One curve of margin, percent, over x. */
export interface MarginCurve {
  readonly id: string;
  readonly label: string;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Band of uncertainty; absent: none is drawn. */
  readonly low?: Float64Array;
  readonly high?: Float64Array;
  /** Told apart by stroke as well as by colour. */
  readonly stroke: 'first' | 'second';
}

export interface MarkerMovedDetail {
  readonly value: number;
  readonly phase: DragPhase;
}

export interface ReadingMovedDetail {
  readonly value: number;
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

  @property({ attribute: false }) curves: readonly MarginCurve[] = [];
  @property({ attribute: false }) xDomain: readonly [number, number] = [0, 10];
  @property({ attribute: false }) yDomain: readonly [number, number] = [-20, 100];
  /** What runs along x, for the axis and for screen readers: `gap`. */
  @property() xName = '';
  @property() xUnit = 'mm';
  @property({ type: Number }) height = 230;
  @property({ type: Boolean }) yTicks = true;
  /** Wanted margin, percent: a dashed line; 0 draws none. */
  @property({ type: Number }) wanted = 0;
  /** Where the design stands on x; null: no marker. */
  @property({ attribute: false }) marker: number | null = null;
  @property({ attribute: false }) markerLimits: readonly [number, number] = [0, 100];
  /** Reading line set by another figure. */
  @property({ attribute: false }) reading: number | null = null;
  @property({ type: Boolean, reflect: true }) stale = false;

  @state() private _own: number | null = null;
  @state() private _announcement = '';
  @query('.frame') private _frameElement!: HTMLElement;
  #frame: LineFrame = lineFrame({ width: 300, height: 200, xDomain: [0, 1], yDomain: [0, 1], left: 50, bottom: 24 });
  #boxes: Map<string, Box> = new Map();
  #labels: { id: string; text: string; kind: string }[] = [];
  #dragging = false;

  protected override willUpdate(changed: PropertyValues<this>): void {
    this.#frame = lineFrame({
      width: this.widthPx || 300,
      height: this.height,
      xDomain: this.xDomain,
      yDomain: this.yDomain,
      left: this.yTicks ? 54 : 12,
      bottom: 24,
    });
    if ((changed as Map<string, unknown>).has('widthPx') || changed.has('xDomain')) this.#boxes = new Map();
    this.#placeLabels();
  }

  #placeLabels(): void {
    const { plot, x, y } = this.#frame;
    const requests: LabelRequest[] = [];
    this.#labels = [];
    const add = (id: string, kind: string, text: string, candidates: number[]): void => {
      this.#labels.push({ id, kind, text });
      requests.push({ id, width: this.labelWidth(text) + 6, height: 16, candidates });
    };
    for (const curve of this.curves) {
      const places: number[] = [];
      for (const part of [0.62, 0.5, 0.75, 0.38, 0.85, 0.25, 0.12, 0.55, 0.45, 0.68, 0.32, 0.8, 0.92, 0.06]) {
        const at = this.xDomain[0] + part * (this.xDomain[1] - this.xDomain[0]);
        const value = curveAt(curve.x, curve.y, at);
        if (!Number.isFinite(value) || value < this.yDomain[0]) continue;
        const half = this.labelWidth(curve.label) / 2;
        const px = x(at);
        const py = y(value);
        if (curve.stroke === 'first')
          places.push(px + half * 0.9, py - 16, px, py - 22, px + half, py - 30, px, py + 22);
        else places.push(px - half * 0.9, py + 18, px, py + 24, px - half, py + 34, px, py - 20);
      }
      add(curve.id, curve.stroke, curve.label, places);
    }
    if (this.wanted > 0) {
      const text = `${signedPercent(this.wanted)} wanted`;
      const half = this.labelWidth(text) / 2 + 4;
      const py = y(this.wanted);
      const ends = [plot.x + half + 2, plot.x + plot.width - half - 2, plot.x + plot.width / 2];
      add(
        'wanted',
        'wanted',
        text,
        ends.flatMap((px) => [px, py - 12, px, py + 13]),
      );
    }
    if (y(this.yDomain[0]) - y(0) > 16) {
      const text = 'collapses';
      const half = this.labelWidth(text) / 2 + 4;
      const py = (y(0) + y(this.yDomain[0])) / 2;
      const ends = [plot.x + half + 2, plot.x + plot.width - half - 2, plot.x + plot.width / 2];
      add(
        'zone',
        'zone',
        text,
        ends.flatMap((px) => [px, py]),
      );
    }
    // Curves are obstacles in short pieces, so that no label lies on a line.
    const obstacles: Box[] = [];
    for (const curve of this.curves) {
      const step = Math.max(1, Math.floor(curve.x.length / 60));
      for (let i = 0; i < curve.x.length; i += step) {
        const py = y(curve.y[i]);
        if (Number.isFinite(py)) obstacles.push({ x: x(curve.x[i]) - 2, y: py - 3, width: 4, height: 6 });
      }
    }
    for (const level of this.wanted > 0 ? [0, this.wanted] : [0]) {
      obstacles.push({ x: plot.x, y: y(level) - 1.5, width: plot.width, height: 3 });
    }
    if (this.marker !== null) obstacles.push({ x: x(this.marker) - 1, y: plot.y, width: 2, height: plot.height });
    this.#boxes = placeLabels(requests, obstacles, plot, this.#boxes, 1);
  }

  protected override render(): TemplateResult {
    const { width, height } = this.#frame;
    return html`<div
        class="frame"
        style=${placed({ height: `${height}px` })}
        @pointermove=${this.#onHover}
        @pointerleave=${this.#onLeave}
      >
        <svg width=${width} height=${height} role="group" aria-label=${`Margin against ${this.xName}`}>
          <g role="img" aria-label=${this.#description()}>
            ${this.#ground()} ${this.#axes()} ${this.curves.map((curve) => this.#curve(curve))}
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

  #ground(): unknown {
    const { plot, y } = this.#frame;
    const zero = Math.min(Math.max(y(0), plot.y), plot.y + plot.height);
    return svg`<defs>
        <pattern id="collapse" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <line class="hatch" x1="0.5" x2="0.5" y1="0" y2="7"></line>
        </pattern>
        <clipPath id="plot"><rect x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height}></rect></clipPath>
      </defs>
      <rect class="ground" x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height}></rect>
      <rect fill="url(#collapse)" x=${plot.x} y=${zero} width=${plot.width} height=${plot.y + plot.height - zero}></rect>`;
  }

  #axes(): unknown {
    const { plot, x, y } = this.#frame;
    const right = plot.x + plot.width;
    const low = plot.y + plot.height;
    const across = x.ticks(Math.max(2, Math.floor(plot.width / 62)));
    const up = y.ticks(Math.max(2, Math.floor(plot.height / 42)));
    return svg`${across.map(
      (v, i) => svg`<line class="grid ${v === 0 ? 'axis' : ''}" x1=${x(v)} x2=${x(v)} y1=${plot.y} y2=${low}></line>
        <text class="tick" x=${Math.min(x(v), right - (i === across.length - 1 ? 4 : 0))} y=${low + 17}
          text-anchor=${i === across.length - 1 && x(v) > right - 16 ? 'end' : 'middle'}>${
            i === across.length - 1 ? withUnit(v, this.xUnit) : plain(v)
          }</text>`,
    )}
    ${up.map(
      (v) => svg`<line class="grid" x1=${plot.x} x2=${right} y1=${y(v)} y2=${y(v)}></line>
        ${this.yTicks ? svg`<text class="tick" x=${plot.x - 7} y=${y(v) + 4} text-anchor="end">${signedPercent(v)}</text>` : nothing}`,
    )}
    ${this.wanted > 0 ? svg`<line class="wanted" x1=${plot.x} x2=${right} y1=${y(this.wanted)} y2=${y(this.wanted)}></line>` : nothing}
    <line class="zero" x1=${plot.x} x2=${right} y1=${y(0)} y2=${y(0)}></line>`;
  }

  #curve(curve: MarginCurve): unknown {
    const { x, y } = this.#frame;
    const index = Array.from(curve.x.keys());
    const stroke = line<number>()
      .defined((i) => Number.isFinite(curve.y[i]))
      .x((i) => x(curve.x[i]))
      .y((i) => y(curve.y[i]));
    const { low, high } = curve;
    const band =
      low && high
        ? area<number>()
            .defined((i) => Number.isFinite(low[i]) && Number.isFinite(high[i]))
            .x((i) => x(curve.x[i]))
            .y0((i) => y(low[i]))
            .y1((i) => y(high[i]))
        : null;
    return svg`<g clip-path="url(#plot)">
      ${band ? svg`<path class="band ${curve.stroke}" d=${band(index) ?? ''}></path>` : nothing}
      <path class="curve ${curve.stroke}" d=${stroke(index) ?? ''}></path>
    </g>`;
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

  #markerHandle(): unknown {
    if (this.marker === null) return nothing;
    const { plot, x, y } = this.#frame;
    const px = x(Math.min(Math.max(this.marker, this.xDomain[0]), this.xDomain[1]));
    const first = this.curves[0];
    const value = first ? curveAt(first.x, first.y, this.marker) : Number.NaN;
    const knob = Math.min(Math.max(Number.isFinite(value) ? y(value) : y(0), plot.y), plot.y + plot.height);
    return svg`<g class="handle marker" tabindex="0" role="slider" aria-label=${this.xName}
      aria-valuemin=${this.markerLimits[0]} aria-valuemax=${this.markerLimits[1]} aria-valuenow=${this.marker}
      aria-valuetext=${withUnit(this.marker, this.xUnit, 2)}
      @pointerdown=${this.#onMarkerDown} @keydown=${this.#onMarkerKey}>
      <rect class="target" x=${px - 14} y=${plot.y} width="28" height=${plot.height}></rect>
      <line class="now" x1=${px} x2=${px} y1=${plot.y} y2=${plot.y + plot.height}></line>
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
    if (this.#dragging || event.pointerType === 'touch') return;
    const box = this._frameElement.getBoundingClientRect();
    const { plot, x } = this.#frame;
    const px = event.clientX - box.left;
    const py = event.clientY - box.top;
    if (px < plot.x || px > plot.x + plot.width || py < plot.y || py > plot.y + plot.height) this.#onLeave();
    else this.#read(x.invert(px));
  };

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
