import { CIRCUIT, DRAWING, FRAMES, MAGNETIC, OURS, type Term, TRADE, term } from './term.ts';
import type { EXPOSURE_TERMS } from './terms-exposure.ts';
import type { FEED_TERMS } from './terms-feed.ts';
import type { HOLD_TERMS } from './terms-hold.ts';
import type { LESSON_TERMS } from './terms-lessons.ts';
import type { PROVE_TERMS } from './terms-prove.ts';
import type { RIVALS_TERMS } from './terms-rivals.ts';
import type { SUPPLY_TERMS } from './terms-supply.ts';
import { WORKSHOP_TERMS } from './terms-workshop.ts';

/** What the page and the station that opens first say; the others bring their own with `glossary.ts`. */
export const CORE_TERMS = Object.freeze({
  // Stations and what belongs to the page
  pair: term('Pair', 'Judge whether this receiver coil on that transmitter coil is worth it.', OURS),
  feed: term('Feed', 'See whether the link carries the load, with which supply and which heat.', OURS),
  place: term('Place', 'See how the margin falls with gap, offset, turn and tilt.', OURS),
  hold: term('Hold', 'Size the recess or the magnets that keep the device in place.', OURS),
  prove: term('Prove', 'Lay bench readings beside the model and fit what is unknown.', OURS),
  lessons: term('Lessons', 'Short lessons on how it all works, on the same model.', OURS),
  design: term('Design', 'Everything you have entered; kept in this browser and in the file you save.', OURS),
  title: term('Title', 'Name of the design, also of the files made from it.', OURS),
  beside: term('Beside', 'A second design laid beside this one, to compare.', OURS),
  glossary: term('Words', 'This list.', OURS),
  keys: term('Keys', 'What can be done from the keyboard.', OURS),
  cautions: term('Cautions', 'What can hurt someone or spoil something.', TRADE),
  leavesOut: term('What the model leaves out', 'What you must find out by other means.', OURS),
  beginWith: term('Begin with', 'Generic designs of ours to start from; none is a real product.', OURS),
  look: term('Look', 'From where the coils are seen.', OURS),
  ground: term('Light or dark', 'Whether the page is light, dark, or as the system has it.', OURS),
  // Figures
  marginOverOffset: term(
    'Margin over offset',
    'Map of the margin over where the receiver’s centre lies, at the present gap, yaw and tilt.',
    OURS,
    'Imax(x, y) / I − 1',
  ),
  stack: term('The stack to scale', 'Section through both coils and what lies between them.', OURS),
  marginAgainstGap: term(
    'Margin against gap',
    'How the margin falls as the coils move apart; the band is what the tolerances leave open.',
    OURS,
    'Imax(gap) / I − 1',
  ),
  marginAgainstOffset: term(
    'Margin against offset',
    'How the margin falls sideways, along x and along y; the band is what the tolerances leave open.',
    OURS,
    'Imax(x) / I − 1,  Imax(y) / I − 1',
  ),
  bothCoils: term('Both coils', 'The pair in space, turn by turn.', OURS),
  planView: term('Plan', 'Both coils seen from above.', DRAWING),
  // Geometry
  gap: term(
    'Gap',
    'Clear distance between the facing conductor surfaces of the two windings, along the transmitter’s axis.',
    TRADE,
  ),
  offsetX: term('Offset x', 'Receiver centre from the transmitter’s axis, along x.', FRAMES),
  offsetY: term('Offset y', 'Receiver centre from the transmitter’s axis, along y.', FRAMES),
  offset: term('Offset', 'How far the receiver’s centre lies from the transmitter’s axis.', TRADE),
  yaw: term(
    'Yaw',
    'Turn of the receiver about the transmitter’s axis, counter-clockwise seen from the receiver.',
    FRAMES,
  ),
  tiltX: term('Tilt about x', 'Inclination of the receiver about the x axis.', FRAMES),
  tiltY: term('Tilt about y', 'Inclination of the receiver about the y axis.', FRAMES),
  layer: term('Layer', 'One material between the coils; the layers make up the gap.', TRADE),
  tolerance: term('Tolerance', 'How far a thickness may be off, either way.', DRAWING),
  outerDiameter: term('Outer diameter', 'Over the outermost conductor’s outer edge.', TRADE),
  innerDiameter: term('Inner diameter', 'Between the innermost conductor’s inner edges.', TRADE),
  outerWidth: term('Outer width', 'Along x, over the outermost conductor’s outer edges.', TRADE),
  outerHeight: term('Outer height', 'Along y, over the outermost conductor’s outer edges.', TRADE),
  innerWidth: term('Inner width', 'Along x, between the innermost conductor’s inner edges.', TRADE),
  innerHeight: term('Inner height', 'Along y, between the innermost conductor’s inner edges.', TRADE),
  cornerRadius: term('Corner radius', 'Of the outermost conductor’s outer edge.', DRAWING),
  turns: term('Turns', 'How often the conductor goes round, over all layers.', MAGNETIC),
  shape: term('Shape', 'Outline of the winding: circle, rounded rectangle, stadium or a free path.', TRADE),
  circle: term('circle', 'A round winding.', TRADE),
  roundedRectangle: term('rounded rectangle', 'Straight sides with round corners.', TRADE),
  stadium: term('stadium', 'Two half circles joined by straight sides.', TRADE),
  path: term('path', 'An outline given by points.', OURS),
  transmitter: term('Transmitter', 'The coil and board that are fed.', TRADE),
  receiver: term('Receiver', 'The coil and board in the device.', TRADE),
  ferrite: term('ferrite', 'Plate behind a winding that leads the field back.', MAGNETIC),
  metal: term('metal', 'Conducting plate behind a coil: a cell’s case, a ground plane.', TRADE),
  standoff: term('Standoff', 'Clear distance between a winding’s back and the plate behind it.', TRADE),
  // Electrical
  coupling: term(
    'Coupling factor k',
    'Share of the field that both coils have in common.',
    CIRCUIT,
    'k = M / √(L₁ L₂)',
  ),
  mutualInductance: term(
    'Mutual inductance',
    'Voltage in one coil for each change of current in the other.',
    CIRCUIT,
    'u₂ = M di₁/dt',
  ),
  inductance: term(
    'Self-inductance',
    'Of each coil with its ferrite and metal, the other coil in place.',
    CIRCUIT,
    'u = L di/dt',
  ),
  resistance: term('Resistance', 'Of each coil at the stated frequency, with ferrite and metal.', CIRCUIT),
  quality: term('Quality factor Q', 'Reactance over resistance of each coil.', CIRCUIT, 'Q = ω L / R'),
  efficiencyLimit: term(
    'Link efficiency limit',
    'The most that any circuit could get across this pair.',
    'textbook result for two coupled resonators (from memory)',
    'η = K² / (1 + √(1 + K²))²,  K² = k² Q₁ Q₂',
  ),
  supply: term('Supply', 'Voltage that feeds the transmitter board.', TRADE),
  load: term('Load', 'Current that the device asks for.', TRADE),
  // Verdicts
  margin: term('Margin', 'Largest current the link can give here, over what is asked, less one.', OURS, 'Imax / I − 1'),
  wantedMargin: term('Wanted margin', 'What you want to have in hand.', OURS),
  wanted: term('wanted', 'The wanted margin, as a line.', OURS),
  centred: term('centred', 'The receiver’s centre on the transmitter’s axis.', TRADE),
  off: term('off', 'Off centre: at the offset stated.', OURS),
  alongX: term('along x', 'The receiver moved along x, everything else as it is.', FRAMES),
  alongY: term('along y', 'The receiver moved along y, everything else as it is.', FRAMES),
  justHeld: term('just held', 'Margin zero: everything asked is given, and nothing more.', OURS),
  beyond: term('not computed', 'Offsets beyond the model’s range: nothing is known there.', OURS),
  collapse: term('collapses', 'Margin below zero: the rectified voltage breaks down under the load.', OURS),
  reach: term('reach', 'Radius of the largest disc about the axis that lies wholly in the safe region.', OURS),
  safe: term(
    'Safe outline',
    'Edge of the offsets where the link wakes, holds with the wanted margin and stays cool.',
    OURS,
  ),
  wake: term('wakes inside', 'Where the receiver reaches its wake voltage at the transmitter’s ping.', OURS),
  ...WORKSHOP_TERMS,
  peak: term('peak', 'A short load, such as at start-up; heat does not count for it.', TRADE),
});

type Terms = typeof CORE_TERMS &
  typeof EXPOSURE_TERMS &
  typeof FEED_TERMS &
  typeof HOLD_TERMS &
  typeof LESSON_TERMS &
  typeof PROVE_TERMS &
  typeof RIVALS_TERMS &
  typeof SUPPLY_TERMS;

export type TermId = keyof Terms;

const known: Partial<Record<TermId, Term>> = { ...CORE_TERMS };

/** Adds terms to what `label` and `termOf` know. */
export function learn(terms: Partial<Record<TermId, Term>>): void {
  Object.assign(known, terms);
}

/** What a label means. */
export function termNamed(id: TermId): Term {
  const found = known[id];
  if (!found) throw new Error(`the term ${id} has not been fetched: import glossary.ts`);
  return found;
}

/** The label of a term as it stands on the screens. */
export function label(id: TermId): string {
  return termNamed(id).label;
}

/** The term that a label names; labels are unique. Undefined where the text is no label. */
export function termOf(text: string): Term | undefined {
  return Object.values(known).find((entry) => entry.label === text);
}
