import { describe, expect, test } from 'vitest';
import type { CoilOutline, CoilSpec, Conductor } from '../../../src/physics/coil/types.ts';
import { windCoil } from '../../../src/physics/coil/winding.ts';
import { windingMesh } from '../../../src/scene/build/winding-mesh.ts';
import { normalCheck, openSides, volume } from '../support/solid.ts';

const MM = 1e-3;
const LITZ: Conductor = { kind: 'litz', strands: 60, strandDiameter: 0.08 * MM, bundleDiameter: 0.75 * MM };
const SOLID: Conductor = { kind: 'solid', diameter: 0.6 * MM, insulatedDiameter: 0.66 * MM };
const TRACE: Conductor = { kind: 'trace', width: 0.7 * MM, thickness: 0.07 * MM };

const CIRCLE: CoilOutline = { shape: 'circle', outerDiameter: 43 * MM, innerDiameter: 21 * MM };
const ROUNDED: CoilOutline = {
  shape: 'roundedRectangle',
  outerWidth: 46 * MM,
  outerHeight: 33 * MM,
  innerWidth: 28 * MM,
  innerHeight: 15 * MM,
  outerCornerRadius: 10 * MM,
  innerCornerRadius: 2 * MM,
};
const SHARP: CoilOutline = { ...ROUNDED, outerCornerRadius: 0.75 * MM, innerCornerRadius: null };
const STADIUM: CoilOutline = {
  shape: 'stadium',
  outerWidth: 50 * MM,
  outerHeight: 30 * MM,
  innerWidth: 34 * MM,
  innerHeight: 14 * MM,
};
const PATH: CoilOutline = {
  shape: 'path',
  points: Float64Array.from([-0.02, -0.015, 0.02, -0.015, 0.024, 0.004, 0.012, 0.018, -0.015, 0.016]),
  pitch: 1.1 * MM,
};

const spec = (outline: CoilOutline, conductor: Conductor, change: Partial<CoilSpec> = {}): CoilSpec => ({
  outline,
  turns: 7,
  layers: 1,
  layerPitch: 0.8 * MM,
  filars: 1,
  winding: 'rings',
  conductor,
  ...change,
});

const CASES: readonly (readonly [string, CoilSpec])[] = [
  ['circle, litz', spec(CIRCLE, LITZ)],
  ['circle, two layers of solid wire', spec(CIRCLE, SOLID, { turns: 13, layers: 2 })],
  ['circle, trace', spec(CIRCLE, TRACE)],
  ['circle, bifilar', spec(CIRCLE, LITZ, { turns: 6, filars: 2 })],
  ['circle, spiral', spec(CIRCLE, LITZ, { winding: 'spiral' })],
  ['rounded rectangle, two layers', spec(ROUNDED, LITZ, { turns: 14, layers: 2 })],
  ['rounded rectangle, trace', spec(ROUNDED, TRACE)],
  ['rectangle with tight corners', spec(SHARP, LITZ)],
  ['rounded rectangle, spiral', spec(ROUNDED, LITZ, { winding: 'spiral' })],
  ['stadium', spec(STADIUM, LITZ)],
  ['free path', spec(PATH, LITZ, { turns: 4 })],
];

describe('coils as the physics winds them', () => {
  test.each(CASES)('%s: closed, outward, as large as the winding says, with the volume of its wire', (_, coil) => {
    const winding = windCoil(coil);
    const { mesh, turnStarts } = windingMesh(winding);
    expect(turnStarts.length).toBe(winding.turns.length + 1);
    expect(openSides(mesh)).toBe(0);
    expect(normalCheck(mesh).lengthError).toBeLessThan(1e-6);
    let x = 0;
    let y = 0;
    let z = 0;
    for (let i = 0; i < mesh.positions.length; i += 3) {
      x = Math.max(x, Math.abs(mesh.positions[i]!));
      y = Math.max(y, Math.abs(mesh.positions[i + 1]!));
      z = Math.max(z, Math.abs(mesh.positions[i + 2]!));
    }
    // A drawn wire has few sides and the area of the true one: its corners stand out, its flats lie in, by up to 10 %.
    // A spiral has come in by a part of its pitch before it reaches the far sides.
    const short = coil.winding === 'spiral' ? winding.pitchX / 2 : 0;
    expect(x - winding.halfWidth).toBeLessThan(0.1 * MM);
    expect(y - winding.halfHeight).toBeLessThan(0.1 * MM);
    expect(winding.halfWidth - x).toBeLessThan(0.1 * MM + short);
    expect(winding.halfHeight - y).toBeLessThan(0.1 * MM + short);
    expect(Math.abs(z - winding.halfThickness)).toBeLessThan(0.08 * MM);
    const { conductor } = coil;
    const area =
      conductor.kind === 'trace'
        ? conductor.width * conductor.thickness
        : (Math.PI / 4) * (conductor.kind === 'litz' ? conductor.bundleDiameter : conductor.diameter) ** 2;
    // wireLength counts the wires of a bifilar coil once. Mitred corners and chords take off or add up to 2 %.
    expect(volume(mesh) / (area * winding.wireLength * coil.filars)).toBeGreaterThan(0.97);
    expect(volume(mesh) / (area * winding.wireLength * coil.filars)).toBeLessThan(1.02);
  });
});
