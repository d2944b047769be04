import { html, nothing, type PropertyValues, svg, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { chartStyle } from './chart-style.ts';
import { type LineFrame, lineFrame } from './line-chart-frame.ts';
import { curvePieces } from './line-pieces.ts';
import { lineStrokesStyle } from './line-strokes-style.ts';
import { type Box, type LabelRequest, placeLabels } from './place-labels.ts';
import { placed } from './placed.ts';
import { proveEfficiencyStyle } from './prove-efficiency-style.ts';
import { SizedElement } from './sized-element.ts';
import { curvePath } from './svg-path.ts';
import { plain, withUnit } from './tick-text.ts';

/** The fitted model's efficiency at one place and supply, up to where it leaves regulation. */
export interface ModelCurve {
  readonly label: string;
  readonly loadA: Float64Array;
  /** 0..1 */
  readonly efficiency: Float64Array;
  readonly collapseA: number;
}

/** A reading: efficiency against load, or where the output collapsed. */
export interface MeasuredPoint {
  /** Place in the list, from 0. */
  readonly reading: number;
  /** Curve it belongs to; -1: none yet. */
  readonly curve: number;
  readonly loadA: number;
  /** 0..1; null where no efficiency can be worked out. */
  readonly efficiency: number | null;
  /** Half-width at 95 %. */
  readonly halfWidth: number;
  readonly collapsed: boolean;
}

export interface PointReadDetail {
  readonly reading: number;
  readonly text: string;
}

const HEIGHT = 300;
const LEAST_SHOWN = 0.3;

/**
 * Efficiency against load: what was measured as points with their accuracy, the model as lines that end in a bar where
 * regulation ends. A cross marks a reading at which the output collapsed.
 *
 * @fires point-read - {@link PointReadDetail} under the pointer or the keyboard, null when it leaves
 */
@customElement('oc-prove-efficiency')
export class ProveEfficiency extends SizedElement {
  static override readonly styles = [chartStyle, lineStrokesStyle, proveEfficiencyStyle];

  @property({ attribute: false }) curves: readonly ModelCurve[] = [];
  @property({ attribute: false }) points: readonly MeasuredPoint[] = [];
  @property({ type: Boolean, reflect: true }) stale = false;

  @state() private _at: number | null = null;
  @state() private _said = '';
  @query('.frame') private _frameElement!: HTMLElement;
  #frame: LineFrame = lineFrame({ width: 300, height: HEIGHT, xDomain: [0, 1], yDomain: [0, 1], left: 46, bottom: 24 });
  #boxes: Map<string, Box> = new Map();

  protected override willUpdate(changed: PropertyValues<this>): void {
    const loads = [...this.points.map(({ loadA }) => loadA), ...this.curves.map(({ collapseA }) => collapseA)];
    const values = this.points.flatMap(({ efficiency }) => (efficiency === null ? [] : [efficiency]));
    const least = Math.min(LEAST_SHOWN, ...values);
    const most = Math.max(0.7, ...values, ...this.curves.flatMap(({ efficiency }) => Array.from(efficiency)));
    this.#frame = lineFrame({
      width: this.widthPx || 300,
      height: HEIGHT,
      xDomain: [0, 1.08 * Math.max(0.1, ...loads)],
      yDomain: [Math.max(0, Math.floor(10 * least) * 10), Math.ceil(10 * most + 0.2) * 10],
      left: 46,
      bottom: 24,
    });
    if (changed.has('curves')) this.#boxes = new Map();
    this.#placeLabels();
  }

  #placeLabels(): void {
    const { plot, x, y } = this.#frame;
    const obstacles: Box[] = this.points.flatMap(({ loadA, efficiency }) =>
      efficiency === null ? [] : [{ x: x(loadA) - 6, y: y(100 * efficiency) - 6, width: 12, height: 12 }],
    );
    for (const { loadA, efficiency } of this.curves)
      obstacles.push(...curvePieces(loadA, efficiency, { x, y: (share) => y(100 * share) }));
    const requests: LabelRequest[] = this.curves.map((curve, i) => {
      const candidates: number[] = [];
      for (let k = curve.loadA.length - 1; k >= 0; k -= 1) {
        const [px, py] = [x(curve.loadA[k]), y(100 * curve.efficiency[k])];
        for (const away of [17, -17, 32, -32, 48, 66]) candidates.push(px, py + away);
      }
      return { id: String(i), width: this.labelWidth(curve.label, 600) + 6, height: 16, candidates };
    });
    this.#boxes = placeLabels(requests, obstacles, plot, this.#boxes, 1);
  }

  protected override render(): TemplateResult {
    const { width, height, plot } = this.#frame;
    return html`<div
        class="frame"
        style=${placed({ height: `${height}px` })}
        @pointermove=${this.#onHover}
        @pointerleave=${this.#leave}
      >
        <svg width=${width} height=${height} role="group" aria-label="Efficiency against load, measured and model">
          <g role="img" aria-label=${this.#description()}>
            <rect class="ground" x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height}></rect>
            ${this.#axes()} ${this.curves.map((curve, i) => this.#curve(curve, i))}
            ${this.points.map((point, i) => this.#point(point, i))} ${this.curves.map((curve, i) => this.#label(curve, i))}
          </g>
          <g
            class="handle reading"
            tabindex="0"
            role="slider"
            aria-label="Reading the points"
            aria-valuemin="1"
            aria-valuemax=${Math.max(1, this.points.length)}
            aria-valuenow=${(this._at ?? 0) + 1}
            aria-valuetext=${this._at === null ? 'arrow keys read the points' : this.pointText(this._at)}
            @keydown=${this.#onKey}
            @blur=${this.#leave}
          >
            <rect class="focus" x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height}></rect>
          </g>
        </svg>
      </div>
      <p class="quiet" aria-live="polite">${this._said}</p>`;
  }

  #description(): string {
    const ends = this.curves.map(({ label, collapseA }) => `${label} to ${withUnit(collapseA, 'A', 2)}`);
    return `Efficiency from the supply to the output against load: ${this.points.length} readings over the model. ${ends.join('; ')}.`;
  }

  #axes(): unknown {
    const { plot, x, y } = this.#frame;
    const right = plot.x + plot.width;
    const low = plot.y + plot.height;
    const across = x.ticks(Math.max(2, Math.floor(plot.width / 70)));
    return svg`${across.map(
      (v, i) => svg`<line class="grid" x1=${x(v)} x2=${x(v)} y1=${plot.y} y2=${low}></line>
        <text class="tick" x=${x(v)} y=${low + 17} text-anchor=${x(v) > right - 16 ? 'end' : 'middle'}>${
          i === across.length - 1 ? withUnit(v, 'A', 2) : plain(v, 2)
        }</text>`,
    )}
    ${y.ticks(5).map(
      (v) => svg`<line class="grid" x1=${plot.x} x2=${right} y1=${y(v)} y2=${y(v)}></line>
        <text class="tick" x=${plot.x - 7} y=${y(v) + 4} text-anchor="end">${withUnit(v, '%', 0)}</text>`,
    )}`;
  }

  #curve({ loadA, efficiency }: ModelCurve, index: number): unknown {
    const { x, y } = this.#frame;
    const [low] = y.domain();
    const shown = Array.from(loadA, (_, i) => i).filter((i) => 100 * efficiency[i] >= low);
    if (shown.length === 0) return nothing;
    const path = curvePath(
      shown.map((i) => loadA[i]),
      shown.map((i) => efficiency[i]),
      { x, y: (share) => y(100 * share) },
    );
    const last = loadA.length - 1;
    const style = `s${index % 4}`;
    return svg`<path class="curve ${style}" d=${path}></path>
      <path class="end ${style}" d=${`M${x(loadA[last])},${y(100 * efficiency[last]) - 8}v16`}></path>`;
  }

  #label(curve: ModelCurve, index: number): unknown {
    const box = this.#boxes.get(String(index));
    if (!box) return nothing;
    return svg`<text class="halo t${index % 4}" x=${box.x + box.width / 2} y=${box.y + 12} text-anchor="middle">${curve.label}</text>`;
  }

  #point({ curve, loadA, efficiency, halfWidth, collapsed }: MeasuredPoint, index: number): unknown {
    const { x, y, plot } = this.#frame;
    const style = `s${Math.max(0, curve) % 4}`;
    const px = x(loadA);
    if (collapsed) {
      // Where the output fell out: a cross at its efficiency if there is one, else at the foot.
      const py = efficiency === null ? plot.y + plot.height - 9 : y(100 * efficiency);
      return svg`<path class="collapsed ${style}" d=${`M${px - 5},${py - 5}l10,10m0,-10l-10,10`}></path>`;
    }
    if (efficiency === null) return nothing;
    const py = y(100 * efficiency);
    const bar = Math.abs(y(100 * (efficiency + halfWidth)) - py);
    return svg`<path class="bar ${style}" d=${`M${px},${py - bar}v${2 * bar}`}></path>
      <circle class="point ${style} ${this._at === index ? 'read' : ''}" cx=${px} cy=${py} r="4.4"></circle>`;
  }

  /** One reading in words. */
  pointText(index: number): string {
    const point = this.points[index];
    if (!point) return '';
    const { reading, loadA, efficiency, halfWidth, collapsed } = point;
    const value =
      efficiency === null ? '' : `, ${withUnit(100 * efficiency, '%', 1)} \u00b1 ${withUnit(100 * halfWidth, '%', 1)}`;
    return `reading ${reading + 1}: ${withUnit(loadA, 'A', 3)}${value}${collapsed ? ', collapsed' : ''}`;
  }

  #read(index: number | null): void {
    if (index === this._at) return;
    this._at = index;
    const detail: PointReadDetail | null =
      index === null ? null : { reading: this.points[index].reading, text: this.pointText(index) };
    this.dispatchEvent(new CustomEvent('point-read', { detail, bubbles: true, composed: true }));
  }

  readonly #onHover = (event: PointerEvent): void => {
    if (event.pointerType === 'touch') return;
    const box = this._frameElement.getBoundingClientRect();
    const { x, y, plot } = this.#frame;
    let best: number | null = null;
    let nearest = 22;
    this.points.forEach(({ loadA, efficiency }, i) => {
      const py = efficiency === null ? plot.y + plot.height - 9 : y(100 * efficiency);
      const distance = Math.hypot(event.clientX - box.left - x(loadA), event.clientY - box.top - py);
      if (distance < nearest) {
        nearest = distance;
        best = i;
      }
    });
    this.#read(best);
  };

  readonly #leave = (): void => this.#read(null);

  readonly #onKey = (event: KeyboardEvent): void => {
    const last = this.points.length - 1;
    const now = this._at ?? -1;
    const to = { ArrowRight: now + 1, ArrowUp: now + 1, ArrowLeft: now - 1, ArrowDown: now - 1, Home: 0, End: last }[
      event.key
    ];
    if (to === undefined || last < 0) return;
    event.preventDefault();
    this.#read(Math.min(Math.max(to, 0), last));
    this._said = this.pointText(this._at ?? 0);
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-prove-efficiency': ProveEfficiency;
  }
}
