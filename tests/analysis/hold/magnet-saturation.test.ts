import { describe, expect, it } from 'vitest';
import { saturationEffect } from '../../../src/analysis/hold/magnet-saturation.ts';
import type { Design } from '../../../src/design/types.ts';
import type { PlateFlux } from '../../../src/physics/magnet/saturation.ts';
import { demo, MAGNETS } from './demo-design.ts';

/** One ferrite only, so that the field model is quick to set up. */
function oneFerrite(): Design {
  const design = demo({ magnets: MAGNETS });
  return {
    ...design,
    transmitter: { ...design.transmitter, ferrite: null },
    receiver: { ...design.receiver, metal: null },
  };
}
const flux = (effectivePermeability: number, utilisation: number): PlateFlux => ({
  peakT: 0.3,
  atRadius: 0.008,
  saturatedShare: 0,
  leastPermeability: 1,
  effectivePermeability,
  utilisation,
});

describe('saturationEffect', () => {
  it('is null without ferrite in reach', () => {
    expect(saturationEffect(demo({ magnets: MAGNETS }), { dock: null, device: null })).toBeNull();
  });

  it('an untouched permeability changes nothing; a lowered one takes inductance and says so in numbers', () => {
    const design = oneFerrite();
    const same = saturationEffect(design, { dock: null, device: flux(700, 0.2) });
    if (!same) throw new Error('no effect');
    expect(same.receiverInductanceH.with).toBeCloseTo(same.receiverInductanceH.without, 12);
    expect(same.coupling.with).toBeCloseTo(same.coupling.without, 9);
    expect(same.saturates).toBe(false);

    const half = saturationEffect(design, { dock: null, device: flux(60, 1.4) });
    if (!half) throw new Error('no effect');
    const loss = ({ with: after, without }: { readonly with: number; readonly without: number }) => 1 - after / without;
    expect(loss(half.receiverInductanceH)).toBeGreaterThan(0.005);
    // The receiver's ferrite counts for the transmitter too, and less.
    expect(loss(half.transmitterInductanceH)).toBeGreaterThan(0);
    expect(half.saturates).toBe(true);
    expect(half.sentence).toMatch(
      /^The magnets’ steady flux takes the device’s ferrite from a permeability of 700 to about 60: transmitter L −\d+\.\d %, receiver L −\d+\.\d %, k −\d+\.\d %, margin at home -?\d+ % to -?\d+ %\. Somewhere/,
    );
    expect(half.transmitterPermeability).toBeNull();
  });
});
