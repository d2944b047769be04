import { type ReadonlySignal, signal } from '@preact/signals-core';
import { type KeptSession, keptText, readKept, sameWork } from './kept-session.ts';
import type { Keeper } from './session-storage.ts';

/** Why something is kept beside the common copy. */
export type ApartReason = 'page' | 'link' | 'newer' | 'damaged';

/** Work that lost its place in the common copy and waits for its owner to say what is to become of it. */
export interface Apart {
  readonly name: string;
  readonly why: ApartReason;
  /** Null where this program cannot open it; then only the text can be had. */
  readonly session: KeptSession | null;
  readonly text: string;
}

const START = 'session-';
/** Written before there were several of them. */
const OLD_NAME = 'session-damaged';
const REASONS: readonly ApartReason[] = ['page', 'link', 'newer', 'damaged'];
/** Beyond so many the oldest goes. */
const MOST = 20;

/** Keeps beside the common copy what must neither replace it nor be lost. */
export class KeptApart {
  readonly #keeper: Keeper;
  readonly #now: () => number;
  readonly #found = signal<readonly Apart[]>([]);
  #count = 0;

  /** What earlier visits left, newest first; without what this page itself keeps apart. */
  readonly found: ReadonlySignal<readonly Apart[]> = this.#found;

  constructor(keeper: Keeper, now: () => number) {
    this.#keeper = keeper;
    this.#now = now;
  }

  /**
   * Looks for what earlier visits left. Never throws.
   * @param shown what is on the table: the same need not be offered, though it stays kept
   */
  async look(shown: KeptSession | null): Promise<void> {
    try {
      const listed = (await this.#keeper.list(START)).map(([name, text]) => apartOf(name, text));
      listed.sort((a, b) => ageOf(b) - ageOf(a));
      const all = listed.filter((apart, i) => !listed.slice(0, i).some((newer) => sameDispute(newer, apart)));
      const gone = [...listed.filter((apart) => !all.includes(apart)), ...all.splice(MOST)];
      for (const old of gone) await this.#keeper.remove(old.name);
      this.#found.value = all.filter(({ session }) => !(session && shown && sameWork(session, shown)));
    } catch {
      // A database that cannot be read has nothing to offer.
    }
  }

  /** A name of its own, for work of this page that is written again and again. */
  newName(why: ApartReason): string {
    this.#count += 1;
    return `${START}${why}-${this.#now()}-${this.#count}${Math.random().toString(36).slice(2, 6)}`;
  }

  /** @throws what the database throws */
  write(name: string, text: string): Promise<void> {
    return this.#keeper.write(name, text);
  }

  /** Keeps a text apart; false where there is no way to. */
  async put(why: ApartReason, text: string): Promise<boolean> {
    try {
      await this.write(this.newName(why), text);
      return true;
    } catch {
      return false;
    }
  }

  putSession(why: ApartReason, session: KeptSession): Promise<boolean> {
    return this.put(why, keptText(session));
  }

  /** Offers it no more on this visit. */
  leave(apart: Apart): void {
    this.#found.value = this.#found.value.filter((other) => other.name !== apart.name);
  }

  /** Throws it away. */
  async remove(apart: Apart): Promise<void> {
    this.leave(apart);
    try {
      await this.#keeper.remove(apart.name);
    } catch {
      // It is offered again on the next visit.
    }
  }
}

function ageOf({ session, name }: Apart): number {
  return session?.revision ?? Number(/-(\d+)-[^-]*$/.exec(name)?.[1] ?? 0);
}

/** Two records of one page while it had seen the same common copy: the newer holds what the older did. */
function sameDispute({ session: a, why }: Apart, { session: b, why: other }: Apart): boolean {
  if (why !== 'page' || other !== 'page') return false;
  return a !== null && b !== null && a.writer !== '' && a.writer === b.writer && a.parent === b.parent;
}

function apartOf(name: string, text: string): Apart {
  const found = readKept(text);
  const told = name.slice(START.length).split('-')[0] ?? '';
  // Damaged by the word of an older program, or newer than the last one that looked: what it is now decides.
  if (found.kind === 'session') {
    const why = name === OLD_NAME ? 'page' : (REASONS.find((reason) => reason === told) ?? 'page');
    return { name, why: why === 'damaged' || why === 'newer' ? 'page' : why, session: found.session, text };
  }
  return { name, why: found.kind === 'newer' ? 'newer' : 'damaged', session: null, text };
}
