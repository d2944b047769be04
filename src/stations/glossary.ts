import { CORE_TERMS, learn } from './labels.ts';
import type { Term } from './term.ts';
import { EXPOSURE_TERMS } from './terms-exposure.ts';
import { FEED_TERMS } from './terms-feed.ts';
import { HOLD_TERMS } from './terms-hold.ts';
import { LESSON_TERMS } from './terms-lessons.ts';
import { PROVE_TERMS } from './terms-prove.ts';
import { RIVALS_TERMS } from './terms-rivals.ts';
import { SUPPLY_TERMS } from './terms-supply.ts';

export { label, type TermId } from './labels.ts';

/**
 * Every label on the screens, what it means, and where the word comes from: a term of the trade with its source, or a name
 * of ours. Labels in templates are taken from here by `label(...)`, so that one without an entry does not compile. What the
 * page shows first takes them from `labels.ts`, which does not bring all the others along.
 */
export const GLOSSARY = Object.freeze({
  ...CORE_TERMS,
  ...PROVE_TERMS,
  ...RIVALS_TERMS,
  ...LESSON_TERMS,
  ...FEED_TERMS,
  ...EXPOSURE_TERMS,
  ...SUPPLY_TERMS,
  ...HOLD_TERMS,
});

learn(GLOSSARY);

/** All terms in the order of the alphabet. */
export function glossaryRows(): readonly Term[] {
  return Object.values(GLOSSARY).toSorted((a, b) => a.label.localeCompare(b.label, 'en'));
}
