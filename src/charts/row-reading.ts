import { type ReactiveController, type ReactiveControllerHost, type SVGTemplateResult, svg } from 'lit';

/** What a drawing in rows tells its reading, and hears from it. */
export interface ReadRows {
  readonly count: () => number;
  /** Row at a height in the drawing, px; may be none of them. */
  readonly rowAt: (y: number) => number;
  /** A row in words. */
  readonly text: (index: number) => string;
  /** Another row is read, or none any more. */
  readonly read: (index: number | null) => void;
}

/** Reading a drawing row by row, with the pointer or the arrow keys. */
export class RowReading implements ReactiveController {
  /** Under the pointer or the keyboard; null: none. */
  row: number | null = null;
  /** The row that a key went to, for screen readers. */
  said = '';
  readonly #host: ReactiveControllerHost;
  readonly #rows: ReadRows;

  constructor(host: ReactiveControllerHost, rows: ReadRows) {
    this.#host = host;
    this.#rows = rows;
    host.addController(this);
  }

  hostConnected(): void {}

  /** Takes the keys and shows where the focus is; `name` says what is read, the box is the rows', px. */
  handle(name: string, idle: string, box: { y: number; width: number; height: number }): SVGTemplateResult {
    return svg`<g class="handle" tabindex="0" role="slider" aria-label=${name} aria-orientation="vertical"
      aria-valuemin="1" aria-valuemax=${Math.max(1, this.#rows.count())} aria-valuenow=${(this.row ?? 0) + 1}
      aria-valuetext=${this.row === null ? idle : this.#text(this.row)}
      @keydown=${this.#onKey} @blur=${this.leave}>
      <rect class="focus" x="1" y=${box.y} width=${box.width - 2} height=${box.height}></rect>
    </g>`;
  }

  /** Of the element whose upper edge is the drawing's. */
  readonly hover = (event: PointerEvent): void => {
    if (event.pointerType === 'touch') return;
    const row = this.#rows.rowAt(event.clientY - (event.currentTarget as Element).getBoundingClientRect().top);
    this.#read(row >= 0 && row < this.#rows.count() ? row : null);
  };

  readonly leave = (): void => this.#read(null);

  #text(row: number): string {
    return row < this.#rows.count() ? this.#rows.text(row) : '';
  }

  #read(row: number | null): void {
    if (row === this.row) return;
    this.row = row;
    this.#rows.read(row);
    this.#host.requestUpdate();
  }

  readonly #onKey = (event: KeyboardEvent): void => {
    const last = this.#rows.count() - 1;
    const now = this.row ?? -1;
    const to = { ArrowDown: now + 1, ArrowRight: now + 1, ArrowUp: now - 1, ArrowLeft: now - 1, Home: 0, End: last }[
      event.key
    ];
    if (to === undefined || last < 0) return;
    event.preventDefault();
    this.#read(Math.min(Math.max(to, 0), last));
    this.said = this.#text(this.row ?? 0);
    this.#host.requestUpdate();
  };
}
