import { describe, expect, it } from 'vitest';
import { magnetCautions, pullLimits } from '../../../src/physics/magnet/cautions.ts';
import { discPairForce } from '../../../src/physics/magnet/disc-pair.ts';
import type { MagnetLayout } from '../../../src/physics/magnet/magnet-layout.ts';

const layout = (radius: number, thickness: number): MagnetLayout => ({
  positions: new Float64Array(2),
  polarity: null,
  lower: { radius, thickness, remanence: 1.3 },
  upper: { radius, thickness, remanence: 1.3 },
  facing: 'magnet',
  gap: 3e-3,
});

describe('pullLimits', () => {
  it('is the touching pair, below the bound of endless magnets', () => {
    const limits = pullLimits(layout(5e-3, 2e-3));
    const disc = layout(5e-3, 2e-3).upper;
    expect(limits.contactPerPairN).toBeCloseTo(discPairForce(disc, disc, 0, 0).pull, 12);
    expect(limits.boundPerPairN).toBeCloseTo((1.69 * Math.PI * 25e-6) / (8e-7 * Math.PI), 9);
    expect(limits.contactPerPairN).toBeLessThan(limits.boundPerPairN);
    expect(limits.contactPressurePa).toBeCloseTo(limits.contactPerPairN / (Math.PI * 25e-6), 6);
  });
  it('steel counts as the magnet’s own image', () => {
    const steel = { ...layout(5e-3, 2e-3), facing: 'steel' as const };
    expect(pullLimits(steel).contactPerPairN).toBeCloseTo(pullLimits(layout(5e-3, 2e-3)).contactPerPairN, 12);
  });
});

describe('magnetCautions', () => {
  it('always speaks of implants, cards, swallowing and the cell; of pinching for strong magnets', () => {
    const weak = magnetCautions(layout(2e-3, 1e-3)).join('\n');
    for (const word of ['pacemakers', 'stripes', 'swallowed', 'pouch cell']) expect(weak).toContain(word);
    expect(weak).not.toContain('pinch');
    expect(magnetCautions(layout(10e-3, 5e-3))[0]).toContain('pinch');
  });
});
