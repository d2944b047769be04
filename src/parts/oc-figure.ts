import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import './oc-word.ts';

export type FigureFormat = 'svg' | 'png' | 'csv';

export interface ExportRequestedDetail {
  readonly action: 'copy' | 'save';
  readonly format: FigureFormat;
}

interface MenuItem extends ExportRequestedDetail {
  readonly words: string;
}

const ITEMS: readonly MenuItem[] = [
  { action: 'copy', format: 'png', words: 'Copy picture' },
  { action: 'copy', format: 'svg', words: 'Copy SVG' },
  { action: 'copy', format: 'csv', words: 'Copy numbers' },
  { action: 'save', format: 'svg', words: 'Save SVG' },
  { action: 'save', format: 'png', words: 'Save PNG' },
  { action: 'save', format: 'csv', words: 'Save CSV' },
];

/** How long it stands there what came of taking a figure along, ms. */
const TOLD_MS = 2500;

/**
 * A figure without a box: title, a hint that says what to do with it (or what stands under the pointer), the drawing, and
 * a quiet way to take it along.
 *
 * @slot - the drawing
 * @slot beneath - a line under it, for example progress
 * @fires export-requested - `ExportRequestedDetail`
 */
@customElement('oc-figure')
export class Figure extends LitElement {
  static override readonly styles = css`
    :host {
      display: block;
      min-width: 0;
    }
    figure {
      margin: 0;
      min-width: 0;
    }
    figcaption {
      position: relative;
      display: flex;
      align-items: baseline;
      gap: 4px 14px;
      margin-bottom: 6px;
      min-height: 26px;
      font: 400 var(--size-text, 15px) / 1.45 var(--font-text);
    }
    h2 {
      font: inherit;
      font-weight: 600;
      margin: 0;
      color: var(--ink);
      white-space: nowrap;
      --word-line: var(--rule);
    }
    /* The hint keeps its room while a reading takes its place, so that nothing below moves. */
    .said {
      flex: 1 1 0;
      min-width: 0;
      display: grid;
    }
    .said > * {
      grid-area: 1 / 1;
      min-width: 0;
      color: var(--soft);
      text-align: right;
      overflow: hidden;
      text-overflow: ellipsis;
      white-space: nowrap;
      font-variant-numeric: tabular-nums;
    }
    .said > .reading {
      color: var(--ink);
    }
    .rest {
      visibility: hidden;
    }
    .spoken {
      position: absolute;
      margin: 0;
      width: 1px;
      height: 1px;
      overflow: hidden;
      clip-path: inset(50%);
      white-space: nowrap;
    }
    button {
      font: inherit;
      font-size: var(--size-small, 13px);
      color: var(--soft);
      background: none;
      border: 0;
      padding: 0;
      cursor: pointer;
    }
    .open {
      border-bottom: 1px dotted var(--soft);
      white-space: nowrap;
    }
    .open:hover,
    .open[aria-expanded='true'] {
      color: var(--ink);
    }
    button:focus-visible {
      outline: 2px solid var(--ink);
      outline-offset: 2px;
    }
    .menu {
      position: absolute;
      z-index: 5;
      right: 0;
      top: 100%;
      display: grid;
      min-width: 9.5em;
      padding: 5px 0;
      background: var(--sheet);
      border: 1px solid var(--rule);
      border-radius: 4px;
      box-shadow: 0 4px 18px color-mix(in srgb, black 16%, transparent);
    }
    .menu button {
      text-align: left;
      color: var(--ink);
      padding: 5px 14px;
    }
    .menu button:is(:hover, :focus) {
      background: var(--grid);
    }
    .menu button:focus-visible {
      outline-offset: -2px;
    }
    @media (max-width: 720px) {
      figcaption {
        flex-wrap: wrap;
      }
      h2 {
        flex: 1 1 auto;
      }
      .said {
        order: 1;
        flex-basis: 100%;
      }
      .said > * {
        text-align: left;
        white-space: normal;
      }
      .said > .reading {
        white-space: nowrap;
      }
    }
    @media print {
      .hint:not(.reading),
      .rest,
      .open,
      .menu {
        display: none;
      }
    }
  `;

