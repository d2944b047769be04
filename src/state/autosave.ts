import { effect, type ReadonlySignal, signal } from '@preact/signals-core';
import { resolveDocument } from './resolved-design.ts';
import { databaseKeeper, type Keeper, type LocalKeeper, localKeeper } from './session-storage.ts';
import type { DesignStore, Snapshot } from './store.ts';

const NAME = 'session';
const DAMAGED = 'session-damaged';
/** Well within the second that may be lost. */
const DELAY_MS = 400;

interface Saved extends Snapshot {
  readonly kind: 'offcentre-session';
  readonly savedAt: number;
  readonly compare: Snapshot['document'] | null;
  /** The last document that held together; the same as `document` unless a fault was being mended. */
  readonly lastGood: Snapshot['document'];
}

export type SaveState =
  | { readonly kind: 'waiting' }
  | { readonly kind: 'saved'; readonly at: Date }
  /** A sentence for the reader. */
  | { readonly kind: 'failed'; readonly message: string };

export interface AutosaveOptions {
  readonly keeper: Keeper;
  readonly local: LocalKeeper;
  readonly delayMs: number;
  readonly now: () => number;
}

function readSaved(text: string | null): Saved | 'nothing' | 'damaged' {
  if (text === null) return 'nothing';
  try {
    const value = JSON.parse(text) as Partial<Saved> | null;
    if (value?.kind !== 'offcentre-session' || typeof value.savedAt !== 'number' || !value.document) return 'damaged';
    const { drafts = {}, compare = null, lastGood = value.document } = value;
    return { ...(value as Saved), drafts, compare, lastGood };
  } catch {
    return 'damaged';
  }
}

function whyFailed(error: unknown): string {
  const name = error instanceof Error ? error.name : '';
  if (name === 'QuotaExceededError') {
    return 'The browser has no room left to keep this design. Save it as a file before you close the page.';
  }
  return 'This browser does not let the page keep anything, so the design is lost when the page is closed. Save it as a file.';
}

/**
 * Keeps the session: into the database within a second of a change, and into local storage while the page is being
 * closed or hidden, because only that finishes in time. On the next visit the newer of the two wins.
 */
export class Autosave {
  readonly #store: DesignStore;
  readonly #options: AutosaveOptions;
  readonly #state = signal<SaveState>({ kind: 'waiting' });
  #timer: ReturnType<typeof setTimeout> | undefined;
  #pending = false;
  #first = true;

  readonly state: ReadonlySignal<SaveState> = this.#state;

  constructor(store: DesignStore, options: Partial<AutosaveOptions> = {}) {
    this.#store = store;
    this.#options = {
      keeper: options.keeper ?? databaseKeeper(),
      local: options.local ?? localKeeper,
      delayMs: options.delayMs ?? DELAY_MS,
      now: options.now ?? (() => Date.now()),
    };
  }

  /**
   * Brings the last session back, if there is one.
   * @returns a sentence where something was kept but cannot be read, else null
   */
  async restore(): Promise<string | null> {
    const { keeper, local } = this.#options;
    const texts: (string | null)[] = [];
    try {
      texts.push(await keeper.read(NAME));
    } catch {
      texts.push(null);
    }
    try {
      texts.push(local.read(NAME));
    } catch {
      texts.push(null);
    }
    const found = texts.map(readSaved);
    const good = found.filter((entry): entry is Saved => typeof entry === 'object');
    good.sort((a, b) => b.savedAt - a.savedAt);
    for (const saved of good) {
      // While a fault is being mended the document has none of its own: then the last one that held together must.
      if (!resolveDocument(saved.lastGood).ok) continue;
      const compare = saved.compare && resolveDocument(saved.compare).ok ? saved.compare : null;
      this.#store.restore({ document: saved.document, drafts: saved.drafts }, compare, saved.lastGood);
      this.#state.value = { kind: 'saved', at: new Date(saved.savedAt) };
      return null;
    }
    if (good.length === 0 && !found.includes('damaged')) return null;
    await this.#setAside(texts);
    return 'What the browser had kept of your last design is damaged and could not be opened; it was set aside and the example is shown.';
  }

  async #setAside(texts: readonly (string | null)[]): Promise<void> {
    const text = texts.find((entry) => entry !== null);
    if (text === undefined || text === null) return;
    try {
      await this.#options.keeper.write(DAMAGED, text);
    } catch {
      // Nowhere to set it aside: it stays where it is until the next save.
    }
  }

  /** Begins to save; returns the way to stop. */
  start(): () => void {
    const stop = effect(() => {
      // Read both, so that either wakes the effect.
      void this.#store.snapshot.value;
      void this.#store.compare.value;
      if (this.#first) {
        this.#first = false;
        return;
      }
      this.#pending = true;
      this.#timer ??= setTimeout(() => {
        this.#timer = undefined;
        void this.save();
      }, this.#options.delayMs);
    });
    const hide = (): void => this.#saveAtOnce();
    const change = (): void => {
      if (document.visibilityState === 'hidden') this.#saveAtOnce();
    };
    globalThis.addEventListener?.('pagehide', hide);
    globalThis.document?.addEventListener('visibilitychange', change);
    return () => {
      stop();
      clearTimeout(this.#timer);
      globalThis.removeEventListener?.('pagehide', hide);
      globalThis.document?.removeEventListener('visibilitychange', change);
    };
  }

  #text(): string {
    const { document, drafts } = this.#store.snapshot.peek();
    const saved: Saved = {
      kind: 'offcentre-session',
      savedAt: this.#options.now(),
      document,
      drafts,
      compare: this.#store.compare.peek(),
      lastGood: this.#store.lastGood(),
    };
    return JSON.stringify(saved);
  }

  /** Saves now. */
  async save(): Promise<void> {
    const text = this.#text();
    this.#pending = false;
    try {
      await this.#options.keeper.write(NAME, text);
      this.#state.value = { kind: 'saved', at: new Date(this.#options.now()) };
    } catch (error) {
      try {
        this.#options.local.write(NAME, text);
        this.#state.value = { kind: 'saved', at: new Date(this.#options.now()) };
      } catch (second) {
        this.#state.value = { kind: 'failed', message: whyFailed(second ?? error) };
      }
    }
  }

  #saveAtOnce(): void {
    if (!this.#pending) return;
    try {
      this.#options.local.write(NAME, this.#text());
      this.#pending = false;
    } catch {
      // The page is going away; the timed save has already told what is wrong.
    }
  }
}
