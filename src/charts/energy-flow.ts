import { css, html, nothing, type PropertyValues, svg, type TemplateResult } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { type FlowLoss, type FlowNode, flowNodes } from '../analysis/feed/flow.ts';
import { chartStyle } from './chart-style.ts';
import {
  ACROSS_FROM_PX,
  type FlowLabel,
  type FlowLayout,
  flowLayout,
  LINE_PX,
  lineText,
} from './energy-flow-layout.ts';
import { placed } from './placed.ts';
import { SizedElement } from './sized-element.ts';

/** Least and most watts of a part, by its id. */
export type WattBands = Readonly<Record<string, { readonly low: number; readonly high: number }>>;

export interface PartReadDetail {
  readonly id: string;
  /** In one line: what it is, its watts, where the heat goes. */
  readonly text: string;
}

interface Part {
  readonly id: string;
  readonly text: string;
}

const NBSP = '\u00a0';
/** Height kept before the flow is known, px: about that of a chain with charger and cell. */
const WAITING_PX = Object.freeze({ across: 296, down: 328 });
/** Hundredths of a watt, thousandths below a twentieth: the eye compares them by their place. */
const watts = (value: number): string => `${value.toFixed(value < 0.0495 ? 3 : 2)}${NBSP}W`;

/** `(0.08–0.13)`, to the digits that the watts themselves are printed with: nothing where both ends print the same. */
function bandText(value: number, band: { readonly low: number; readonly high: number } | undefined): string {
  if (!band) return '';
  const decimals = /\.(\d+)/.exec(watts(value))?.[1].length ?? 0;
  const low = Math.max(0, band.low).toFixed(decimals);
  const high = band.high.toFixed(decimals);
  return low === high ? '' : `(${low}\u2060–\u2060${high})`;
}

/**
 * Where the supply's watts go: a stream whose width is power, from which every loss leaves with its watts and the place
 * where it becomes heat. Across the page where there is room, down the page where there is not.
 *
 * @fires part-read - {@link PartReadDetail} under the pointer or the keyboard, null when it leaves
 */
@customElement('oc-energy-flow')
export class EnergyFlow extends SizedElement {
  static override readonly styles = [
    chartStyle,
    css`
      .stretch.transmitter {
        fill: color-mix(in srgb, var(--copper) 52%, var(--sheet));
      }
      .stretch.receiver {
        fill: color-mix(in srgb, var(--steel) 52%, var(--sheet));
      }
      .stretch.device {
        fill: color-mix(in srgb, var(--ink) 34%, var(--sheet));
      }
      .loss.transmitter {
        fill: color-mix(in srgb, var(--copper) 27%, var(--sheet));
      }
      .loss.receiver {
        fill: color-mix(in srgb, var(--steel) 27%, var(--sheet));
      }
      .loss.device {
        fill: color-mix(in srgb, var(--ink) 18%, var(--sheet));
      }
      .loss,
      .stretch {
        stroke: var(--paper);
        stroke-width: 0.75;
      }
      .loss {
        stroke: none;
      }
      .marked {
        stroke: var(--ink);
        stroke-width: 1.5;
      }
      .slit {
        stroke: var(--paper);
        stroke-width: 5;
      }
      .slit.edge {
        stroke: var(--soft);
        stroke-width: 1;
        stroke-dasharray: 3 3;
      }
      .name {
        fill: var(--soft);
      }
      .watts,
      .end .name {
        fill: var(--ink);
        font-weight: 560;
      }
      .band {
        fill: var(--soft);
      }
      .target {
        fill: transparent;
      }
      .reading {
        pointer-events: none;
      }
      :host([stale]) svg {
        opacity: 0.55;
      }
    `,
  ];

  @property({ attribute: false }) root: FlowNode | null = null;
  @property({ attribute: false }) bands: WattBands = {};
  /** Begins the description: `Energy flow on the dock`. */
  @property() heading = 'Energy flow';
  @property({ type: Boolean, reflect: true }) stale = false;
  @state() private _read: string | null = null;
  @state() private _announcement = '';
  #layout: FlowLayout | null = null;
  #parts: readonly Part[] = [];

