import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { InputError } from '../../../src/numerics/errors.ts';
import { turnLength, turnPolyline } from '../../../src/physics/coil/turn-polyline.ts';
import type { CoilSpec } from '../../../src/physics/coil/types.ts';
import { windCoil } from '../../../src/physics/coil/winding.ts';
import { litz, polygon, RECEIVER, rectanglePoints, TRANSMITTER, trace } from './coils.ts';

function faultsOf(spec: CoilSpec): readonly { path: string; code: string; required: string; received: string }[] {
  try {
    windCoil(spec);
  } catch (error) {
    if (error instanceof InputError) return error.faults;
    throw error;
  }
  return [];
}

describe('the demo coils', () => {
  test('the transmitter winds ten circles between its edges', () => {
    const coil = windCoil(TRANSMITTER);
    expect(coil.turns).toHaveLength(10);
    // Centre lines from 22 - 0.55 mm to 10.25 + 0.55 mm; nine spacings.
    expect(coil.pitchX).toBeCloseTo((21.45e-3 - 10.8e-3) / 9, 15);
    expect(coil.halfWidth).toBeCloseTo(22e-3, 15);
    expect(coil.halfThickness).toBeCloseTo(0.55e-3, 15);
    expect(coil.wireLength).toBeCloseTo(10 * Math.PI * (21.45e-3 + 10.8e-3), 14);
    expect(turnLength(coil.turns[9])).toBeCloseTo(2 * Math.PI * 10.8e-3, 14);
  });

  test('the receiver winds two layers of seven with its two corner radii', () => {
    const coil = windCoil(RECEIVER);
    expect(coil.turns.map((turn) => turn.z)).toEqual([...Array(7).fill(-0.4e-3), ...Array(7).fill(0.4e-3)]);
    expect(coil.pitchX).toBeCloseTo(1.375e-3, 15);
    expect(coil.pitchY).toBeCloseTo(1.375e-3, 15);
    expect([coil.halfWidth, coil.halfHeight]).toEqual([expect.closeTo(23e-3, 15), expect.closeTo(16.5e-3, 15)]);
    expect(coil.halfThickness).toBeCloseTo(0.4e-3 + 0.375e-3, 15);
    const radius = (turn: number) => {
      const arc = coil.turns[turn].pieces.find((piece) => piece.kind === 'arc');
      return arc?.kind === 'arc' ? arc.radius : Number.NaN;
    };
    // Half a bundle inside the outer edge's 10 mm, half a bundle outside the inner edge's 2 mm, linear between.
    expect(radius(0)).toBeCloseTo(9.625e-3, 15);
    expect(radius(3)).toBeCloseTo(6e-3, 15);
    expect(radius(6)).toBeCloseTo(2.375e-3, 15);
  });

  test('the receiver in one layer is refused with the spacing that is missing', () => {
    const [fault] = faultsOf({ ...RECEIVER, layers: 1 });
    expect(fault.path).toBe('outline.innerWidth');
    // Thirteen spacings in 8.25 mm are 0.6346 mm, 0.1154 mm short of 0.75 mm; 46 - 2 x 14 x 0.75 = 25 mm would fit.
    expect(fault.required).toContain('at most 25 mm');
    expect(fault.required).toContain('0.1154 mm short');
    expect(fault.received).toBe('28 mm');
  });
});

