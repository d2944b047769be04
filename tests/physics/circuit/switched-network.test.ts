import { Matrix, solve } from 'ml-matrix';
import { describe, expect, test } from 'vitest';
import {
  networkMatrices,
  ringingFrequency,
  SIZE,
  type SwitchedNetwork,
  tameNetwork,
} from '../../../src/physics/circuit/switched-network.ts';

const network: SwitchedNetwork = {
  l1: 6.3e-6,
  l2: 14e-6,
  m: 3.7e-6,
  c1: 4e-7,
  cs: 1.2e-7,
  r1: 0.13,
  r2: 0.32,
  cd: 1.8e-9,
  ringingResistance: 3,
  rectifierDrop: 0.06,
  rectifierResistance: 0.12,
  reservoir: 2e-5,
  loadA: 0.5,
};

/** Derivatives from Kirchhoff's laws written out, currents solved from the inductance matrix. */
function derivatives(n: SwitchedNetwork, x: readonly number[], on: boolean): number[] {
  const [i1, v1c, i2, v2c, vd, vr, , bridge] = x;
  let diode = 0;
  let v2: number;
  if (n.cd > 0) {
    if (on)
      diode = (vd + n.ringingResistance * i2 - vr - n.rectifierDrop) / (n.rectifierResistance + n.ringingResistance);
    v2 = vd + n.ringingResistance * (i2 - diode);
  } else {
    diode = on ? i2 : 0;
    v2 = vr + n.rectifierDrop + n.rectifierResistance * i2;
  }
  const loop1 = bridge - n.r1 * i1 - v1c;
  const loop2 = -n.r2 * i2 - v2c - v2;
  const open = n.cd === 0 && !on;
  const [d1, d2] = open
    ? [loop1 / n.l1, 0]
    : solve(
        new Matrix([
          [n.l1, -n.m],
          [-n.m, n.l2],
        ]),
        Matrix.columnVector([loop1, loop2]),
      ).to1DArray();
  return [d1, i1 / n.c1, d2, open ? 0 : i2 / n.cs, n.cd > 0 ? (i2 - diode) / n.cd : 0, (diode - n.loadA) / n.reservoir];
}

describe.each([
  ['with parallel capacitor', network],
  ['ringing undamped', { ...network, ringingResistance: 0 }],
  ['without parallel capacitor', { ...network, cd: 0 }],
] as const)('%s', (_name, one) => {
  test.each([true, false])('Kirchhoff, conducting %s', (on) => {
    // Without capacitor and conduction the current is zero.
    const x = [1.3, -4, !on && one.cd === 0 ? 0 : 0.7, 6, 5.4, 5.2, 1, 5];
    const matrices = networkMatrices(one);
    const a = on ? matrices.on : matrices.off;
    const expected = derivatives(one, x, on);
    for (let i = 0; i < 6; i++) {
      let sum = 0;
      for (let j = 0; j < SIZE; j++) sum += a[i * SIZE + j] * x[j];
      expect(Math.abs(sum - expected[i])).toBeLessThan(1e-9 * Math.max(1, Math.abs(expected[i])));
    }
    for (let j = 0; j < 2 * SIZE; j++) expect(a[6 * SIZE + j]).toBe(0);
  });
});

test('a held rectified voltage does not move', () => {
  const { on, off } = networkMatrices({ ...network, reservoir: Number.POSITIVE_INFINITY });
  for (let j = 0; j < SIZE; j++) {
    expect(Math.abs(on[5 * SIZE + j])).toBe(0);
    expect(Math.abs(off[5 * SIZE + j])).toBe(0);
  }
});

test('taming: sign of M dropped, ideal rectifier gets a trace of resistance, a negligible capacitor goes', () => {
  const tamed = tameNetwork({ ...network, m: -network.m, rectifierResistance: 0 }, 150e3);
  expect(tamed.m).toBe(network.m);
  expect(tamed.rectifierResistance).toBeGreaterThan(0);
  expect(tamed.cd).toBe(network.cd);
  expect(tameNetwork({ ...network, cd: 1e-14 }, 150e3).cd).toBe(0);
  expect(tameNetwork({ ...network, cd: 0 }, 150e3).cd).toBe(0);
});

test('ringing frequency: series resonance of the leakage inductance with both capacitors', () => {
  const leakage = network.l2 - network.m ** 2 / network.l1;
  const c = 1 / (1 / network.cd + 1 / network.cs);
  expect(ringingFrequency(network) * 2 * Math.PI * Math.sqrt(leakage * c)).toBeCloseTo(1, 12);
});
