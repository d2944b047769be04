import { effect, type ReadonlySignal, signal } from '@preact/signals-core';
import { type Apart, KeptApart } from './kept-apart.ts';
import { type KeptSession, keptText, newestOf, readKept, sameWork } from './kept-session.ts';
import { databaseKeeper, type Keeper, type LocalKeeper, localKeeper } from './session-storage.ts';
import type { DesignStore } from './store.ts';

const NAME = 'session';
/** Well within the second that may be lost. */
const DELAY_MS = 400;
/** The page does not wait longer for what was kept: a database that answers later is heard then. */
const PATIENCE_MS = 4000;

export type SaveState =
  | { readonly kind: 'waiting' }
  | { readonly kind: 'saved'; readonly at: Date }
  /** A sentence for the reader. */
  | { readonly kind: 'failed'; readonly message: string };

export interface AutosaveOptions {
  readonly keeper: Keeper;
  readonly local: LocalKeeper;
  readonly delayMs: number;
  readonly patienceMs: number;
  /** The machine's clock, ms; may jump either way. */
  readonly now: () => number;
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
 *
 * All pages of this origin share one copy. A page replaces only what it has seen: where another page has saved meanwhile,
 * this one keeps its work under a name of its own until the reader has said which to go on with; the other is kept too.
 */
export class Autosave {
  readonly #store: DesignStore;
  readonly #options: AutosaveOptions;
  readonly #state = signal<SaveState>({ kind: 'waiting' });
  readonly #rival = signal<KeptSession | null>(null);
  readonly #writer = `${Math.random().toString(36).slice(2)}${Math.random().toString(36).slice(2)}`;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #saving: Promise<void> | null = null;
  #again = false;
  #pending = false;
  #first = true;
  /** Highest revision of the common copy that this page has read or written. */
  #seen = 0;
  #revision = 0;
  /** Work that the next save would otherwise replace without its owner's having said so. */
  #before: KeptSession | null = null;
  /** What stood in the common copy's place and could not be read: it has been set aside already. */
  #unreadable: string | null = null;
  /** Where this page's work goes while it is not settled which of two is the common one. */
  #ownName: string | null = null;

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
  }

  /**
   * Brings the last session back, if there is one.
   * @returns a sentence where something was kept but cannot be read, else null
   */
  async restore(): Promise<string | null> {
    const text = await this.#readCommon();
    const common = readKept(text);
    const rescues = this.#rescues();
    const read = rescues.map(([, kept]) => readKept(kept));
    const good = read.flatMap((found) => (found.kind === 'session' ? [found.session] : []));
    const unreadable = [common, ...read].filter((found) => found.kind === 'damaged' || found.kind === 'newer');
    const known = common.kind === 'session' ? common.session : null;
    const { session, apart } = newestOf(known, good);
    this.#unreadable = common.kind === 'session' ? null : text;
    if (session) {
      this.#putBack(session, (known ?? session).revision);
      if (session !== known) await this.save();
    }
    const put = await Promise.all([
      ...apart.map((other) => this.apart.putSession('page', other)),
      ...unreadable.map((found) => this.apart.put(found.kind as 'newer' | 'damaged', found.text)),
    ]);
    // What was rescued is now in the database, on the table or apart from it.
    if (put.every(Boolean) && this.#state.peek().kind !== 'failed') {
      for (const [name] of rescues) if (name !== this.#rescueName) this.#forget(name);
    }
    await this.apart.look();
    if (unreadable.length === 0) return null;
    return unreadableSentence(unreadable[0]?.kind === 'newer', session !== null);
  }

  #putBack(session: KeptSession, seen: number): void {
    this.#seen = seen;
    this.#revision = Math.max(this.#revision, session.revision);
    const { document, drafts, compare, lastGood } = session;
    this.#store.restore({ document, drafts }, compare, lastGood);
    this.#state.value = { kind: 'saved', at: new Date(Math.min(session.savedAt, this.#options.now())) };
  }

  /** The common copy; null where there is none, or where the database refuses or takes too long. */
  async #readCommon(): Promise<string | null> {
    // What cannot be read stays: the first save finds it and leaves it alone.
    const reading = this.#options.keeper.read(NAME).catch(() => null);
    let timer: ReturnType<typeof setTimeout> | undefined;
    const late = new Promise<'late'>((resolve) => {
      timer = setTimeout(() => resolve('late'), this.#options.patienceMs);
    });
    const read = await Promise.race([reading, late]);
    clearTimeout(timer);
    if (read !== 'late') return read;
    void reading.then((text) => this.#hearLate(text));
    return null;
  }

  /** The common copy came after the page had begun without it. */
  #hearLate(text: string | null): void {
    const found = readKept(text);
    if (found.kind !== 'session' || found.session.revision <= this.#seen) return;
    if (this.#state.peek().kind === 'waiting' && !this.#pending && this.#store.undoCount.peek() === 0) {
      this.#putBack(found.session, found.session.revision);
      void this.apart.look();
    } else {
      this.#rival.value ??= found.session;
      void this.save();
    }
  }

  get #rescueName(): string {
    return `${NAME}-${this.#writer}`;
  }

