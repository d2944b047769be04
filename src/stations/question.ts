import { html, nothing, type TemplateResult } from 'lit';
import { label, type TermId } from './glossary.ts';

interface Question {
  /** Of its heading. */
  readonly id: string;
  readonly term: TermId;
  /** What it answers, in one sentence. */
  readonly answers: string;
  /** What is asked, and beneath it what was found. */
  readonly body: unknown;
  /** How it is worked out; folded away. */
  readonly method?: string;
}

/** One question of a station beneath its figures: its name in the margin, beside it what it answers, asks and finds. */
export function question({ id, term, answers, body, method }: Question): TemplateResult {
  return html`<section class="question" aria-labelledby=${id}>
    <h2 id=${id}>${label(term)}</h2>
    <div class="body">
      <p class="answers">${answers}</p>
      ${body}
    </div>
    ${
      method === undefined
        ? nothing
        : html`<details class="method">
            <summary>${label('howFound')}</summary>
            <p class="soft">${method}</p>
          </details>`
    }
  </section>`;
}
