import { describe, expect, test } from 'vitest';
import {
  brightness,
  type Finish,
  grainPixels,
  hatchPixels,
  matcapPixels,
  strandPixels,
  streakPixels,
} from '../../src/scene/build/surface-pixels.ts';
import { DARK_PALETTE, LIGHT_PALETTE, parseColour } from '../../src/scene/palette.ts';
import { lookOf } from '../../src/scene/slab-look.ts';
import { backDistance, coilExtent, corners, plateLevels, slabLevels } from '../../src/scene/stack-levels.ts';
import { demoCoils, demoLink } from './support/demo-link.ts';

const MM = 1e-3;

describe('plateLevels', () => {
  test('the demo receiver: standoffs run from the winding to the ferrite, from the ferrite to the metal', () => {
    const [ferrite, metal] = plateLevels(demoCoils().receiver, 'receiver');
    // Winding 0.75 mm bundles in two layers 0.8 mm apart: half thickness 0.775 mm.
    expect(ferrite!.z0).toBeCloseTo(1.075 * MM, 12);
    expect(ferrite!.z1).toBeCloseTo(1.675 * MM, 12);
    expect(metal!.z0).toBeCloseTo(2.675 * MM, 12);
    expect(metal!.z1).toBeCloseTo(3.175 * MM, 12);
    expect(backDistance(demoCoils().receiver)).toBeCloseTo(3.175 * MM, 12);
  });

  test('the demo transmitter lies below its winding', () => {
    const [ferrite] = plateLevels(demoCoils().transmitter, 'transmitter');
    expect(ferrite!.z1).toBeCloseTo(-1.05 * MM, 12);
    expect(ferrite!.z0).toBeCloseTo(-2.05 * MM, 12);
  });

  test('without ferrite the metal stands off from the winding; without either there is only the winding', () => {
    const coil = demoCoils().receiver;
    const [metal] = plateLevels({ ...coil, ferrite: null }, 'receiver');
    expect(metal!.z0).toBeCloseTo(1.775 * MM, 12);
    expect(backDistance({ ...coil, ferrite: null, metal: null })).toBeCloseTo(0.775 * MM, 12);
  });
});

describe('slabLevels', () => {
  test('the demo stack fills the gap between the windings exactly', () => {
    const data = demoLink();
    const levels = slabLevels(data);
    expect(levels.map((l) => l.index)).toEqual([0, 1, 2]);
    const oak = levels[0]!;
    const felt = levels[1]!;
    const wall = levels[2]!;
    expect(oak.z0).toBeCloseTo(0.55 * MM, 12);
    expect(oak.z1).toBeCloseTo(4.55 * MM, 12);
    expect(felt.z1).toBeCloseTo(4.85 * MM, 12);
    // The case wall hangs below 0.4 mm of air, in the receiver's frame; it rests on the felt.
    expect(wall.z1).toBeCloseTo(-1.175 * MM, 12);
    expect(wall.z0 + data.pose.z).toBeCloseTo(felt.z1, 12);
  });

  test('layers without thickness and air are not drawn', () => {
    const data = demoLink({
      slabs: [
        { name: 'oak', thickness: 0, material: 'wood', side: 'transmitter' },
        { name: 'air', thickness: 4 * MM, material: 'air', side: 'transmitter' },
      ],
    });
    expect(slabLevels(data)).toEqual([]);
  });

  test('layers reach beyond both coils', () => {
    const data = demoLink();
    const t = coilExtent(data.transmitter);
    const oak = slabLevels(data)[0]!;
    expect(oak.outline.shape === 'roundedRectangle' && oak.outline.width / 2).toBeGreaterThan(t.x);
  });

  test('every corner is a number, and the receiver moves with its pose', () => {
    const near = corners(demoLink());
    const far = corners(demoLink({ pose: { ...demoLink().pose, x: 0.1 } }));
    for (const p of [...near, ...far]) for (const v of p) expect(Number.isFinite(v)).toBe(true);
    expect(Math.max(...far.map((p) => p[0]))).toBeGreaterThan(Math.max(...near.map((p) => p[0])) + 0.05);
  });
});

describe('looks', () => {
  test.each([
    ['oak', 'wood'],
    ['Plywood shelf', 'wood'],
    ['felt', 'textile'],
    ['silicone pad', 'textile'],
    ['air', 'air'],
    ['clearance', 'air'],
    ['glass', 'glass'],
    ['slate', 'stone'],
    ['case', 'plastic'],
    ['wall', 'plastic'],
    ['', 'plastic'],
    ['stairs', 'plastic'],
  ] as const)('a layer called "%s" is drawn as %s', (name, look) => {
    expect(lookOf(name)).toBe(look);
  });

  test('colours are read in the forms a browser gives them', () => {
    expect(parseColour('#A4551f')).toEqual([164, 85, 31]);
    expect(parseColour('rgb(164, 85, 31)')).toEqual([164, 85, 31]);
    expect(parseColour('rgb(164 85 31 / 0.5)')).toEqual([164, 85, 31]);
    expect(parseColour('rgba(1, 2, 3, 0)')).toEqual([1, 2, 3]);
    expect(parseColour('copper')).toBeNull();
    expect(parseColour('')).toBeNull();
    for (const palette of [LIGHT_PALETTE, DARK_PALETTE])
      for (const [name, value] of Object.entries(palette))
        if (name !== 'scheme') expect(parseColour(value), name).not.toBeNull();
  });

  test('light falls from the upper left; a surface turned away is darker', () => {
    for (const finish of ['strand', 'ceramic', 'brushed', 'paper'] as Finish[]) {
      const lit = brightness(finish, -0.4, 0.66, 0.64);
      expect(lit).toBeGreaterThan(brightness(finish, 0.5, -0.7, 0.5));
      for (let i = 0; i < 50; i++) {
        const a = i * 0.7;
        const b = brightness(finish, Math.cos(a) * 0.8, Math.sin(a) * 0.8, 0.6);
        expect(b >= 0 && b <= 1).toBe(true);
      }
    }
  });

  test('tiles meet at their seams', () => {
    for (const pixels of [strandPixels(32), hatchPixels(64), streakPixels(64), grainPixels(64)]) {
      const { size, data } = pixels;
      expect(data.length).toBe(4 * size * size);
      const at = (i: number, j: number): number => data[4 * (j * size + i)]!;
      // Across the seam no greater step than anywhere inside a row or column.
      let inside = 0;
      let seam = 0;
      for (let j = 0; j < size; j++) {
        for (let i = 0; i + 1 < size; i++) inside = Math.max(inside, Math.abs(at(i + 1, j) - at(i, j)));
        seam = Math.max(seam, Math.abs(at(0, j) - at(size - 1, j)));
      }
      expect(seam).toBeLessThanOrEqual(inside + 2);
    }
    expect(matcapPixels('strand', 16).data.length).toBe(4 * 16 * 16);
  });
});
