import { css, html, LitElement } from 'lit';
import { customElement, property } from 'lit/decorators.js';

export interface ChoiceOption {
  readonly value: string;
  readonly label: string;
}

export interface ChoiceMadeDetail {
  readonly value: string;
}

/**
 * One of a few: words side by side, the chosen one underlined. Native radio buttons underneath, so that arrows, Tab and
 * screen readers work as everywhere.
 *
 * @fires choice-made - `ChoiceMadeDetail`: another option was chosen.
 */
@customElement('oc-choice')
export class Choice extends LitElement {
  static override readonly styles = css`
    :host {
      display: block;
      font: 400 var(--size-text, 15px) / 1.45 var(--font-text);
    }
    fieldset {
      all: unset;
      display: flex;
      flex-wrap: wrap;
      gap: 2px 16px;
      align-items: baseline;
    }
    legend {
      all: unset;
      float: left;
      color: var(--soft);
      font-size: var(--size-small, 13px);
    }
    label {
      position: relative;
      padding: 3px 0 4px;
      color: var(--soft);
      cursor: pointer;
      border-bottom: 2px solid transparent;
    }
    label:hover {
      color: var(--ink);
    }
    label:has(input:checked) {
      color: var(--ink);
      border-bottom-color: var(--ink);
    }
    /* Where the system sets the colours, what is transparent is drawn: only the choice may have a line. */
    @media (forced-colors: active) {
      label:not(:has(input:checked)) {
        border-bottom-color: Canvas;
      }
    }
    label:has(input:focus-visible) {
      outline: 2px solid var(--ink);
      outline-offset: 3px;
      border-radius: 1px;
    }
    label:has(input:disabled) {
      cursor: default;
      opacity: 0.6;
    }
    input {
      position: absolute;
      inset: 0;
      margin: 0;
      opacity: 0;
      cursor: inherit;
    }
  `;
  static override readonly shadowRootOptions: ShadowRootInit = {
    ...LitElement.shadowRootOptions,
    delegatesFocus: true,
  };

  @property() label = '';
  @property({ attribute: false }) options: readonly ChoiceOption[] = [];
  @property() value = '';
  @property({ type: Boolean, reflect: true }) disabled = false;

  protected override render() {
    return html`<fieldset>
      <legend>${this.label}</legend>
      ${this.options.map(
        (option) =>
          html`<label
            ><input
              type="radio"
              name="choice"
              value=${option.value}
              ?disabled=${this.disabled}
              .checked=${option.value === this.value}
              @change=${this.#onChange}
            />${option.label}</label
          >`,
      )}
    </fieldset>`;
  }

  readonly #onChange = (event: Event): void => {
    const { value } = event.target as HTMLInputElement;
    const detail: ChoiceMadeDetail = { value };
    this.dispatchEvent(new CustomEvent('choice-made', { detail, bubbles: true, composed: true }));
    // Data comes from above: until it does, the picture and the property must agree.
    this.requestUpdate();
  };

  protected override updated(): void {
    for (const input of this.renderRoot.querySelectorAll('input')) input.checked = input.value === this.value;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-choice': Choice;
  }
  interface HTMLElementEventMap {
    'choice-made': CustomEvent<ChoiceMadeDetail>;
  }
}
