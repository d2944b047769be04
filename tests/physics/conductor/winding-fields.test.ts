import { describe, expect, test } from 'vitest';
import { circleAxialField } from '../../../src/physics/coil/coaxial-circles.ts';
import { windCoil } from '../../../src/physics/coil/winding.ts';
import { acResistance } from '../../../src/physics/conductor/ac-resistance.ts';
import { windingFields } from '../../../src/physics/conductor/winding-fields.ts';
import { rings, solid, TRANSMITTER, trace } from '../coil/coils.ts';
import { expectRegion, referenceRegions } from '../coil/reference.ts';

describe('independent subdivided conductors', () => {
  // reference-cases/conductor-arrays/generate.py
  test.each(referenceRegions('conductor-arrays', (id) => id.startsWith('trace')))('$name', (region) => {
    expectRegion(region, ({ inputs }) => {
      const g: Record<string, number> = inputs;
      const coil = rings(
        g.outerRadiusMm * 1e-3,
        g.innerRadiusMm * 1e-3,
        g.turns,
        trace(g.widthMm * 1e-3, g.thicknessUm * 1e-6),
      );
      const { total, dc } = acResistance(coil, g.frequencyHz, 20);
      return total / dc;
    });
  });
  test.each(referenceRegions('conductor-arrays', (id) => id.startsWith('wire')))('$name', (region) => {
    expectRegion(region, ({ inputs }) => {
      const g: Record<string, number> = inputs;
      const { total, dc } = acResistance(
        rings(g.outerRadiusMm * 1e-3, g.innerRadiusMm * 1e-3, g.turns, solid(g.diameterMm * 1e-3)),
        g.frequencyHz,
        20,
      );
      return total / dc;
    });
  });
});

describe('field on the turns', () => {
  test('mean square on a ring far from its neighbours is their field squared', () => {
    const coil = rings(40e-3, 10e-3, 2, solid(0.2e-3));
    const mu0 = 4e-7 * Math.PI;
    const own = (Math.log((8 * 40e-3) / 0.1e-3) - 0.75) / (4 * Math.PI * 40e-3);
    const [outer] = windingFields(coil).meanSquare;
    expect(outer / (circleAxialField(10e-3, 40e-3, 0) / mu0 + own) ** 2).toBeCloseTo(1, 2);
  });

  test('circles and the same shape as arcs agree', () => {
    const arcs = windCoil({
      ...TRANSMITTER,
      outline: { shape: 'stadium', outerWidth: 44e-3, outerHeight: 44e-3, innerWidth: 20.5e-3, innerHeight: 20.5e-3 },
    });
    const [one, other] = [windCoil(TRANSMITTER), arcs].map((coil) => windingFields(coil).resistance(1.3e5, 20));
    expect(other / one).toBeCloseTo(1, 3);
  });
});