describe('layers, filars and corners', () => {
  test('what does not divide goes to the first layers, which keep the outermost places', () => {
    const coil = windCoil({ ...RECEIVER, turns: 13 });
    expect(coil.turns.filter((turn) => turn.z < 0)).toHaveLength(7);
    expect(coil.turns.filter((turn) => turn.z > 0)).toHaveLength(6);
    expect(coil.turns[7].pieces).toBe(coil.turns[0].pieces);
  });

  test('filars share a turn at even spacing and carry their share', () => {
    const coil = windCoil({ ...TRANSMITTER, turns: 5, filars: 2 });
    expect(coil.turns).toHaveLength(10);
    expect(coil.turns.every((turn) => turn.weight === 0.5)).toBe(true);
    expect(coil.pitchX).toBeCloseTo(windCoil(TRANSMITTER).pitchX, 15);
    // One wire of the two.
    expect(coil.wireLength).toBeCloseTo(windCoil(TRANSMITTER).wireLength / 2, 14);
  });

  test('without an inner radius corners are concentric and stop at half the conductor width', () => {
    const coil = windCoil({
      ...RECEIVER,
      outline: { ...RECEIVER.outline, outerCornerRadius: 4e-3, innerCornerRadius: null } as CoilSpec['outline'],
    });
    const radii = coil.turns.slice(0, 7).map((turn) => {
      const arc = turn.pieces.find((piece) => piece.kind === 'arc');
      return arc?.kind === 'arc' ? arc.radius * 1e3 : Number.NaN;
    });
    expect(radii).toEqual([3.625, 2.25, 0.875, 0.375, 0.375, 0.375, 0.375].map((wanted) => expect.closeTo(wanted, 12)));
  });

  test('a stadium turns with half its shorter side', () => {
    const coil = windCoil({
      ...TRANSMITTER,
      outline: { shape: 'stadium', outerWidth: 50e-3, outerHeight: 30e-3, innerWidth: 34e-3, innerHeight: 14e-3 },
      turns: 6,
    });
    const last = coil.turns[5];
    // Straight 20 mm on both long sides, semicircles of 7.55 mm.
    expect(turnLength(last)).toBeCloseTo(2 * 20e-3 + 2 * Math.PI * 7.55e-3, 14);
    expect(last.pieces).toHaveLength(6);
  });

  test('a single turn must fill its band, within rounding', () => {
    const one = { ...TRANSMITTER, turns: 1 } as const;
    expect(faultsOf(one)[0]).toMatchObject({ path: 'outline.innerDiameter', code: 'band-not-filled' });
    expect(faultsOf(one)[0].required).toContain('41.8 mm');
    const coil = windCoil({ ...one, outline: { shape: 'circle', outerDiameter: 44e-3, innerDiameter: 41.81e-3 } });
    expect(coil.pitchX).toBe(0);
    expect(turnLength(coil.turns[0])).toBeCloseTo(Math.PI * 42.905e-3, 12);
  });
});

describe('refusals', () => {
  const outline = (part: object): CoilSpec => ({
    ...RECEIVER,
    outline: { ...RECEIVER.outline, ...part } as CoilSpec['outline'],
  });
  test.each<[string, CoilSpec, string, string]>([
    ['layers too close', { ...RECEIVER, layerPitch: 0.5e-3 }, 'layerPitch', '0.25 mm of spacing'],
    [
      'corners that close up',
      outline({ innerWidth: 34.8e-3, innerHeight: 21.8e-3, innerCornerRadius: 0 }),
      'outline.innerCornerRadius',
      'also in the corners',
    ],
    [
      'a corner tighter than the wire',
      outline({ outerCornerRadius: 0.5e-3 }),
      'outline.outerCornerRadius',
      'from 0.75 mm',
    ],
    ['a corner wider than the coil', outline({ outerCornerRadius: 17e-3 }), 'outline.outerCornerRadius', 'to 16.5 mm'],
    [
      'an inner corner wider than the opening',
      outline({ innerCornerRadius: 8e-3 }),
      'outline.innerCornerRadius',
      '7.5 mm',
    ],
    ['inside out', outline({ innerWidth: 50e-3 }), 'outline.innerWidth', 'below the outer width'],
    ['half a turn', { ...TRANSMITTER, turns: 9.5 }, 'turns', 'whole number'],
    ['no turn', { ...TRANSMITTER, turns: 0 }, 'turns', 'whole number'],
    ['more layers than turns', { ...TRANSMITTER, layers: 11, layerPitch: 2e-3 }, 'layers', 'at most 10'],
    [
      'not a number',
      { ...TRANSMITTER, outline: { shape: 'circle', outerDiameter: Number.NaN, innerDiameter: 1e-3 } },
      'outline.outerDiameter',
      '',
    ],
    ['strands that do not fit', { ...TRANSMITTER, conductor: litz(200, 1e-3) }, 'conductor.bundleDiameter', '1.188 mm'],
    [
      'insulation inside the wire',
      { ...TRANSMITTER, conductor: { kind: 'solid', diameter: 1e-3, insulatedDiameter: 0.9e-3 } },
      'conductor.insulatedDiameter',
      '',
    ],
  ])('%s', (_, spec, path, words) => {
    const faults = faultsOf(spec);
    expect(faults.map((fault) => fault.path)).toContain(path);
    expect(faults.find((fault) => fault.path === path)?.required).toContain(words);
  });

  test('conductors that only just touch are wound', () => {
    const coil = windCoil({ ...TRANSMITTER, outline: { shape: 'circle', outerDiameter: 44e-3, innerDiameter: 22e-3 } });
    expect(coil.pitchX).toBeCloseTo(1.1e-3, 15);
  });
});

