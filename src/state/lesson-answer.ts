import { computed, type ReadonlySignal, type Signal, signal } from '@preact/signals-core';
import { LESSONS, type Lesson } from '../analysis/lessons/lesson.ts';
import { failureSentence } from '../engine/failure-sentence.ts';
import type { Engine } from '../engine/types.ts';

/** The lessons as they are worked out, and what the learner has said to each; kept as long as the page. */
export class LessonAnswer {
  readonly #engine: Engine;
  readonly #asked = new Set<number>();
  readonly #lessons: readonly Signal<Lesson | null>[] = Array.from({ length: LESSONS }, () =>
    signal<Lesson | null>(null),
  );
  readonly #failure = signal<string | null>(null);
  /** Index of the option chosen in each lesson; -1: looked without guessing; null: not yet. */
  readonly guesses: readonly Signal<number | null>[] = Array.from({ length: LESSONS }, () =>
    signal<number | null>(null),
  );

  readonly failure: ReadonlySignal<string | null> = this.#failure;
  /** All six, null where not worked out. */
  readonly all: ReadonlySignal<readonly (Lesson | null)[]>;

  constructor(engine: Engine) {
    this.#engine = engine;
    this.all = computed(() => this.#lessons.map((lesson) => lesson.value));
  }

  /** Works a lesson out, once. @param number 1 to 6 */
  want(number: number): void {
    if (this.#asked.has(number)) return;
    this.#asked.add(number);
    void this.#work(number);
  }

  async #work(number: number): Promise<void> {
    try {
      const outcome = await this.#engine.lesson(number);
      if (outcome.ok) this.#lessons[number - 1]!.value = outcome.value;
      else this.#failure.value = outcome.message;
    } catch (error) {
      this.#asked.delete(number);
      this.#failure.value = failureSentence(error);
    }
  }
}
