/** The ferrite of both sides in the magnets' field, in steps short enough to be stopped between. */
import type { Design } from '../../design/types.ts';
import type { MagnetLayout } from '../../physics/magnet/magnet-layout.ts';
import {
  assemblePlateForces,
  type PlateForceMap,
  plateForceCount,
  solvePlateForces,
} from '../../physics/magnet/plate-force-map.ts';
import { type PlatesInFlux, type SaturationState, saturationRound } from '../../physics/magnet/saturation.ts';
import { linkContext } from '../link/link-context.ts';
import { Lru } from '../lru.ts';
import { layoutOf, type MagnetPlates, magnetPlates } from './magnet-setup.ts';

/** What ferrite makes of the magnets. Plain data. */
export interface MagnetFerrite {
  readonly map: PlateForceMap;
  /** Steady flux in the plates at home; null where not asked. */
  readonly flux: SaturationState | null;
  /** Why a plate was left out. */
  readonly notes: readonly string[];
}

interface Setup {
  readonly layout: MagnetLayout;
  readonly built: MagnetPlates;
}

const setups = new Lru<Setup>(3);

/** Layout and plates of a design with magnets; kept per thread. */
function setupOf(design: Design): Setup | null {
  const { magnets } = design.holding;
  if (!magnets) return null;
  const { transmitter, receiver } = linkContext(design);
  const gap = design.placement.gapMm / 1e3;
  const parts = [design.transmitter, design.receiver].map(({ ferrite, coil }) => [ferrite, coil]);
  return setups.obtain(JSON.stringify([magnets, gap, parts]), () => {
    const layout = layoutOf(magnets);
    return { layout, built: magnetPlates(layout, transmitter, receiver, gap) };
  });
}

/** Offsets over which the plates' part of the force is sampled, m: three radii of a magnet. */
const reachOf = (layout: MagnetLayout) => 3 * layout.upper.radius;

/** Offsets to be sampled; none without magnets, or without ferrite that can be taken into account. */
export function ferriteSampleCount(design: Design): number {
  const setup = setupOf(design);
  if (!setup || (!setup.built.plates.dock && !setup.built.plates.device)) return 0;
  return plateForceCount(setup.layout);
}

/** Forces at offsets `from` to `to`: some tens of milliseconds each. */
export function ferriteSamples(design: Design, from: number, to: number): Float64Array {
  const setup = setupOf(design);
  if (!setup || to <= from) return new Float64Array(0);
  const { layout, built } = setup;
  return solvePlateForces(layout, built.plates, reachOf(layout), from, to);
}

/** The next round of the steady flux at home, about a tenth of a second. @param before null: the first */
export function ferriteFluxRound(design: Design, before: SaturationState | null): SaturationState {
  const { layout, built } = setupOf(design)!;
  const { dock, device } = built.inFlux;
  const ofDesign = (side: 'transmitter' | 'receiver', plate: PlatesInFlux['dock']) =>
    plate && { ...plate, saturation: (design[side].ferrite?.saturationMt ?? 0) / 1e3 };
  return saturationRound(layout, { dock: ofDesign('transmitter', dock), device: ofDesign('receiver', device) }, before);
}

/** What ferrite makes of the magnets, from its samples and its flux; null where there is none to speak of. */
export function ferriteOf(
  design: Design,
  samples: Float64Array,
  flux: SaturationState | null,
): MagnetFerrite | { readonly map: null; readonly flux: null; readonly notes: readonly string[] } | null {
  const setup = setupOf(design);
  if (!setup) return null;
  const { notes } = setup.built;
  if (samples.length === 0) return { map: null, flux: null, notes };
  return { map: assemblePlateForces(setup.layout, reachOf(setup.layout), samples), flux, notes };
}
