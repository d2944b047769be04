import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';

/**
 * A note in the text: a caution where something can hurt, or help where a word needs it.
 *
 * @slot - the text; keep it to a sentence or two.
 */
@customElement('oc-note')
export class Note extends LitElement {
  static override readonly styles = css`
    :host {
      display: block;
      font: 400 var(--size-small, 13px) / 1.5 var(--font-text);
      color: var(--ink);
      max-width: 70ch;
    }
    div {
      display: grid;
      grid-template-columns: auto 1fr;
      gap: 0 9px;
      align-items: start;
    }
    svg {
      width: 17px;
      height: 17px;
      margin-top: 1px;
      fill: none;
      stroke: var(--bad);
      stroke-width: 1.6;
      stroke-linejoin: round;
      stroke-linecap: round;
    }
    b {
      font-weight: 650;
      color: var(--bad);
    }
    .help {
      color: var(--soft);
      grid-template-columns: 1fr;
      border-left: 2px solid var(--rule);
      padding-left: 10px;
    }
  `;

  @property({ reflect: true }) kind: 'caution' | 'help' = 'caution';
  /** The word before a caution. */
  @property() word = 'Caution';

  protected override render() {
    const caution = this.kind === 'caution';
    return html`<div role="note" class=${this.kind} aria-label=${caution ? this.word : nothing}>
      ${
        caution
          ? html`<svg viewBox="0 0 18 18" aria-hidden="true"><path d="M9 2.2 16.4 15.4H1.6Z" /><path d="M9 7v4M9 13.1v.2" /></svg>`
          : nothing
      }
      <span>${caution ? html`<b>${this.word}.</b> ` : nothing}<slot></slot></span>
    </div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-note': Note;
  }
}
