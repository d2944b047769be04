import { OURS, TRADE, term } from './term.ts';

/** Labels of the supply choice and of what moves the margin. */
export const SUPPLY_TERMS = Object.freeze({
  efficiencyAgainstLoad: term(
    'Efficiency against load',
    'Power at the load over power from the supply, cable and boards included; each line ends where regulation does.',
    TRADE,
  ),
  asked: term('asked', 'The worst continuous combination of loads.', OURS),
  mostGiven: term('most it gives', 'Largest current in regulation, coming from idle.', OURS),
  limitedBy: term('limited by', 'What ends the largest current.', OURS),
  inHand: term('in hand', 'Margin over what is asked.', OURS),
  efficiencyAsked: term(
    'efficiency as asked',
    'Power at the load over power from the supply, at what is asked.',
    TRADE,
  ),
  receiverHeat: term('receiver settles at', 'Temperature of the receiver board at what is asked.', TRADE),
  transmitterHeat: term('transmitter settles at', 'Temperature of the transmitter board at what is asked.', TRADE),
  safeOffCentre: term(
    'safe off centre',
    'Largest offset in every direction that wakes and has the wanted margin.',
    OURS,
  ),
  holdsApart: term('holds apart', 'Largest gap at this offset that has the wanted margin.', OURS),
  wakesApart: term('wakes apart', 'Largest gap at this offset at which the receiver wakes.', OURS),
  lightLoad: term('at light load', 'What becomes of the receiver under its lightest load.', TRADE),
  whatIsKnown: term('over its tolerance', 'Change at both ends of what is known about the input.', OURS),
  perPercent: term('per percent', 'Change for one percent more of the input.', OURS),
  movesTheMargin: term('What moves the margin', 'Inputs ranked by how far they move the largest current here.', OURS),
  moreOfIt: term('more of it', 'The input at the upper end of its tolerance.', OURS),
  lessOfIt: term('less of it', 'The input at the lower end of its tolerance.', OURS),
});
