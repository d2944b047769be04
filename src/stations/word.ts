import { html, type TemplateResult } from 'lit';
import '../parts/oc-word.ts';
import { GLOSSARY, type TermId } from './glossary.ts';
import type { Term } from './term.ts';

/** A label that says on request what it means. */
export function word(id: TermId): TemplateResult {
  const term: Term = GLOSSARY[id];
  return html`<oc-word meaning=${term.meaning} formula=${term.formula ?? ''} source=${term.source}>${term.label}</oc-word>`;
}
