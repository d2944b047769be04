import { batch, computed, effect, type ReadonlySignal, signal } from '@preact/signals-core';
import type { DesignDocument } from '../design/schema.ts';
import type { Design } from '../design/types.ts';
import type { FaultDetail } from '../numerics/errors.ts';
import type { Command, GesturePhase } from './command.ts';
import { type Draft, type Drafts, draftsAfter } from './drafts.ts';
import { bounded, EMPTY_HISTORY, type History, type HistoryStep, recorded, redone, undone } from './history.ts';
import { type Resolution, type ResolvedDesign, resolveDocument } from './resolved-design.ts';

/** What undo goes back and forth between, and what is saved. */
export interface Snapshot {
  readonly document: DesignDocument;
  readonly drafts: Drafts;
}

interface Gesture {
  readonly command: string;
  readonly base: Snapshot;
  readonly history: History<Snapshot>;
  /** For a run of key presses: when the last one came. Infinity for a drag, which ends by itself. */
  readonly until: number;
}

/** Key presses closer together than this belong to one step, ms. */
const KEY_RUN = 1200;

/**
 * What undo may hold, in characters of JSON: ten thousand ordinary edits, or some dozen designs of the largest size that
 * opens; about a hundred megabytes of memory.
 */
const MOST_WEIGHT = 24e6;

/** Whether two documents say the same: a drag there and back, or a number typed again, is no change. */
function alike(one: DesignDocument, other: DesignDocument): boolean {
  return JSON.stringify(one) === JSON.stringify(other);
}

/** What a step holds that the one before does not: parts that did not change are shared. */
function stepWeight({ before, after }: HistoryStep<Snapshot>): number {
  const [from, to] = [before.document, after.document] as [object, object] as [
    Record<string, unknown>,
    Record<string, unknown>,
  ];
  let weight = 200;
  for (const [key, part] of Object.entries(to)) if (part !== from[key]) weight += JSON.stringify(part)?.length ?? 0;
  if (before.drafts !== after.drafts) weight += JSON.stringify(after.drafts).length;
  return weight;
}

/**
 * The design on the table: what was typed (the document and the drafts), what it means (the resolved design, or the
 * faults), and how to get back.
 */
export class DesignStore {
  readonly #snapshot;
  readonly #history = signal<History<Snapshot>>(EMPTY_HISTORY);
  readonly #dragging = signal(false);
  readonly #compare = signal<DesignDocument | null>(null);
  readonly #now: () => number;
  #gesture: Gesture | null = null;
  /** The drag that goes on was taken back by undo: what is left of it is nothing. */
  #spent = false;
  #lastResolved: ResolvedDesign;
  #lastGood: DesignDocument;

  readonly snapshot: ReadonlySignal<Snapshot>;
  readonly document: ReadonlySignal<DesignDocument>;
  readonly resolution: ReadonlySignal<Resolution>;
  /** What the last document that held together means; the figures show it while a fault is being mended. */
  readonly resolved: ReadonlySignal<ResolvedDesign>;
  readonly design: ReadonlySignal<Design>;
  /** Of the document and of unreadable fields, as the command line prints them. */
  readonly faults: ReadonlySignal<readonly FaultDetail[]>;
  /** A drag is going on: quick answers only. */
  readonly dragging: ReadonlySignal<boolean>;
  readonly undoLabel: ReadonlySignal<string | null>;
  readonly redoLabel: ReadonlySignal<string | null>;
  readonly undoCount: ReadonlySignal<number>;
  /** The design laid beside this one, or null. */
  readonly compare: ReadonlySignal<DesignDocument | null>;

