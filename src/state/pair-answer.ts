import { computed, type ReadonlySignal, signal } from '@preact/signals-core';
import type { BoardBounds } from '../analysis/pair/board-bounds.ts';
import type { CoilRowReport } from '../analysis/pair/coil-row.ts';
import type { CoilSizeQuestion } from '../analysis/pair/coil-size-reading.ts';
import type { RetuneAnswer } from '../analysis/pair/retune.ts';
import { rowOf } from '../analysis/pair/row-design.ts';
import type { FoundDesign, SearchAnswer } from '../analysis/pair/search-answer.ts';
import type { SearchRequest } from '../analysis/pair/search-space.ts';
import type { CoilReading } from '../analysis/pair/unknown-coil.ts';
import type { RivalsAnswer } from '../analysis/pair/verdict.ts';
import type { DesignDocument } from '../design/schema.ts';
import type { Engine, Progress } from '../engine/types.ts';
import { type Answered, LatestJob } from './latest-job.ts';
import { poseKey } from './question-keys.ts';
import { resolveDocument } from './resolved-design.ts';
import type { DesignStore } from './store.ts';

/** A design that the user keeps beside the present one, to be compared with it. */
export interface KeptDesign {
  readonly name: string;
  readonly document: DesignDocument;
}

/** How many designs may be kept. */
export const MOST_KEPT = 6;

/** The Pair station's long answers: rivals, retuning, search. Each is asked for by hand, because each takes its time. */
export class PairAnswer {
  readonly #store: DesignStore;
  readonly #engine: Engine;
  readonly #rivals = new LatestJob<RivalsAnswer>({ whenNewer: 'abort' });
  readonly #retune = new LatestJob<RetuneAnswer>({ whenNewer: 'abort' });
  readonly #search = new LatestJob<SearchAnswer>({ whenNewer: 'abort' });
  readonly #row = new LatestJob<CoilRowReport>({ whenNewer: 'abort' });
  // A trace that moves on is answered as it goes.
  readonly #coilSizes = new LatestJob<CoilReading>({ whenNewer: 'finish' });
  readonly #bounds = new LatestJob<BoardBounds>({ whenNewer: 'abort' });
  readonly #boundsProgress = signal<Progress | null>(null);
  readonly #rowProgress = signal<Progress | null>(null);
  readonly #rivalsProgress = signal<Progress | null>(null);
  readonly #searchProgress = signal<Progress | null>(null);
  readonly #front = signal<readonly FoundDesign[]>([]);
  readonly #kept = signal<readonly KeptDesign[]>([]);

  readonly rivals: ReadonlySignal<RivalsAnswer | null>;
  /** Whether the rivals shown are those of the design on the table. */
  readonly rivalsFresh: ReadonlySignal<boolean>;
  readonly rivalsProgress: ReadonlySignal<Progress | null>;
  readonly rivalsFailure: ReadonlySignal<string | null> = this.#rivals.failure;
  readonly retune: ReadonlySignal<RetuneAnswer | null>;
  readonly retuneFresh: ReadonlySignal<boolean>;
  readonly retuning: ReadonlySignal<boolean> = this.#retune.running;
  readonly retuneFailure: ReadonlySignal<string | null> = this.#retune.failure;
  readonly row: ReadonlySignal<CoilRowReport | null>;
  /** Whether the row shown is one of the design on the table. */
  readonly rowFresh: ReadonlySignal<boolean>;
  readonly rowProgress: ReadonlySignal<Progress | null>;
  readonly rowFailure: ReadonlySignal<string | null> = this.#row.failure;
  /** What the sizes of a coil say of it, with the question they belong to. */
  readonly coilSizes: ReadonlySignal<Answered<CoilReading> | null> = this.#coilSizes.answer;
  readonly coilSizesFailure: ReadonlySignal<string | null> = this.#coilSizes.failure;
  /** What plausible boards do, and whether it is of the design on the table. */
  readonly bounds: ReadonlySignal<BoardBounds | null>;
  readonly boundsFresh: ReadonlySignal<boolean>;
  readonly boundsProgress: ReadonlySignal<Progress | null>;
  readonly boundsFailure: ReadonlySignal<string | null> = this.#bounds.failure;
  readonly search: ReadonlySignal<SearchAnswer | null>;
  readonly searchFresh: ReadonlySignal<boolean>;
  readonly searchProgress: ReadonlySignal<Progress | null>;
  readonly searchFailure: ReadonlySignal<string | null> = this.#search.failure;
  /** What a running search has found so far, or what it found before it was stopped. */
  readonly front: ReadonlySignal<readonly FoundDesign[]> = this.#front;
  readonly kept: ReadonlySignal<readonly KeptDesign[]> = this.#kept;

