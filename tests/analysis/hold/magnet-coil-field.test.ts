import { describe, expect, it } from 'vitest';
import { coilFieldAtMagnets } from '../../../src/analysis/hold/magnet-coil-field.ts';
import { linkContext } from '../../../src/analysis/link/link-context.ts';
import { MU0 } from '../../../src/physics/constants.ts';
import { MAGNETS } from './demo-design.ts';
import { plainLink } from './plain-link.ts';

describe('coilFieldAtMagnets', () => {
  it('is null without magnets', () => {
    expect(coilFieldAtMagnets(plainLink().design)).toBeNull();
  });

  it('far off falls with the cube of the distance, as a dipole does; near it is below the field in the middle', () => {
    const at = (x: number) => {
      const { design } = plainLink({ magnets: { ...MAGNETS, positionsMm: [[x, 0]] } });
      const field = coilFieldAtMagnets(design);
      if (!field) throw new Error('no field');
      return field;
    };
    const near = at(31);
    expect(near.frequencyHz).toBeGreaterThan(100e3);
    expect(near.frequencyHz).toBeLessThan(220e3);
    // Ratio of distances 2: 2^-3 within the coils' size over the distance.
    const ratio = at(400).peakT / at(200).peakT;
    expect(ratio).toBeGreaterThan(0.115);
    expect(ratio).toBeLessThan(0.135);
    // A bound: all turns of both coils as loops of their inner radius carrying 3 A peak, in their own middle.
    const { transmitter, receiver } = linkContext(plainLink().design);
    const bound = (MU0 * 6 * 3 * (transmitter.winding.turns.length + receiver.winding.turns.length)) / (2 * 0.5 * 0.01);
    expect(near.peakT).toBeGreaterThan(0);
    expect(near.peakT).toBeLessThan(bound);
    expect(near.peakT).toBeGreaterThan(at(60).peakT);
  });
});
