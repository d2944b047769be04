import { css, html, nothing, svg } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { chartStyle } from './chart-style.ts';
import { linearScale } from './linear-scale.ts';
import { SizedElement } from './sized-element.ts';
import { polylinePath } from './svg-path.ts';

/** A value with its band. */
export interface Banded {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

export interface RivalRow {
  readonly id: string;
  readonly name: string;
  /** Edge and opening of both windings, flat x y in mm. */
  readonly transmitter: readonly Float64Array[];
  readonly receiver: readonly Float64Array[];
  /** One per measure. */
  readonly values: readonly Banded[];
  /** The pair that the others are compared with. */
  readonly own: boolean;
}

export interface RivalMeasure {
  readonly name: string;
  readonly unit: string;
  readonly digits: number;
}

const ROW = 64;
const HEAD = 26;
const FOOT = 22;
const NARROW = 620;

/**
 * Candidates one beneath the other: a small plan of each pair, and each measure as a dot on its band. The own pair's value
 * runs through all rows as a thin line.
 */
@customElement('oc-rivals-chart')
export class RivalsChart extends SizedElement {
  static override readonly styles = [
    chartStyle,
    css`
      .edge {
        fill: none;
        stroke-width: 1.4;
      }
      .band {
        stroke: var(--ink);
        stroke-opacity: 0.22;
        stroke-width: 9;
      }
      .dot {
        fill: var(--sheet);
        stroke: var(--ink);
        stroke-width: 2.4;
      }
      .own .dot {
        fill: var(--ink);
      }
      .through {
        stroke: var(--ink);
        stroke-opacity: 0.45;
        stroke-dasharray: 2 3;
      }
      text.name,
      text.value {
        fill: var(--ink);
      }
      .own text.name {
        font-weight: 650;
      }
      .transmitter {
        stroke: var(--copper);
      }
      .receiver {
        stroke: var(--steel);
      }
      :host([stale]) svg {
        opacity: 0.5;
      }
    `,
  ];

  @property({ attribute: false }) rows: readonly RivalRow[] = [];
  @property({ attribute: false }) measures: readonly RivalMeasure[] = [];
  @property({ type: Boolean, reflect: true }) stale = false;

  protected override render() {
    if (this.widthPx === 0 || this.rows.length === 0) return html`<div class="frame"></div>`;
    const narrow = this.widthPx < NARROW;
    return html`<div class="frame" role="img" aria-label=${this.#spoken()}>${narrow ? this.#narrow() : this.#wide()}</div>`;
  }

  #spoken(): string {
    return this.rows
      .map((row) => {
        const parts = this.measures.map((measure, i) => `${measure.name} ${this.#text(row.values[i]!, measure)}`);
        return `${row.name}: ${parts.join(', ')}`;
      })
      .join('. ');
  }

