import { html, type TemplateResult } from 'lit';
import '../parts/oc-word.ts';
import { label, type TermId, termNamed } from './labels.ts';

/** How a word begins: as in the list, as a heading does, or as within a sentence. */
type Beginning = 'listed' | 'large' | 'small';

function begun(text: string, beginning: Beginning): string {
  if (beginning === 'listed') return text;
  const first = text.charAt(0);
  return `${beginning === 'large' ? first.toUpperCase() : first.toLowerCase()}${text.slice(1)}`;
}

/** A label that says on request what it means. */
export function word(id: TermId, beginning: Beginning = 'listed'): TemplateResult {
  const term = termNamed(id);
  return html`<oc-word meaning=${term.meaning} formula=${term.formula ?? ''} source=${term.source}
    >${begun(term.label, beginning)}</oc-word
  >`;
}

/** Beneath an answer line: the words in it that want a meaning. */
export function wordsOf(...ids: readonly TermId[]): TemplateResult {
  return html`<span class="words"
    >${label('glossary')}: ${ids.map((id, i) => html`${i > 0 ? ', ' : ''}${word(id, 'small')}`)}</span
  >`;
}
