import { scaleLinear, scaleLog } from 'd3-scale';
import { html, nothing, svg } from 'lit';
import { customElement, property, query } from 'lit/decorators.js';
import { chartStyle } from './chart-style.ts';
import { arrowStep, followPointer } from './drag.ts';
import { lessonChartStyle } from './lesson-chart-style.ts';
import { axisText, type LessonChartAxis, type LessonChartFigure, plain, readingText, round } from './lesson-figure.ts';
import { lessonLabels } from './lesson-labels.ts';
import { curveAt } from './line-chart-frame.ts';
import { type PlacedLabel, placeLabels } from './place-labels.ts';
import { placed } from './placed.ts';
import { SizedElement } from './sized-element.ts';
import { curvePath } from './svg-path.ts';

export interface LessonDraggedDetail {
  readonly value: number;
}

const HEIGHT = 360;
const LEFT = 58;
const BOTTOM = 44;
const TOP = 30;

/**
 * The figure of a lesson: curves, limits, values from outside as dots, and one line to drag.
 * @fires lesson-dragged - `LessonDraggedDetail`
 */
@customElement('oc-lesson-chart')
export class LessonChart extends SizedElement {
  static override readonly styles = [chartStyle, lessonChartStyle];

  @property({ attribute: false }) figure: LessonChartFigure | null = null;
  @property({ attribute: false }) value = 0;
  @property({ attribute: false }) limits: readonly [number, number] = [0, 1];
  /** The curves stay hidden until the learner has predicted. */
  @property({ type: Boolean }) covered = false;
  @query('.frame') private _frame!: HTMLElement;
  #boxes: Map<string, PlacedLabel> = new Map();

  protected override render() {
    const { figure } = this;
    if (this.widthPx === 0 || !figure)
      return html`<div class="frame" style=${placed({ height: `${HEIGHT}px` })}></div>`;
    const { x, y } = this.#scales(figure);
    const low = HEIGHT - BOTTOM;
    const right = this.widthPx - 12;
    return html`<div class="frame">
      <svg width=${this.widthPx} height=${HEIGHT}>
        <defs><clipPath id="plot"><rect x=${LEFT} y=${TOP} width=${right - LEFT} height=${low - TOP}></rect></clipPath></defs>
        ${this.#ticks(x, figure.x, 78).map(
          (tick) => svg`<line class="grid" x1=${x(tick)} x2=${x(tick)} y1=${TOP} y2=${low}></line>
            <text x=${x(tick)} y=${low + 17} text-anchor="middle">${plain(tick)}</text>`,
        )}
        ${this.#ticks(y, figure.y, 46).map(
          (
            tick,
          ) => svg`<line class="grid ${tick === 0 ? 'axis' : ''}" x1=${LEFT} x2=${right} y1=${y(tick)} y2=${y(tick)}></line>
            <text x=${LEFT - 8} y=${y(tick) + 4} text-anchor="end">${plain(tick)}</text>`,
        )}
        <text x=${right} y=${HEIGHT - 7} text-anchor="end">${axisText(figure.x)}</text>
        <text x=${LEFT} y="14">${axisText(figure.y)}</text>
        ${figure.levels.map((level) => svg`<line class="level" x1=${LEFT} x2=${right} y1=${y(level.y)} y2=${y(level.y)}></line>`)}
        ${this.covered ? nothing : this.#curves(figure, x, y)}
        ${this.#marker(figure, x, y)}
        ${
          this.covered
            ? nothing
            : figure.dots.map((dot) => svg`<circle class="dot" cx=${x(dot.x)} cy=${y(dot.y)} r="5.5"></circle>`)
        }
        ${this.#labels(figure, x, y)}
      </svg>
    </div>`;
  }