  protected override willUpdate(_changed: PropertyValues<this>): void {
    if (!this.root) {
      this.#layout = null;
      this.#parts = [];
      return;
    }
    this.#layout = flowLayout(this.root, this.widthPx || 600, {
      watts: (id, value) => ({ text: watts(value), band: bandText(value, this.bands[id]) }),
      measure: (text) => this.labelWidth(text, 560),
    });
    this.#parts = partsOf(this.root, this.bands);
  }

  protected override render(): TemplateResult {
    const layout = this.#layout;
    if (!layout || !this.root) {
      const height = (this.widthPx || innerWidth) >= ACROSS_FROM_PX ? WAITING_PX.across : WAITING_PX.down;
      return html`<div class="frame" style=${placed({ height: `${height}px` })}></div>`;
    }
    const { width, height, shapes, labels, gap } = layout;
    return html`<div class="frame" style=${placed({ height: `${height}px` })} @pointerleave=${this.#onLeave}>
        <svg width=${width} height=${height} role="group" aria-label=${this.heading}>
          <g role="img" aria-label=${this.#description()}>
            ${shapes.map(
              (shape) => svg`<path class="${shape.kind} ${shape.side} ${shape.id === this._read ? 'marked' : ''}"
                d=${shape.path} @pointerenter=${() => this.#show(shape.id)}></path>`,
            )}
            ${
              gap
                ? svg`<line class="slit" x1=${gap.x1} y1=${gap.y1} x2=${gap.x2} y2=${gap.y2}></line>
                  <line class="slit edge" x1=${gap.x1} y1=${gap.y1} x2=${gap.x2} y2=${gap.y2}></line>`
                : nothing
            }
            ${labels.map((label) => this.#label(label))}
          </g>
          ${this.#reader(width, height)}
        </svg>
      </div>
      <p class="quiet" aria-live="polite">${this._announcement}</p>`;
  }

  #label(label: FlowLabel): unknown {
    const widest = Math.max(...label.lines.map((line) => this.labelWidth(lineText(line), 560)));
    const left = label.anchor === 'middle' ? label.x - widest / 2 : label.x;
    return svg`<g class=${label.kind}>
      ${label.lines.map(
        (line, i) =>
          svg`<text x=${label.x} y=${label.y + i * LINE_PX} text-anchor=${label.anchor}>${line.map(
            (part, n) => svg`<tspan class=${part.role}>${n === 0 ? part.text : ` ${part.text}`}</tspan>`,
          )}</text>`,
      )}
      <rect class="target" x=${left} y=${label.y - 13} width=${widest} height=${label.lines.length * LINE_PX + 2}
        @pointerenter=${() => this.#show(label.id)}></rect>
    </g>`;
  }

  #description(): string {
    const root = this.root as FlowNode;
    const ends = flowNodes(root).filter((node) => node.next.length === 0);
    const used = ends.map((end) => `${watts(end.watts)} ${end.name}`).join(', ');
    return `${this.heading}: ${root.name} ${watts(root.watts)}, of which ${used}; the rest is heat.`;
  }

  #reader(width: number, height: number): unknown {
    const index = this.#parts.findIndex((part) => part.id === this._read);
    const text = index < 0 ? 'arrow keys read it part by part' : this.#parts[index].text;
    return svg`<g class="handle reading" tabindex="0" role="slider" aria-label=${`Parts of: ${this.heading}`}
      aria-valuemin="0" aria-valuemax=${Math.max(0, this.#parts.length - 1)} aria-valuenow=${Math.max(0, index)}
      aria-valuetext=${text} @keydown=${this.#onKey} @blur=${this.#onLeave}>
      <rect class="focus" x="1" y="1" width=${Math.max(0, width - 2)} height=${height - 2}></rect>
    </g>`;
  }

  #show(id: string | null): void {
    if (id === this._read) return;
    this._read = id;
    const part = this.#parts.find((candidate) => candidate.id === id) ?? null;
    this.dispatchEvent(
      new CustomEvent<PartReadDetail | null>('part-read', { detail: part, bubbles: true, composed: true }),
    );
  }

  readonly #onLeave = (): void => this.#show(null);

  readonly #onKey = (event: KeyboardEvent): void => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const last = this.#parts.length - 1;
    const now = this.#parts.findIndex((part) => part.id === this._read);
    const forward = event.key === 'ArrowRight' || event.key === 'ArrowDown';
    const back = event.key === 'ArrowLeft' || event.key === 'ArrowUp';
    let to = now;
    if (forward) to = Math.min(last, now + 1);
    else if (back) to = Math.max(0, now - 1);
    else if (event.key === 'Home') to = 0;
    else if (event.key === 'End') to = last;
    else return;
    event.preventDefault();
    const part = this.#parts[to];
    if (!part) return;
    this.#show(part.id);
    this._announcement = part.text;
  };
}

function partsOf(root: FlowNode, bands: WattBands): Part[] {
  const share = (value: number): string => `${((100 * value) / Math.max(root.watts, 1e-12)).toFixed(1)}${NBSP}%`;
  const said = (item: FlowNode | FlowLoss): string => {
    const band = bandText(item.watts, bands[item.id]);
    return `${item.name} ${watts(item.watts)}${band === '' ? '' : ` ${band}`}, ${share(item.watts)}`;
  };
  return flowNodes(root).flatMap((node) => [
    { id: node.id, text: said(node) },
    ...node.losses.map((loss) => ({ id: loss.id, text: `${said(loss)}: heat ${loss.where}` })),
  ]);
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-energy-flow': EnergyFlow;
  }
  interface HTMLElementEventMap {
    'part-read': CustomEvent<PartReadDetail | null>;
  }
}