  constructor(store: DesignStore, engine: Engine) {
    this.#store = store;
    this.#engine = engine;
    const key = computed(() => this.#rivalsKey());
    this.rivals = computed(() => this.#rivals.answer.value?.value ?? null);
    this.rivalsFresh = computed(() => this.#rivals.answer.value?.key === key.value);
    this.rivalsProgress = computed(() => (this.#rivals.running.value ? this.#rivalsProgress.value : null));
    this.retune = computed(() => this.#retune.answer.value?.value ?? null);
    this.retuneFresh = computed(() => this.#retune.answer.value?.key === poseKey(store.design.value));
    this.row = computed(() => this.#row.answer.value?.value ?? null);
    this.rowFresh = computed(() => this.#row.answer.value?.key.endsWith(`|${poseKey(store.design.value)}`) ?? false);
    this.rowProgress = computed(() => (this.#row.running.value ? this.#rowProgress.value : null));
    this.bounds = computed(() => this.#bounds.answer.value?.value ?? null);
    this.boundsFresh = computed(() => this.#bounds.answer.value?.key === poseKey(store.design.value));
    this.boundsProgress = computed(() => (this.#bounds.running.value ? this.#boundsProgress.value : null));
    this.search = computed(() => this.#search.answer.value?.value ?? null);
    this.searchFresh = computed(
      () => this.#search.answer.value?.key.endsWith(`|${poseKey(store.design.value)}`) ?? false,
    );
    this.searchProgress = computed(() => (this.#search.running.value ? this.#searchProgress.value : null));
  }

  #rivalsKey(): string {
    return `${poseKey(this.#store.design.value)}|${JSON.stringify(this.#kept.value)}`;
  }

  askRivals(): void {
    const design = this.#store.design.peek();
    const kept = this.#kept.peek().flatMap(({ name, document }) => {
      const resolution = resolveDocument(document);
      return resolution.ok ? [{ name, design: resolution.resolved.design }] : [];
    });
    this.#rivalsProgress.value = { fraction: 0, stage: 'making the rivals' };
    this.#rivals.ask(this.#rivalsKey(), (abort) =>
      this.#engine.rivals({ design, kept }, abort, (progress) => {
        this.#rivalsProgress.value = progress;
      }),
    );
  }

  stopRivals(): void {
    this.#rivals.stop();
  }

  askRetune(): void {
    const design = this.#store.design.peek();
    this.#retune.ask(poseKey(design), (abort) => this.#engine.retune(design, abort));
  }

  /** @returns key of the question, as its answer carries it */
  askCoilSizes(question: CoilSizeQuestion): string {
    const key = JSON.stringify(question);
    this.#coilSizes.ask(key, (abort) => this.#engine.coilSizes(question, abort));
    return key;
  }

  /** A row of coils like the transmitter's. @param stepMm distance of their centres */
  askRow(count: 2 | 3, stepMm: number): void {
    const design = this.#store.design.peek();
    this.#rowProgress.value = { fraction: 0, stage: 'the coils of the row' };
    this.#row.ask(`${JSON.stringify([count, stepMm])}|${poseKey(design)}`, (abort) =>
      this.#engine.row(rowOf(design, count, stepMm), abort, (progress) => {
        this.#rowProgress.value = progress;
      }),
    );
  }

  /** Intervals over plausible boards. */
  askBounds(): void {
    const design = this.#store.design.peek();
    this.#boundsProgress.value = { fraction: 0, stage: 'the link' };
    this.#bounds.ask(poseKey(design), (abort) =>
      this.#engine.bounds(design, abort, (progress) => {
        this.#boundsProgress.value = progress;
      }),
    );
  }

  stopBounds(): void {
    this.#bounds.stop();
  }

  stopRow(): void {
    this.#row.stop();
  }

  stopRetune(): void {
    this.#retune.stop();
  }

  askSearch(request: Omit<SearchRequest, 'design'>): void {
    const design = this.#store.design.peek();
    const full: SearchRequest = { ...request, design };
    this.#searchProgress.value = { fraction: 0, stage: 'beginning' };
    this.#front.value = [];
    this.#search.ask(`${JSON.stringify(request)}|${poseKey(design)}`, (abort) =>
      this.#engine.search(
        full,
        abort,
        (progress) => {
          this.#searchProgress.value = progress;
        },
        (front) => {
          this.#front.value = front;
        },
      ),
    );
  }

  /** What was found so far stays on show. */
  stopSearch(): void {
    this.#search.stop();
  }

  /** Keeps the design on the table as a candidate; the oldest makes room. */
  keep(name: string): void {
    const kept = [...this.#kept.peek(), { name, document: this.#store.document.peek() }];
    this.#kept.value = kept.slice(-MOST_KEPT);
  }

  forget(index: number): void {
    this.#kept.value = this.#kept.peek().filter((_, i) => i !== index);
  }
}
