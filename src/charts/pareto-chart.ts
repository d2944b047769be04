import { nice } from 'd3-array';
import { css, html, nothing, svg } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { chartStyle } from './chart-style.ts';
import { linearScale } from './linear-scale.ts';
import { SizedElement } from './sized-element.ts';

export interface ParetoPoint {
  readonly gain: number;
  readonly cost: number;
  /** In words, for the list and for screen readers. */
  readonly name: string;
  /** Gain by direct solution; null: not confirmed. */
  readonly direct: number | null;
}

export interface PointChosenDetail {
  readonly index: number;
}

const HEIGHT = 260;
const LEFT = 46;
const BOTTOM = 40;
const TOP = 12;

/**
 * The front of a search: what is gained against what it costs. Each point is a button.
 * @fires point-chosen - `PointChosenDetail`
 */
@customElement('oc-pareto-chart')
export class ParetoChart extends SizedElement {
  static override readonly styles = [
    chartStyle,
    css`
      .front {
        fill: none;
        stroke: var(--ink);
        stroke-opacity: 0.4;
        stroke-width: 1.4;
      }
      .point {
        cursor: pointer;
        outline: none;
      }
      .point .knob {
        fill: var(--sheet);
        stroke: var(--ink);
        stroke-width: 2.2;
      }
      .point[aria-pressed='true'] .knob {
        fill: var(--ink);
      }
      .point .target {
        fill: transparent;
      }
      .point .focus {
        fill: none;
        stroke: transparent;
        stroke-width: 2;
      }
      .point:focus-visible .focus {
        stroke: var(--ink);
      }
      .now {
        fill: var(--second);
        stroke: none;
      }
      text.now {
        fill: var(--second);
      }
      .direct {
        stroke: var(--good);
        stroke-width: 2.4;
        fill: none;
      }
      text.direct {
        fill: var(--good);
        stroke: none;
      }
    `,
  ];

  @property({ attribute: false }) points: readonly ParetoPoint[] = [];
  @property({ attribute: false }) own: { readonly gain: number; readonly cost: number } | null = null;
  @property({ type: Number }) chosen = -1;
  @property() gainName = '';
  @property() gainUnit = '';
  @property() costName = '';
  @property() costUnit = '';

  protected override render() {
    if (this.widthPx === 0) return html`<div class="frame"></div>`;
    const right = this.widthPx - 14;
    const low = HEIGHT - BOTTOM;
    const gains = [
      ...this.points.map((p) => p.gain),
      ...this.points.flatMap((p) => p.direct ?? []),
      this.own?.gain ?? 0,
    ];
    const costs = [...this.points.map((p) => p.cost), this.own?.cost ?? 0];
    const x = linearScale(nice(0, Math.max(1e-9, ...gains) * 1.08, 10), [LEFT, right]);
    const y = linearScale(nice(0, Math.max(1e-9, ...costs) * 1.12, 10), [low, TOP]);
    const line = this.points.map((p, i) => `${i === 0 ? 'M' : 'L'}${x(p.gain)},${y(p.cost)}`).join('');
    return html`<div class="frame">
      <svg width=${this.widthPx} height=${HEIGHT}>
        ${x.ticks(Math.floor(this.widthPx / 90)).map(
          (tick) => svg`<line class="grid" x1=${x(tick)} x2=${x(tick)} y1=${TOP} y2=${low}></line>
            <text x=${x(tick)} y=${low + 16} text-anchor="middle">${tick}</text>`,
        )}
        ${y.ticks(5).map(
          (tick) => svg`<line class="grid" x1=${LEFT} x2=${right} y1=${y(tick)} y2=${y(tick)}></line>
            <text x=${LEFT - 7} y=${y(tick) + 4} text-anchor="end">${tick}</text>`,
        )}
        <text x=${right} y=${HEIGHT - 6} text-anchor="end">${this.gainName}, ${this.gainUnit}</text>
        <text x=${LEFT + 4} y=${TOP + 12} class="halo">${this.costName}, ${this.costUnit}</text>
        <path class="front" d=${line}></path>
        ${this.#now(x, y)} ${this.points.map((point, i) => this.#point(point, i, x, y))}
      </svg>
    </div>`;
  }

  #now(x: (v: number) => number, y: (v: number) => number) {
    if (!this.own) return nothing;
    const [px, py] = [x(this.own.gain), y(this.own.cost)];
    return svg`<rect class="now" x=${px - 5} y=${py - 5} width="10" height="10" transform="rotate(45 ${px} ${py})"></rect>
      <text class="halo now" x=${px + 11} y=${py + 4}>now</text>`;
  }

  #point(point: ParetoPoint, index: number, x: (v: number) => number, y: (v: number) => number) {
    const [px, py] = [x(point.gain), y(point.cost)];
    const choose = (): void => {
      const detail: PointChosenDetail = { index };
      this.dispatchEvent(new CustomEvent('point-chosen', { detail, bubbles: true, composed: true }));
    };
    return svg`${
      point.direct === null ? nothing : svg`<path class="direct" d=${`M${px},${py}H${x(point.direct)}m0,-6v12`}></path>`
    }
      <g class="point" role="button" tabindex="0" aria-label=${point.name} aria-pressed=${index === this.chosen ? 'true' : 'false'}
        @click=${choose}
        @keydown=${(event: KeyboardEvent) => {
          if (event.key !== 'Enter' && event.key !== ' ') return;
          event.preventDefault();
          choose();
        }}>
        <circle class="target" cx=${px} cy=${py} r="12"></circle>
        <circle class="focus" cx=${px} cy=${py} r="11"></circle>
        <circle class="knob" cx=${px} cy=${py} r="5.5"></circle>
      </g>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-pareto-chart': ParetoChart;
  }
  interface HTMLElementEventMap {
    'point-chosen': CustomEvent<PointChosenDetail>;
  }
}
