import { OURS, TRADE, term } from './term.ts';

const LEVELS = 'ICNIRP 2010 and 2020 (partly seen in a reprint, partly from memory)';

/** Labels of the field around the link. */
export const EXPOSURE_TERMS = Object.freeze({
  fieldAndSafety: term(
    'the field around it',
    'Stray field against published levels, and metal between the coils.',
    OURS,
  ),
  exposureDistance: term(
    'Distance to a person',
    'Clear distance from the nearest coil, ferrite or metal at which the field is judged.',
    OURS,
  ),
  strayField: term(
    'Largest flux density',
    'Root mean square of all three components, at the worst place all round the link at that distance.',
    TRADE,
  ),
  referenceLevel: term(
    'Reference level',
    'Level of the field below which a publication takes its limits inside the body to be met, without further proof.',
    LEVELS,
  ),
  publication: term('publication', 'Who states the level, for whom, and over which time it is averaged.', OURS),
  theLevel: term('level', 'The published value at this frequency, root mean square.', LEVELS),
  shareOfLevel: term('field over level', 'Largest flux density at the distance stated, as a part of the level.', OURS),
  metFrom: term(
    'compliance distance',
    'Clear distance from which on the field stays below the level; in brackets its band.',
    TRADE,
  ),
  metalBetween: term(
    'Metal between the coils',
    'Heat that the field makes in a small object half-way between them; an order of magnitude.',
    TRADE,
  ),
});
