import { css, html, nothing, svg } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { chartStyle } from './chart-style.ts';
import { SizedElement } from './sized-element.ts';
import { polylinePath } from './svg-path.ts';

export interface RowPlan {
  /** Rings of the safe region, holes among them, and of zero margin: flat x y in mm. */
  readonly safe: readonly Float64Array[];
  readonly holds: readonly Float64Array[];
  /** Outer edges of the transmitter's coils, in place, and of the receiver in the row's middle. */
  readonly coils: readonly Float64Array[];
  readonly receiver: Float64Array;
  readonly deadSpots: readonly { readonly xMm: number; readonly yMm: number }[];
}

const TALLEST = 380;

/** A row of coils from above, to scale, with the offsets at which it serves. */
@customElement('oc-rivals-row-chart')
export class RivalsRowChart extends SizedElement {
  static override readonly styles = [
    chartStyle,
    css`
      .safe {
        fill: var(--good);
        fill-opacity: 0.16;
        stroke: var(--good);
        stroke-width: 2;
        fill-rule: evenodd;
      }
      .holds {
        fill: none;
        stroke: var(--ink);
        stroke-width: 1.6;
      }
      .coil {
        fill: none;
        stroke: var(--copper);
        stroke-width: 1.6;
      }
      .receiver {
        fill: none;
        stroke: var(--steel);
        stroke-width: 1.4;
        stroke-dasharray: 5 4;
      }
      .dead {
        stroke: var(--bad);
        stroke-width: 2;
      }
    `,
  ];

  @property({ attribute: false }) plan: RowPlan | null = null;
  /** What it shows, in words. */
  @property() description = '';

  protected override render() {
    const { plan } = this;
    if (this.widthPx === 0 || !plan) return html`<div class="frame"></div>`;
    const all = [...plan.safe, ...plan.holds, ...plan.coils, plan.receiver];
    const extent = (axis: 0 | 1): [number, number] => {
      let [low, high] = [0, 0];
      for (const ring of all)
        for (let i = axis; i < ring.length; i += 2) {
          low = Math.min(low, ring[i]!);
          high = Math.max(high, ring[i]!);
        }
      return [low - 2, high + 2];
    };
    const [x0, x1] = extent(0);
    const [y0, y1] = extent(1);
    const scale = Math.min((this.widthPx - 8) / (x1 - x0), TALLEST / (y1 - y0));
    const width = scale * (x1 - x0);
    const height = scale * (y1 - y0) + 26;
    const to = { x: (v: number) => (this.widthPx - width) / 2 + scale * (v - x0), y: (v: number) => scale * (y1 - v) };
    const path = (rings: readonly Float64Array[]): string => rings.map((ring) => polylinePath(ring, to, true)).join('');
    const bar = [50, 20, 10, 5].find((mm) => mm * scale < this.widthPx / 3) ?? 5;
    return html`<div class="frame" role="img" aria-label=${this.description}>
      <svg width=${this.widthPx} height=${height} aria-hidden="true">
        ${plan.safe.length === 0 ? nothing : svg`<path class="safe" d=${path(plan.safe)}></path>`}
        ${plan.holds.length === 0 ? nothing : svg`<path class="holds" d=${path(plan.holds)}></path>`}
        ${plan.coils.map((ring) => svg`<path class="coil" d=${path([ring])}></path>`)}
        <path class="receiver" d=${path([plan.receiver])}></path>
        ${plan.deadSpots.map(
          ({ xMm, yMm }) =>
            svg`<path class="dead" d=${`M${to.x(xMm) - 5},${to.y(yMm) - 5}l10,10m0,-10l-10,10`}></path>`,
        )}
        <path class="dimension" d=${`M4,${height - 6}h${bar * scale}m0,-4v8m${-bar * scale},0v-8`}></path>
        <text x=${bar * scale + 12} y=${height - 2}>${bar} mm</text>
      </svg>
    </div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-rivals-row-chart': RivalsRowChart;
  }
}
