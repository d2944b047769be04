import type { ReadonlySignal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { LESSON_TITLES, LESSONS, type Lesson } from '../analysis/lessons/lesson.ts';
import '../charts/lesson-chart.ts';
import type { LessonDraggedDetail } from '../charts/lesson-chart.ts';
import { readingText } from '../charts/lesson-figure.ts';
import '../charts/lesson-sketch.ts';
import '../parts/oc-answer.ts';
import type { AnswerStretch } from '../parts/oc-answer.ts';
import type { Session } from '../state/session.ts';
import { figure } from './figure.ts';
import { label } from './glossary.ts';
import { lessonSheet, unitsKept } from './lesson-sheet.ts';
import { lessonStyle } from './lesson-style.ts';
import { StationElement } from './station-element.ts';
import { stationStyle } from './station-style.ts';

/** What the fragment asks for: a lesson, or the sheet. */
function askedFor(fragment: string): number | 'sheet' {
  const [, page = ''] = fragment.replace(/^#/, '').split('/');
  if (page === 'sheet') return 'sheet';
  const number = Number(page);
  return Number.isInteger(number) && number >= 1 && number <= LESSONS ? number : 1;
}

/** Lessons: one prediction, one thing to drag, one figure that answers. */
@customElement('oc-lessons')
export class Lessons extends StationElement {
  static override readonly styles = [stationStyle, lessonStyle];

  @state() private _page: number | 'sheet' = askedFor(location.hash);
  /** Where the learner has dragged to, by lesson. */
  @state() private _at: Readonly<Record<number, number>> = {};
  @state() private _copied = false;

  protected watched({ lessons }: Session): readonly ReadonlySignal<unknown>[] {
    return [lessons.all, lessons.failure, ...lessons.guesses];
  }

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener('hashchange', this.#onHash);
    this.#onHash();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    window.removeEventListener('hashchange', this.#onHash);
  }

  readonly #onHash = (): void => {
    if (!location.hash.startsWith('#lessons')) return;
    this._page = askedFor(location.hash);
    this._copied = false;
  };

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    super.willUpdate(changed);
    const session = this.session;
    if (!session) return;
    session.answers.want({ mapSpanMm: null, sweeps: null });
    if (this._page === 'sheet') for (let number = 1; number <= LESSONS; number++) session.lessons.want(number);
    else session.lessons.want(this._page);
  }

  protected override render(): TemplateResult {
    const session = this.session;
    if (!session) return html``;
    const { lessons } = session;
    const page = this._page;
    return html`${this.#contents()}
    ${lessons.failure.value === null ? nothing : html`<p role="alert">${lessons.failure.value}</p>`}
    ${page === 'sheet' ? this.#sheet(session) : this.#lesson(session, page, lessons.all.value[page - 1] ?? null)}`;
  }

  #contents(): TemplateResult {
    return html`<nav aria-label="Lessons">
      <ol>
        ${LESSON_TITLES.map(
          (title, i) =>
            html`<li>
              <a href="#lessons/${i + 1}" aria-current=${this._page === i + 1 ? 'page' : 'false'}
                ><span class="number">${i + 1}</span>${title}</a
              >
            </li>`,
        )}
      </ol>
    </nav>`;
  }

  #sheet(session: Session): TemplateResult {
    const stretches: AnswerStretch[] = [{ text: label('lessonSheet'), tone: 'plain' }];
    return html`<oc-answer
        .stretches=${stretches}
        why="Six lessons with their questions, answers and sources. The right answers are set in bold."
        settled
      ></oc-answer>
      <p class="ways"><button type="button" class="quiet" @click=${() => window.print()}>Print</button></p>
      ${lessonSheet(session.lessons.all.value)}`;
  }

  #lesson(session: Session, number: number, lesson: Lesson | null): TemplateResult {
    const stretches: AnswerStretch[] = [{ text: `${LESSON_TITLES[number - 1]}.`, tone: 'plain' }];
    if (!lesson)
      return html`<oc-answer .stretches=${stretches} why="Being worked out; a moment, or some seconds where ferrite comes in." settled></oc-answer>`;
    const guess = session.lessons.guesses[number - 1]?.value ?? null;
    return html`<oc-answer .stretches=${stretches} why=${guess === null ? 'Say what you expect; then the figure is uncovered, and you drag.' : lesson.aim} settled></oc-answer>
      <div class="page">
        ${this.#prediction(session, lesson, guess)} ${this.#figure(session, lesson, guess)}
      </div>
      ${guess === null ? nothing : this.#below(lesson)} ${this.#ways(number)}`;
  }

  #prediction(session: Session, lesson: Lesson, guess: number | null): TemplateResult {
    const { question, options, right, because } = lesson.prediction;
    const signal = session.lessons.guesses[lesson.number - 1];
    const say = (value: number): void => {
      if (signal) signal.value = value;
    };
    return html`<div>
      <h2>${label('lessonPredict')}</h2>
      <fieldset>
        <legend>${unitsKept(question)}</legend>
        ${options.map(
          (option, i) =>
            html`<label class=${guess !== null && i === right ? 'right' : ''}>
              <input
                type="radio"
                name="guess-${lesson.number}"
                .checked=${guess === i}
                @change=${() => say(i)}
              />
              <span>${unitsKept(option)}</span>
            </label>`,
        )}
      </fieldset>
      ${
        guess === null
          ? html`<button type="button" class="quiet" @click=${() => say(-1)}>Show it without a guess</button>`
          : nothing
      }
      <div aria-live="polite">
        ${
          guess === null
            ? nothing
            : html`<p class="because">
                ${guess === right ? 'As you said. ' : guess < 0 ? '' : 'Otherwise. '}${unitsKept(because)}
              </p>`
        }
      </div>
    </div>`;
  }

  #figure(session: Session, lesson: Lesson, guess: number | null): TemplateResult {
    const { drag, figure: drawn } = lesson;
    const at = this._at[lesson.number] ?? drag.start;
    const covered = guess === null;
    return html`<div>
      ${figure(session, {
        title: drawn.title,
        hint: covered ? 'uncovered once you have said what you expect' : `drag ${drag.what}, or use the arrow keys`,
        chart: () => this.renderRoot.querySelector('oc-lesson-chart'),
        csv: covered ? null : () => lessonCsv(lesson),
        body: html`<oc-lesson-chart
          .figure=${drawn}
          .value=${at}
          .limits=${[drag.min, drag.max] as [number, number]}
          ?covered=${covered}
          @lesson-dragged=${(event: CustomEvent<LessonDraggedDetail>) => {
            this._at = { ...this._at, [lesson.number]: event.detail.value };
          }}
        ></oc-lesson-chart>`,
      })}
      ${lesson.sketch ? html`<oc-lesson-sketch .sketch=${lesson.sketch} .value=${at}></oc-lesson-sketch>` : nothing}
      <p class="reading">${covered ? '' : readingText(drawn, at)}</p>
    </div>`;
  }

  #below({ facts, equation, source, figure: { dots } }: Lesson): TemplateResult {
    const sources = [...new Set(dots.map((dot) => dot.source))];
    return html`<div class="below">
      <section>
        <h2>${label('lessonFound')}</h2>
        <ul>
          ${facts.map(({ text }) => html`<li>${unitsKept(text)}</li>`)}
        </ul>
      </section>
      <section>
        <h2>${label('lessonEquation')}</h2>
        <p class="equation">${equation}</p>
        <p class="soft">${source}</p>
        ${
          sources.length === 0
            ? nothing
            : html`<h2>${label('lessonOutside')}</h2>
              ${sources.map((text) => html`<p class="soft">Dots: ${text}.</p>`)}`
        }
      </section>
    </div>`;
  }

  #ways(number: number): TemplateResult {
    return html`<p class="ways">
      ${number < LESSONS ? html`<a href="#lessons/${number + 1}">Next: ${LESSON_TITLES[number]}</a>` : nothing}
      <a href="#lessons/sheet">${label('lessonSheet')}</a>
      <button type="button" class="quiet" @click=${() => void this.#copy(number)}>
        ${this._copied ? 'Copied' : 'Copy the code that sets this lesson into another page'}
      </button>
    </p>`;
  }

  /** An iframe; `?embed` leaves head and foot of the page out. */
  async #copy(number: number): Promise<void> {
    const { origin, pathname } = location;
    const code = `<iframe src="${origin}${pathname}?embed#lessons/${number}" title="${LESSON_TITLES[number - 1]}" width="100%" height="900" style="border:0"></iframe>`;
    try {
      await navigator.clipboard.writeText(code);
      this._copied = true;
    } catch {
      if (this.session) this.session.notice.value = `The browser did not let the page copy. This is the code: ${code}`;
    }
  }
}

/** The curves of a lesson, one row for each point of the first. */
function lessonCsv({ figure: { x, y, curves, dots } }: Lesson): string {
  const unit = (name: string, of: string): string => `"${of === '' ? name : `${name} ${of}`}"`;
  const first = curves[0];
  if (!first) return '';
  const head = [unit(x.name, x.unit), ...curves.map((curve) => unit(curve.label, y.unit))].join(',');
  const rows = Array.from(first.x, (value, i) =>
    [value, ...curves.map((curve) => curve.y[i] ?? Number.NaN)].map(String).join(','),
  );
  const outside = dots.map((dot) => `${dot.x},${dot.y},"${dot.source.replace(/"/g, '""')}"`);
  return `${[head, ...rows, ...outside].join('\n')}\n`;
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-lessons': Lessons;
  }
}
