import { html, type TemplateResult } from 'lit';
import '../parts/oc-word.ts';
import { label, type TermId, termNamed } from './labels.ts';

/** A label that says on request what it means. */
export function word(id: TermId): TemplateResult {
  const term = termNamed(id);
  return html`<oc-word meaning=${term.meaning} formula=${term.formula ?? ''} source=${term.source}>${term.label}</oc-word>`;
}

/** Beneath an answer line: the words in it that want a meaning. */
export function wordsOf(...ids: readonly TermId[]): TemplateResult {
  return html`<span class="words">${label('glossary')}: ${ids.map((id, i) => html`${i > 0 ? ', ' : ''}${word(id)}`)}</span>`;
}
