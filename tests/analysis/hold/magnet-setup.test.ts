import { describe, expect, it } from 'vitest';
import { contactRadiusOf, layoutOf, magnetPlates } from '../../../src/analysis/hold/magnet-setup.ts';
import { linkSidesOf } from '../../../src/design/wind.ts';
import { demo, MAGNETS, RECESS } from './demo-design.ts';

describe('magnetPlates and contactRadiusOf', () => {
  it('puts plates behind the windings, mirrored about the gap', () => {
    const design = demo({ magnets: MAGNETS });
    const sides = linkSidesOf(design);
    const { plates } = magnetPlates(layoutOf(MAGNETS), sides.transmitter, sides.receiver, 5.9e-3);
    const t = sides.transmitter;
    const face = 2.95e-3 + 2 * t.winding.halfThickness + (t.ferrite?.standoff ?? 0);
    expect(plates.dock?.height).toBeCloseTo(-(face + (t.ferrite?.thickness ?? 0) / 2), 12);
    expect(plates.device?.height).toBeGreaterThan(2.95e-3);
  });
  it('two thirds of the radius of the outline’s area', () => {
    expect(contactRadiusOf(demo({ recess: RECESS }))).toBeCloseTo((2 / 3) * Math.sqrt((72 * 58) / Math.PI) * 1e-3, 12);
    expect(contactRadiusOf(demo())).toBeCloseTo((2 / 3) * Math.sqrt((46 * 33) / Math.PI) * 1e-3, 12);
  });
});
