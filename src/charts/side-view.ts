import { html, nothing, type PropertyValues, svg, type TemplateResult } from 'lit';
import { customElement, property, query } from 'lit/decorators.js';
import { guard } from 'lit/directives/guard.js';
import { chartStyle } from './chart-style.ts';
import { dimensionLine } from './dimension-line.ts';
import { arrowStep, type DragPhase, followPointer, rounded } from './drag.ts';
import { placed } from './placed.ts';
import {
  type SideCoil,
  type SideExtent,
  type SideLayout,
  type SideSlab,
  type SideViewModel,
  sideLayout,
} from './side-view-layout.ts';
import { sideViewStyle } from './side-view-style.ts';
import { SizedElement } from './sized-element.ts';
import { withUnit } from './tick-text.ts';

export interface LayerDraggedDetail {
  readonly index: number;
  readonly thicknessMm: number;
  readonly phase: DragPhase;
}

export interface ReceiverShiftedDetail {
  readonly axis: 'gap' | 'offsetX';
  /** mm */
  readonly value: number;
  readonly phase: DragPhase;
}

const LAYER_STEP = 0.1;

/**
 * The stack in section, cut through the middle of each coil, at one true scale. Layers are drawn thicker or thinner by
 * hand, and the receiver is moved by its ring.
 *
 * @slot gap - the number on the gap's dimension
 * @slot offset-x - the number on the offset's dimension, where there is one
 * @slot layer-0, layer-1 … - the label of each layer of the stack
 * @slot transmitter-ferrite, transmitter-metal, receiver-ferrite, receiver-metal - labels of the plates
 * @fires layer-dragged - {@link LayerDraggedDetail}
 * @fires receiver-shifted - {@link ReceiverShiftedDetail} while the ring is dragged or stepped
 */
@customElement('oc-side-view')
export class SideView extends SizedElement {
  static override readonly styles = [chartStyle, sideViewStyle];

  @property({ attribute: false }) model: SideViewModel | null = null;
  /** Gap under the reading line of another figure, mm. */
  @property({ attribute: false }) ghostGapMm: number | null = null;
  /** Part to pick out, by slot name. */
  @property() marked = '';
  @query('.frame') private _frameElement!: HTMLElement;
  #layout: SideLayout | null = null;
  #held: SideExtent | undefined;

  protected override willUpdate(_changed: PropertyValues<this>): void {
    this.#layout = this.model ? sideLayout(this.model, this.widthPx || 480, this.#held) : null;
  }

  protected override render(): TemplateResult {
    const layout = this.#layout;
    const model = this.model;
    if (!layout || !model) return html`<div class="frame empty"></div>`;
    const { width, height } = layout;
    return html`<div class="frame" style=${placed({ height: `${height}px` })}>
      <svg width=${width} height=${height} role="group" aria-label="The stack to scale">
        <g class="looked-at" role="img" aria-label=${this.#description(model)}>
          ${layout.slabs.map((slab) => this.#slab(slab, layout, model))} ${this.#axes(layout, model)}
          ${this.#conductors(model.transmitter, 'transmitter', 0, 0, 0, layout)}
          ${this.#conductors(model.receiver, 'receiver', model.offsetXMm, layout.receiverMiddle, model.tiltYDeg, layout)}
          ${this.#gapDimension(layout)} ${this.#offsetDimension(layout, model)} ${this.#ghost(layout)}
        </g>
        ${layout.slabs.map((slab) => this.#grip(slab, layout, model))} ${this.#ring(layout, model)}
      </svg>
      ${layout.slabs.map(
        (slab) => html`<div
          class="place from-left label"
          style=${placed({ left: `${layout.right + 30}px`, top: `${slab.labelY}px` })}
        >
          <slot name=${slab.slot}></slot>
        </div>`,
      )}
      <div
        class="place to-right"
        style=${placed({
          left: `${layout.left - 24}px`,
          top: `${layout.y((layout.transmitterTop + layout.receiverBottom) / 2)}px`,
        })}
      >
        <slot name="gap"></slot>
      </div>
      ${this.#offsetField(layout, model)}
    </div>`;
  }