  /** @param start a document that resolves; @param now ms, for grouping key presses; must not jump as clocks do */
  constructor(start: DesignDocument, now: () => number = () => performance.now()) {
    const first = resolveDocument(start);
    if (!first.ok) throw new Error('the store must start from a design that holds together');
    this.#now = now;
    this.#lastResolved = first.resolved;
    this.#lastGood = start;
    this.#snapshot = signal<Snapshot>({ document: start, drafts: {} });
    this.snapshot = computed(() => this.#snapshot.value);
    this.document = computed(() => this.#snapshot.value.document);
    this.resolution = computed(() => resolveDocument(this.document.value));
    this.resolved = computed(() => {
      const resolution = this.resolution.value;
      if (resolution.ok) {
        this.#lastResolved = resolution.resolved;
        this.#lastGood = this.document.peek();
      }
      return this.#lastResolved;
    });
    this.design = computed(() => this.resolved.value.design);
    this.faults = computed(() => {
      const resolution = this.resolution.value;
      const drafts = Object.values(this.#snapshot.value.drafts).flatMap((draft) => (draft.fault ? [draft.fault] : []));
      return resolution.ok ? drafts : [...drafts, ...resolution.faults];
    });
    this.dragging = computed(() => this.#dragging.value);
    this.undoLabel = computed(() => this.#history.value.past?.step.label ?? null);
    this.redoLabel = computed(() => this.#history.value.future?.step.label ?? null);
    this.undoCount = computed(() => this.#history.value.past?.count ?? 0);
    this.compare = computed(() => this.#compare.value);
    // Resolve every document as it comes, watched or not, so that the last good one is known.
    effect(() => void this.resolved.value);
  }

  /**
   * Runs a command. During a drag pass its phase: all moves make one undo step, each performed on the document as it was
   * when the drag began, so that a drag there and back leaves nothing behind.
   */
  run<Args>(command: Command<Args>, args: Args, phase: GesturePhase = 'once'): void {
    batch(() => {
      if (phase === 'start') {
        this.#gesture = this.#open(command.name, Number.POSITIVE_INFINITY);
        this.#dragging.value = true;
        this.#spent = false;
        return;
      }
      if (this.#spent && (phase === 'move' || phase === 'end' || phase === 'cancel')) {
        this.#spent = phase === 'move';
        return;
      }
      if (phase === 'cancel') {
        if (this.#gesture) {
          this.#snapshot.value = this.#gesture.base;
          this.#history.value = this.#gesture.history;
        }
        this.#close();
        return;
      }
      const drag = phase === 'move' || phase === 'end';
      const running = this.#gesture?.command === command.name && this.#gesture.until >= this.#now();
      if (!running || phase === 'once') this.#gesture = this.#open(command.name, drag ? Number.POSITIVE_INFINITY : 0);
      const gesture = this.#gesture as Gesture;
      const from = drag ? gesture.base : this.#snapshot.value;
      const document = command.perform(from.document, args);
      const same = document === gesture.base.document || (phase !== 'move' && alike(document, gesture.base.document));
      const next = same ? gesture.base : { document, drafts: draftsAfter(from.drafts, from.document, document) };
      this.#snapshot.value = next;
      this.#history.value = recorded(gesture.history, {
        label: command.label(args),
        before: gesture.base,
        after: next,
      });
      this.#dragging.value = phase === 'move';
      if (phase === 'end' || phase === 'once') this.#close();
      if (phase === 'step') this.#gesture = { ...gesture, until: this.#now() + KEY_RUN };
    });
  }

  #open(command: string, until: number): Gesture {
    return { command, base: this.#snapshot.value, history: this.#bounded(), until };
  }

  /** What a new step is put on. */
  #bounded(): History<Snapshot> {
    return bounded(this.#history.value, stepWeight, MOST_WEIGHT);
  }

  #close(): void {
    this.#gesture = null;
    this.#dragging.value = false;
  }

  /** Keeps the text of a field that cannot be read: a step of its own. */
  setDraft(path: string, draft: Draft, what: string): void {
    const from = this.#snapshot.value;
    if (from.drafts[path]?.text === draft.text) return;
    batch(() => this.#stand({ ...from, drafts: { ...from.drafts, [path]: draft } }, `Type ${what}`));
  }

  /**
   * Forgets the kept text of a field, if there is one, and makes the change that takes its place, by commands run `once`:
   * together one step, back to the text.
   */
  mend(path: string, what: string, change: () => void): void {
    const from = this.#snapshot.value;
    if (from.drafts[path] === undefined) {
      change();
      return;
    }
    batch(() => {
      const { [path]: _forgotten, ...drafts } = from.drafts;
      const history = this.#stand({ ...from, drafts }, `Clear ${what}`);
      change();
      const label = this.undoLabel.value ?? '';
      this.#history.value = recorded(history, { label, before: from, after: this.#snapshot.value });
    });
  }

  /**
   * Records a step that no gesture makes, and returns the history it was put on. A drag that goes on meanwhile begins anew
   * from here with its next move, a run of key presses has ended.
   */
  #stand(next: Snapshot, label: string): History<Snapshot> {
    const history = this.#bounded();
    this.#gesture = null;
    this.#history.value = recorded(history, { label, before: this.#snapshot.value, after: next });
    this.#snapshot.value = next;
    return history;
  }

  undo(): void {
    this.#travel(undone(this.#history.value));
  }

  redo(): void {
    this.#travel(redone(this.#history.value));
  }

  #travel(travel: { readonly history: History<Snapshot>; readonly state: Snapshot } | null): void {
    if (!travel) return;
    batch(() => {
      this.#spent ||= this.#dragging.peek();
      this.#close();
      this.#history.value = travel.history;
      this.#snapshot.value = travel.state;
    });
  }

  /**
   * Puts a saved session on the table, without an undo step.
   * @param lastGood the last document that held together, for the figures while `snapshot` has a fault
   */
  restore(snapshot: Snapshot, compare: DesignDocument | null, lastGood: DesignDocument | null = null): void {
    const good = lastGood ? resolveDocument(lastGood) : null;
    batch(() => {
      this.#close();
      if (lastGood && good?.ok) {
        this.#lastResolved = good.resolved;
        this.#lastGood = lastGood;
      }
      this.#snapshot.value = snapshot;
      this.#compare.value = compare;
      this.#history.value = EMPTY_HISTORY;
    });
  }

  /** Puts another design on the table, opened, shared, new or kept, as one undo step: what was typed into the old one goes. */
  take(next: Snapshot, label: string): void {
    batch(() => {
      // What is left of a drag belongs to the old design.
      this.#spent ||= this.#dragging.peek();
      this.#close();
      this.#stand(next, label);
    });
  }

  /** The last document that held together. */
  lastGood(): DesignDocument {
    return this.#lastGood;
  }

  /** Lays a design beside this one, or takes it away (null). */
  setCompare(document: DesignDocument | null): void {
    this.#compare.value = document;
  }

  /** Changes places with the design beside: one undo step. */
  swapCompare(): void {
    const other = this.#compare.value;
    if (!other) return;
    batch(() => {
      this.#close();
      this.#compare.value = this.document.value;
      this.#stand({ document: other, drafts: {} }, 'Change places');
    });
  }
}
