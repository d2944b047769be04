/** What a magnet's steady flux does to a ferrite plate, cell by cell. */
import { MU0 } from '../constants.ts';
import { plateFlux as fluxInCells } from '../field/plate-flux.ts';
import { layoutForceOnPlates } from './layout-on-plates.ts';
import type { MagnetLayout } from './magnet-layout.ts';
import { type SoftPlate, type SoftPlateOptions, softPlate } from './soft-plate.ts';

/** A ferrite plate as it is cut into panels, before its answer is worked out. */
export interface PlateInFlux {
  readonly outline: SoftPlate['outline'];
  readonly thickness: number;
  /** Without flux. */
  readonly relativePermeability: number;
  /** Flux density that its magnetisation approaches, T. */
  readonly saturation: number;
  /** Of its middle over the mid-plane between the facing magnets at home, m. */
  readonly height: number;
  readonly options: SoftPlateOptions;
}

/** Plates of both sides; null where there is none, or none that can be taken into account. */
export interface PlatesInFlux {
  readonly dock: PlateInFlux | null;
  readonly device: PlateInFlux | null;
}

/** Steady flux in the cells of a plate's quarter; where the quarters differ, the worst of them. Plain data. */
export interface PlateFlux {
  /** Centres of the cells, [n, 2], m, x and y >= 0. */
  readonly centres: Float64Array;
  /** Areas, m^2. */
  readonly areas: Float64Array;
  /** In-plane flux density, mean over cell and thickness, T. */
  readonly density: Float64Array;
  /** Share of the susceptibility that steady flux still meets, M / (chi H). */
  readonly shares: Float64Array;
  /** Largest flux density, T. */
  readonly peakT: number;
  readonly saturationT: number;
  /** Share of the area with less than half the permeability left for small alternating fields along the steady one. */
  readonly halvedShare: number;
  /** Least permeability left for small alternating fields along the steady one. */
  readonly leastPermeability: number;
}

/** Where the rounds have come to. Plain data. */
export interface SaturationState {
  readonly dock: PlateFlux | null;
  readonly device: PlateFlux | null;
  readonly rounds: number;
  /** Largest relative change of a share in the last round. */
  readonly change: number;
  readonly settled: boolean;
  /** Pull on the device at home, ferrite as the flux leaves it, N. */
  readonly pullN: number;
}

/** Rounds at most, and the change of a share that counts as settled. */
const MOST_ROUNDS = 24;
const SETTLED = 0.02;
/** Least share of the susceptibility that a cell keeps, so that the network stays definite. */
const LEAST_SHARE = 1e-4;

/**
 * Share of the susceptibility that a steady field leaves, M / (chi H): Froehlich's curve M = Ms chi H / (Ms + chi H), a
 * smooth stand-in for a data sheet's (from memory). Small alternating fields across the steady one see this share too, those
 * along it its square.
 * @param field H, A/m, >= 0. @param susceptibility without flux. @param saturation T, > 0
 */
export function shareLeft(field: number, susceptibility: number, saturation: number): number {
  return 1 / (1 + (susceptibility * field * MU0) / saturation);
}

/** Relative permeability for small alternating fields, from a share: along the steady field, across it, or their mean. */
export function permeabilityLeft(
  relativePermeability: number,
  share: number,
  direction: 'along' | 'across' | 'mean',
): number {
  const chi = relativePermeability - 1;
  // Where all directions mix evenly in a sheet, the geometric mean holds exactly (Dykhne, from memory).
  const power = { along: 2, across: 1, mean: 1.5 }[direction];
  return 1 + chi * share ** power;
}

function builtWith(plate: PlateInFlux, before: PlateFlux | null): SoftPlate {
  const { outline, thickness, relativePermeability, options } = plate;
  return softPlate(outline, thickness, relativePermeability, { ...options, shares: before?.shares ?? null });
}

/**
 * One round of the steady flux with the device at home: both plates answer to the magnets and to each other with the
 * permeability that the round before left each cell; the field that results gives the next. About a tenth of a second.
 *
 * Flux that is driven through a section closes in on its share in proportion to how full the section is, so that some ten
 * rounds settle it. Cell means to some per cent where the cells are no larger than the distance to the magnets; a cell
 * whose mirror images see different fields takes the largest.
 */
