import { describe, expect, it } from 'vitest';
import { turnRipple } from '../../../src/physics/field/turn-ripple.ts';
import { coil1, disc } from './fixtures.ts';

/** Mean vector potential of a row of unit line currents on its lines' images, less that of an even sheet, over mu0 / 2 pi. */
function byLines(height: number, pitch: number): number {
  const at = (x: number): number => {
    let sum = 0;
    for (let n = -4000; n <= 4000; n++) sum -= Math.log(Math.hypot(x + n * pitch, 2 * height) / pitch);
    // The lines beyond go as the square of x: sum of 1 / n^2 from 4001 on.
    return sum + (x / pitch) ** 2 / 4000.5;
  };
  const points = 64;
  let even = 0;
  for (let k = 0; k < points; k++) even += at((pitch * (k + 0.5)) / points) / points;
  return at(0) - even;
}

describe('what single turns close over their ferrite', () => {
  const length = coil1.wireLength;
  const over = (standoff: number, mu = 1e9) =>
    turnRipple({ winding: coil1, ferrite: disc(25e-3, 1e-3, mu, standoff), metal: null });

  it('is that of a row of lines and its mirror image, summed line by line', () => {
    for (const standoff of [0, 0.2e-3]) {
      const height = standoff + coil1.halfThickness;
      const wanted = 2e-7 * length * byLines(height, coil1.pitchX);
      expect(Math.abs(over(standoff) / wanted - 1)).toBeLessThan(1e-3);
    }
  });

  it('falls with the distance, goes with the image and is nothing without ferrite', () => {
    expect(over(0.5e-3)).toBeLessThan(0.02 * over(0));
    expect(over(0, 3) / over(0)).toBeCloseTo(0.5, 6);
    expect(turnRipple({ winding: coil1, ferrite: null, metal: null })).toBe(0);
  });
});
