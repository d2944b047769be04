import { css, html, svg } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { SizedElement } from './sized-element.ts';

/** What a lesson's drag does to the coils; sizes in mm. */
export type LessonSketchKind =
  /** From the side, the gap dragged. */
  | { readonly kind: 'apart'; readonly widthMm: number; readonly ferrite: boolean }
  /** From above, the offset dragged. */
  | { readonly kind: 'aside'; readonly radiusMm: number }
  /** From above, length over width dragged, the area kept. */
  | { readonly kind: 'stretched'; readonly radiusMm: number; readonly areaMm2: number; readonly corner: number };

const HEIGHT = 116;

/** The coils of a lesson, as far as the learner has dragged them. A picture only: the figure says the same in numbers. */
@customElement('oc-lesson-sketch')
export class LessonSketch extends SizedElement {
  static override readonly styles = css`
    :host {
      display: block;
      min-height: ${HEIGHT}px;
    }
    svg {
      display: block;
    }
    .transmitter,
    .receiver {
      fill: none;
      stroke-width: 3;
    }
    .transmitter {
      stroke: var(--copper);
    }
    .receiver {
      stroke: var(--steel);
    }
    text {
      font: 400 12.5px var(--font-text);
      fill: var(--soft);
    }
    .ferrite {
      fill: var(--ferrite);
      fill-opacity: 0.55;
    }
  `;

  @property({ attribute: false }) sketch: LessonSketchKind | null = null;
  @property({ attribute: false }) value = 0;

  protected override render() {
    if (this.widthPx === 0 || !this.sketch) return html``;
    return html`<svg width=${this.widthPx} height=${HEIGHT} aria-hidden="true">${this.#drawing(this.sketch)}</svg>`;
  }

  #drawing(sketch: LessonSketchKind) {
    const [cx, cy] = [Math.min(this.widthPx / 2, 180), HEIGHT / 2];
    if (sketch.kind === 'apart') {
      const scale = Math.min(3.4, (HEIGHT - 30) / (this.value + 4), (2 * cx - 10) / sketch.widthMm);
      const half = (sketch.widthMm * scale) / 2;
      const apart = (this.value * scale) / 2;
      const bar = (y: number, kind: string) => svg`<path class=${kind} d=${`M${cx - half},${y}H${cx + half}`}></path>`;
      const plate = (y: number) =>
        svg`<rect class="ferrite" x=${cx - half * 1.12} y=${y} width=${half * 2.24} height="6"></rect>`;
      return svg`${sketch.ferrite ? [plate(cy + apart + 4), plate(cy - apart - 10)] : ''}
        ${bar(cy + apart + 1.5, 'transmitter')} ${bar(cy - apart - 1.5, 'receiver')}
        <text x=${cx + half * 1.12 + 10} y=${cy - apart + (apart > 7 ? 3 : -4)}>receiver</text>
        <text x=${cx + half * 1.12 + 10} y=${cy + apart + (apart > 7 ? 5 : 12)}>transmitter</text>`;
    }
    if (sketch.kind === 'aside') {
      const scale = Math.min((HEIGHT - 10) / (2 * sketch.radiusMm), (this.widthPx - 16) / (80 + 2 * sketch.radiusMm));
      const r = sketch.radiusMm * scale;
      return svg`<circle class="transmitter" cx=${r + 6} cy=${cy} r=${r}></circle>
        <circle class="receiver" cx=${r + 6 + this.value * scale} cy=${cy} r=${r - 2}></circle>`;
    }
    const width = Math.sqrt(sketch.areaMm2 / (this.value - (4 - Math.PI) * sketch.corner ** 2));
    const scale = (HEIGHT - 10) / (2 * sketch.radiusMm);
    const [w, h] = [this.value * width * scale, width * scale];
    return svg`<circle class="transmitter" cx=${cx} cy=${cy} r=${sketch.radiusMm * scale}></circle>
      <rect class="receiver" x=${cx - w / 2} y=${cy - h / 2} width=${w} height=${h} rx=${sketch.corner * h}></rect>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-lesson-sketch': LessonSketch;
  }
}
