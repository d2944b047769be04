import { css, html, nothing, svg, type TemplateResult } from 'lit';
import { customElement, property, query } from 'lit/decorators.js';
import { chartStyle } from './chart-style.ts';
import { dimensionLine } from './dimension-line.ts';
import { arrowStep, type DragPhase, followPointer, rounded } from './drag.ts';
import { placed } from './placed.ts';
import { SizedElement } from './sized-element.ts';
import { withUnit } from './tick-text.ts';

/** A pair of facing discs, mm. */
export interface MagnetPair {
  readonly diameterMm: number;
  readonly thicknessMm: number;
  readonly gapMm: number;
  readonly facing: 'magnet' | 'steel';
}

export interface MagnetResizedDetail {
  readonly what: 'thicknessMm' | 'gapMm';
  readonly value: number;
  readonly phase: DragPhase;
}

const HEIGHT = 132;
/** Room for the numbers at the right, px. */
const RIGHT = 96;

/**
 * One pair of magnets from the side, to scale: drag the device's disc up and down for the gap, its upper face for the
 * thickness.
 *
 * @slot thickness - number on the upper disc's dimension
 * @slot gap - number on the gap's dimension
 * @fires magnet-resized - {@link MagnetResizedDetail}
 */
@customElement('oc-magnet-section')
export class MagnetSection extends SizedElement {
  static override readonly styles = [
    chartStyle,
    css`
      .disc {
        fill: var(--second);
        fill-opacity: 0.16;
        stroke: var(--second);
        stroke-width: 1.6;
      }
      .disc.steel {
        fill: var(--metal);
        fill-opacity: 0.5;
        stroke: var(--soft);
      }
      .wall {
        stroke: var(--rule);
        stroke-width: 1;
        stroke-dasharray: 4 3;
      }
      .pole {
        stroke: var(--second);
        stroke-width: 1.4;
        fill: none;
      }
      .handle.body {
        cursor: ns-resize;
      }
      .handle .knob {
        stroke: var(--second);
      }
    `,
  ];

  @property({ attribute: false }) pair: MagnetPair = { diameterMm: 8, thicknessMm: 2, gapMm: 3, facing: 'magnet' };
  @query('.frame') private _frameElement!: HTMLElement;
  /** Of the drawing while something is dragged, so that the scale stands still under the hand. */
  #held: number | null = null;

