import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';

/**
 * How far long work has come, and a way to stop it. Takes its place also when nothing runs, so that nothing moves.
 *
 * @fires stop-requested - nobody wants to wait any longer.
 */
@customElement('oc-progress')
export class ProgressLine extends LitElement {
  static override readonly styles = css`
    :host {
      display: flex;
      align-items: center;
      gap: 10px;
      min-height: 26px;
      font: 400 var(--size-small, 13px) / 1.4 var(--font-text);
      color: var(--soft);
      font-variant-numeric: tabular-nums;
    }
    .bar {
      position: relative;
      flex: 0 9 120px;
      min-width: 40px;
      height: 3px;
      overflow: hidden;
      background: var(--rule);
      border-radius: 1.5px;
    }
    .done {
      position: absolute;
      inset: 0;
      background: var(--ink);
      transform-origin: left;
      transition: transform 120ms linear;
    }
    .bar.unknown .done {
      width: 30%;
      animation: pass 1.4s ease-in-out infinite alternate;
    }
    @keyframes pass {
      to {
        transform: translateX(233%);
      }
    }
    /* One line, however long the stage's name: nothing below moves from stage to stage. */
    span {
      min-width: 0;
      overflow: hidden;
      text-overflow: ellipsis;
      white-space: nowrap;
    }
    /* Two lines' room where there may be two. */
    @media (max-width: 720px) {
      :host {
        min-height: 38px;
      }
      span {
        overflow: visible;
        white-space: normal;
      }
    }
    button {
      flex: none;
      font: inherit;
      color: var(--ink);
      background: none;
      border: 0;
      border-bottom: 1px solid var(--soft);
      padding: 2px 0;
      cursor: pointer;
    }
    button:hover {
      border-bottom-color: var(--ink);
    }
    button:focus-visible {
      outline: 2px solid var(--ink);
      outline-offset: 3px;
    }
    @media (prefers-reduced-motion: reduce) {
      .done {
        transition: none;
      }
      .bar.unknown .done {
        animation: none;
        width: 100%;
        opacity: 0.4;
      }
    }
  `;

  /** Whether something runs. */
  @property({ type: Boolean, reflect: true }) running = false;
  /** 0..1; null: nobody knows. */
  @property({ attribute: false }) fraction: number | null = null;
  /** What is going on, in a few words. */
  @property() stage = '';
  /** Word on the button. */
  @property({ attribute: 'stop-label' }) stopLabel = 'Stop';

  protected override render() {
    if (!this.running) return nothing;
    const percent = this.fraction === null ? null : Math.round(100 * Math.min(1, Math.max(0, this.fraction)));
    return html`<div
        class="bar ${percent === null ? 'unknown' : ''}"
        role="progressbar"
        aria-label=${this.stage === '' ? 'Progress' : this.stage}
        aria-valuemin="0"
        aria-valuemax="100"
        aria-valuenow=${percent ?? nothing}
      >
        <div class="done"></div>
      </div>
      <span>${this.stage}${percent === null ? '' : ` ${percent} %`}</span>
      <button type="button" @click=${this.#stop}>${this.stopLabel}</button>`;
  }

  /** Through the style object: a style attribute would be refused where the page allows no inline styles. */
  protected override updated(): void {
    const done = this.renderRoot.querySelector<HTMLElement>('.done');
    const share = this.fraction === null ? '' : `scaleX(${Math.min(1, Math.max(0, this.fraction))})`;
    if (done !== null) done.style.transform = share;
  }

  readonly #stop = (): void => {
    this.dispatchEvent(new CustomEvent('stop-requested', { bubbles: true, composed: true }));
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-progress': ProgressLine;
  }
  interface HTMLElementEventMap {
    'stop-requested': CustomEvent<undefined>;
  }
}
