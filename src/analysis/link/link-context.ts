import { poseOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { type LinkSides, linkSidesOf } from '../../design/wind.ts';
import type { Estimate } from '../../numerics/estimate.ts';
import { RESISTANCE_REFERENCE_C, resistanceAt } from '../../physics/circuit/board-model.ts';
import type { ResistanceLaw } from '../../physics/circuit/types.ts';
import { createPairKernel, type PairKernel } from '../../physics/coil/kernel/pair-kernel.ts';
import { sectionFilaments } from '../../physics/coil/section-filaments.ts';
import { selfInductance } from '../../physics/coil/self-inductance.ts';
import type { Pose, Winding } from '../../physics/coil/types.ts';
import { resistanceLaw } from '../../physics/conductor/resistance-law.ts';
import type { LinkSide } from '../../physics/field/types.ts';
import { Lru } from '../lru.ts';
import { linkKey } from './link-key.ts';
import { createPlates, type PlateLevel, type Plates } from './plates.ts';

/** Everything about a pair of coils that does not depend on where the receiver sits. */
export interface LinkContext {
  readonly key: string;
  readonly transmitter: LinkSide;
  readonly receiver: LinkSide;
  /** In air, H. */
  readonly l1: Estimate;
  readonly l2: Estimate;
  readonly kernel: PairKernel;
  /** Kernel for reported numbers. */
  readonly reference: PairKernel;
  readonly plates: Plates | null;
  /** Copper only, at `copperC`. */
  readonly copper1: ResistanceLaw;
  readonly copper2: ResistanceLaw;
  /** Measured over computed inductance and resistance of each coil alone with its ferrite; 1 where nothing was measured. */
  readonly inductanceScale1: number;
  readonly inductanceScale2: number;
  readonly resistanceScale1: number;
  readonly resistanceScale2: number;
  /** True over computed coupling, as the design states it. */
  readonly couplingFactor: number;
  /** The frequency at which loss of metal sheets is evaluated: middle of the window, Hz. */
  readonly middleFrequency: number;
}

/** Temperature at which the copper's resistance is stated; the circuit carries it on, C. */
export const COPPER_REFERENCE_C = RESISTANCE_REFERENCE_C;

const contexts = new Lru<LinkContext>(6);
const roughContexts = new Lru<LinkContext>(6);
const sides = new Lru<LinkSides>(12);
const knownSides = new Lru<LinkSide>(12);

/** Both sides wound, with their plates. A side that has not changed stays the same object, and keeps what it has worked out. */
export function sidesOfDesign(design: Design): LinkSides {
  const keys = [design.transmitter, design.receiver].map(({ coil, ferrite, metal }) =>
    JSON.stringify([coil, ferrite, metal]),
  );
  return sides.obtain(keys.join(), () => {
    const { transmitter, receiver } = linkSidesOf(design);
    return {
      transmitter: knownSides.obtain(`transmitter ${keys[0]}`, () => transmitter),
      receiver: knownSides.obtain(`receiver ${keys[1]}`, () => receiver),
    };
  });
}

export function poseOfDesign(design: Design): Pose {
  const { transmitter, receiver } = sidesOfDesign(design);
  return poseOf(design, transmitter.winding, receiver.winding);
}

/** Builds, or finds, the context of a design. @throws InputError */
export function linkContext(design: Design): LinkContext {
  return contexts.obtain(linkKey(design), () => build(design, 'coarse'));
}

/**
 * The same for a first look: proximity loss from the plates' rough grids, so that nothing finer is set up. The full one
 * where it stands already.
 */
export function roughLinkContext(design: Design): LinkContext {
  const key = linkKey(design);
  return contexts.get(key) ?? roughContexts.obtain(key, () => build(design, 'rough'));
}

/** The same, whatever stands: where the answer may not depend on what was worked out before. */
export function plainRoughContext(design: Design): LinkContext {
  return roughContexts.obtain(linkKey(design), () => build(design, 'rough'));
}

/** The context in which a link model is read: of a rough one nothing finer is set up. @throws InputError */
export function contextOf(design: Design, model: { readonly level: PlateLevel } | null): LinkContext {
  return model?.level === 'rough' ? roughLinkContext(design) : linkContext(design);
}

/** What belongs to one side alone, by the object that describes it. */
interface OwnValues {
  self: Estimate | null;
  readonly copper: Map<string, ResistanceLaw>;
}

const ownValues = new WeakMap<LinkSide, OwnValues>();

function ownOf(side: LinkSide): OwnValues {
  const own = ownValues.get(side) ?? { self: null, copper: new Map<string, ResistanceLaw>() };
  ownValues.set(side, own);
  return own;
}

function selfOf(side: LinkSide): Estimate {
  const own = ownOf(side);
  own.self ??= selfInductance(side.winding);
  return own.self;
}

function copperOf(side: LinkSide, key: string, make: (winding: Winding) => ResistanceLaw): ResistanceLaw {
  const { copper } = ownOf(side);
  const law = copper.get(key) ?? make(side.winding);
  copper.set(key, law);
  return law;
}

function build(design: Design, proximity: 'rough' | 'coarse'): LinkContext {
  const { transmitter, receiver } = sidesOfDesign(design);
  const drive = design.transmitter.drive;
  const band = [drive.frequencyMinKhz * 1e3, drive.frequencyMaxKhz * 1e3] as const;
  const middleFrequency = Math.sqrt(band[0] * band[1]);
  const l1 = selfOf(transmitter);
  const l2 = selfOf(receiver);
  const plates = createPlates(transmitter, receiver, middleFrequency);
  const { inductanceUh: measured1 } = design.transmitter.coil;
  const { inductanceUh: measured2 } = design.receiver.coil;
  // Only a measured inductance asks what each coil has alone.
  const alone = measured1 !== null || measured2 !== null ? plates?.alone(proximity) : undefined;
  const copper = (which: 'transmitter' | 'receiver'): ResistanceLaw =>
    copperOf({ transmitter, receiver }[which], `${band} ${proximity}`, (winding) => {
      const externalField = plates?.proximityField(which, proximity) ?? null;
      return resistanceLaw(winding, band[0], band[1], COPPER_REFERENCE_C, { externalField }).law;
    });
  const copper1 = copper('transmitter');
  const copper2 = copper('receiver');
  const measured = (value: number | null, computed: number, unit: number): number =>
    value === null ? 1 : (value * unit) / computed;
  return {
    key: linkKey(design),
    transmitter,
    receiver,
    l1,
    l2,
    kernel: createPairKernel(transmitter.winding, receiver.winding),
    // Conductors as thick as their distance carry some parts in ten thousand more than their centre lines.
    reference: createPairKernel(sectionFilaments(transmitter.winding), sectionFilaments(receiver.winding), {
      tolerance: 1e-6,
    }),
    plates,
    copper1,
    copper2,
    inductanceScale1: measured(measured1, l1.value + (alone?.dL1 ?? 0), 1e-6),
    inductanceScale2: measured(measured2, l2.value + (alone?.dL2 ?? 0), 1e-6),
    resistanceScale1: measured(
      design.transmitter.coil.resistanceMohm,
      resistanceAt(copper1, middleFrequency, COPPER_REFERENCE_C),
      1e-3,
    ),
    resistanceScale2: measured(
      design.receiver.coil.resistanceMohm,
      resistanceAt(copper2, middleFrequency, COPPER_REFERENCE_C),
      1e-3,
    ),
    couplingFactor: design.receiver.couplingFactor,
    middleFrequency,
  };
}
