import { html, nothing, svg, type TemplateResult } from 'lit';
import { customElement, property, query } from 'lit/decorators.js';
import { chartStyle } from './chart-style.ts';
import { arrowStep, type DragPhase, followPointer } from './drag.ts';
import { SizedElement } from './sized-element.ts';
import { traceBoardStyle } from './trace-board-style.ts';
import {
  added,
  afterSelected,
  type BoardMarks,
  type BoardPoint,
  CORNERS,
  mirrorImage,
  movedMark,
  placeOf,
  removed,
  type TracedMark,
} from './trace-marks.ts';
import { lengthWords, rectangleWords } from './trace-scale-words.ts';

/** New marks, and the step they belong to: the same name goes on with the same step, an empty one is none. */
export interface TraceChangedDetail {
  readonly marks: BoardMarks;
  readonly step: string;
}

/** Tallest picture at no magnification, px. */
const TALLEST = 520;
/** A press that moved less than this is a tap, px. */
const TAP = 5;

/**
 * A picture with a scale of two ends, or a rectangle of four corners, and a closed outline over it.
 *
 * A tap on the picture puts a point; every mark is dragged, or moved with the arrow keys (Shift: fine). On a point Enter
 * adds another behind it, Delete removes it, Page Up and Page Down go to its neighbours.
 *
 * @fires trace-changed - `TraceChangedDetail`
 */
@customElement('oc-trace-board')
export class TraceBoard extends SizedElement {
  static override readonly styles = [chartStyle, traceBoardStyle];

  /** Address of the picture, and its size in px. */
  @property() src = '';
  @property({ attribute: false }) size: readonly [number, number] = [1, 1];
  @property({ attribute: false }) marks: BoardMarks = {
    points: [],
    selected: -1,
    from: [0, 0],
    to: [0, 0],
    corners: [
      [0, 0],
      [0, 0],
      [0, 0],
      [0, 0],
    ],
  };
  @property({ type: Boolean }) half = false;
  @property({ type: Number }) magnification = 1;
  /** The rectangle stands in place of the scale. */
  @property({ type: Boolean }) rectangle = false;
  /** Length of the scale, or the rectangle's first side, with its unit. */
  @property({ attribute: 'scale-text' }) scaleText = '';
  /** The rectangle's second side. */
  @property({ attribute: 'side-text' }) sideText = '';
  @query('.sheet') private _sheet!: HTMLElement;
  /** The mark that is to hold the focus after the next drawing. */
  #focusNext: TracedMark | null = null;

