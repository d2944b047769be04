import { css, html, nothing, svg, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { DividerReading } from '../analysis/feed/divider.ts';
import { chartStyle } from './chart-style.ts';
import { BOX, type DividerPart, dividerLayout, type LegParts } from './feed-divider-layout.ts';
import { linearScale } from './linear-scale.ts';
import { placed } from './placed.ts';
import { SizedElement } from './sized-element.ts';
import { withUnit } from './tick-text.ts';

/** What the drawing needs of a divider. */
export interface DividerModel {
  readonly top: LegParts;
  readonly bottom: LegParts;
  readonly reading: DividerReading;
  /** V, from the loads; null: none. */
  readonly wantedV: number | null;
}

const SCALE = { height: 78, pad: 6 } as const;

/**
 * An adjustable converter's divider as a circuit, every value editable where it stands, and beneath it the output with its
 * tolerance: thick the root sum of squares, thin the worst case, an open bar a trimmer's travel.
 *
 * @slot top-resistor, top-series, top-trimmer, top-parallel, bottom-… - the number beside each part
 * @slot top-add, bottom-add - what can be put into a leg
 * @slot output, reference - beside the upper end and the tap
 */
@customElement('oc-feed-divider')
export class FeedDivider extends SizedElement {
  static override readonly styles = [
    chartStyle,
    css`
      .wire {
        fill: none;
        stroke: var(--ink);
        stroke-width: 1.4;
      }
      .box {
        fill: var(--sheet);
        stroke: var(--ink);
        stroke-width: 1.4;
      }
      .arrow {
        stroke: var(--ink);
        stroke-width: 1.2;
        fill: none;
      }
      .terminal {
        fill: var(--paper);
        stroke: var(--ink);
        stroke-width: 1.4;
      }
      .node {
        fill: var(--ink);
      }
      .worst {
        stroke: var(--ink);
        stroke-width: 1.4;
      }
      .rss {
        fill: var(--ink);
        fill-opacity: 0.24;
      }
      .now {
        fill: var(--ink);
      }
      .travel {
        fill: none;
        stroke: var(--soft);
        stroke-width: 1.2;
      }
      .want {
        stroke: var(--ink);
        stroke-width: 1.2;
        stroke-dasharray: 6 4;
      }
      .value {
        fill: var(--ink);
        font-weight: 560;
      }
    `,
  ];

  @property({ attribute: false }) model: DividerModel | null = null;

  protected override render(): TemplateResult {
    const model = this.model;
    const width = this.widthPx || 360;
    if (!model) return html`<div class="frame" style=${placed({ height: '220px' })}></div>`;
    const layout = dividerLayout(model.top, model.bottom, width);
    const height = layout.height + SCALE.height;
    const { mainX, outputY, tapY, groundY } = layout;
    return html`<div class="frame" style=${placed({ height: `${height}px` })}>
      <svg width=${width} height=${height} role="img" aria-label=${this.#description(model)}>
        ${layout.wires.map((d) => svg`<path class="wire" d=${d}></path>`)}
        ${layout.parts.map((part) => this.#box(part))}
        <circle class="terminal" cx=${mainX} cy=${outputY} r="4"></circle>
        <circle class="node" cx=${mainX} cy=${tapY} r="3"></circle>
        <circle class="terminal" cx=${mainX + 30} cy=${tapY} r="4"></circle>
        <path class="wire" d=${`M${mainX - 9},${groundY}h18M${mainX - 5.5},${groundY + 4}h11M${mainX - 2},${groundY + 8}h4`}></path>
        ${this.#scale(model, width, layout.height)}
      </svg>
      ${layout.parts.map(
        (part) =>
          html`<div class="place from-left" style=${placed({ left: `${part.x + 13}px`, top: `${part.y}px` })}>
            <slot name=${part.slot}></slot>
          </div>`,
      )}
      ${this.#slotAt('output', mainX + 13, outputY)} ${this.#slotAt('reference', mainX + 42, tapY)}
      ${this.#slotAt('top-add', mainX + 13, layout.addY.top)} ${this.#slotAt('bottom-add', mainX + 13, layout.addY.bottom)}
    </div>`;
  }

  #slotAt(name: string, x: number, y: number): TemplateResult {
    return html`<div class="place from-left" style=${placed({ left: `${x}px`, top: `${y}px` })}>
      <slot name=${name}></slot>
    </div>`;
  }

  #description({ reading, wantedV }: DividerModel): string {
    const { outputV, rss, worst } = reading;
    const wanted = wantedV === null ? '' : ` The loads want ${withUnit(wantedV, 'V', 2)}.`;
    return `Divider of ${withUnit(reading.topKohm, 'kΩ', 2)} over ${withUnit(reading.bottomKohm, 'kΩ', 2)}: ${withUnit(outputV, 'V', 3)}, rss ± ${withUnit(100 * rss, '%', 1)}, worst case ± ${withUnit(100 * worst, '%', 1)}.${wanted}`;
  }

  #box(part: DividerPart): unknown {
    const { width, height } = BOX;
    const left = part.x - width / 2;
    const top = part.y - height / 2;
    return svg`<rect class="box" x=${left} y=${top} width=${width} height=${height}></rect>
      ${
        part.kind === 'trimmer'
          ? svg`<path class="arrow" d=${`M${left - 6},${top + height + 1}L${left + width + 5},${top - 1}m-6,1l6,-1l-1,6`}></path>`
          : nothing
      }`;
  }

  #scale({ reading, wantedV }: DividerModel, width: number, from: number): unknown {
    const { outputV, rss, worst, lowV, highV } = reading;
    const ends = [outputV * (1 - worst), outputV * (1 + worst), lowV, highV, ...(wantedV === null ? [] : [wantedV])];
    const least = Math.min(...ends);
    const most = Math.max(...ends);
    const room = Math.max(most - least, 0.02 * outputV) * 0.12;
    const x = linearScale([least - room, most + room], [SCALE.pad + 14, width - SCALE.pad - 14]);
    const y = from + 34;
    const ticks = x.ticks(Math.max(2, Math.floor(width / 90)));
    const decimals = Math.max(
      0,
      ...ticks.map((tick) => (/\.(\d+)/.exec(String(Number(tick.toFixed(6))))?.[1] ?? '').length),
    );
    const rssText = `rss ${(outputV * (1 - rss)).toFixed(2)}\u2060–\u2060${withUnit(outputV * (1 + rss), 'V', 2)}`;
    const worstText = `worst case ${(outputV * (1 - worst)).toFixed(2)}\u2060–\u2060${withUnit(outputV * (1 + worst), 'V', 2)}`;
    return svg`<line class="grid axis" x1=${SCALE.pad} x2=${width - SCALE.pad} y1=${y + 16} y2=${y + 16}></line>
      ${ticks.map(
        (tick, i) => svg`<line class="grid axis" x1=${x(tick)} x2=${x(tick)} y1=${y + 12} y2=${y + 20}></line>
          <text class="tick" x=${x(tick)} y=${y + 35} text-anchor="middle">${tick.toFixed(decimals)}${i === ticks.length - 1 ? '\u00a0V' : ''}</text>`,
      )}
      ${highV - lowV > 1e-6 ? svg`<rect class="travel" x=${x(lowV)} y=${y - 11} width=${x(highV) - x(lowV)} height="22"></rect>` : nothing}
      <path class="worst" d=${`M${x(outputV * (1 - worst))},${y}H${x(outputV * (1 + worst))}m0,-5v10M${x(outputV * (1 - worst))},${y - 5}v10`}></path>
      <rect class="rss" x=${x(outputV * (1 - rss))} y=${y - 6} width=${x(outputV * (1 + rss)) - x(outputV * (1 - rss))} height="12"></rect>
      ${wantedV === null ? nothing : svg`<line class="want" x1=${x(wantedV)} x2=${x(wantedV)} y1=${y - 14} y2=${y + 16}></line>`}
      <circle class="now" cx=${x(outputV)} cy=${y} r="4.5"></circle>
      <text class="value" x=${SCALE.pad} y=${from + 14}>${rssText}</text>
      <text x=${width - SCALE.pad} y=${from + 14} text-anchor="end">${worstText}</text>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-feed-divider': FeedDivider;
  }
}
