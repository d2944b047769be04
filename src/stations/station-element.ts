import { effect, type ReadonlySignal } from '@preact/signals-core';
import { LitElement } from 'lit';
import { property } from 'lit/decorators.js';
import type { Session } from '../state/session.ts';

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
