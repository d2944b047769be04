import { describe, expect, test } from 'vitest';
import { ellipticEFromComplement, ellipticKFromComplement } from '../../../src/numerics/elliptic.ts';
import { COMMON_OBJECTS, discHeating } from '../../../src/physics/exposure/disc-heating.ts';

const MU0 = 4e-7 * Math.PI;

/** Mutual inductance of coaxial circles in a plane, Maxwell's formula (from memory). */
function mutual(a: number, b: number): number {
  const m1 = ((a - b) / (a + b)) ** 2;
  const k = Math.sqrt(1 - m1);
  return MU0 * Math.sqrt(a * b) * ((2 / k - k) * ellipticKFromComplement(m1) - (2 / k) * ellipticEFromComplement(m1));
}

/** Power in a thin disc of sheet resistance `sheet`, by rings solved together: shares no formula with the source. */
function ringPower(radius: number, sheet: number, frequency: number, peakT: number, n: number): number {
  const omega = 2 * Math.PI * frequency;
  // Rings are narrow at the rim, where the current crowds.
  const edge = Array.from({ length: n + 1 }, (_, i) => radius * Math.sin((Math.PI / 2) * (i / n)));
  const middle = edge.slice(1).map((r, i) => (r + edge[i]!) / 2);
  const width = edge.slice(1).map((r, i) => r - edge[i]!);
  const size = 2 * n;
  const a = Array.from({ length: size }, () => new Float64Array(size + 1));
  for (let i = 0; i < n; i++) {
    const resistance = (sheet * 2 * Math.PI * middle[i]!) / width[i]!;
    for (let j = 0; j < n; j++) {
      const l =
        i === j
          ? MU0 * middle[i]! * (Math.log((8 * middle[i]!) / (0.2235 * width[i]!)) - 2)
          : mutual(middle[i]!, middle[j]!);
      a[i]![n + j] = -omega * l;
      a[n + i]![j] = omega * l;
    }
    a[i]![i] = resistance;
    a[n + i]![n + i] = resistance;
    a[i]![size] = omega * peakT * Math.PI * middle[i]! ** 2;
  }
  for (let c = 0; c < size; c++) {
    let pivot = c;
    for (let r = c; r < size; r++) if (Math.abs(a[r]![c]!) > Math.abs(a[pivot]![c]!)) pivot = r;
    [a[c], a[pivot]] = [a[pivot]!, a[c]!];
    for (let r = c + 1; r < size; r++) {
      const f = a[r]![c]! / a[c]![c]!;
      for (let k = c; k <= size; k++) a[r]![k] = a[r]![k]! - f * a[c]![k]!;
    }
  }
  const x = new Float64Array(size);
  for (let r = size - 1; r >= 0; r--) {
    let s = a[r]![size]!;
    for (let k = r + 1; k < size; k++) s -= a[r]![k]! * x[k]!;
    x[r] = s / a[r]![r]!;
  }
  let power = 0;
  for (let i = 0; i < n; i++) {
    power += (0.5 * (x[i]! ** 2 + x[n + i]! ** 2) * sheet * 2 * Math.PI * middle[i]!) / width[i]!;
  }
  return power;
}

describe('a thin disc in an even field', () => {
  /**
   * Textbook problem: a brass disc of radius a, thickness b in B0 sin wt, eddy currents in concentric circles; mean power
   * pi sigma b w^2 B0^2 a^4 / 16 (W. J. Duffin, Electricity and Magnetism; the problem was seen, the answer is ours by integration).
   */
  test('resistive form', () => {
    const disc = { radius: 0.05, thickness: 1e-3, conductivity: 15e6, relativePermeability: 1 };
    const { powerW, resistiveW, screening } = discHeating(disc, 5, 0.1);
    let power = 0;
    for (let i = 0; i < 4000; i++) {
      const r = ((i + 0.5) * 0.05) / 4000;
      power += 0.5 * 15e6 * (2 * Math.PI * 5 * 0.1 * r * 0.5) ** 2 * 2 * Math.PI * r * 1e-3 * (0.05 / 4000);
    }
    expect(screening).toBeLessThan(0.01);
    expect(powerW / power).toBeCloseTo(1, 3);
    expect(resistiveW / power).toBeCloseTo(1, 6);
  });

  test.each([0.05, 0.3, 1, 3, 10, 30, 100, 300])('screening %s: within 15 % of rings solved together', (wanted) => {
    const radius = 0.0115;
    const frequency = 130e3;
    const sheet = (3 * Math.PI * MU0 * 2 * Math.PI * frequency * radius) / (64 * wanted);
    // So thin that the current is even through it.
    const thickness = 1e-6;
    const disc = { radius, thickness, conductivity: 1 / (sheet * thickness), relativePermeability: 1 };
    const { powerW, screening } = discHeating(disc, frequency, 1e-3);
    expect(screening / wanted).toBeCloseTo(1, 2);
    const rings = ringPower(radius, sheet, frequency, 1e-3, 60);
    expect(powerW / rings).toBeGreaterThan(0.85);
    expect(powerW / rings).toBeLessThan(1.15);
  });

  test('skin-limited form: heat goes as the surface resistance, the root of the frequency', () => {
    const { disc } = COMMON_OBJECTS.coin;
    const [low, high] = [2e6, 8e6].map((f) => discHeating(disc, f, 1e-4));
    expect(low!.screening).toBeGreaterThan(50);
    expect(high!.powerW / low!.powerW).toBeCloseTo(2, 1);
    expect(low!.powerW).toBeLessThan(low!.resistiveW);
  });

  test('never negative, never above the resistive form, grows with the square of the field', () => {
    for (const { disc } of Object.values(COMMON_OBJECTS)) {
      for (const f of [1e3, 130e3, 10e6]) {
        const { powerW, resistiveW } = discHeating(disc, f, 1e-3);
        expect(powerW).toBeGreaterThan(0);
        expect(powerW).toBeLessThanOrEqual(resistiveW * (1 + 1e-9));
        expect(discHeating(disc, f, 2e-3).powerW / powerW).toBeCloseTo(4, 9);
      }
    }
  });

  test('a millitesla at 130 kHz makes watts in a coin and in foil: why both burn (common practice, no source)', () => {
    const heat = (object: keyof typeof COMMON_OBJECTS) => discHeating(COMMON_OBJECTS[object].disc, 130e3, 1e-3).powerW;
    expect(heat('coin')).toBeGreaterThan(0.05);
    expect(heat('coin')).toBeLessThan(5);
    expect(heat('steelCoin')).toBeGreaterThan(heat('coin'));
    expect(heat('foil')).toBeGreaterThan(0.1);
  });
});
