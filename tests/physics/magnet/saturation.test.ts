import { describe, expect, it } from 'vitest';
import { gaussLegendre } from '../../../src/numerics/gauss-legendre.ts';
import { discField } from '../../../src/physics/magnet/disc-field.ts';
import { differentialPermeability, effectiveMedium, plateFlux } from '../../../src/physics/magnet/saturation.ts';
import { addDiscPotential, plateCharges, softPlate } from '../../../src/physics/magnet/soft-plate.ts';

describe('differentialPermeability', () => {
  it('falls from mu_r to one', () => {
    expect(differentialPermeability(700, 0, 0.35)).toBe(700);
    expect(differentialPermeability(700, 0.35, 0.35)).toBe(1);
    expect(differentialPermeability(700, -2, 0.35)).toBe(1);
    expect(differentialPermeability(700, 0.175, 0.35)).toBeCloseTo(1 + 699 / 4, 9);
  });
  it('is the slope of Froehlich’s curve', () => {
    const mu0 = 4e-7 * Math.PI;
    const chi = 699;
    const ms = 0.35 / mu0;
    const magnetisation = (h: number) => (ms * chi * h) / (ms + chi * h);
    for (const h of [10, 200, 2000]) {
      const slope = (magnetisation(h * 1.0001) - magnetisation(h * 0.9999)) / (h * 2e-4);
      const m = magnetisation(h);
      expect(differentialPermeability(700, mu0 * m, 0.35) / (1 + slope)).toBeCloseTo(1, 4);
    }
  });
});

describe('effectiveMedium', () => {
  it('half and half is the geometric mean (Dykhne’s exact result for a symmetric sheet, from memory)', () => {
    expect(
      effectiveMedium([
        [1, 700],
        [1, 1],
      ]),
    ).toBeCloseTo(Math.sqrt(700), 6);
  });
  it('few holes take twice their share (dilute limit of two dimensions)', () => {
    const share = 1e-4;
    const m = effectiveMedium([
      [1 - share, 1e6],
      [share, 1],
    ]);
    expect((1 - m / 1e6) / share).toBeCloseTo(2, 2);
  });
  it('lies between its parts; of one kind is that kind; of nothing is nothing', () => {
    expect(effectiveMedium([[3, 42]])).toBe(42);
    expect(effectiveMedium([])).toBe(0);
    const m = effectiveMedium([
      [1, 5],
      [2, 50],
      [3, 500],
    ]);
    expect(m).toBeGreaterThan(5);
    expect(m).toBeLessThan(500);
  });
});

describe('plateFlux', () => {
  const magnet = { radius: 4e-3, thickness: 1e-3, remanence: 1.2 };
  const plate = softPlate({ shape: 'circle', diameter: 50e-3 }, 2e-3, 2000, { cell: 1.5e-3, layers: 2 });
  const placed = [{ disc: magnet, x: 0, y: 0, z: 1e-3 + 3e-3 + 0.5e-3 }];
  const charges = plateCharges(plate, addDiscPotential(plate, placed, new Float64Array(plate.panels)));

  it('a magnet over a wide plate: the flux that enters inside a circle runs out through it', () => {
    const flux = plateFlux(plate, placed, charges, 0.35);
    // Independent: twice the magnet's normal field (image method) integrated over the circle.
    const rule = gaussLegendre(40);
    const field = new Float64Array(2);
    const density = (r: number) => {
      let entering = 0;
      for (let k = 0; k < 40; k += 1) {
        const rho = (r * (1 + rule.nodes[k])) / 2;
        discField(magnet, rho, -3.5e-3, field);
        entering += 2 * Math.PI * rho * 2 * field[1] * rule.weights[k] * (r / 2);
      }
      return Math.abs(entering) / (2 * Math.PI * r * 2e-3);
    };
    expect(flux.peakT).toBeGreaterThan(0.03);
    expect(Math.abs(flux.peakT / density(flux.atRadius) - 1)).toBeLessThan(0.08);
    expect(flux.utilisation).toBeCloseTo(flux.peakT / 0.35, 12);
  });

  it('thick ferrite far from saturation keeps its permeability; a low limit takes it', () => {
    const easy = plateFlux(plate, placed, charges, 50);
    expect(easy.saturatedShare).toBe(0);
    expect(easy.effectivePermeability).toBeGreaterThan(0.99 * 2000);
    const hard = plateFlux(plate, placed, charges, 0.02);
    expect(hard.saturatedShare).toBeGreaterThan(0);
    expect(hard.leastPermeability).toBe(1);
    expect(hard.effectivePermeability).toBeLessThan(0.9 * 2000);
  });
});
