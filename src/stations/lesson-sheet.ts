import { html, type TemplateResult } from 'lit';
import { LESSON_TITLES, type Lesson } from '../analysis/lessons/lesson.ts';
import { label } from './glossary.ts';

/** Numbers stay on one line with their units. */
export function unitsKept(text: string): string {
  return text.replace(/(\d) (mm|kHz|A|V|µH|nH|Ω|%)/g, '$1\u00a0$2').replace(/\b([kQL]) (\d)/g, '$1\u00a0$2');
}

/** All lessons for paper: aim, question with its answer, what the figure shows, what to talk about, sources. */
export function lessonSheet(lessons: readonly (Lesson | null)[]): TemplateResult {
  return html`<div class="sheet">
    ${lessons.map((lesson, i) =>
      lesson
        ? html`<section>
            <h2>${lesson.number}. ${lesson.title}</h2>
            <h3>${label('lessonAim')}</h3>
            <p>${lesson.aim}</p>
            <h3>${label('lessonPredict')}</h3>
            <p>${lesson.prediction.question}</p>
            <ol>
              ${lesson.prediction.options.map((option, at) => html`<li>${at === lesson.prediction.right ? html`<b>${option}</b>` : option}</li>`)}
            </ol>
            <p>${unitsKept(lesson.prediction.because)}</p>
            <h3>${label('lessonFound')}</h3>
            <ul>
              ${lesson.facts.map(({ text }) => html`<li>${unitsKept(text)}</li>`)}
            </ul>
            <h3>${label('lessonAsk')}</h3>
            <ul>
              ${lesson.questions.map((text) => html`<li>${text}</li>`)}
            </ul>
            <p class="soft">${lesson.equation}. ${lesson.source}</p>
          </section>`
        : html`<section><h2>${i + 1}. ${LESSON_TITLES[i]}</h2><p class="soft">Being worked out …</p></section>`,
    )}
  </div>`;
}
