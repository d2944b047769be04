import { effect, type ReadonlySignal } from '@preact/signals-core';
import { LitElement } from 'lit';
import { property } from 'lit/decorators.js';
import type { Session } from '../state/session.ts';
import { keptFocus } from './kept-focus.ts';

/**
 * An element that shows a session: rendered again whenever one of the signals it watches changes. Only stations see the
 * store; what they show gets plain data.
 */
export abstract class StationElement extends LitElement {
  @property({ attribute: false }) session: Session | null = null;
  #stop: (() => void) | null = null;
  #watched: Session | null = null;

  /** What the element shows. */
  protected abstract watched(session: Session): readonly ReadonlySignal<unknown>[];

  override connectedCallback(): void {
    super.connectedCallback();
    this.#follow();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#stop?.();
    this.#stop = null;
    this.#watched = null;
  }

  protected override willUpdate(_changed: Map<PropertyKey, unknown>): void {
    if (this.session !== this.#watched) this.#follow();
  }

  /** Whoever takes something out with the keyboard goes on from there, not from the top of the page. */
  protected override update(changed: Map<PropertyKey, unknown>): void {
    const keep = this.session?.store.dragging.peek() ? null : keptFocus(this.renderRoot as ShadowRoot);
    super.update(changed);
    keep?.();
  }

  /**
   * While something is dragged a quick answer is some milliseconds away: the picture waits for it, so that it is drawn
   * once with the new number instead of twice, the first time with the old one.
   */
  protected override async scheduleUpdate(): Promise<void> {
    const session = this.session;
    if (session?.store.dragging.peek()) await falls(session.answers.quickRunning, LONGEST_WAIT_MS);
    await super.scheduleUpdate();
  }

  #follow(): void {
    this.#stop?.();
    this.#stop = null;
    const session = this.session;
    this.#watched = session;
    if (!session || !this.isConnected) return;
    this.#stop = effect(() => {
      for (const watched of this.watched(session)) void watched.value;
      this.requestUpdate();
    });
  }
}

/** Half a frame: longer than a quick answer from a link model takes, shorter than the eye notices. */
const LONGEST_WAIT_MS = 8;

/** Resolves once a flag is down, or after so many milliseconds. */
function falls(flag: ReadonlySignal<boolean>, longestMs: number): Promise<void> {
  if (!flag.peek()) return Promise.resolve();
  return new Promise((resolve) => {
    const timer = setTimeout(finish, longestMs);
    const stop = effect(() => {
      if (!flag.value) finish();
    });
    function finish(): void {
      clearTimeout(timer);
      queueMicrotask(() => stop());
      resolve();
    }
  });
}