  /** What pages wrote while they were closed, each under its own name. */
  #rescues(): readonly (readonly [string, string])[] {
    try {
      return this.#options.local.list(NAME);
    } catch {
      return [];
    }
  }

  #forget(name: string): void {
    try {
      this.#options.local.remove(name);
    } catch {
      // It is older than what the database has, and is passed over.
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
    const now = this.#options.now();
    this.#revision = Math.max(this.#revision + 1, this.#seen + 1, now);
    return {
      ...this.#store.snapshot.peek(),
      compare: this.#store.compare.peek(),
      lastGood: this.#store.lastGood(),
      savedAt: now,
      revision: this.#revision,
      parent: this.#seen,
      writer: this.#writer,
    };
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
      if (this.#rival.peek() === null) await this.#saveCommon(session);
      else await this.#saveOwn(session);
    } catch (error) {
      try {
        this.#options.local.write(this.#rescueName, keptText(session));
      } catch (second) {
        // The database says what is wrong, unless it said nothing.
        const full = [error, second].find((e) => e instanceof Error && e.name === 'QuotaExceededError');
        this.#state.value = { kind: 'failed', message: whyFailed(full ?? error ?? second) };
        return;
      }
      this.#saved(snapshot);
      return;
    }
    this.#saved(snapshot);
    if (this.#pending) return;
    this.#forget(this.#rescueName);
    if (!this.#before) this.#forget(`${this.#rescueName}-before`);
  }

  #saved(snapshot: unknown): void {
    if (this.#store.snapshot.peek() === snapshot) this.#pending = false;
    this.#state.value = { kind: 'saved', at: new Date(this.#options.now()) };
  }

  async #saveCommon(session: KeptSession): Promise<void> {
    if (this.#before && (await this.apart.putSession('link', this.#before))) this.#before = null;
    const text = keptText(session);
    const { before, written } = await this.#options.keeper.exchange(NAME, (now) => {
      const found = readKept(now);
      if (found.kind !== 'session') return text;
      const { writer, revision } = found.session;
      return writer === this.#writer || revision <= this.#seen || sameWork(found.session, session) ? text : null;
    });
    if (written) {
      this.#seen = session.revision;
      const found = readKept(before);
      // Came there while the page was open: nobody has seen it yet.
      if ((found.kind === 'damaged' || found.kind === 'newer') && found.text !== this.#unreadable)
        await this.apart.put(found.kind, found.text);
      return;
    }
    const found = readKept(before);
    if (found.kind === 'session') this.#rival.value = found.session;
    await this.#saveOwn(session);
  }

  async #saveOwn(session: KeptSession): Promise<void> {
    this.#ownName ??= this.apart.newName('page');
    await this.apart.write(this.#ownName, keptText(session));
  }

  /** Goes on with this page's work; what the other page had saved is kept apart. */
  keepOwn(): Promise<void> {
    return this.#told(async () => {
      const session = this.#session();
      const { before } = await this.#options.keeper.exchange(NAME, () => keptText(session));
      this.#seen = session.revision;
      const found = readKept(before);
      if (found.kind === 'session' && !sameWork(found.session, session)) {
        await this.apart.putSession('page', found.session);
      }
      const own = this.#ownName;
      this.#ownName = null;
      this.#rival.value = null;
      if (own !== null) await this.#options.keeper.remove(own);
    });
  }

  /** Goes on with the other page's work, as a step that undo takes back; this page's own stays kept apart. */
  takeRival(): Promise<void> {
    return this.#told(async () => {
      const found = readKept(await this.#options.keeper.read(NAME));
      const rival = found.kind === 'session' ? found.session : this.#rival.peek();
      if (!rival) return;
      this.#seen = Math.max(this.#seen, rival.revision);
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
    if (this.#state.peek().kind === 'saved') {
      this.#before ??= { ...this.#session(), writer: `${this.#writer}-before`, parent: 0 };
    }
  }

  #saveAtOnce(): void {
    if (!this.#pending) return;
    try {
      const { local } = this.#options;
      local.write(this.#rescueName, keptText(this.#session()));
      if (this.#before) local.write(`${this.#rescueName}-before`, keptText(this.#before));
    } catch {
      // The page is going away; the timed save has already told what is wrong.
    }
  }
}

function unreadableSentence(newer: boolean, other: boolean): string {
  const shown = other ? 'an older copy is shown' : 'the example is shown';
  return newer
    ? `Your last design was kept by a newer version of the program, which this one cannot open; it was set aside and ${shown}.`
    : `What the browser had kept of your last design is damaged and could not be opened; it was set aside and ${shown}.`;
}
