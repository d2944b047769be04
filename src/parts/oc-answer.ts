import { css, html, LitElement, nothing, type PropertyValues } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { keyed } from 'lit/directives/keyed.js';

/** A stretch of the answer: `uncertain` is smaller and grey, `bad` in the colour of bad news. */
export interface AnswerStretch {
  readonly text: string;
  readonly tone: 'plain' | 'strong' | 'uncertain' | 'bad';
}

/** The answer is read out once it has stood still for this long, ms: not at every step of a drag. */
const QUIET_MS = 900;

/**
 * The answer line: one sentence in the book face, its uncertainty in a lighter grey, bad news in one colour; one line of
 * why beneath. Keeps its height, so that nothing below it jumps. Said to screen readers once it stands still.
 *
 * @cssprop --answer-lines - room kept for the answer, in lines; two, on a narrow page four
 * @cssprop --why-lines - room kept beneath it; one, on a narrow page three
 */
@customElement('oc-answer')
export class Answer extends LitElement {
  static override readonly styles = css`
    :host {
      display: block;
    }
    h1 {
      font: 400 clamp(22px, 2.35vw, 32px) / 1.28 var(--font-book);
      color: var(--ink);
      margin: 0 0 6px;
      max-width: 36em;
      min-height: calc(var(--answer-lines, 2) * 1.28em);
      text-wrap: balance;
    }
    b {
      font-weight: 640;
    }
    :host([settled]) h1,
    :host([settled]) p {
      min-height: 0;
    }
    .uncertain {
      color: var(--soft);
      font-size: 0.68em;
    }
    .bad {
      color: var(--bad);
    }
    p {
      font: 400 var(--size-text, 15px) / 1.45 var(--font-text);
      color: var(--soft);
      margin: 0;
      max-width: 76em;
      text-wrap: pretty;
      min-height: calc(var(--why-lines, 1) * 1.45em);
    }
    /* The words wait for the sentence that they follow. */
    p.empty slot {
      visibility: hidden;
    }
    .spoken {
      position: absolute;
      width: 1px;
      height: 1px;
      overflow: hidden;
      clip-path: inset(50%);
      white-space: nowrap;
    }
    @media (max-width: 720px) {
      h1 {
        font-size: 21px;
        min-height: calc(var(--answer-lines, 4) * 1.28em);
      }
      p {
        min-height: calc(var(--why-lines, 3) * 1.45em);
      }
    }
  `;

  // Every step of a drag brings a new list, mostly of the same words.
  @property({ attribute: false, hasChanged: (now, before) => JSON.stringify(now) !== JSON.stringify(before) })
  stretches: readonly AnswerStretch[] = [];
  @property() why = '';
  /** The sentence does not change: no room is kept for a longer one. */
  @property({ type: Boolean, reflect: true }) settled = false;
  @state() private spoken = '';
  #timer: ReturnType<typeof setTimeout> | null = null;

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('stretches')) this.#speakSoon();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.#timer = null;
  }

  #speakSoon(): void {
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.#timer = setTimeout(() => {
      this.#timer = null;
      this.spoken = this.stretches.map((s) => s.text).join('');
    }, QUIET_MS);
  }

  protected override render() {
    // Other words, not the same ones moved: a sentence that wraps anew is made anew.
    const sentence = this.stretches.map(({ text }) => text).join('|');
    return html`<h1>${keyed(sentence, this.stretches.map(stretch))}</h1>
      <p class=${this.why === '' ? 'empty' : ''}>${this.why} <slot></slot></p>
      <span class="spoken" role="status">${this.spoken}</span>`;
  }
}

function stretch({ text, tone }: AnswerStretch) {
  switch (tone) {
    case 'strong':
      return html`<b>${text}</b>`;
    case 'bad':
      return html`<b class="bad">${text}</b>`;
    case 'uncertain':
      return html`<span class="uncertain">${text}</span>`;
    case 'plain':
      return text === '' ? nothing : html`${text}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-answer': Answer;
  }
}
