import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { parseDesign } from '../../../src/design/resolve.ts';
import type { Design } from '../../../src/design/types.ts';

/** The demo design without its plates, so that a link takes milliseconds. */
export function airPair(): Design {
  const parsed = parseDesign(DEMO_DESIGN);
  if (!parsed.ok) throw new Error('the demo design must parse');
  const design = structuredClone(parsed.design);
  design.transmitter.ferrite = null;
  design.receiver.ferrite = null;
  design.receiver.metal = null;
  // Without ferrite the inductances halve: capacitors that bring the resonances back, and a smaller demand.
  design.transmitter.drive.seriesCapacitanceNf = 760;
  design.receiver.pickup.seriesCapacitanceNf = 220;
  for (const load of design.demand.loads) load.currentA *= 0.4;
  // The margin alone ends the reach, and only what is stated has a tolerance.
  design.receiver.pickup.wakeV = 1.5;
  design.transmitter.coil.inductanceTolerancePercent = 0;
  design.receiver.coil.inductanceTolerancePercent = 0;
  design.transmitter.drive.seriesCapacitanceTolerancePercent = 0;
  design.transmitter.drive.supplyTolerancePercent = 0;
  design.transmitter.drive.frequencyTolerancePercent = 0;
  return { ...design, assumed: [] };
}
