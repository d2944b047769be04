import { css, html, LitElement } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { live } from 'lit/directives/live.js';
import type { UnitName } from '../units/unit-table.ts';
import { NumberEntry, type ParseText, type TextRefusedDetail, type ValueCommittedDetail } from './number-entry.ts';
import { numberStyle } from './number-style.ts';

/**
 * A number with its unit under a label.
 *
 * @fires value-committed - `ValueCommittedDetail`: a good number was typed or stepped to.
 * @fires text-refused - `TextRefusedDetail`: what was typed cannot be taken and stays in the field.
 */
@customElement('oc-unit-field')
export class UnitField extends LitElement {
  static override readonly styles = [
    numberStyle,
    css`
      :host {
        display: block;
        font-family: var(--font-text);
        min-width: 0;
      }
      label {
        display: block;
        color: var(--soft);
        font-size: var(--size-small, 13px);
        line-height: 1.4;
      }
      .entry {
        display: grid;
        font-size: var(--size-number, 19px);
        font-weight: 500;
        line-height: 1.4;
      }
      .beneath {
        display: block;
        min-height: 1.4em;
        margin-top: 2px;
        color: var(--soft);
        font-size: var(--size-small, 13px);
        line-height: 1.4;
      }
      .beneath.wrong {
        color: var(--bad);
      }
    `,
  ];
  static override readonly shadowRootOptions: ShadowRootInit = {
    ...LitElement.shadowRootOptions,
    delegatesFocus: true,
  };

  @property() label = '';
  /** Name in `UNITS`; the value is in it. */
  @property() unit: UnitName = '1';
  @property({ attribute: false }) value = 0;
  @property({ type: Number }) min: number | null = null;
  @property({ type: Number }) max: number | null = null;
  /** Of the arrow keys, in the unit; null: a step that suits the number. */
  @property({ type: Number }) step: number | null = null;
  /** Refused text kept elsewhere, shown instead of the value. */
  @property({ attribute: false }) draft: string | null = null;
  /** What is wrong with the value, as a sentence, where somebody else found it. */
  @property() fault = '';
  /** Where the number comes from, or what it does; stands beneath while nothing is wrong. */
  @property() hint = '';
  @property({ type: Boolean, reflect: true }) disabled = false;
  /** Reads typed text; null: the units of the program. */
  @property({ attribute: false }) parse: ParseText | null = null;

  readonly #entry = new NumberEntry(this);

  protected override render() {
    const { text, complaint, spokenUnit } = this.#entry;
    const name = spokenUnit === '' ? this.label : `${this.label}, ${spokenUnit}`;
    return html`<label for="number">${this.label}</label>
      <span class="entry">
        <input
          id="number"
          type="text"
          inputmode="decimal"
          autocomplete="off"
          spellcheck="false"
          aria-label=${name}
          aria-invalid=${complaint === '' ? 'false' : 'true'}
          aria-describedby="beneath"
          ?disabled=${this.disabled}
          .value=${live(text)}
          @focus=${this.#entry.onFocus}
          @input=${this.#entry.onInput}
          @change=${this.#entry.onChange}
          @keydown=${this.#entry.onKey}
        />
      </span>
      <span id="beneath" class="beneath ${complaint === '' ? '' : 'wrong'}" aria-live="polite"
        >${complaint === '' ? this.hint : complaint}</span
      >`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-unit-field': UnitField;
  }
  interface HTMLElementEventMap {
    'value-committed': CustomEvent<ValueCommittedDetail>;
    'text-refused': CustomEvent<TextRefusedDetail>;
  }
}
