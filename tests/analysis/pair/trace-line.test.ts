import { describe, expect, it } from 'vitest';
import { type Bounds, traceLine, type VectorField } from '../../../src/analysis/pair/trace-line.ts';

const bounds = (radius: number): Bounds => ({
  longestStep: radius / 20,
  shortestStep: radius / 1000,
  lookEvery: radius / 40,
  mostPoints: 2000,
  outside: (x, y, z) => Math.hypot(x, y, z) > radius,
});

/** A magnetic dipole along z. */
const dipole: VectorField = (x, y, z, out) => {
  const r2 = x * x + y * y + z * z;
  const k = 1 / (r2 * r2 * Math.sqrt(r2));
  out[0] = 3 * k * x * z;
  out[1] = 3 * k * y * z;
  out[2] = k * (3 * z * z - r2);
};

describe('a line traced through a field', () => {
  // Closed form of a dipole's lines, r = R sin^2(theta): any textbook on electromagnetism; from memory.
  it('keeps to a dipole’s line', () => {
    const line = traceLine(dipole, [1, 0, 0], { ...bounds(3), outside: (x, y, z) => Math.hypot(x, y, z) < 0.3 });
    expect(line.length).toBeGreaterThan(60);
    for (let i = 0; i < line.length; i += 3) {
      const r = Math.hypot(line[i]!, line[i + 1]!, line[i + 2]!);
      const sine = Math.hypot(line[i]!, line[i + 1]!) / r;
      expect(r / sine ** 2, `point ${i / 3}`).toBeCloseTo(1, 2.5);
    }
  });

  it('closes round a straight wire, as a circle', () => {
    const wire: VectorField = (x, y, _z, out) => {
      const r2 = x * x + y * y;
      out[0] = -y / r2;
      out[1] = x / r2;
      out[2] = 0;
    };
    const line = traceLine(wire, [0.5, 0, 0.2], bounds(3));
    expect([...line.slice(0, 3)]).toEqual([...line.slice(-3)]);
    for (let i = 0; i < line.length; i += 3) {
      expect(Math.hypot(line[i]!, line[i + 1]!)).toBeCloseTo(0.5, 3);
      expect(line[i + 2]).toBe(0.2);
    }
  });

  it('goes straight through an even field and ends at the border, both ways', () => {
    const even: VectorField = (_x, _y, _z, out) => void out.set([0, 0, 2]);
    const line = traceLine(even, [0.3, 0, 0], bounds(1));
    const end = Math.sqrt(1 - 0.09);
    expect(line[2]).toBeCloseTo(-end, 2);
    expect(line.at(-1)).toBeCloseTo(end, 2);
    expect(line[2]!).toBeGreaterThanOrEqual(-end);
    for (let i = 3; i < line.length; i += 3) expect(line[i + 2]!).toBeGreaterThan(line[i - 1]!);
  });

  it('does not jump over a thin plate', () => {
    const even: VectorField = (_x, _y, _z, out) => void out.set([0, 0, 1]);
    const plate = {
      ...bounds(1),
      lookEvery: 5e-4,
      outside: (_x: number, _y: number, z: number) => z > 0.5 && z < 0.501,
    };
    const line = traceLine(even, [0, 0, 0.012], { ...plate, mostPoints: 40 });
    expect(line.at(-1)!).toBeLessThanOrEqual(0.5);
    expect(line.at(-1)!).toBeGreaterThan(0.499);
  });

  it('is empty from outside, and stops where there is no field', () => {
    expect(traceLine(dipole, [4, 0, 0], bounds(3))).toHaveLength(0);
    const nothing: VectorField = (_x, _y, _z, out) => void out.fill(0);
    expect([...traceLine(nothing, [0.1, 0.2, 0.3], bounds(1))]).toEqual([0.1, 0.2, 0.3]);
  });

  it('ends in the end, wherever the field leads', () => {
    let seed = 7;
    const random = (): number => {
      seed = (seed * 16807) % 2147483647;
      return seed / 2147483647 - 0.5;
    };
    const wild: VectorField = (_x, _y, _z, out) => void out.set([random(), random(), random()]);
    const line = traceLine(wild, [0, 0, 0], { ...bounds(5), mostPoints: 50 });
    expect(line.length).toBeLessThanOrEqual(3 * 101);
  });
});