describe('free paths', () => {
  const spec = (points: readonly number[], turns: number, pitch = 0.8e-3): CoilSpec => ({
    ...TRANSMITTER,
    outline: { shape: 'path', points: Float64Array.from(points), pitch },
    turns,
    conductor: litz(60, 0.75e-3),
  });
  const star = Array.from({ length: 10 }, (_, i) => {
    const radius = i % 2 === 0 ? 20e-3 : 12e-3;
    return [radius * Math.cos((i * Math.PI) / 5), radius * Math.sin((i * Math.PI) / 5)];
  }).flat();
  // Two squares joined by a neck 4 mm wide.
  const dumbbell = [-20, -10, -5, -10, -5, -2, 5, -2, 5, -10, 20, -10, 20, 10, 5, 10, 5, 2, -5, 2, -5, 10, -20, 10].map(
    (mm) => mm * 1e-3,
  );

  test('turns keep the pitch between sides, clockwise points are turned round', () => {
    const points = rectanglePoints(40e-3, 20e-3);
    const clockwise = [0, 3, 2, 1].flatMap((i) => points.slice(2 * i, 2 * i + 2));
    for (const given of [points, clockwise]) {
      const coil = windCoil(spec(given, 5));
      expect(turnLength(coil.turns[4])).toBeCloseTo(2 * (60e-3 - 2 * 2 * 4 * 0.8e-3), 14);
      expect(coil.halfWidth).toBeCloseTo(20.375e-3, 15);
    }
  });

  test('a star keeps its re-entrant corners', () => {
    const coil = windCoil(spec(star, 8));
    expect(coil.turns[7].pieces).toHaveLength(10);
  });

  test('short sides that shrink to nothing are dropped', () => {
    // A rounded rectangle given by many points: corners of 5 mm vanish after seven turns of 0.8 mm.
    const rounded = [0, 1, 2, 3].flatMap((quarter) =>
      Array.from({ length: 9 }, (_, i) => {
        const angle = ((quarter + i / 8) * Math.PI) / 2;
        const x = (quarter === 0 || quarter === 3 ? 1 : -1) * 18e-3 + 5e-3 * Math.cos(angle);
        return [x, (quarter < 2 ? 1 : -1) * 11e-3 + 5e-3 * Math.sin(angle)];
      }).flat(),
    );
    const coil = windCoil(spec(rounded, 12));
    const last = coil.turns[11];
    expect(last.pieces).toHaveLength(4);
    expect(turnLength(last)).toBeCloseTo(4 * (23e-3 + 16e-3 - 2 * 11 * 0.8e-3), 12);
  });

  test.each<[string, CoilSpec, string, string]>([
    [
      'a path that crosses itself',
      spec([0, 0, 10e-3, 10e-3, 10e-3, 0, 0, 12e-3], 1),
      'outline.points',
      'sides 1 and 3',
    ],
    ['an inward turn that vanishes', spec(star, 20), 'turns', 'at most 15'],
    ['an inward turn that pinches off', spec(dumbbell, 4), 'outline.points', 'turn 4 that crosses itself 2.4 mm'],
    [
      'an inward turn that comes too near itself',
      spec(dumbbell, 3, 0.85e-3),
      'outline.points',
      'turn 3 that comes within 0.6 mm',
    ],
    ['a spacing below the wire', spec(rectanglePoints(40e-3, 20e-3), 3, 0.7e-3), 'outline.pitch', '0.05 mm of spacing'],
    ['a spike', spec([0, 0, 40e-3, 0, 0, 4e-3], 1), 'outline.points', 'degrees in turn 1'],
    ['two points', spec([0, 0, 1, 1], 1), 'outline.points', 'at least three'],
    ['no area', spec([0, 0, 10e-3, 0, 20e-3, 0], 1), 'outline.points', 'area'],
  ])('%s is refused', (_, given, path, words) => {
    const faults = faultsOf(given);
    expect(faults[0]?.path).toBe(path);
    expect(`${faults[0]?.required} ${faults[0]?.received}`).toContain(words);
  });

  test('regular polygons: length and area follow from the offset', () => {
    const points = Array.from({ length: 6 }, (_, i) => [
      30e-3 * Math.cos((i * Math.PI) / 3),
      30e-3 * Math.sin((i * Math.PI) / 3),
    ]);
    const coil = polygon(points.flat(), 5, 2e-3);
    coil.turns.forEach((turn, i) => {
      const apothem = 30e-3 * Math.cos(Math.PI / 6) - i * 2e-3;
      expect(turnLength(turn)).toBeCloseTo(12 * apothem * Math.tan(Math.PI / 6), 13);
    });
  });
});

