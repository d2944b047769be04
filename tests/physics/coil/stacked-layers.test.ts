import { describe, expect, test } from 'vitest';
import { ConvergenceError } from '../../../src/numerics/errors.ts';
import { pairIntegral, placePiece } from '../../../src/physics/coil/piece-pair.ts';
import { selfInductance } from '../../../src/physics/coil/self-inductance.ts';
import type { CoilSpec, Piece } from '../../../src/physics/coil/types.ts';
import { windCoil } from '../../../src/physics/coil/winding.ts';
import { solid, trace } from './coils.ts';

const base: CoilSpec = {
  outline: { shape: 'circle', outerDiameter: 40e-3, innerDiameter: 20e-3 },
  turns: 16,
  layers: 4,
  layerPitch: 1.2e-3,
  filars: 1,
  winding: 'spiral',
  conductor: solid(1e-3),
};

describe('spirals of many layers', () => {
  // Their return lead runs straight back through the steps between the layers: found by random designs (seeds 5014, 20261154).
  test.each([4, 6, 8])('%i layers end where they began, and they are to rings as an odd one is', (layers) => {
    const spec = { ...base, layers, turns: 4 * layers };
    const before = process.cpuUsage();
    const { errorEstimate } = selfInductance(windCoil(spec));
    expect(process.cpuUsage(before).user).toBeLessThan(5e6);
    // A spiral of five layers ends elsewhere, with nothing on anything else: even ones are to rings as it is.
    const overRings = (of: CoilSpec) =>
      selfInductance(windCoil(of)).value / selfInductance(windCoil({ ...of, winding: 'rings' })).value;
    const odd = overRings({ ...base, layers: 5, turns: 20 });
    expect(Math.abs(overRings(spec) / odd - 1)).toBeLessThan(0.02);
    expect(errorEstimate).toBeGreaterThan(0);
  });

  test('two pieces that lie on each other are refused by name instead of going on for ever', () => {
    const line: Piece = { kind: 'line', x0: 0, y0: 0, x1: 1, y1: 0.3, dz0: 0, dz1: 0.2 };
    const on: Piece = { kind: 'line', x0: 0.5, y0: 0.15, x1: 2, y1: 0.6, dz0: 0.1, dz1: 0.4 };
    const arc: Piece = { kind: 'arc', cx: 0, cy: 0, radius: 1, start: 0, sweep: 1 };
    for (const [a, b] of [
      [line, on],
      [arc, { ...arc, start: 0.5 }],
    ] as const) {
      expect(() => pairIntegral(placePiece(a, 1e-4), placePiece(b, 1e-4), 0, 0, 1e-4)).toThrow(ConvergenceError);
    }
  });

  test('a piece that ends on another has the value of one that ends a hair before it (seed 5019)', () => {
    const lead: Piece = { kind: 'line', x0: 0.714e-3, y0: 0, x1: 0.714e-3, y1: 0, dz0: 0.275e-3, dz1: -0.0344e-3 };
    const step = (x1: number): Piece => ({
      kind: 'line',
      x0: 0.365e-3,
      y0: 0,
      x1,
      y1: 0,
      dz0: 0.0688e-3,
      dz1: 0.1033e-3,
    });
    const value = (x1: number) => pairIntegral(placePiece(lead, 1e-6), placePiece(step(x1), 1e-6), 0, 0, 1e-6);
    expect(value(0.714e-3) / value(0.714e-3 - 1e-9)).toBeCloseTo(1, 4);
  });

  test('a step between layers stands at right angles to a flat piece, even where they touch', () => {
    const step: Piece = { kind: 'line', x0: 1, y0: 0, x1: 1, y1: 0, dz0: -1, dz1: 1 };
    const arc: Piece = { kind: 'arc', cx: 0, cy: 0, radius: 1, start: 0, sweep: 1 };
    expect(pairIntegral(placePiece(step, 1e-4), placePiece(arc, 1e-4), 0, 0, 1e-4)).toBe(0);
  });
});

test('a trace that ends ahead of another at right angles, in line with its middle, is no neighbour (seed 20261138)', () => {
  const spec: CoilSpec = {
    outline: {
      shape: 'roundedRectangle',
      outerWidth: 11.4e-3,
      outerHeight: 6.756e-3,
      innerWidth: 6.562e-3,
      innerHeight: 1.917e-3,
      outerCornerRadius: 2.171e-3,
      innerCornerRadius: null,
    },
    turns: 2,
    layers: 1,
    layerPitch: 0.2455e-3,
    filars: 2,
    winding: 'rings',
    conductor: trace(0.2402e-3, 45.5e-6),
  };
  const { value, errorEstimate } = selfInductance(windCoil(spec));
  const wider = selfInductance(windCoil({ ...spec, outline: { ...spec.outline, outerHeight: 6.757e-3 } as never }));
  expect(value / wider.value).toBeCloseTo(1, 3);
  expect(errorEstimate).toBeGreaterThan(0);
});
