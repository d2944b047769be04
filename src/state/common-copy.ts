import type { KeptApart } from './kept-apart.ts';
import { type KeptSession, keptText, newestOf, readKept, sameWork } from './kept-session.ts';
import type { Keeper, LocalKeeper } from './session-storage.ts';

const NAME = 'session';

export interface CopyOptions {
  readonly keeper: Keeper;
  readonly local: LocalKeeper;
  /** The page does not wait longer for what was kept: a database that answers later is heard then, ms. */
  readonly patienceMs: number;
  /** The machine's clock, ms; may jump either way. */
  readonly now: () => number;
}

/** What there was at the beginning of a visit. */
export interface Restored {
  readonly session: KeptSession | null;
  /** The session comes from local storage, and the database does not have it yet. */
  readonly rescued: boolean;
  /** What could not be read. */
  readonly unreadable: 'newer' | 'damaged' | null;
}

/**
 * The one copy of the session that all pages of this origin share, in the database, and beside it in local storage what a page
 * wrote while it was being closed. A page replaces only what it has seen.
 */
export class CommonCopy {
  readonly #options: CopyOptions;
  readonly #apart: KeptApart;
  readonly #writer = `${Math.random().toString(36).slice(2)}${Math.random().toString(36).slice(2)}`;
  /** Highest revision that this page has read or written. */
  #seen = 0;
  #revision = 0;
  /** What stood in its place and could not be read: it has been set aside already. */
  #unreadable: string | null = null;
  #rescues: readonly string[] = [];

  constructor(options: CopyOptions, apart: KeptApart) {
    this.#options = options;
    this.#apart = apart;
  }

  /** Work as a new revision: its number grows whatever the clock says. */
  stamp(work: Pick<KeptSession, 'document' | 'drafts' | 'compare' | 'lastGood'>): KeptSession {
    const savedAt = this.#options.now();
    this.#revision = Math.max(this.#revision + 1, this.#seen + 1, savedAt);
    return { ...work, savedAt, revision: this.#revision, parent: this.#seen, writer: this.#writer };
  }

  /** The same work as if another page had written it that saw nothing: it stands apart from whatever comes after. */
  strange(session: KeptSession): KeptSession {
    return { ...session, writer: `${session.writer}-before`, parent: 0 };
  }

  /**
   * What the last visit left. Never throws. What must neither be shown nor be lost is put apart.
   * @param late told of a session that the database came out with after the patience had ended
   */
  async restore(late: (session: KeptSession) => void): Promise<Restored> {
    const text = await this.#read(late);
    const common = readKept(text);
    const local = this.#local();
    const read = local.map(([, kept]) => readKept(kept));
    const good = read.flatMap((found) => (found.kind === 'session' ? [found.session] : []));
    const bad = [common, ...read].filter((found) => found.kind === 'damaged' || found.kind === 'newer');
    const known = common.kind === 'session' ? common.session : null;
    const { session, apart } = newestOf(known, good);
    this.#unreadable = common.kind === 'session' ? null : text;
    if (session) this.see(session, known ?? session);
    const put = await Promise.all([
      ...apart.map((other) => this.#apart.putSession('page', other)),
      ...bad.map((found) => this.#apart.put(found.kind as 'newer' | 'damaged', found.text)),
    ]);
    if (put.every(Boolean)) this.#rescues = local.map(([name]) => name);
    return { session, rescued: session !== known, unreadable: (bad[0]?.kind ?? null) as Restored['unreadable'] };
  }

  /** The page goes on from this one. @param common what the database has */
  see(session: KeptSession, common: KeptSession = session): void {
    this.#seen = Math.max(this.#seen, common.revision);
    this.#revision = Math.max(this.#revision, session.revision);
  }

  /** Null where there is none, or where the database refuses or takes too long. */
  async #read(late: (session: KeptSession) => void): Promise<string | null> {
    // What cannot be read stays: the first save finds it and leaves it alone.
    const reading = this.#options.keeper.read(NAME).catch(() => null);
    let timer: ReturnType<typeof setTimeout> | undefined;
    const patience = new Promise<'late'>((resolve) => {
      timer = setTimeout(() => resolve('late'), this.#options.patienceMs);
    });
    const read = await Promise.race([reading, patience]);
    clearTimeout(timer);
    if (read !== 'late') return read;
    void reading.then((text) => {
      const found = readKept(text);
      if (found.kind === 'session' && found.session.revision > this.#seen) late(found.session);
    });
    return null;
  }

  /** The copy as it is now. @throws what the database throws */
  async now(): Promise<KeptSession | null> {
    const found = readKept(await this.#options.keeper.read(NAME));
    return found.kind === 'session' ? found.session : null;
  }

  /**
   * Replaces the copy, unless another page has done so since this one saw it.
   * @returns the other page's work, and then nothing was written; null: written
   * @throws what the database throws
   */
  async replace(session: KeptSession): Promise<KeptSession | null> {
    const text = keptText(session);
    const { before, written } = await this.#options.keeper.exchange(NAME, (now) => {
      const found = readKept(now);
      if (found.kind !== 'session') return text;
      const { writer, revision } = found.session;
      return writer === this.#writer || revision <= this.#seen || sameWork(found.session, session) ? text : null;
    });
    const found = readKept(before);
    if (!written) return found.kind === 'session' ? found.session : null;
    this.#seen = session.revision;
    // Came there while the page was open: nobody has seen it yet.
    if ((found.kind === 'damaged' || found.kind === 'newer') && found.text !== this.#unreadable) {
      await this.#apart.put(found.kind, found.text);
    }
    return null;
  }

  /** Replaces the copy whoever wrote it, and keeps that apart. @throws what the database throws */
  async force(session: KeptSession): Promise<void> {
    const { before } = await this.#options.keeper.exchange(NAME, () => keptText(session));
    this.#seen = session.revision;
    const found = readKept(before);
    if (found.kind === 'session' && !sameWork(found.session, session)) {
      await this.#apart.putSession('page', found.session);
    }
  }

  get #rescueName(): string {
    return `${NAME}-${this.#writer}`;
  }

  /** What pages wrote while they were closed, each under its own name. */
  #local(): readonly (readonly [string, string])[] {
    try {
      return this.#options.local.list(NAME);
    } catch {
      return [];
    }
  }

  /** Writes to local storage, at once. @param before what the session takes the place of, to be kept apart; @throws its refusal */
  rescue(session: KeptSession, before: KeptSession | null): void {
    const { local } = this.#options;
    local.write(this.#rescueName, keptText(session));
    if (before) local.write(`${this.#rescueName}-before`, keptText(before));
  }

  /** Throws away what earlier visits left in local storage, when all of it is somewhere else. @param own this page's too */
  forgetRescues(own: boolean): void {
    const names = own ? [this.#rescueName, `${this.#rescueName}-before`] : [];
    for (const name of [...names, ...this.#rescues]) {
      try {
        this.#options.local.remove(name);
      } catch {
        // It is older than what the database has, and is passed over.
      }
    }
    this.#rescues = [];
  }
}
