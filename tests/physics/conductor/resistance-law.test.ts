import { describe, expect, test } from 'vitest';
import { InputError } from '../../../src/numerics/errors.ts';
import { windCoil } from '../../../src/physics/coil/winding.ts';
import { acResistance, dcResistance } from '../../../src/physics/conductor/ac-resistance.ts';
import { resistanceLaw } from '../../../src/physics/conductor/resistance-law.ts';
import { RECEIVER, rings, solid, TRANSMITTER, trace } from '../coil/coils.ts';

const value = ({ dc, quadratic, quartic }: { dc: number; quadratic: number; quartic: number }, f: number) =>
  dc + quadratic * f ** 2 + quartic * f ** 4;

describe('resistanceLaw', () => {
  test.each([
    ['transmitter', windCoil(TRANSMITTER), 1e-6],
    ['receiver', windCoil(RECEIVER), 1e-6],
    ['trace', rings(21e-3, 11e-3, 8, trace(1e-3)), 2e-3],
    ['thin wire', rings(21e-3, 11e-3, 8, solid(0.2e-3)), 2e-3],
    ['thick wire', rings(21e-3, 11e-3, 8, solid(1e-3)), 1e-2],
  ] as const)('%s: fits its window as well as it says', (_, coil, limit) => {
    const { law, fitError, valid } = resistanceLaw(coil, 108e3, 215e3, 20);
    expect(valid).toBe(true);
    expect(law.linear).toBe(0);
    expect(fitError).toBeLessThan(limit);
    for (const f of [108e3, 127e3, 163.4e3, 215e3]) {
      expect(Math.abs(value(law, f) / acResistance(coil, f, 20).total - 1)).toBeLessThan(1.5 * fitError + 1e-12);
    }
  });

  test('the constant term is the DC resistance where that fits', () => {
    const coil = windCoil(TRANSMITTER);
    expect(resistanceLaw(coil, 108e3, 215e3, 20).law.dc).toBeCloseTo(dcResistance(coil, 20), 15);
    expect(resistanceLaw(coil, 130e3, 130e3, 20).fitError).toBeLessThan(1e-12);
  });

  test('windows that make no sense are refused', () => {
    expect(() => resistanceLaw(windCoil(TRANSMITTER), 0, 1e5, 20)).toThrow(InputError);
    expect(() => resistanceLaw(windCoil(TRANSMITTER), 2e5, 1e5, 20)).toThrow(InputError);
  });
});