  #description(model: SideViewModel): string {
    const layers = model.layers.map((layer) => `${layer.name} ${withUnit(layer.thicknessMm, 'mm', 2)}`);
    const stack = layers.length > 0 ? ` made of ${layers.join(', ')}` : '';
    return `Section through both coils: a gap of ${withUnit(model.gapMm, 'mm', 2)}${stack}.`;
  }

  #slab(slab: SideSlab, layout: SideLayout, model: SideViewModel): unknown {
    const end = layout.right + 10;
    // The receiver's plates tilt with its winding, about its middle.
    const tiltDeg = slab.part.kind === 'plate' && slab.part.side === 'receiver' ? model.tiltYDeg : 0;
    const tilt = (tiltDeg * Math.PI) / 180;
    const [cx, cy] = [layout.x(model.offsetXMm), layout.y(layout.receiverMiddle)];
    const [dx, dy] = [slab.x + slab.width - cx, slab.y + slab.height / 2 - cy];
    const from = cx + dx * Math.cos(tilt) - dy * Math.sin(tilt);
    const middle = cy + dx * Math.sin(tilt) + dy * Math.cos(tilt);
    const turned = tiltDeg === 0 ? nothing : `rotate(${tiltDeg} ${cx} ${cy})`;
    return svg`<rect class="slab ${slab.material} ${slab.slot === this.marked ? 'marked' : ''}"
        x=${slab.x} y=${slab.y} width=${slab.width} height=${Math.max(slab.height, 0.75)} transform=${turned}></rect>
      <path class="leader" d=${`M${from + 2},${middle}H${end - 6}L${layout.right + 24},${slab.labelY}`}></path>`;
  }

  /** Centre lines, dash-dotted as on any drawing. */
  #axes(layout: SideLayout, model: SideViewModel): unknown {
    const top = 30;
    const low = layout.height - 2;
    const x1 = layout.x(model.offsetXMm);
    return svg`<line class="centre transmitter" x1=${layout.x(0)} x2=${layout.x(0)} y1=${top} y2=${low}></line>
      <line class="centre receiver" x1=${x1} x2=${x1} y1=${top} y2=${layout.y(layout.transmitterTop)}></line>`;
  }

  /** Drawn once about the coil's own middle, then moved as one. */
  #conductors(
    coil: SideCoil,
    side: 'transmitter' | 'receiver',
    centreMm: number,
    middleMm: number,
    tiltDeg: number,
    layout: SideLayout,
  ): unknown {
    const turn = tiltDeg === 0 ? '' : ` rotate(${tiltDeg})`;
    const { pxPerMm } = layout;
    return svg`<g class="conductors ${side}" transform=${`translate(${layout.x(centreMm)} ${layout.y(middleMm)})${turn}`}>
      ${guard([coil.sectionMm, coil.conductorWidthMm, coil.conductorHeightMm, coil.round, pxPerMm], () => this.#marks(coil, pxPerMm))}
    </g>`;
  }

  #marks(coil: SideCoil, pxPerMm: number): unknown {
    const { sectionMm, conductorWidthMm, conductorHeightMm } = coil;
    const rx = Math.max((conductorWidthMm * pxPerMm) / 2 - 0.3, 0.6);
    const ry = Math.max((conductorHeightMm * pxPerMm) / 2 - 0.3, 0.4);
    const marks: unknown[] = [];
    for (let i = 0; i < sectionMm.length; i += 2) {
      const x = sectionMm[i] * pxPerMm;
      const y = -sectionMm[i + 1] * pxPerMm;
      marks.push(
        coil.round
          ? svg`<circle cx=${x} cy=${y} r=${rx}></circle>`
          : svg`<rect x=${x - rx} y=${y - ry} width=${2 * rx} height=${2 * ry}></rect>`,
      );
    }
    return marks;
  }

  #gapDimension(layout: SideLayout): unknown {
    const x = layout.left - 13;
    const low = layout.y(layout.transmitterTop);
    const high = layout.y(layout.receiverBottom);
    return svg`<path class="extension" d=${`M${layout.left - 3},${low}H${x - 6}M${layout.left - 3},${high}H${x - 6}`}></path>
      ${dimensionLine(x, low, x, high)}`;
  }

  #offsetDimension(layout: SideLayout, model: SideViewModel): unknown {
    if (Math.abs(model.offsetXMm) * layout.pxPerMm < 1) return nothing;
    return dimensionLine(layout.x(0), 22, layout.x(model.offsetXMm), 22);
  }

  #offsetField(layout: SideLayout, model: SideViewModel): unknown {
    const x = layout.x(model.offsetXMm);
    const side = model.offsetXMm >= 0 ? 'from-left' : 'to-right';
    const left = model.offsetXMm >= 0 ? Math.max(x, layout.x(0)) + 20 : Math.min(x, layout.x(0)) - 20;
    return html`<div class="place ${side} offset" style=${placed({ left: `${left}px`, top: '22px' })}>
      <slot name="offset-x"></slot>
    </div>`;
  }

  #ghost(layout: SideLayout): unknown {
    if (this.ghostGapMm === null) return nothing;
    const y = layout.y(layout.transmitterTop + this.ghostGapMm);
    return svg`<line class="crosshair" x1=${layout.left} x2=${layout.right} y1=${y} y2=${y}></line>`;
  }

  /** A knob at a layer's label, since a felt of a third of a millimetre is too thin to take hold of; the slab itself too. */
  #grip(slab: SideSlab, layout: SideLayout, model: SideViewModel): unknown {
    if (slab.part.kind !== 'layer') return nothing;
    const index = slab.part.index;
    const layer = model.layers[index];
    return svg`<g class="handle layer" tabindex="0" role="slider" aria-orientation="vertical"
      aria-label=${`Thickness of ${layer.name}`} aria-valuemin="0" aria-valuemax="1000" aria-valuenow=${layer.thicknessMm}
      aria-valuetext=${withUnit(layer.thicknessMm, 'mm', 2)}
      @pointerdown=${(event: PointerEvent) => this.#onLayerDown(event, index)}
      @keydown=${(event: KeyboardEvent) => this.#onLayerKey(event, index)}>
      <rect class="target" x=${slab.x} y=${slab.y} width=${slab.width} height=${Math.max(slab.height, 2)}></rect>
      <circle class="target" cx=${layout.right + 19} cy=${slab.labelY} r="12"></circle>
      <circle class="focus" cx=${layout.right + 19} cy=${slab.labelY} r="8"></circle>
      <circle class="knob" cx=${layout.right + 19} cy=${slab.labelY} r="4"></circle>
    </g>`;
  }

  #ring(layout: SideLayout, model: SideViewModel): unknown {
    const x = layout.x(model.offsetXMm);
    const y = layout.y(layout.receiverBottom);
    return svg`<g class="handle ring" tabindex="0" role="slider" aria-label="Receiver: gap and offset along x"
      aria-valuemin="0" aria-valuemax="1000" aria-valuenow=${model.gapMm}
      aria-valuetext=${`gap ${withUnit(model.gapMm, 'mm', 2)}, x ${withUnit(model.offsetXMm, 'mm', 2)}`}
      transform=${`translate(${x} ${y})`} @pointerdown=${this.#onRingDown} @keydown=${this.#onRingKey}>
      <circle class="target" r="20"></circle>
      <circle class="focus" r="12"></circle>
      <circle class="knob" r="7.5"></circle>
      <circle class="dot" r="2"></circle>
    </g>`;
  }

  #emit<T>(name: string, detail: T): void {
    this.dispatchEvent(new CustomEvent<T>(name, { detail, bubbles: true, composed: true }));
  }

  #hold(phase: DragPhase): void {
    this.#held = phase === 'start' || phase === 'move' ? this.#layout?.extent : undefined;
    if (phase === 'end' || phase === 'cancel') this.requestUpdate();
  }

  #onLayerDown(event: PointerEvent, index: number): void {
    const from = this.model?.layers[index]?.thicknessMm ?? 0;
    // A knob at a label moves ten pixels a millimetre at least, so that a tenth can be set.
    const scale = Math.max(this.#layout?.pxPerMm ?? 10, 10);
    let start = 0;
    followPointer(event, {
      origin: this._frameElement,
      moved: (_x, y, phase, source) => {
        if (phase === 'start') start = y;
        this.#hold(phase);
        const step = source.shiftKey ? 0.01 : LAYER_STEP;
        const still = phase === 'start' || phase === 'cancel';
        const thicknessMm = still ? from : Math.max(0, rounded(from + (start - y) / scale, step));
        this.#emit<LayerDraggedDetail>('layer-dragged', { index, thicknessMm, phase });
      },
    });
  }

  #onLayerKey(event: KeyboardEvent, index: number): void {
    const step = arrowStep(event, LAYER_STEP, 0.01, 1);
    if (!step) return;
    event.preventDefault();
    const from = this.model?.layers[index]?.thicknessMm ?? 0;
    const thicknessMm = Math.max(0, rounded(from + step[0] + step[1], 0.01));
    this.#emit<LayerDraggedDetail>('layer-dragged', { index, thicknessMm, phase: 'step' });
  }

  readonly #onRingDown = (event: PointerEvent): void => {
    const model = this.model;
    const layout = this.#layout;
    if (!model || !layout) return;
    const scale = layout.pxPerMm;
    let start: [number, number] = [0, 0];
    // The first few pixels decide between up and sideways: the other axis then stays as it is.
    let axis: 'gap' | 'offsetX' | null = null;
    followPointer(event, {
      origin: this._frameElement,
      moved: (x, y, phase, source) => {
        if (phase === 'start') {
          start = [x, y];
          this.#hold(phase);
          return;
        }
        this.#hold(phase);
        const dx = x - start[0];
        const dy = start[1] - y;
        if (axis === null) {
          if (phase === 'cancel' || Math.hypot(dx, dy) < 4) return;
          axis = Math.abs(dx) >= Math.abs(dy) ? 'offsetX' : 'gap';
          const value = axis === 'gap' ? model.gapMm : model.offsetXMm;
          this.#emit<ReceiverShiftedDetail>('receiver-shifted', { axis, value, phase: 'start' });
        }
        const step = source.shiftKey ? 0.01 : 0.1;
        const from = axis === 'gap' ? model.gapMm : model.offsetXMm;
        const moved = rounded(from + (axis === 'gap' ? dy : dx) / scale, step);
        const value = phase === 'cancel' ? from : axis === 'gap' ? Math.max(Math.min(0.1, from), moved) : moved;
        this.#emit<ReceiverShiftedDetail>('receiver-shifted', { axis, value, phase });
      },
    });
  };

  readonly #onRingKey = (event: KeyboardEvent): void => {
    const step = arrowStep(event, 0.5, 0.1, 2);
    const model = this.model;
    if (!step || !model) return;
    event.preventDefault();
    const axis = step[0] !== 0 ? 'offsetX' : 'gap';
    const least = Math.min(0.1, model.gapMm);
    const value = axis === 'gap' ? Math.max(least, model.gapMm + step[1]) : model.offsetXMm + step[0];
    this.#emit<ReceiverShiftedDetail>('receiver-shifted', { axis, value: rounded(value, 0.01), phase: 'step' });
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-side-view': SideView;
  }
}