  #text({ value, low, high }: Banded, { digits, unit }: RivalMeasure): string {
    const space = unit === '' ? '' : '\u00a0';
    return `${value.toFixed(digits)} (${low.toFixed(digits)}–${high.toFixed(digits)})${space}${unit}`;
  }

  #scale(index: number, from: number, width: number) {
    const most = Math.max(1e-9, ...this.rows.map((row) => row.values[index]!.high));
    return linearScale([0, most * 1.04], [from, from + width]);
  }

  #wide() {
    const left = Math.min(260, this.widthPx * 0.3);
    const gap = 26;
    const panel = (this.widthPx - left - gap * this.measures.length) / this.measures.length;
    const height = HEAD + ROW * this.rows.length + FOOT;
    return svg`<svg width=${this.widthPx} height=${height} aria-hidden="true">
      ${this.rows.map((row, r) => {
        const y = HEAD + ROW * (r + 0.5);
        return svg`<g class=${row.own ? 'own' : ''}>
          ${this.#plan(row, 28, y)}
          ${wrapped(row.name, left - 66, (text) => this.labelWidth(text)).map(
            (line, i, all) =>
              svg`<text class="name" x="62" y=${y + 4 + 15 * (i - (all.length - 1) / 2)}>${line}</text>`,
          )}
        </g>`;
      })}
      ${this.measures.map((measure, i) => this.#panel(measure, i, left + gap + i * (panel + gap), panel, HEAD, ROW))}
    </svg>`;
  }

  #narrow() {
    const block = HEAD + 40 * this.rows.length + FOOT + 12;
    const top = 58 * Math.ceil(this.rows.length / 2);
    return svg`<svg width=${this.widthPx} height=${top + block * this.measures.length} aria-hidden="true">
      ${this.rows.map((row, r) => {
        const x = (r % 2) * (this.widthPx / 2);
        const y = 28 + 58 * Math.floor(r / 2);
        return svg`<g class=${row.own ? 'own' : ''}>${this.#plan(row, x + 26, y)}
          ${wrapped(row.name, this.widthPx / 2 - 62, (text) => this.labelWidth(text)).map(
            (line, i, all) =>
              svg`<text class="name" x=${x + 56} y=${y + 4 + 15 * (i - (all.length - 1) / 2)}>${line}</text>`,
          )}</g>`;
      })}
      ${this.measures.map(
        (measure, i) =>
          svg`<g transform="translate(0 ${top + i * block})">${this.#panel(measure, i, 4, this.widthPx - 12, HEAD, 40, true)}</g>`,
      )}
    </svg>`;
  }

  #panel(measure: RivalMeasure, index: number, x: number, width: number, top: number, step: number, named = false) {
    const scale = this.#scale(index, x, width);
    const low = top + step * this.rows.length;
    const own = this.rows.find((row) => row.own);
    const ticks = scale.ticks(Math.max(2, Math.floor(width / 70)));
    return svg`<text x=${x} y="15" class="halo">${measure.name}${measure.unit === '' ? '' : `, ${measure.unit}`}</text>
      ${ticks.map(
        (
          tick,
        ) => svg`<line class="grid ${tick === 0 ? 'axis' : ''}" x1=${scale(tick)} x2=${scale(tick)} y1=${top} y2=${low}></line>
          <text x=${scale(tick)} y=${low + 16} text-anchor="middle">${tick}</text>`,
      )}
      ${
        own
          ? svg`<line class="through" x1=${scale(own.values[index]!.value)} x2=${scale(own.values[index]!.value)} y1=${top} y2=${low}></line>`
          : nothing
      }
      ${this.rows.map((row, r) => {
        const banded = row.values[index]!;
        const y = top + step * (r + 0.5) + (named ? 5 : 0);
        const at = scale(banded.value);
        const text = banded.value.toFixed(measure.digits);
        const right = at + 12 + this.labelWidth(text) < x + width;
        return svg`<g class=${row.own ? 'own' : ''}>
          ${named ? svg`<text class="halo name" x=${x} y=${y - 10}>${row.name}</text>` : nothing}
          <line class="band" x1=${scale(Math.max(0, banded.low))} x2=${Math.max(scale(banded.high), scale(Math.max(0, banded.low)) + 1)} y1=${y} y2=${y}></line>
          <circle class="dot" cx=${at} cy=${y} r="5"></circle>
          ${
            // Under a name the value stands at its line's end, where it covers nothing.
            named
              ? svg`<text class="halo value" x=${x + width} y=${y - 10} text-anchor="end">${text}</text>`
              : svg`<text class="halo value" x=${right ? at + 10 : at - 10} y=${y - 8} text-anchor=${right ? 'start' : 'end'}>${text}</text>`
          }
        </g>`;
      })}`;
  }

  /** Both windings at one scale for all rows. */
  #plan(row: RivalRow, cx: number, cy: number) {
    const reach = Math.max(
      1,
      ...this.rows
        .flatMap((entry) => [...entry.transmitter, ...entry.receiver])
        .map((ring) => {
          let most = 0;
          for (const value of ring) most = Math.max(most, Math.abs(value));
          return most;
        }),
    );
    const size = 25 / reach;
    const to = { x: (value: number) => cx + size * value, y: (value: number) => cy - size * value };
    const edge = (side: string) => (ring: Float64Array) =>
      svg`<path class="edge ${side}" d=${polylinePath(ring, to, true)}></path>`;
    return svg`${row.transmitter.map(edge('transmitter'))} ${row.receiver.map(edge('receiver'))}`;
  }
}

/** A name on two lines where one is too long. */
function wrapped(text: string, width: number, measure: (text: string) => number): string[] {
  if (measure(text) <= width) return [text];
  const words = text.split(' ');
  const lines: string[] = [''];
  for (const word of words) {
    const last = lines[lines.length - 1]!;
    const next = last === '' ? word : `${last} ${word}`;
    if (measure(next) <= width || last === '') lines[lines.length - 1] = next;
    else lines.push(word);
  }
  return lines.slice(0, 3);
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-rivals-chart': RivalsChart;
  }
}
