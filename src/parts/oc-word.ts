import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property, query } from 'lit/decorators.js';

/** Room between the word and what is said of it, and to the window's edge, px. */
const BESIDE = 6;
const EDGE = 8;

/**
 * A word that says on request what it means, with its formula and where it comes from. Opens on click, Enter or Space, and
 * closes on Escape or a click elsewhere.
 *
 * @slot - the word itself
 */
@customElement('oc-word')
export class Word extends LitElement {
  static override readonly styles = css`
    :host {
      display: inline;
    }
    button {
      all: unset;
      cursor: help;
      text-decoration: underline dotted var(--word-line, var(--soft));
      text-decoration-thickness: 1px;
      text-underline-offset: 3px;
    }
    button:hover {
      text-decoration-color: var(--ink);
    }
    button:focus-visible {
      outline: 2px solid var(--ink);
      outline-offset: 3px;
      border-radius: 2px;
    }
    [popover] {
      position: fixed;
      inset: auto;
      margin: 0;
      width: max-content;
      max-width: min(34ch, calc(100vw - 16px));
      padding: 8px 12px 9px;
      border: 1px solid var(--rule);
      background: var(--sheet);
      color: var(--ink);
      box-shadow: 0 4px 18px rgb(0 0 0 / 0.13);
      font: 400 14px/1.45 var(--font-text);
      text-align: left;
      text-transform: none;
      white-space: normal;
    }
    @media print {
      button {
        text-decoration: none;
      }
    }
    .formula {
      display: block;
      margin-top: 4px;
      font-family: var(--font-book);
    }
    small {
      display: block;
      margin-top: 4px;
      color: var(--soft);
      font-size: var(--size-small, 13px);
    }
  `;

  @property() meaning = '';
  @property() formula = '';
  @property() source = '';
  @query('button') private _button!: HTMLButtonElement;
  @query('[popover]') private _help!: HTMLElement;

  protected override render(): TemplateResult {
    return html`<button type="button" popovertarget="help" aria-describedby="help"><slot></slot></button
      ><span id="help" popover @toggle=${this.#onToggle}
        >${this.meaning}${this.formula === '' ? nothing : html`<span class="formula">${this.formula}</span>`}${
          this.source === '' ? nothing : html`<small>${this.source}</small>`
        }</span
      >`;
  }

  /** Under the word where there is room, else over it; never beyond the window. */
  readonly #onToggle = (event: Event): void => {
    if ((event as ToggleEvent).newState !== 'open') return;
    const word = this._button.getBoundingClientRect();
    const { width, height } = this._help.getBoundingClientRect();
    const left = Math.max(EDGE, Math.min(word.left, innerWidth - width - EDGE));
    const below = word.bottom + BESIDE;
    const top = below + height > innerHeight - EDGE ? Math.max(EDGE, word.top - BESIDE - height) : below;
    this._help.style.setProperty('left', `${left}px`);
    this._help.style.setProperty('top', `${top}px`);
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-word': Word;
  }
}
