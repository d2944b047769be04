import { LitElement } from 'lit';
import { property, state } from 'lit/decorators.js';
import { forgetTextWidths, textWidth } from './text-width.ts';

/**
 * A drawing in CSS pixels: knows its own width, so that text keeps its size on a phone instead of shrinking with a
 * scaled view box.
 */
export abstract class SizedElement extends LitElement {
  /** A picture to look at: without handles. */
  @property({ type: Boolean, reflect: true }) still = false;
  /** Width of the host in px; 0 before it is laid out. */
  @state() protected widthPx = 0;
  #observer: ResizeObserver | null = null;
  #family = '';
  #frameRequest = 0;

  override connectedCallback(): void {
    super.connectedCallback();
    this.widthPx = Math.round(this.clientWidth);
    this.#observer = new ResizeObserver((entries) => {
      const width = Math.round(entries[entries.length - 1].contentRect.width);
      if (width === this.widthPx) return;
      // Not within the notification: drawing anew changes heights, which the browser would have to notify again.
      cancelAnimationFrame(this.#frameRequest);
      this.#frameRequest = requestAnimationFrame(() => {
        this.widthPx = width;
      });
    });
    this.#observer.observe(this);
    document.fonts.addEventListener('loadingdone', this.#onFonts);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#observer?.disconnect();
    cancelAnimationFrame(this.#frameRequest);
    this.#observer = null;
    document.fonts.removeEventListener('loadingdone', this.#onFonts);
  }

  readonly #onFonts = (): void => {
    forgetTextWidths();
    this.requestUpdate();
  };

  /** Width of a figure label in the page's text face, px. */
  protected labelWidth(text: string, weight = 400): number {
    if (this.#family === '') this.#family = getComputedStyle(this).fontFamily || 'sans-serif';
    return textWidth(text, `${weight} 12.5px ${this.#family}`);
  }
}
