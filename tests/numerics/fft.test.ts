import { describe, expect, it } from 'vitest';
import { transform, transform2d, transformEven2d } from '../../src/numerics/fft.ts';
import { randomSource } from '../../src/numerics/random.ts';

/** The defining double sum, [n, n] interleaved. */
function direct2d(data: Float64Array, n: number): Float64Array {
  const out = new Float64Array(2 * n * n);
  for (let p = 0; p < n; p++) {
    for (let q = 0; q < n; q++) {
      for (let r = 0; r < n; r++) {
        for (let c = 0; c < n; c++) {
          const angle = (-2 * Math.PI * (p * r + q * c)) / n;
          const re = data[2 * (r * n + c)]!;
          const im = data[2 * (r * n + c) + 1]!;
          out[2 * (p * n + q)]! += re * Math.cos(angle) - im * Math.sin(angle);
          out[2 * (p * n + q) + 1]! += re * Math.sin(angle) + im * Math.cos(angle);
        }
      }
    }
  }
  return out;
}

const largest = (a: Float64Array, b: Float64Array) =>
  a.reduce((most, value, k) => Math.max(most, Math.abs(value - b[k]!)), 0);

describe('fft', () => {
  it.each([2, 4, 8, 32, 256])('equals the defining sum at %i points', (n) => {
    const data = randomSource(n).fillNormal(new Float64Array(2 * n));
    const out = transform(Float64Array.from(data));
    const norm = Math.sqrt(data.reduce((sum, value) => sum + value * value, 0));
    for (let k = 0; k < n; k++) {
      let re = 0;
      let im = 0;
      for (let j = 0; j < n; j++) {
        const angle = (-2 * Math.PI * ((j * k) % n)) / n;
        re += data[2 * j]! * Math.cos(angle) - data[2 * j + 1]! * Math.sin(angle);
        im += data[2 * j]! * Math.sin(angle) + data[2 * j + 1]! * Math.cos(angle);
      }
      expect(Math.hypot(re - out[2 * k]!, im - out[2 * k + 1]!)).toBeLessThan(2e-15 * n ** 0.5 * norm);
    }
  });

  it('transforms two directions', () => {
    const n = 8;
    const data = randomSource(1).fillNormal(new Float64Array(2 * n * n));
    expect(largest(transform2d(Float64Array.from(data), n), direct2d(data, n))).toBeLessThan(1e-13);
  });

  it('may leave out empty rows and unwanted columns', () => {
    const n = 16;
    const rows = [0, 3, 15];
    const columns = [1, 2, 14];
    const data = new Float64Array(2 * n * n);
    for (const r of rows) data.set(randomSource(r).fillNormal(new Float64Array(2 * n)), 2 * n * r);
    const whole = transform2d(Float64Array.from(data), n);
    const part = transform2d(Float64Array.from(data), n, rows, columns);
    for (const c of columns) {
      for (let r = 0; r < n; r++) {
        expect(part[2 * (r * n + c)]).toBe(whole[2 * (r * n + c)]);
        expect(part[2 * (r * n + c) + 1]).toBe(whole[2 * (r * n + c) + 1]);
      }
    }
  });

  it.each([2, 8, 64])('transforms even fields of %i points from their quarter', (n) => {
    const edge = n / 2 + 1;
    const quarter = randomSource(9).fillNormal(new Float64Array(edge * edge));
    const data = new Float64Array(2 * n * n);
    for (let r = 0; r < n; r++) {
      for (let c = 0; c < n; c++) data[2 * (r * n + c)] = quarter[Math.min(r, n - r) * edge + Math.min(c, n - c)]!;
    }
    const whole = transform2d(data, n);
    const out = transformEven2d(Float64Array.from(quarter), n);
    for (let r = 0; r < edge; r++) {
      for (let c = 0; c < edge; c++) {
        expect(Math.abs(out[r * edge + c]! - whole[2 * (r * n + c)]!)).toBeLessThan(1e-13 * n);
        expect(Math.abs(whole[2 * (r * n + c) + 1]!)).toBeLessThan(1e-13 * n);
      }
    }
  });
});
