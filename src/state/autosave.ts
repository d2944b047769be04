import { effect, type ReadonlySignal, signal } from '@preact/signals-core';
import { CommonCopy, type CopyOptions } from './common-copy.ts';
import { type Apart, KeptApart } from './kept-apart.ts';
import { type KeptSession, keptText } from './kept-session.ts';
import { databaseKeeper, localKeeper } from './session-storage.ts';
import type { DesignStore } from './store.ts';

/** Well within the second that may be lost. */
const DELAY_MS = 400;
const PATIENCE_MS = 4000;

export type SaveState =
  | { readonly kind: 'waiting' }
  | { readonly kind: 'saved'; readonly at: Date }
  /** A sentence for the reader. */
  | { readonly kind: 'failed'; readonly message: string };

export interface AutosaveOptions extends CopyOptions {
  readonly delayMs: number;
}

/**
 * Keeps the session: into the database within a second of a change, and into local storage while the page is being
 * closed or hidden, because only that finishes in time. On the next visit the newer of the two wins.
 *
 * Where another page has saved since this one saw the common copy, this one keeps its work under a name of its own until the
 * reader has said which to go on with; the other is kept too.
 */
export class Autosave {
  readonly #store: DesignStore;
  readonly #options: AutosaveOptions;
  readonly #state = signal<SaveState>({ kind: 'waiting' });
  readonly #rival = signal<KeptSession | null>(null);
  readonly #copy: CommonCopy;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #saving: Promise<void> | null = null;
  #again = false;
  #pending = false;
  #first = true;
  /** Where this page's work goes while it is not settled which of two is the common one. */
  #ownName: string | null = null;
  /** Work that the next save would otherwise replace without its owner's having said so. */
  #before: KeptSession | null = null;

  readonly state: ReadonlySignal<SaveState> = this.#state;
  /** The work of another page that has taken the common copy since this one saw it; null: none. */
  readonly rival: ReadonlySignal<KeptSession | null> = this.#rival;
  readonly apart: KeptApart;

  constructor(store: DesignStore, options: Partial<AutosaveOptions> = {}) {
    this.#store = store;
    this.#options = {
      keeper: options.keeper ?? databaseKeeper(),
      local: options.local ?? localKeeper,
      delayMs: options.delayMs ?? DELAY_MS,
      patienceMs: options.patienceMs ?? PATIENCE_MS,
      now: options.now ?? (() => Date.now()),
    };
    this.apart = new KeptApart(this.#options.keeper, this.#options.now);
    this.#copy = new CommonCopy(this.#options, this.apart);
  }

  /**
   * Brings the last session back, if there is one.
   * @returns a sentence where something was kept but cannot be read, else null
   */
  async restore(): Promise<string | null> {
    const { session, rescued, unreadable } = await this.#copy.restore((late) => this.#hearLate(late));
    if (session) {
      this.#putBack(session);
      if (rescued) await this.save();
      else this.#copy.forgetRescues(false);
    }
    await this.apart.look(session);
    return unreadable && unreadableSentence(unreadable, session !== null);
  }

