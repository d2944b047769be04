import { html, nothing, type PropertyValues, svg, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { chartStyle } from './chart-style.ts';
import { arrowStep, rounded } from './drag.ts';
import { curveAt, type LineFrame, lineFrame } from './line-chart-frame.ts';
import { curvePieces } from './line-pieces.ts';
import { lineStrokesStyle } from './line-strokes-style.ts';
import { type Box, type LabelRequest, placeLabels } from './place-labels.ts';
import { placed } from './placed.ts';
import { SizedElement } from './sized-element.ts';
import { supplyCurvesStyle } from './supply-curves-style.ts';
import { curvePath } from './svg-path.ts';
import { plain, withUnit } from './tick-text.ts';

/** Efficiency against load under one supply, up to where regulation ends. */
export interface EfficiencyCurve {
  readonly label: string;
  readonly loadA: Float64Array;
  /** 0..1 */
  readonly efficiency: Float64Array;
  /** 1 where the receiver gets what it asks for; 0 where it is overfed or too hot: drawn thin. */
  readonly well: Uint8Array;
  /** The supply to take. */
  readonly taken: boolean;
}

export interface LoadReadDetail {
  readonly text: string;
}

const HEIGHT = 250;

/**
 * Efficiency against load at each supply. Every curve ends with a bar where regulation ends; where the receiver is overfed
 * or too hot it is thin. A dashed line shows what is asked.
 *
 * @fires load-read - {@link LoadReadDetail} under the pointer or the keyboard, null when it leaves
 */
@customElement('oc-supply-curves')
export class SupplyCurves extends SizedElement {
  static override readonly styles = [chartStyle, lineStrokesStyle, supplyCurvesStyle];

  @property({ attribute: false }) curves: readonly EfficiencyCurve[] = [];
  @property({ type: Number }) demandA = 0;
  @property({ type: Boolean, reflect: true }) stale = false;

  @state() private _at: number | null = null;
  @state() private _said = '';
  @query('.frame') private _frameElement!: HTMLElement;
  #frame: LineFrame = lineFrame({ width: 300, height: HEIGHT, xDomain: [0, 1], yDomain: [0, 1], left: 46, bottom: 24 });
  #boxes: Map<string, Box> = new Map();

  protected override willUpdate(changed: PropertyValues<this>): void {
    const most = Math.max(0.1, 1.15 * this.demandA, ...this.curves.map(({ loadA }) => 1.08 * (loadA.at(-1) ?? 0)));
    const best = Math.max(0.5, ...this.curves.flatMap(({ efficiency }) => Array.from(efficiency)));
    this.#frame = lineFrame({
      width: this.widthPx || 300,
      height: HEIGHT,
      xDomain: [0, most],
      yDomain: [0, Math.min(100, Math.ceil(10 * best + 0.5) * 10)],
      left: 46,
      bottom: 24,
    });
    if (changed.has('curves')) this.#boxes = new Map();
    this.#placeLabels();
  }

  #placeLabels(): void {
    const { plot, x, y } = this.#frame;
    const requests: LabelRequest[] = this.curves.flatMap((curve, i) => {
      const last = curve.loadA.length - 1;
      if (last < 0) return [];
      const candidates: number[] = [];
      for (let k = last; k >= 0; k -= 1) {
        const [px, py] = [x(curve.loadA[k]), y(100 * curve.efficiency[k])];
        const half = this.labelWidth(curve.label) / 2;
        if (k === last) candidates.push(px + half + 9, py, px, py - 17, px, py + 18);
        candidates.push(px, py + 15, px, py - 15);
      }
      return [{ id: String(i), width: this.labelWidth(curve.label, 650) + 6, height: 16, candidates }];
    });
    const asked = this.#asked();
    const half = this.labelWidth(asked) / 2 + 6;
    const at = x(this.demandA);
    const low = plot.y + plot.height;
    requests.push({
      id: 'asked',
      width: 2 * half - 6,
      height: 16,
      candidates: [low - 12, low - 30, plot.y + 12].flatMap((py) => [at + half, py, at - half, py]),
    });
    const obstacles: Box[] = [];
    for (const { loadA, efficiency } of this.curves)
      obstacles.push(...curvePieces(loadA, efficiency, { x, y: (share) => y(100 * share) }));
    this.#boxes = placeLabels(requests, obstacles, { ...plot, width: plot.width + 8 }, this.#boxes, 1);
  }

  #asked(): string {
    return `${withUnit(this.demandA, 'A', 2)} asked`;
  }

  protected override render(): TemplateResult {
    const { width, height, plot } = this.#frame;
    const text = (id: string, words: string, name: string): unknown => {
      const box = this.#boxes.get(id);
      return box
        ? svg`<text class="halo ${name}" x=${box.x + box.width / 2} y=${box.y + 12} text-anchor="middle">${words}</text>`
        : nothing;
    };
    return html`<div
        class="frame"
        style=${placed({ height: `${height}px` })}
        @pointermove=${this.#onHover}
        @pointerleave=${this.#leave}
      >
        <svg width=${width} height=${height} role="group" aria-label="Efficiency against load">
          <g role="img" aria-label=${this.#description()}>
            <rect class="ground" x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height}></rect>
            ${this.#axes()} ${this.#demand()} ${this.curves.map((curve, i) => this.#curve(curve, i))}
            ${this.curves.map((curve, i) => text(String(i), curve.label, `t${i % 4} ${curve.taken ? 'taken' : ''}`))}
            ${this.demandA > 0 ? text('asked', this.#asked(), 'asked') : nothing} ${this.#reading()}
          </g>
          ${this.#handle()}
        </svg>
      </div>
      <p class="quiet" aria-live="polite">${this._said}</p>`;
  }

  #description(): string {
    const parts = this.curves.map(({ label, loadA, efficiency }) => {
      const last = loadA.length - 1;
      if (last < 0) return `${label}: nothing in regulation`;
      return `${label}: at best ${plain(100 * Math.max(...efficiency), 0)} %, ends at ${withUnit(loadA[last], 'A', 2)}`;
    });
    return `Efficiency from the supply to the load against load. ${parts.join('; ')}.`;
  }

  #axes(): unknown {
    const { plot, x, y } = this.#frame;
    const right = plot.x + plot.width;
    const low = plot.y + plot.height;
    const across = x.ticks(Math.max(2, Math.floor(plot.width / 62)));
    return svg`${across.map(
      (v, i) => svg`<line class="grid ${v === 0 ? 'axis' : ''}" x1=${x(v)} x2=${x(v)} y1=${plot.y} y2=${low}></line>
        <text class="tick" x=${x(v)} y=${low + 17} text-anchor=${i === across.length - 1 && x(v) > right - 16 ? 'end' : 'middle'}>${
          i === across.length - 1 ? withUnit(v, 'A', 2) : plain(v, 2)
        }</text>`,
    )}
    ${y.ticks(5).map(
      (v) => svg`<line class="grid ${v === 0 ? 'axis' : ''}" x1=${plot.x} x2=${right} y1=${y(v)} y2=${y(v)}></line>
        <text class="tick" x=${plot.x - 7} y=${y(v) + 4} text-anchor="end">${withUnit(v, '%', 0)}</text>`,
    )}`;
  }

  #demand(): unknown {
    const { plot, x } = this.#frame;
    if (!(this.demandA > 0)) return nothing;
    const at = x(this.demandA);
    return svg`<line class="demand" x1=${at} x2=${at} y1=${plot.y} y2=${plot.y + plot.height}></line>`;
  }

  #curve({ loadA, efficiency, well }: EfficiencyCurve, index: number): unknown {
    const { x, y } = this.#frame;
    const percent = { x, y: (share: number) => y(100 * share) };
    const runs: { readonly from: number; readonly to: number; readonly well: boolean }[] = [];
    for (let i = 1; i < loadA.length; i += 1) {
      // A stretch is only as good as its worse end.
      const good = well[i] === 1 && well[i - 1] === 1;
      const last = runs.at(-1);
      if (last?.well === good) runs[runs.length - 1] = { ...last, to: i };
      else runs.push({ from: i - 1, to: i, well: good });
    }
    const style = `s${index % 4}`;
    const last = loadA.length - 1;
    return svg`${runs.map(
      (run) =>
        svg`<path class="curve ${style} ${run.well ? '' : 'thin'}" d=${curvePath(loadA, efficiency, percent, [
          run.from,
          run.to,
        ])}></path>`,
    )}
    ${
      last < 0
        ? nothing
        : svg`<path class="end ${style}" d=${`M${x(loadA[last])},${y(100 * efficiency[last]) - 7}v14`}></path>`
    }`;
  }

  #reading(): unknown {
    const at = this._at;
    const { plot, x, y } = this.#frame;
    if (at === null) return nothing;
    return svg`<path class="crosshair" d=${`M${x(at)},${plot.y}v${plot.height}`}></path>
      ${this.curves.map(({ loadA, efficiency }, i) => {
        const value = curveAt(loadA, efficiency, at);
        return Number.isFinite(value)
          ? svg`<circle class="dot s${i % 4}" cx=${x(at)} cy=${y(100 * value)} r="3.6"></circle>`
          : nothing;
      })}`;
  }

  #handle(): unknown {
    const { plot, x } = this.#frame;
    const [least, most] = x.domain();
    return svg`<g class="handle reading" tabindex="0" role="slider" aria-label="Reading line on load"
      aria-valuemin=${least} aria-valuemax=${most} aria-valuenow=${rounded(this._at ?? this.demandA, 0.001)}
      aria-valuetext=${this._at === null ? 'arrow keys read the curves' : this.readingText(this._at)}
      @keydown=${this.#onKey} @blur=${this.#leave}>
      <rect class="focus" x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height}></rect>
    </g>`;
  }

  /** What the curves say at a load, in one line. */
  readingText(at: number): string {
    const parts = this.curves.map(({ label, loadA, efficiency }) => {
      const value = curveAt(loadA, efficiency, at);
      const end = loadA.at(-1) ?? 0;
      if (Number.isFinite(value)) return `${label} ${withUnit(100 * value, '%', 0)}`;
      return at > end ? `${label} not in regulation` : `${label} –`;
    });
    return `${withUnit(at, 'A', 2)}: ${parts.join(', ')}`;
  }

  #read(at: number | null): void {
    this._at = at;
    const detail: LoadReadDetail | null = at === null ? null : { text: this.readingText(at) };
    this.dispatchEvent(new CustomEvent('load-read', { detail, bubbles: true, composed: true }));
  }

  readonly #onHover = (event: PointerEvent): void => {
    if (event.pointerType === 'touch') return;
    const box = this._frameElement.getBoundingClientRect();
    const { plot, x } = this.#frame;
    const px = event.clientX - box.left;
    if (px < plot.x || px > plot.x + plot.width) this.#leave();
    else this.#read(x.invert(px));
  };

  readonly #leave = (): void => {
    if (this._at !== null) this.#read(null);
  };

  readonly #onKey = (event: KeyboardEvent): void => {
    const [least, most] = this.#frame.x.domain();
    const step = arrowStep(event, (most - least) / 40, (most - least) / 400, (most - least) / 8);
    if (!step) return;
    event.preventDefault();
    this.#read(Math.min(Math.max((this._at ?? this.demandA) + step[0] + step[1], least), most));
    this._said = this.readingText(this._at ?? 0);
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-supply-curves': SupplyCurves;
  }
}
