import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { live } from 'lit/directives/live.js';
import type { UnitName } from '../units/unit-table.ts';
import { NumberEntry, type ParseText } from './number-entry.ts';
import { numberStyle } from './number-style.ts';

/**
 * A number that stands on a drawing and is typed over there. Behaves as `oc-unit-field`; what is wrong is said in a small
 * note beneath that covers the drawing instead of moving it.
 *
 * @fires value-committed - `ValueCommittedDetail`
 * @fires text-refused - `TextRefusedDetail`
 * @cssprop --of - colour of a thin mark before the number: copper for the transmitter, steel for the receiver.
 */
@customElement('oc-dimension')
export class Dimension extends LitElement {
  static override readonly styles = [
    numberStyle,
    css`
      :host {
        display: inline-block;
        position: relative;
        font: 500 14px / 1.35 var(--font-text);
        color: var(--ink);
        white-space: nowrap;
      }
      :host([on-drawing]) {
        background: color-mix(in srgb, var(--sheet) 88%, transparent);
        border-radius: 3px;
        padding: 0 4px 1px;
      }
      :host([side='transmitter']) {
        --of: var(--copper);
      }
      :host([side='receiver']) {
        --of: var(--steel);
      }
      :host([side]) {
        padding-left: 10px;
      }
      :host([side])::before {
        content: '';
        position: absolute;
        left: 3px;
        top: 4px;
        bottom: 4px;
        width: 2px;
        border-radius: 1px;
        background: var(--of);
      }
      .caption {
        color: var(--soft);
        font-weight: 400;
        margin-right: 0.35em;
      }
      :host(:focus-within),
      :host(:hover) {
        z-index: 2;
      }
      input:focus-visible {
        outline-offset: 2px;
      }
      .wrong {
        position: absolute;
        z-index: 3;
        left: 0;
        top: calc(100% + 4px);
        width: max-content;
        max-width: 15rem;
        white-space: normal;
        padding: 4px 8px;
        font-weight: 400;
        font-size: var(--size-small, 13px);
        color: var(--bad);
        background: var(--sheet);
        border: 1px solid var(--bad);
        border-radius: 3px;
      }
      .wrong:empty {
        display: none;
      }
    `,
  ];
  static override readonly shadowRootOptions: ShadowRootInit = {
    ...LitElement.shadowRootOptions,
    delegatesFocus: true,
  };

  /** Said, not shown. */
  @property() label = '';
  /** Shown before the number where the drawing does not say what it is. */
  @property() caption = '';
  @property() unit: UnitName = 'mm';
  @property({ attribute: false }) value = 0;
  @property({ type: Number }) min: number | null = null;
  @property({ type: Number }) max: number | null = null;
  @property({ type: Number }) step: number | null = null;
  @property({ attribute: false }) draft: string | null = null;
  @property() fault = '';
  /** Whose dimension it is; gives the mark before it its colour. */
  @property({ reflect: true }) side: 'transmitter' | 'receiver' | null = null;
  /** Backed by paper, so that it can be read over anything drawn. */
  @property({ type: Boolean, reflect: true, attribute: 'on-drawing' }) onDrawing = false;
  @property({ attribute: false }) parse: ParseText | null = null;

  readonly #entry = new NumberEntry(this);

  protected override render() {
    const { text, complaint, spokenUnit } = this.#entry;
    const name = spokenUnit === '' ? this.label : `${this.label}, ${spokenUnit}`;
    return html`${this.caption === '' ? nothing : html`<span class="caption" aria-hidden="true">${this.caption}</span>`}<span
        class="entry"
        ><span class="width" aria-hidden="true">${text}</span
        ><input
          type="text"
          inputmode="decimal"
          autocomplete="off"
          spellcheck="false"
          aria-label=${name}
          aria-invalid=${complaint === '' ? 'false' : 'true'}
          aria-describedby="wrong"
          .value=${live(text)}
          @focus=${this.#entry.onFocus}
          @input=${this.#entry.onInput}
          @change=${this.#entry.onChange}
          @keydown=${this.#entry.onKey}
      /></span>
      <span id="wrong" class="wrong" aria-live="polite">${complaint}</span>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-dimension': Dimension;
  }
}