  #putBack(session: KeptSession): void {
    const { document, drafts, compare, lastGood } = session;
    this.#store.restore({ document, drafts }, compare, lastGood);
    this.#state.value = { kind: 'saved', at: new Date(Math.min(session.savedAt, this.#options.now())) };
  }

  /** The common copy came after the page had begun without it. */
  #hearLate(session: KeptSession): void {
    if (this.#state.peek().kind === 'waiting' && !this.#pending && this.#store.undoCount.peek() === 0) {
      this.#copy.see(session);
      this.#putBack(session);
      void this.apart.look(session);
    } else {
      this.#rival.value ??= session;
      void this.save();
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

  /** The session as it stands, as a new revision. */
  #session(): KeptSession {
    return this.#copy.stamp({
      ...this.#store.snapshot.peek(),
      compare: this.#store.compare.peek(),
      lastGood: this.#store.lastGood(),
    });
  }

  /** Saves now, after whatever save is under way. */
  save(): Promise<void> {
    if (this.#saving) {
      this.#again = true;
      return this.#saving;
    }
    this.#saving = this.#saveAll().finally(() => {
      this.#saving = null;
    });
    return this.#saving;
  }

  async #saveAll(): Promise<void> {
    do {
      this.#again = false;
      await this.#saveOnce();
    } while (this.#again);
  }

  async #saveOnce(): Promise<void> {
    const snapshot = this.#store.snapshot.peek();
    const session = this.#session();
    try {
      await this.#keep(session);
      if (this.#store.snapshot.peek() === snapshot) this.#pending = false;
      if (!this.#pending && !this.#before) this.#copy.forgetRescues(true);
    } catch (error) {
      try {
        this.#copy.rescue(session, this.#before);
        this.#copy.forgetRescues(false);
        if (this.#store.snapshot.peek() === snapshot) this.#pending = false;
      } catch (second) {
        // The database says what is wrong, unless it said nothing.
        const full = [error, second].find((e) => e instanceof Error && e.name === 'QuotaExceededError');
        this.#state.value = { kind: 'failed', message: whyFailed(full ?? error ?? second) };
        return;
      }
    }
    this.#state.value = { kind: 'saved', at: new Date(this.#options.now()) };
  }

  async #keep(session: KeptSession): Promise<void> {
    if (this.#rival.peek() === null) {
      if (this.#before && (await this.apart.putSession('link', this.#before))) this.#before = null;
      const rival = await this.#copy.replace(session);
      if (rival === null) return;
      this.#rival.value = rival;
    }
    this.#ownName ??= this.apart.newName('page');
    await this.apart.write(this.#ownName, keptText(session));
  }

  /** Goes on with this page's work; what the other page had saved is kept apart. */
  keepOwn(): Promise<void> {
    return this.#told(async () => {
      await this.#copy.force(this.#session());
      const own = this.#ownName;
      this.#ownName = null;
      this.#rival.value = null;
      if (own !== null) await this.#options.keeper.remove(own);
    });
  }

  /** Goes on with the other page's work, as a step that undo takes back; this page's own stays kept apart. */
  takeRival(): Promise<void> {
    return this.#told(async () => {
      const rival = (await this.#copy.now()) ?? this.#rival.peek();
      if (!rival) return;
      this.#copy.see(rival);
      // The name stays with what this page had; the next dispute gets another.
      this.#ownName = null;
      this.#rival.value = null;
      this.#take(rival, 'Take the other version');
    });
  }

  /** Puts on the table what was kept apart, as a step that undo takes back. */
  open(apart: Apart): Promise<void> {
    return this.#told(async () => {
      if (!apart.session) return;
      this.#take(apart.session, 'Open what was kept');
      await this.save();
      if (this.#state.peek().kind === 'saved') await this.apart.remove(apart);
    });
  }

  #take({ document, drafts, compare }: KeptSession, label: string): void {
    this.#store.take({ document, drafts }, label);
    if (compare !== null && this.#store.compare.peek() === null) this.#store.setCompare(compare);
  }

  /** Does it after whatever save is under way, and saves; a database that refuses becomes the sentence of the state. */
  async #told(work: () => Promise<void>): Promise<void> {
    await this.#saving;
    try {
      await work();
    } catch (error) {
      this.#state.value = { kind: 'failed', message: whyFailed(error) };
      return;
    }
    await this.save();
  }

  /**
   * Remembers what is on the table before something from outside takes its place; kept apart as soon as the other is changed,
   * because only then is it saved over this.
   */
  setAside(): void {
    if (this.#state.peek().kind === 'saved') this.#before ??= this.#copy.strange(this.#session());
  }

  #saveAtOnce(): void {
    if (!this.#pending) return;
    try {
      this.#copy.rescue(this.#session(), this.#before);
    } catch {
      // The page is going away; the timed save has already told what is wrong.
    }
  }
}

function whyFailed(error: unknown): string {
  const name = error instanceof Error ? error.name : '';
  if (name === 'QuotaExceededError') {
    return 'The browser has no room left to keep this design. Save it as a file before you close the page.';
  }
  return 'This browser does not let the page keep anything, so the design is lost when the page is closed. Save it as a file.';
}

function unreadableSentence(kind: 'newer' | 'damaged', other: boolean): string {
  const shown = other ? 'an older copy is shown' : 'the example is shown';
  return kind === 'newer'
    ? `Your last design was kept by a newer version of the program, which this one cannot open; it was set aside and ${shown}.`
    : `What the browser had kept of your last design is damaged and could not be opened; it was set aside and ${shown}.`;
}
