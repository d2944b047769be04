import { type Signal, signal } from '@preact/signals-core';
import type { DesignDocument } from '../design/schema.ts';
import type { Engine } from '../engine/types.ts';
import { type AnswerOptions, Answers } from './answers.ts';
import { Autosave, type AutosaveOptions } from './autosave.ts';
import { BesideAnswer } from './beside-answer.ts';
import { ExposureAnswer } from './exposure-answer.ts';
import { FeedAnswer } from './feed-answer.ts';
import { FieldAnswer } from './field-answer.ts';
import { FitAnswer } from './fit-answer.ts';
import { HoldAnswer } from './hold-answer.ts';
import { LessonAnswer } from './lesson-answer.ts';
import { PairAnswer } from './pair-answer.ts';
import { SensitivityAnswer } from './sensitivity-answer.ts';
import { readShareFragment } from './share-link.ts';
import { DesignStore } from './store.ts';
import { SupplyAnswer } from './supply-answer.ts';
import { TraceWork } from './trace-work.ts';

export interface SessionOptions {
  /** The design of a first visit. */
  readonly start: DesignDocument;
  readonly engine: Engine;
  readonly answers?: AnswerOptions;
  readonly autosave?: Partial<AutosaveOptions>;
}

/** Everything a page holds: the design, its answers, and what keeps it. One for each page. */
export class Session {
  readonly store: DesignStore;
  readonly answers: Answers;
  readonly autosave: Autosave;
  readonly field: FieldAnswer;
  readonly feed: FeedAnswer;
  readonly exposure: ExposureAnswer;
  readonly beside: BesideAnswer;
  readonly pair: PairAnswer;
  readonly lessons: LessonAnswer;
  /** A photograph of a coil that is being traced. */
  readonly trace: TraceWork = new TraceWork();
  readonly hold: HoldAnswer;
  readonly fit: FitAnswer;
  readonly supply: SupplyAnswer;
  readonly sensitivity: SensitivityAnswer;
  readonly engine: Engine;
  /** A sentence for the reader that stays until it is put away; null: nothing to say. */
  readonly notice: Signal<string | null> = signal<string | null>(null);
  #stops: (() => void)[] = [];

  constructor(options: SessionOptions) {
    this.store = new DesignStore(options.start);
    this.engine = options.engine;
    this.answers = new Answers(this.store, options.engine, options.answers);
    this.field = new FieldAnswer(this.store, options.engine);
    this.feed = new FeedAnswer(this.store, options.engine);
    this.exposure = new ExposureAnswer(this.store, this.answers, options.engine);
    this.beside = new BesideAnswer(this.store, this.answers, options.engine);
    this.pair = new PairAnswer(this.store, options.engine);
    this.lessons = new LessonAnswer(options.engine);
    this.hold = new HoldAnswer(this.store, options.engine);
    this.fit = new FitAnswer(this.store, options.engine);
    this.supply = new SupplyAnswer(this.store, options.engine);
    this.sensitivity = new SensitivityAnswer(this.store, options.engine);
    this.autosave = new Autosave(this.store, options.autosave);
  }

  /** Brings back the last visit, then what the link holds, and begins to compute and to save. */
  async open(fragment: string): Promise<void> {
    this.notice.value = await this.autosave.restore();
    await this.openShared(fragment, true);
    this.#stops = [
      this.answers.start(),
      this.hold.start(),
      this.field.start(),
      this.feed.start(),
      this.exposure.start(),
      this.beside.start(),
      this.fit.start(),
      this.supply.start(),
      this.sensitivity.start(),
      this.autosave.start(),
    ];
  }

  /**
   * Puts the design of a link on the table, as a step that undo takes back. On opening the page (`anew`) the design of the
   * last visit is kept apart as well: undo does not outlast a page.
   */
  async openShared(fragment: string, anew = false): Promise<void> {
    const shared = await readShareFragment(fragment);
    if (shared.kind === 'design') {
      const same = JSON.stringify(shared.document) === JSON.stringify(this.store.document.peek());
      if (same) return;
      if (anew) this.autosave.setAside();
      this.store.take({ document: shared.document, drafts: {} }, 'Open the link');
    } else if (shared.kind === 'unreadable') {
      this.notice.value = shared.message;
    }
  }

  close(): void {
    for (const stop of this.#stops) stop();
    this.#stops = [];
    this.engine.dispose();
  }
}