describe('true spirals', () => {
  const spiral: CoilSpec = {
    ...TRANSMITTER,
    outline: { shape: 'circle', outerDiameter: 40.4e-3, innerDiameter: 1.6e-3 },
    turns: 10.5,
    winding: 'spiral',
    conductor: trace(0.97368e-3),
  };
  const shapes: [string, CoilSpec][] = [
    ['circle', spiral],
    ['rounded rectangle', { ...RECEIVER, winding: 'spiral' }],
    ['three layers of a fraction', { ...RECEIVER, turns: 17.3, layers: 3, winding: 'spiral' }],
    ['bifilar', { ...RECEIVER, turns: 7.3, filars: 2, winding: 'spiral', conductor: litz(20, 0.5e-3) }],
    [
      'polygon',
      {
        ...spiral,
        turns: 4,
        outline: { shape: 'path', points: Float64Array.from(rectanglePoints(40e-3, 30e-3)), pitch: 1.5e-3 },
      },
    ],
  ];
  test.each(shapes)('%s: every wire is one closed path without gaps', (_, spec) => {
    const coil = windCoil(spec);
    expect(coil.turns).toHaveLength(spec.filars);
    for (const turn of coil.turns) {
      // The polygon through all piece starts is as long as the pieces only if each starts where the last one ended.
      const p = turnPolyline(turn, 20000);
      let length = 0;
      for (let i = 0; i < p.length; i += 3) {
        const j = (i + 3) % p.length;
        length += Math.hypot(p[i] - p[j], p[i + 1] - p[j + 1], p[i + 2] - p[j + 2]);
      }
      expect(length / turnLength(turn)).toBeCloseTo(1, 5);
    }
  });

  test('length of the wire: pi N (r0 + r1) to first order, plus the lead', () => {
    const coil = windCoil(spiral);
    const [r0, r1] = [19.71316e-3, 1.28684e-3];
    // Exact Archimedean length from its own formula. Source: elementary calculus.
    const b = (r0 - r1) / (2 * Math.PI * 10.5);
    const g = (r: number) => (r * Math.hypot(r, b) + b * b * Math.asinh(r / b)) / (2 * b);
    const lead = Math.hypot(r0 + r1) + 2 * 35e-6;
    expect(coil.wireLength).toBeCloseTo(g(r0) - g(r1) + lead, 6);
    expect(coil.wireLength).toBeCloseTo(Math.PI * 10.5 * (r0 + r1) + lead, 3);
  });

  test('the lead crosses on the side asked for', () => {
    for (const leadSide of [-1, 1] as const) {
      const turn = windCoil({ ...spiral, turns: 10, leadSide }).turns[0];
      const lead = turn.pieces.at(-2);
      expect(lead?.kind === 'line' ? lead.dz0 : null).toBeCloseTo(leadSide * 35e-6, 15);
    }
  });

  test('an even number of layers needs no lead: the wire ends above its start', () => {
    const turn = windCoil({ ...RECEIVER, winding: 'spiral' }).turns[0];
    const last = turn.pieces.at(-1);
    if (last?.kind !== 'line') throw new Error('the step between layers is a line');
    expect([last.x1 - last.x0, last.y1 - last.y0, last.dz0, last.dz1]).toEqual([
      expect.closeTo(0, 12),
      expect.closeTo(0, 12),
      expect.closeTo(0.8e-3, 15),
      expect.closeTo(0, 15),
    ]);
  });
});

describe('properties', () => {
  test('scaling every length scales the winding; circles never overlap when accepted (seed 7)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-3, max: 1, noNaN: true }),
        fc.double({ min: 0.1, max: 0.9, noNaN: true }),
        fc.integer({ min: 2, max: 30 }),
        (outer, ratio, turns) => {
          const width = (outer * (1 - ratio)) / 2 / turns / 1.01;
          const make = (scale: number) =>
            windCoil({
              ...TRANSMITTER,
              outline: { shape: 'circle', outerDiameter: outer * scale, innerDiameter: outer * ratio * scale },
              turns,
              conductor: { kind: 'solid', diameter: width * scale, insulatedDiameter: width * scale },
            });
          const [one, three] = [make(1), make(3)];
          expect(one.pitchX).toBeGreaterThanOrEqual(width);
          expect(three.wireLength / one.wireLength).toBeCloseTo(3, 9);
          expect(three.halfWidth / one.halfWidth).toBeCloseTo(3, 9);
        },
      ),
      { seed: 7, numRuns: 50 },
    );
  });
});