  #scales({ x, y }: LessonChartFigure) {
    const make = (axis: LessonChartAxis, range: [number, number]) =>
      axis.logarithmic ? scaleLog([...axis.domain], range) : scaleLinear([...axis.domain], range);
    return {
      x: make(x, [LEFT, this.widthPx - 12]),
      y: make(y, [HEIGHT - BOTTOM, TOP]),
    };
  }

  #ticks(scale: { ticks(count: number): number[] }, axis: LessonChartAxis, apart: number): number[] {
    if (!axis.logarithmic) return scale.ticks(Math.max(3, Math.floor((apart > 60 ? this.widthPx : HEIGHT) / apart)));
    const out: number[] = [];
    const [from, to] = axis.domain;
    const decades = Math.log10(to / from);
    const most = apart > 60 && this.widthPx < 460 ? 1.5 : 3;
    const steps = decades > most ? [1] : [1, 2, 5];
    for (let decade = Math.floor(Math.log10(from)); decade <= Math.ceil(Math.log10(to)); decade++)
      for (const step of steps) {
        const value = Number((step * 10 ** decade).toPrecision(2));
        if (value >= from * 0.999 && value <= to * 1.001) out.push(value);
      }
    return out;
  }

  #curves(figure: LessonChartFigure, x: (v: number) => number, y: (v: number) => number) {
    return figure.curves.map(
      (curve) =>
        svg`<path class="curve ${curve.stroke}" clip-path="url(#plot)" d=${curvePath(curve.x, curve.y, { x, y })}></path>`,
    );
  }

  /** Labels of limits, dots and curves, where they hide the least. */
  #labels(figure: LessonChartFigure, x: (v: number) => number, y: (v: number) => number) {
    const plot = { x: LEFT, y: TOP, width: this.widthPx - 12 - LEFT, height: HEIGHT - BOTTOM - TOP };
    const shown = this.covered ? { levels: figure.levels, dots: [], curves: [] } : figure;
    const { labels, obstacles } = lessonLabels(shown, { x, y }, plot, (text) => this.labelWidth(text));
    this.#boxes = placeLabels(labels, obstacles, plot, this.#boxes, 1);
    return labels.map(({ id, kind, text }) => {
      const box = this.#boxes.get(id);
      return box
        ? svg`<text class="halo ${kind}" x=${box.x + box.width / 2} y=${box.y + 12} text-anchor="middle">${text}</text>`
        : nothing;
    });
  }

  #marker(figure: LessonChartFigure, x: (v: number) => number, y: (v: number) => number) {
    const px = x(this.value);
    const low = HEIGHT - BOTTOM;
    const first = figure.curves[0];
    const at = first && !this.covered ? y(curveAt(first.x, first.y, this.value)) : (TOP + low) / 2;
    const knob = Math.min(Math.max(at, TOP), low);
    return svg`${
      this.covered
        ? nothing
        : figure.curves
            .filter((curve) => curve.stroke === 'second')
            .map(
              (curve) =>
                svg`<circle class="read second" cx=${px} cy=${y(curveAt(curve.x, curve.y, this.value))} r="4"></circle>`,
            )
    }
    <g class="handle marker" tabindex="0" role="slider" aria-label=${figure.x.name}
      aria-valuemin=${this.limits[0]} aria-valuemax=${this.limits[1]} aria-valuenow=${round(this.value)}
      aria-valuetext=${this.covered ? `${round(this.value)} ${figure.x.unit}` : readingText(figure, this.value)}
      @pointerdown=${this.#down} @keydown=${this.#key}>
      <rect class="target" x=${px - 14} y=${TOP} width="28" height=${low - TOP}></rect>
      <line class="now" x1=${px} x2=${px} y1=${TOP} y2=${low}></line>
      <circle class="focus" cx=${px} cy=${knob} r="12"></circle>
      <circle class="knob" cx=${px} cy=${knob} r="6.5"></circle>
    </g>`;
  }

  #emit(value: number): void {
    const detail: LessonDraggedDetail = { value: Math.min(Math.max(value, this.limits[0]), this.limits[1]) };
    this.dispatchEvent(new CustomEvent('lesson-dragged', { detail, bubbles: true, composed: true }));
  }

  readonly #down = (event: PointerEvent): void => {
    const { figure } = this;
    if (!figure) return;
    const { x } = this.#scales(figure);
    const from = this.value;
    let grab = 0;
    followPointer(event, {
      origin: this._frame,
      moved: (px, _py, phase) => {
        if (phase === 'start') grab = x(from) - px;
        this.#emit(phase === 'cancel' || phase === 'start' ? from : x.invert(px + grab));
      },
    });
  };

  readonly #key = (event: KeyboardEvent): void => {
    const { figure } = this;
    if (!figure) return;
    const { x } = this.#scales(figure);
    const width = this.widthPx - 12 - LEFT;
    const step = arrowStep(event, width / 60, width / 400, width / 10);
    if (!step) return;
    event.preventDefault();
    this.#emit(x.invert(x(this.value) + step[0] + step[1]));
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-lesson-chart': LessonChart;
  }
  interface HTMLElementEventMap {
    'lesson-dragged': CustomEvent<LessonDraggedDetail>;
  }
}