  #layout() {
    const { diameterMm, thicknessMm, gapMm } = this.pair;
    const width = this.widthPx || 240;
    const room = Math.max(40, width - RIGHT - 8);
    const scale = this.#held ?? Math.min(room / diameterMm, (HEIGHT - 24) / (2 * thicknessMm + gapMm));
    const left = 4 + (room - diameterMm * scale) / 2;
    const bottom = HEIGHT - 10;
    return {
      width,
      scale,
      left,
      right: left + diameterMm * scale,
      bottom,
      dock: bottom - thicknessMm * scale,
      device: bottom - (thicknessMm + gapMm) * scale,
      top: bottom - (2 * thicknessMm + gapMm) * scale,
      line: left + diameterMm * scale + 18,
    };
  }

  protected override render(): TemplateResult {
    const { thicknessMm, gapMm, diameterMm, facing } = this.pair;
    const at = this.#layout();
    const middle = (at.left + at.right) / 2;
    const place = (top: number) => placed({ left: `${at.line + 10}px`, top: `${top}px` });
    // The numbers keep apart where the drawing is too flat for both.
    const upper = Math.min((at.top + at.device) / 2, (at.device + at.dock) / 2 - 24);
    const lower = Math.max((at.device + at.dock) / 2, upper + 24);
    return html`<div class="frame" style=${placed({ height: `${HEIGHT}px` })}>
      <svg width=${at.width} height=${HEIGHT} role="group" aria-label="One pair of magnets from the side">
        <g role="img" aria-label=${`Discs of ${withUnit(diameterMm, 'mm')} by ${withUnit(thicknessMm, 'mm')}, ${withUnit(gapMm, 'mm', 2)} apart, facing ${facing === 'steel' ? 'steel' : 'each other'}.`}>
          <rect class="disc ${facing === 'steel' ? 'steel' : ''}" x=${at.left} y=${at.dock} width=${at.right - at.left} height=${at.bottom - at.dock}></rect>
          <rect class="disc" x=${at.left} y=${at.top} width=${at.right - at.left} height=${at.device - at.top}></rect>
          ${this.#pole(middle, at.top, at.device)} ${facing === 'magnet' ? this.#pole(middle, at.dock, at.bottom) : nothing}
          <path class="extension" d=${`M${at.right + 3},${at.top}H${at.line + 5}M${at.right + 3},${at.device}H${at.line + 5}M${at.right + 3},${at.dock}H${at.line + 5}`}></path>
          ${dimensionLine(at.line, at.top, at.line, at.device)} ${dimensionLine(at.line, at.device, at.line, at.dock)}
        </g>
        ${this.#handle('gapMm', 'Magnet gap', gapMm, middle, (at.top + at.device) / 2, 'body')}
        ${this.#handle('thicknessMm', 'Magnet thickness', thicknessMm, at.left + 0.16 * (at.right - at.left), at.top, 'face')}
      </svg>
      <div class="place from-left" style=${place(Math.max(12, upper))}><slot name="thickness"></slot></div>
      <div class="place from-left" style=${place(Math.min(HEIGHT - 12, Math.max(36, lower)))}><slot name="gap"></slot></div>
    </div>`;
  }

  /** Which way a disc is magnetised. */
  #pole(x: number, top: number, bottom: number): unknown {
    const y0 = bottom - 0.22 * (bottom - top);
    const y1 = top + 0.22 * (bottom - top);
    if (y0 - y1 < 7) return nothing;
    const away = x + 26;
    return svg`<path class="pole" d=${`M${away},${y0}V${y1}m-3.5,5l3.5,-5l3.5,5`}></path>`;
  }

  #handle(
    what: MagnetResizedDetail['what'],
    name: string,
    value: number,
    x: number,
    y: number,
    kind: 'body' | 'face',
  ): unknown {
    return svg`<g class="handle ${kind} ${what}" tabindex="0" role="slider" aria-label=${name} aria-orientation="vertical"
      aria-valuemin="0.05" aria-valuemax="200" aria-valuenow=${rounded(value, 0.001)} aria-valuetext=${withUnit(value, 'mm', 2)}
      @pointerdown=${(event: PointerEvent) => this.#onDown(event, what, value)}
      @keydown=${(event: KeyboardEvent) => this.#onKey(event, what, value)}>
      <circle class="target" cx=${x} cy=${y} r="13"></circle>
      <circle class="focus" cx=${x} cy=${y} r="9.5"></circle>
      <circle class="knob" cx=${x} cy=${y} r="5"></circle>
    </g>`;
  }

  #emit(detail: MagnetResizedDetail): void {
    this.dispatchEvent(
      new CustomEvent<MagnetResizedDetail>('magnet-resized', { detail, bubbles: true, composed: true }),
    );
  }

  #onDown(event: PointerEvent, what: MagnetResizedDetail['what'], from: number): void {
    let start = 0;
    // Both discs grow with the thickness, so their top moves twice as far.
    const share = what === 'thicknessMm' ? 0.5 : 1;
    const { scale } = this.#layout();
    followPointer(event, {
      origin: this._frameElement,
      moved: (_x, _y, phase, source) => {
        this.#held = phase === 'start' || phase === 'move' ? scale : null;
        const y = source instanceof PointerEvent ? source.clientY : start;
        if (phase === 'start') start = y;
        const still = phase === 'start' || phase === 'cancel';
        const moved = from + (share * (start - y)) / scale;
        const value = still ? from : Math.max(0.1, rounded(moved, source.shiftKey ? 0.02 : 0.1));
        this.#emit({ what, value, phase });
      },
    });
  }

  #onKey(event: KeyboardEvent, what: MagnetResizedDetail['what'], from: number): void {
    const step = arrowStep(event, 0.1, 0.02, 1);
    if (!step) return;
    event.preventDefault();
    this.#emit({ what, value: Math.max(0.1, rounded(from + step[0] + step[1], 0.01)), phase: 'step' });
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-magnet-section': MagnetSection;
  }
}