export function saturationRound(
  layout: MagnetLayout,
  plates: PlatesInFlux,
  before: SaturationState | null,
): SaturationState {
  const dock = plates.dock && builtWith(plates.dock, before?.dock ?? null);
  const device = plates.device && builtWith(plates.device, before?.device ?? null);
  const home = layoutForceOnPlates(
    layout,
    {
      dock: dock && plates.dock ? { plate: dock, height: plates.dock.height } : null,
      device: device && plates.device ? { plate: device, height: plates.device.height } : null,
    },
    0,
    0,
    0,
  );
  const next = {
    dock: dock && plates.dock ? fluxOf(dock, home.dockCharges, plates.dock.saturation) : null,
    device: device && plates.device ? fluxOf(device, home.deviceCharges, plates.device.saturation) : null,
  };
  const change = Math.max(
    ...(['dock', 'device'] as const).map((side) => {
      const after = next[side]?.shares;
      const earlier = before?.[side]?.shares;
      return after ? after.reduce((most, share, k) => Math.max(most, Math.abs(share / (earlier?.[k] ?? 1) - 1)), 0) : 0;
    }),
  );
  const rounds = (before?.rounds ?? 0) + 1;
  return { ...next, rounds, change, settled: change < SETTLED || rounds >= MOST_ROUNDS, pullN: -home.total.fz };
}

/** All rounds. */
export function saturatePlates(layout: MagnetLayout, plates: PlatesInFlux): SaturationState {
  let state = saturationRound(layout, plates, null);
  while (!state.settled) state = saturationRound(layout, plates, state);
  return state;
}

/** Flux in the cells from the charges on all panels, and what it leaves of the susceptibility. */
function fluxOf(plate: SoftPlate, charges: Float64Array, saturation: number): PlateFlux {
  const { mesh, susceptibility, shares: before } = plate.response;
  const { orbits, faceOrbits } = mesh;
  // Image by image, upper then lower members.
  const members = new Float64Array(8 * orbits);
  for (let g = 0; g < 4; g += 1) {
    members.set(charges.subarray(g * orbits, (g + 1) * orbits), 2 * g * orbits);
    members.set(charges.subarray((g + 4) * orbits, (g + 5) * orbits), (2 * g + 1) * orbits);
  }
  const { density: all } = fluxInCells(plate.response, members);
  const density = new Float64Array(faceOrbits);
  for (let cell = 0; cell < faceOrbits; cell += 1)
    for (let g = 0; g < 4; g += 1) {
      const at = 2 * (g * faceOrbits + cell);
      density[cell] = Math.max(density[cell], Math.hypot(all[at], all[at + 1]));
    }
  const shares = density.map((b, cell) => {
    const field = b / (MU0 * (1 + susceptibility * (before?.[cell] ?? 1)));
    return Math.max(LEAST_SHARE, shareLeft(field, susceptibility, saturation));
  });
  const { centre, area } = mesh.panels;
  const areas = area.slice(0, faceOrbits);
  const whole = areas.reduce((sum, a) => sum + a, 0);
  const halved = shares.reduce((sum, share, cell) => sum + (share * share < 0.5 ? areas[cell] : 0), 0);
  const least = shares.reduce((a, b) => Math.min(a, b), 1);
  return {
    centres: Float64Array.from({ length: 2 * faceOrbits }, (_, k) => centre[3 * (k >> 1) + (k & 1)]),
    areas,
    density,
    shares,
    peakT: density.reduce((a, b) => Math.max(a, b), 0),
    saturationT: saturation,
    halvedShare: halved / whole,
    leastPermeability: permeabilityLeft(susceptibility + 1, least, 'along'),
  };
}

/** Permeability at a place of the plate's quarter: that of the nearest cell. */
export function permeabilityIn(
  flux: PlateFlux,
  relativePermeability: number,
  direction: 'along' | 'across' | 'mean',
): (x: number, y: number) => number {
  const { centres, shares } = flux;
  const left = shares.map((share) => permeabilityLeft(relativePermeability, share, direction));
  return (x, y) => {
    let nearest = 0;
    let least = Number.POSITIVE_INFINITY;
    for (let cell = 0; cell < left.length; cell += 1) {
      const away = (centres[2 * cell] - Math.abs(x)) ** 2 + (centres[2 * cell + 1] - Math.abs(y)) ** 2;
      if (away < least) {
        least = away;
        nearest = cell;
      }
    }
    return left[nearest];
  };
}
