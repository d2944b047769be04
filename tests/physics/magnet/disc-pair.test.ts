import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../src/numerics/errors.ts';
import { MU0 } from '../../../src/physics/constants.ts';
import { faceEnergy } from '../../../src/physics/magnet/disc-faces.ts';
import { contactBound, discPairEnergy, discPairForce } from '../../../src/physics/magnet/disc-pair.ts';
import type { DiscMagnet } from '../../../src/physics/magnet/types.ts';
import { magnetRows } from './reference.ts';

const SEED = 70707;
const disc = (radiusMm: number, thicknessMm: number, remanence = 1): DiscMagnet => ({
  radius: radiusMm * 1e-3,
  thickness: thicknessMm * 1e-3,
  remanence,
});
const millimetres = (min: number, max: number) => fc.double({ min, max, noNaN: true });

describe('discPairForce', () => {
  // Sources: reference-cases/magnets/cases.json (published topic 7; independent Bessel integrals).
  for (const set of ['disc-pairs-published', 'disc-pairs-parallel'])
    it.each(magnetRows(set))(`${set}: $id`, ({ inputs, expected, rel, abs }) => {
      const force = discPairForce(
        disc(inputs.lowerRadiusMm, inputs.lowerThicknessMm),
        disc(inputs.upperRadiusMm, inputs.upperThicknessMm),
        inputs.offsetMm * 1e-3,
        inputs.gapMm * 1e-3,
      );
      const aligned = Math.abs(Number(expected.pullN ?? expected.restoringN));
      if (expected.pullN !== undefined)
        expect(Math.abs(force.pull - Number(expected.pullN))).toBeLessThan(rel * aligned + abs);
      if (expected.restoringN !== undefined)
        expect(Math.abs(force.restoring - Number(expected.restoringN))).toBeLessThan(
          rel * Math.max(aligned, Math.abs(Number(expected.restoringN))) + abs,
        );
    });

  const anyPair = fc.record({
    lowerRadius: millimetres(1, 15),
    lowerThickness: millimetres(0.2, 20),
    upperRadius: millimetres(1, 15),
    upperThickness: millimetres(0.2, 20),
    offset: millimetres(0.05, 40),
    gap: millimetres(0.05, 30),
  });

  it(`is the gradient of the energy, sideways and along the axis (seed ${SEED})`, () => {
    fc.assert(
      fc.property(anyPair, (p) => {
        const lower = disc(p.lowerRadius, p.lowerThickness);
        const upper = disc(p.upperRadius, p.upperThickness);
        const x = p.offset * 1e-3;
        const g = p.gap * 1e-3;
        const step = 1e-2 * Math.min(g, x);
        // Sixth-order central differences.
        const slope = (at: (d: number) => number) =>
          (45 * (at(step) - at(-step)) - 9 * (at(2 * step) - at(-2 * step)) + (at(3 * step) - at(-3 * step))) /
          (60 * step);
        const force = discPairForce(lower, upper, x, g);
        const strength = discPairForce(lower, upper, 0, g).pull;
        // Rounding of the four face energies, which cancel in thin magnets.
        const noise = (1e-15 * faceEnergy(lower.radius, upper.radius, 0, g)) / (4 * Math.PI * MU0 * step);
        const allowed = 1e-8 * strength + 20 * noise;
        expect(Math.abs(force.restoring - slope((d) => discPairEnergy(lower, upper, x + d, g)))).toBeLessThan(allowed);
        expect(Math.abs(force.pull - slope((d) => discPairEnergy(lower, upper, x, g + d)))).toBeLessThan(allowed);
      }),
      { seed: SEED, numRuns: 120 },
    );
  });

  it(`balances: forces opposite, torques of both discs and the arm add up to nothing (seed ${SEED})`, () => {
    fc.assert(
      fc.property(anyPair, (p) => {
        const lower = disc(p.lowerRadius, p.lowerThickness);
        const upper = disc(p.upperRadius, p.upperThickness);
        const x = p.offset * 1e-3;
        const g = p.gap * 1e-3;
        const one = discPairForce(lower, upper, x, g);
        // The same pair turned over: the other disc is now the upper one.
        const two = discPairForce(upper, lower, x, g);
        const strength = discPairForce(lower, upper, 0, g).pull;
        expect(Math.abs(one.pull - two.pull)).toBeLessThan(1e-11 * strength);
        expect(Math.abs(one.restoring - two.restoring)).toBeLessThan(1e-11 * strength);
        const height = g + (lower.thickness + upper.thickness) / 2;
        const arm = height * -one.restoring - x * -one.pull;
        expect(Math.abs(one.tipping + two.tipping + arm)).toBeLessThan(1e-10 * strength * (height + x));
      }),
      { seed: SEED, numRuns: 200 },
    );
  });

  it(`stays below the contact bound Br^2 A / 2 mu0 (seed ${SEED})`, () => {
    fc.assert(
      fc.property(millimetres(1, 15), millimetres(0.1, 200), millimetres(0.1, 200), millimetres(0, 5), (r, h, k, g) => {
        const lower = disc(r, h);
        const upper = disc(r, k);
        const pull = discPairForce(lower, upper, 0, g).pull;
        expect(pull).toBeGreaterThan(0);
        expect(pull).toBeLessThanOrEqual(contactBound(lower, upper) * (1 + 1e-8));
      }),
      { seed: SEED, numRuns: 100 },
    );
  });

  it('far away is the force of two dipoles: 3 mu0 m1 m2 / (2 pi d^4)', () => {
    // Textbook; the next term is of order (size/distance)^2.
    const a = disc(3, 2, 1.2);
    const m = (1.2 / (4e-7 * Math.PI)) * Math.PI * 9e-6 * 2e-3;
    const d = 1;
    const dipole = (3 * 4e-7 * Math.PI * m * m) / (2 * Math.PI * d ** 4);
    expect(discPairForce(a, a, 0, d - 2e-3).pull / dipole).toBeCloseTo(1, 4);
  });

  it('is symmetric in sign: like poles repel by the same force', () => {
    const pull = discPairForce(disc(5, 2, 1.1), disc(5, 2, 1.1), 1e-3, 1e-3);
    const push = discPairForce(disc(5, 2, 1.1), disc(5, 2, -1.1), 1e-3, 1e-3);
    expect(push.pull).toBeCloseTo(-pull.pull, 12);
    expect(push.restoring).toBeCloseTo(-pull.restoring, 12);
  });

  it('is continuous through nearly equal radii and touching faces', () => {
    const at = (radius: number, gap: number) => discPairForce(disc(5, 2), disc(radius, 2), 1.7e-3, gap).pull;
    expect(Math.abs(at(5, 1e-3) - at(5 + 1e-9, 1e-3))).toBeLessThan(1e-8);
    for (const change of [0.9e-4, 1.1e-4]) {
      // Across the switch between the two node layouts at a ratio of 1e-4 the curve stays straight.
      const near = at(5 * (1 + change), 1e-3);
      const line = at(5, 1e-3) + (at(5.01, 1e-3) - at(5, 1e-3)) * ((5 * change) / 0.01);
      expect(Math.abs(near - line)).toBeLessThan(2e-6);
    }
    expect(Math.abs(at(5, 0) - at(5, 1e-9))).toBeLessThan(1e-5);
  });

  it('refuses what cannot be, naming the value', () => {
    expect(() => discPairForce(disc(0, 2), disc(5, 2), 0, 1e-3)).toThrow(/lower\.radius.*> 0 m/);
    expect(() => discPairForce(disc(5, 2), disc(5, Number.NaN), 0, 1e-3)).toThrow(InputError);
    expect(() => discPairForce(disc(5, 2), disc(5, 2), 0, -1e-3)).toThrow(/gap.*>= 0 m; received -0.001 m/);
    expect(() => discPairForce(disc(5, 2), disc(5, 2), -1, 1e-3)).toThrow(/offset/);
    expect(() => discPairForce(disc(5, 2, 14), disc(5, 2), 0, 1e-3)).toThrow(/remanence.*14 T/);
  });
});
