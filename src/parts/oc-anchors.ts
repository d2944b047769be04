import { css, html, LitElement } from 'lit';
import { customElement } from 'lit/decorators.js';
import { spreadBoxes } from './spread-boxes.ts';

/** A place in a picture at which something may stand, px from the top left, with the side on which it should stand. */
export interface AnchorPlace {
  readonly id: string;
  readonly x: number;
  readonly y: number;
  readonly visible: boolean;
  readonly towardX: number;
  readonly towardY: number;
  /** Where the handle stands that the number belongs to, kept clear; null: none is offered. */
  readonly knob?: { readonly x: number; readonly y: number } | null;
}

/** Distance from an anchor to the near edge of what stands there, px. */
const BESIDE = 11;
/** Room kept free round the anchor itself, where a handle may stand, px. */
const MARK = 14;
/** Room kept free round a handle, px. */
const KNOB = 20;

/**
 * Puts elements beside places in a picture. Children say with `data-anchor` where they belong; `place()` moves them, each
 * frame if need be, without a render: they keep their focus and their text. A child stays while it has the focus or the
 * pointer, even where its place is hidden. Lies over its positioned parent and lets the pointer through.
 *
 * @slot - the elements to place
 */
@customElement('oc-anchors')
export class Anchors extends LitElement {
  static override readonly styles = css`
    :host {
      position: absolute;
      inset: 0;
      pointer-events: none;
    }
    ::slotted([data-anchor]) {
      position: absolute;
      left: 0;
      top: 0;
      visibility: hidden;
      pointer-events: auto;
    }
    ::slotted([data-anchor][data-placed]) {
      visibility: visible;
    }
  `;

  #last: readonly AnchorPlace[] = [];
  readonly #sizes = new Map<Element, { width: number; height: number }>();
  #observer: ResizeObserver | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    this.#observer = new ResizeObserver((entries) => {
      for (const entry of entries) {
        const box = entry.borderBoxSize[0];
        if (box !== undefined) this.#sizes.set(entry.target, { width: box.inlineSize, height: box.blockSize });
      }
      this.place(this.#last);
    });
    this.#observer.observe(this);
    this.#watch();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#observer?.disconnect();
    this.#observer = null;
    this.#sizes.clear();
  }

  /** Moves every child to its place. */
  place(anchors: readonly AnchorPlace[]): void {
    this.#last = anchors;
    const own = this.#sizes.get(this);
    if (own === undefined || own.width === 0) return;
    const byId = new Map(anchors.map((anchor) => [anchor.id, anchor]));
    const shown: { child: HTMLElement; box: { x: number; y: number; width: number; height: number } }[] = [];
    for (const child of this.#children()) {
      const anchor = byId.get(child.dataset.anchor ?? '');
      const size = this.#sizes.get(child);
      const wanted = anchor !== undefined && (anchor.visible || child.matches(':focus-within, :hover'));
      child.toggleAttribute('data-placed', wanted && size !== undefined);
      if (!wanted || size === undefined) continue;
      const x = anchor.x + anchor.towardX * (BESIDE + size.width / 2);
      const y = anchor.y + anchor.towardY * (BESIDE + size.height / 2);
      shown.push({ child, box: { x, y, ...size } });
    }
    const marks = anchors.filter((anchor) => anchor.visible).map(({ x, y }) => ({ x, y, width: MARK, height: MARK }));
    for (const { knob } of anchors) if (knob) marks.push({ ...knob, width: KNOB, height: KNOB });
    const centres = spreadBoxes(
      shown.map((s) => s.box),
      own.width,
      own.height,
      marks,
    );
    shown.forEach(({ child, box }, i) => {
      const { x, y } = centres[i]!;
      child.style.transform = `translate(${Math.round(x - box.width / 2)}px, ${Math.round(y - box.height / 2)}px)`;
    });
  }

  protected override render() {
    return html`<slot @slotchange=${this.#watch}></slot>`;
  }

  #children(): HTMLElement[] {
    return [...this.querySelectorAll<HTMLElement>(':scope > [data-anchor]')];
  }

  readonly #watch = (): void => {
    const children = new Set<Element>(this.#children());
    for (const known of this.#sizes.keys())
      if (known !== this && !children.has(known)) {
        this.#observer?.unobserve(known);
        this.#sizes.delete(known);
      }
    for (const child of children) if (!this.#sizes.has(child)) this.#observer?.observe(child);
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-anchors': Anchors;
  }
}