  /** Screen px for each px of the picture. */
  get #zoom(): number {
    const [width, height] = this.size;
    return Math.min((this.widthPx - 2) / width, TALLEST / height) * this.magnification;
  }

  /** How far a point may lie beside what it was put on, px of the picture: about two px of the screen, never below one. */
  get pointingPx(): number {
    return this.widthPx === 0 ? 1 : Math.max(1, 2 / this.#zoom);
  }

  protected override render(): TemplateResult {
    if (this.widthPx === 0 || this.src === '') return html`<div class="scroll"></div>`;
    const zoom = this.#zoom;
    const [width, height] = this.size.map((px) => Math.round(px * zoom)) as [number, number];
    const { points, from, to, corners } = this.marks;
    const at = ([x, y]: BoardPoint): string => `${(x * zoom).toFixed(1)},${(y * zoom).toFixed(1)}`;
    const line = points.length < 2 ? '' : `M${points.map(at).join('L')}`;
    const first = points[0];
    const closing = points.length > 2 && first ? `M${at(points.at(-1)!)}L${at(first)}` : '';
    const scale = this.rectangle ? `M${corners.map(at).join('L')}Z` : `M${at(from)}L${at(to)}`;
    const words = this.rectangle
      ? rectangleWords(corners, zoom, [this.scaleText, this.sideText])
      : lengthWords(from, to, zoom, this.scaleText);
    return html`<div class="scroll" tabindex="0" role="region" aria-label="The picture, which can be scrolled">
      <div class="sheet">
        <img src=${this.src} width=${width} height=${height} alt="The picture that is traced" draggable="false" />
        <svg width=${width} height=${height} @pointerdown=${this.#onGround}>
          <g class="scale">
            <path class="under" d=${scale}></path>
            <path class="over" d=${scale}></path>
            ${words.map(
              ([text, [x, y], anchor]) => svg`<text class="scaled" text-anchor=${anchor} x=${x} y=${y}>${text}</text>`,
            )}
          </g>
          ${
            line === ''
              ? nothing
              : svg`<path class="under" d=${line + closing}></path><path class="over" d=${line}></path>
                ${
                  this.half
                    ? svg`<path class="over closing" d=${closing}></path>
                      <path class="over closing" d=${`M${mirrorImage(points).map(at).join('L')}`}></path>`
                    : svg`<path class="over" d=${closing}></path>`
                }`
          }
          ${
            this.rectangle
              ? CORNERS.map((mark, i) => this.#end(mark, corners[i]!, `Corner ${i + 1} of the rectangle`))
              : [this.#end('from', from, 'First end of the scale'), this.#end('to', to, 'Second end of the scale')]
          }
          ${points.map((point, index) => this.#point(point, index))}
        </svg>
      </div>
    </div>`;
  }

  #end(which: Exclude<TracedMark, number>, place: BoardPoint, name: string) {
    return this.#mark(which, place, `end ${which}`, name, true);
  }

  #point(place: BoardPoint, index: number) {
    const { points, selected } = this.marks;
    const chosen = index === selected;
    // One stop for the Tab key: the selected point, or the first.
    const stop = chosen || (selected < 0 && index === 0);
    return this.#mark(
      index,
      place,
      `point ${chosen ? 'selected' : ''}`,
      `Point ${index + 1} of ${points.length}${chosen ? ', selected' : ''}`,
      stop,
    );
  }

  #mark(mark: TracedMark, place: BoardPoint, look: string, name: string, stop: boolean) {
    const zoom = this.#zoom;
    const [x, y] = [place[0] * zoom, place[1] * zoom];
    return svg`<g class="handle ${look}" data-mark=${mark} tabindex=${stop ? 0 : -1} role="button" aria-roledescription="mark"
      aria-label="${name}, ${place[0].toFixed(0)} px to the right, ${place[1].toFixed(0)} px down"
      @pointerdown=${(event: PointerEvent) => this.#grab(event, mark)}
      @keydown=${(event: KeyboardEvent) => this.#key(event, mark)}
      @focus=${() => this.#select(mark)}>
      <circle class="target" cx=${x} cy=${y} r="13"></circle>
      <circle class="focus" cx=${x} cy=${y} r="11"></circle>
      <circle class="knob" cx=${x} cy=${y} r=${typeof mark === 'number' ? 4.5 : 6}></circle>
    </g>`;
  }

  protected override updated(): void {
    if (this.#focusNext === null) return;
    const handle = this.renderRoot.querySelector<SVGElement>(`[data-mark="${this.#focusNext}"]`);
    this.#focusNext = null;
    handle?.focus();
  }

  #emit(marks: BoardMarks, step: string): void {
    const detail: TraceChangedDetail = { marks, step };
    this.dispatchEvent(new CustomEvent('trace-changed', { detail, bubbles: true, composed: true }));
  }

  #select(mark: TracedMark): void {
    if (typeof mark === 'number' && mark !== this.marks.selected) this.#emit({ ...this.marks, selected: mark }, '');
  }

  /** Adds a point behind the selected one, or the first one in the middle of what is to be seen. */
  addPoint(): void {
    const { marks } = this;
    const frame = this.renderRoot.querySelector('.scroll');
    const zoom = this.#zoom;
    const middle: BoardPoint = frame
      ? [
          (frame.scrollLeft + Math.min(frame.clientWidth, this.size[0] * zoom) / 2) / zoom,
          (frame.scrollTop + Math.min(frame.clientHeight, this.size[1] * zoom) / 2) / zoom,
        ]
      : [this.size[0] / 2, this.size[1] / 2];
    const next = afterSelected(marks, middle, 30 / zoom);
    this.#focusNext = next.selected;
    this.#emit(next, `add ${marks.points.length}`);
  }

  removePoint(): void {
    const { marks } = this;
    if (marks.selected < 0) return;
    const next = removed(marks);
    if (next.selected >= 0) this.#focusNext = next.selected;
    this.#emit(next, `remove ${marks.points.length}`);
  }

  #inside([x, y]: BoardPoint): BoardPoint {
    return [Math.min(Math.max(x, 0), this.size[0]), Math.min(Math.max(y, 0), this.size[1])];
  }

  readonly #onGround = (down: PointerEvent): void => {
    if (down.button !== 0 || down.target !== down.currentTarget) return;
    const ground = down.currentTarget as SVGElement;
    const box = this._sheet.getBoundingClientRect();
    const [x, y] = [down.clientX - box.left, down.clientY - box.top];
    const forget = (): void => {
      ground.removeEventListener('pointerup', up);
      ground.removeEventListener('pointercancel', forget);
    };
    // A press that moves on scrolls the picture or the page; only a tap puts a point.
    const up = (event: PointerEvent): void => {
      forget();
      if (Math.hypot(event.clientX - down.clientX, event.clientY - down.clientY) > TAP) return;
      const zoom = this.#zoom;
      const next = added(this.marks, this.#inside([x / zoom, y / zoom]), 9 / zoom, this.half);
      this.#focusNext = next.selected;
      this.#emit(next, `add ${this.marks.points.length}`);
    };
    ground.addEventListener('pointerup', up);
    ground.addEventListener('pointercancel', forget);
  };

  #grab(down: PointerEvent, mark: TracedMark): void {
    down.stopPropagation();
    const zoom = this.#zoom;
    const before = this.marks;
    const place = placeOf(before, mark);
    if (!place) return;
    const box = this._sheet.getBoundingClientRect();
    const grip: BoardPoint = [(down.clientX - box.left) / zoom - place[0], (down.clientY - box.top) / zoom - place[1]];
    let moves = false;
    followPointer(down, {
      origin: this._sheet,
      moved: (x: number, y: number, phase: DragPhase) => {
        if (phase === 'start') return;
        if (phase === 'cancel') {
          if (moves) this.#emit(before, `drag ${mark} ${down.timeStamp}`);
          return;
        }
        const to = this.#inside([x / zoom - grip[0], y / zoom - grip[1]]);
        if (!moves && Math.hypot(to[0] - place[0], to[1] - place[1]) * zoom < 2) return;
        moves = true;
        this.#emit(movedMark(this.marks, mark, to), `drag ${mark} ${down.timeStamp}`);
      },
    });
  }

  #key(event: KeyboardEvent, mark: TracedMark): void {
    const { marks } = this;
    const zoom = this.#zoom;
    const neighbour = { PageDown: 1, PageUp: -1 }[event.key];
    if (typeof mark === 'number') {
      const count = marks.points.length;
      const goal = neighbour ? (mark + neighbour + count) % count : { Home: 0, End: count - 1 }[event.key];
      if (goal !== undefined) {
        event.preventDefault();
        this.#focusNext = goal;
        this.#emit({ ...marks, selected: goal }, '');
        this.requestUpdate();
        return;
      }
      if (event.key === 'Enter' || event.key === ' ' || event.key === 'Insert') {
        event.preventDefault();
        this.addPoint();
        return;
      }
      if (event.key === 'Delete' || event.key === 'Backspace') {
        event.preventDefault();
        this.removePoint();
        return;
      }
    } else if (neighbour) return;
    const step = arrowStep(event, 2 / zoom, 0.5 / zoom, 0);
    const place = placeOf(marks, mark);
    if (!step || !place) return;
    event.preventDefault();
    this.#focusNext = mark;
    this.#emit(movedMark(marks, mark, this.#inside([place[0] + step[0], place[1] - step[1]])), `arrow ${mark}`);
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-trace-board': TraceBoard;
  }
  interface HTMLElementEventMap {
    'trace-changed': CustomEvent<TraceChangedDetail>;
  }
}