  @property() heading = '';
  @property() hint = '';
  /** What the heading means, said on request; empty: nothing is. */
  @property() meaning = '';
  @property() formula = '';
  @property() source = '';
  /** What stands under the pointer; takes the hint's place. */
  @property() reading = '';
  /** What can be taken along. */
  @property({ attribute: false, hasChanged: (now, before) => `${now}` !== `${before}` })
  formats: readonly FigureFormat[] = [];
  /** Word on the menu's button. */
  @property({ attribute: 'menu-label' }) menuLabel = 'Take along';
  @state() private open = false;
  @state() private told = '';
  #timer: ReturnType<typeof setTimeout> | null = null;

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#close();
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.told = '';
  }

  /** Says for a moment what came of taking it along. */
  tell(what: string): void {
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.told = what;
    this.#timer = setTimeout(() => {
      this.told = '';
    }, TOLD_MS);
  }

  protected override render() {
    const now = this.told === '' ? this.reading : this.told;
    const shown = now === '' ? this.hint : now;
    return html`<figure>
      <figcaption>
        <h2>${this.meaning === '' ? this.heading : html`<oc-word meaning=${this.meaning} formula=${this.formula} source=${this.source}>${this.heading}</oc-word>`}</h2>
        <span class="said"
          ><span class="hint ${now === '' ? '' : 'reading'}" title=${shown}>${shown}</span>${
            now === '' ? nothing : html`<span class="rest" aria-hidden="true">${this.hint}</span>`
          }</span
        >
        ${this.formats.length === 0 ? nothing : this.#menu()}
      </figcaption>
      <p class="spoken" role="status">${this.told}</p>
      <slot></slot>
      <slot name="beneath"></slot>
    </figure>`;
  }

  #menu() {
    const items = ITEMS.filter((item) => this.formats.includes(item.format));
    return html`<button
        type="button"
        class="open"
        aria-haspopup="menu"
        aria-expanded=${this.open ? 'true' : 'false'}
        aria-label="${this.menuLabel}: ${this.heading}"
        @click=${this.#toggle}
        @keydown=${this.#onButtonKey}
      >
        ${this.menuLabel}
      </button>
      ${
        this.open
          ? html`<div class="menu" role="menu" aria-label=${this.menuLabel} @keydown=${this.#onMenuKey}>
              ${items.map(
                (item) =>
                  html`<button type="button" role="menuitem" tabindex="-1" @click=${() => this.#choose(item)}>
                    ${item.words}
                  </button>`,
              )}
            </div>`
          : nothing
      }`;
  }

  readonly #toggle = (): void => {
    if (this.open) this.#close();
    else void this.#show(0);
  };

  async #show(focus: number): Promise<void> {
    this.open = true;
    document.addEventListener('pointerdown', this.#onOutside, true);
    await this.updateComplete;
    const items = this.#items();
    items.at(focus)?.focus();
  }

  #close(): void {
    document.removeEventListener('pointerdown', this.#onOutside, true);
    this.open = false;
  }

  #items(): HTMLElement[] {
    return [...this.renderRoot.querySelectorAll<HTMLElement>('[role=menuitem]')];
  }

  #choose(item: MenuItem): void {
    this.#close();
    this.renderRoot.querySelector<HTMLElement>('.open')?.focus();
    const detail: ExportRequestedDetail = { action: item.action, format: item.format };
    this.dispatchEvent(new CustomEvent('export-requested', { detail, bubbles: true, composed: true }));
  }

  readonly #onOutside = (event: Event): void => {
    if (!event.composedPath().includes(this)) this.#close();
  };

  readonly #onButtonKey = (event: KeyboardEvent): void => {
    if (event.key !== 'ArrowDown' && event.key !== 'ArrowUp') return;
    event.preventDefault();
    void this.#show(event.key === 'ArrowDown' ? 0 : -1);
  };

  readonly #onMenuKey = (event: KeyboardEvent): void => {
    const items = this.#items();
    const now = items.indexOf(event.target as HTMLElement);
    const to = { ArrowDown: now + 1, ArrowUp: now - 1, Home: 0, End: -1 }[event.key];
    if (to !== undefined) {
      event.preventDefault();
      items.at(to >= items.length ? 0 : to)?.focus();
    } else if (event.key === 'Escape') {
      event.stopPropagation();
      this.#close();
      this.renderRoot.querySelector<HTMLElement>('.open')?.focus();
    } else if (event.key === 'Tab') this.#close();
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-figure': Figure;
  }
  interface HTMLElementEventMap {
    'export-requested': CustomEvent<ExportRequestedDetail>;
  }
}
