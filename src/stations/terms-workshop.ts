import { OURS, TRADE, term } from './term.ts';

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
  layersAndTolerances: term(
    'Layers and tolerances',
    'Names of the layers, how far each may be off, and layers to add or take out.',
    OURS,
  ),
  compare: term('Compare', 'The design on the table and the one beside it, number by number.', OURS),
  onTheTable: term('On the table', 'The design that you edit.', OURS),
  difference: term('Difference', 'Beside less on the table; grey where it is smaller than what is known.', OURS),
  whatDiffers: term('What differs', 'Every input in which the two designs differ.', OURS),
  bothSafe: term(
    'Both safe outlines',
    'Edges of the two safe regions over each other, with their reach as circles.',
    OURS,
  ),
  mostCurrent: term(
    'Most current here',
    'Upper end of the load that the link follows in regulation, where it lies now.',
    OURS,
  ),
  wakeReach: term('Wake reach', 'How far off centre the receiver still wakes.', OURS),
  efficiency: term(
    'Efficiency',
    'Power at the load over power from the supply, at the asked load.',
    TRADE,
    'η = P₂ / P₁',
  ),
  receiverHeat: term('Receiver board', 'Settled temperature of the receiver board at the asked load.', TRADE),
  supplyCurrent: term('Supply current', 'What the transmitter board draws from its supply at the asked load.', TRADE),
  frequency: term('Frequency', 'At which the bridge runs at the asked load.', TRADE),
  report: term('Report', 'One page to print: the pair, the numbers, the map, the cautions and the inputs.', OURS),
  numbers: term('Numbers', 'What the model says of the pair where it lies now.', OURS),
  inputs: term('Inputs', 'Everything the answer rests on; those marked were not given and a default was taken.', OURS),
});
