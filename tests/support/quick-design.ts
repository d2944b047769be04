import { STARTING_POINTS } from '../../src/design/starting-points.ts';

/** A link without ferrite, metal or many turns: its answers take milliseconds, so that a test's time goes into the page. */
export function quickDesign() {
  const { document: bare } = STARTING_POINTS[0]!;
  return {
    ...bare,
    placement: { offsetXMm: 0, offsetYMm: 0, yawDeg: 0 },
    transmitter: { ...bare.transmitter, coil: { ...bare.transmitter.coil, turns: 4 }, ferrite: null, metal: null },
    receiver: { ...bare.receiver, coil: { ...bare.receiver.coil, turns: 4 }, ferrite: null, metal: null },
  };
}
