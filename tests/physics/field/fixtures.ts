import { readFileSync } from 'node:fs';
import type { Winding } from '../../../src/physics/coil/types.ts';
import { windCoil } from '../../../src/physics/coil/winding.ts';
import type { FerritePlate, LinkSide, MetalSheet } from '../../../src/physics/field/types.ts';

export interface Row {
  readonly id: string;
  readonly inputs: Record<string, number>;
  readonly expected: Record<string, number>;
  readonly air?: readonly [number, number, number] | null;
}

export interface Region {
  readonly name: string;
  readonly tolerance: { readonly rel: number; readonly k?: number | null };
  readonly rows: readonly Row[];
}

export function regions(quantity: string, id: string): readonly Region[] {
  const url = new URL(`../../../reference-cases/${quantity}/cases.json`, import.meta.url);
  const sets = JSON.parse(readFileSync(url, 'utf8')) as { id: string; regions: Region[] }[];
  return sets.find((set) => set.id === id)!.regions;
}

function circleCoil(outerDiameter: number, innerDiameter: number, turns: number, bundleDiameter: number): Winding {
  return windCoil({
    outline: { shape: 'circle', outerDiameter, innerDiameter },
    turns,
    layers: 1,
    layerPitch: bundleDiameter,
    filars: 1,
    winding: 'rings',
    conductor: { kind: 'litz', strands: 60, strandDiameter: 0.08e-3, bundleDiameter },
  });
}

/** The two coils of the finite-element rows. */
export const coil1 = circleCoil(44e-3, 20.5e-3, 10, 1.1e-3);
export const coil2 = circleCoil(40e-3, 20e-3, 12, 0.75e-3);
/** Their inductances in air by the same finite elements' convention, uH. */
export const AIR1 = 3.744496;
export const AIR2 = 5.279126;

export function disc(radius: number, thickness: number, mu: number, standoff: number): FerritePlate | null {
  if (radius === 0) return null;
  return {
    outline: { shape: 'circle', diameter: 2 * radius },
    thickness,
    standoff,
    relativePermeability: mu,
    lossTangent: 0.02,
  };
}

export function square(width: number, thickness: number, mu: number, standoff: number): FerritePlate {
  return {
    outline: { shape: 'roundedRectangle', width, height: width, cornerRadius: 0 },
    thickness,
    standoff,
    relativePermeability: mu,
    lossTangent: 0.02,
  };
}

const sides = new Map<string, LinkSide>();

/** The same object for the same side, so that rows share what a side has worked out. */
function shared(side: LinkSide): LinkSide {
  const key = JSON.stringify([side.winding === coil1, side.ferrite, side.metal]);
  const known = sides.get(key) ?? side;
  sides.set(key, known);
  return known;
}

/** Both sides of a finite-element row. */
export function linkOf(row: Row): { transmitter: LinkSide; receiver: LinkSide } {
  const i = row.inputs;
  const receiverFerrite = disc((i.radius2Mm ?? 0) / 1e3, i.thickness2Mm! / 1e3, i.mu2!, 0.3e-3);
  const metal: MetalSheet | null = i.metalRadiusMm
    ? {
        outline: { shape: 'circle', diameter: (2 * i.metalRadiusMm) / 1e3 },
        thickness: i.metalThicknessMm! / 1e3,
        // Without plate 2 the rows count the metal's gap from where the plate's front would be, 0.3 mm behind the wire.
        standoff: (i.metalGapMm! + (receiverFerrite ? 0 : 0.3)) / 1e3,
        // A conductivity at which the skin depth vanishes stands for the rows without entering field.
        conductivity: i.metalMsPerM ? i.metalMsPerM * 1e6 : 1e15,
      }
    : null;
  const ferrite = disc(i.radius1Mm! / 1e3, i.thickness1Mm! / 1e3, i.mu1!, 0.5e-3);
  return {
    transmitter: shared({ winding: coil1, ferrite, metal: null }),
    receiver: shared({ winding: coil2, ferrite: receiverFerrite, metal }),
  };
}

export const pose = (z: number, x = 0, y = 0, yaw = 0, tiltX = 0, tiltY = 0) => ({ x, y, z, yaw, tiltX, tiltY });

/** Distance of the mid-planes at a row's gap, m. */
export const distanceOf = (gapMm: number) => (gapMm + 0.55 + 0.375) / 1e3;

/** A winding of evenly filled current sheet: `count` Gauss rings standing for `turns` turns. */
export function sheetCoil(template: Winding, turns: number, inner: number, outer: number, count: number): Winding {
  const list = Array.from({ length: count }, (_, i) => ({
    z: 0,
    weight: turns / count,
    pieces: [
      {
        kind: 'arc' as const,
        cx: 0,
        cy: 0,
        radius: inner + ((outer - inner) * (i + 0.5)) / count,
        start: 0,
        sweep: 2 * Math.PI,
      },
    ],
  }));
  return { ...template, turns: list, halfWidth: outer, halfHeight: outer };
}
