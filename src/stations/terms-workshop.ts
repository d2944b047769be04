import { DRAWING, OURS, TRADE, term } from './term.ts';

/** Labels of what the workshop has beside its stations: the view of both coils, the comparison, the report. */
export const WORKSHOP_TERMS = Object.freeze({
  fieldLines: term(
    'Field lines',
    'Lines that follow the field at the moment at which the transmitter’s current peaks; each stands for the same flux. They end where they enter ferrite or metal.',
    'IEC 60050-121, electromagnetism (from memory)',
    'each line: the same ∫ B dA',
  ),
  pitch: term('Pitch', 'From the middle of one turn to the middle of the next, along the sides.', TRADE),
  fill: term('Fill', 'Share of the winding’s band that its conductors take up, side by side.', OURS, 'width / pitch'),
  tolerances: term('Tolerances', 'How far each layer’s thickness may be off, either way.', DRAWING),
});
