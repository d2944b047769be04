/** What the magnets' steady flux in the ferrite does to the link: L, k and margin, solved again cell by cell. */
import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { maxOutput } from '../../physics/circuit/max-output.ts';
import { createFieldModel, type GridChange } from '../../physics/field/field-model.ts';
import type { LinkSide } from '../../physics/field/types.ts';
import { type PlateFlux, permeabilityIn, type SaturationState } from '../../physics/magnet/saturation.ts';
import { linkAtPose } from '../link/link-at-pose.ts';
import { linkContext, poseOfDesign } from '../link/link-context.ts';
import { marginPercent } from '../margin/margin-percent.ts';
import { chargesCell } from '../margin/pose-answer.ts';

/** Which permeability small alternating fields see: that without magnets, or what the flux leaves in a direction. */
export const SATURATION_CASES = ['none', 'mean', 'along', 'across'] as const;
export type SaturationCase = (typeof SATURATION_CASES)[number];

export interface BeforeAfter {
  /** Without the magnets' flux. */
  readonly without: number;
  readonly with: number;
  /** Ends of `with`: the coil's field wholly along the steady flux, and wholly across it. */
  readonly low: number;
  readonly high: number;
}

/** Effect of the ferrite's lowered permeability at home. */
export interface SaturationEffect {
  readonly transmitterInductanceH: BeforeAfter;
  readonly receiverInductanceH: BeforeAfter;
  readonly coupling: BeforeAfter;
  readonly marginPercent: BeforeAfter;
  /** Largest flux density over its saturation in either plate. */
  readonly fullness: number;
  readonly sentence: string;
}

/**
 * What the plates add at home on the coarse grids, with the permeability of a case in each cell: some tenths of a second,
 * because the plates' answers are worked out anew.
 */
export function saturatedChange(
  design: Design,
  flux: Pick<SaturationState, 'dock' | 'device'>,
  which: SaturationCase,
): GridChange {
  const context = linkContext(design);
  const weakened = (side: LinkSide, plate: PlateFlux | null): LinkSide =>
    side.ferrite && plate && which !== 'none'
      ? {
          ...side,
          ferrite: { ...side.ferrite, permeabilityAt: permeabilityIn(plate, side.ferrite.relativePermeability, which) },
        }
      : side;
  const { dL1, dL2, dM } = createFieldModel(
    weakened(context.transmitter, flux.dock),
    weakened(context.receiver, flux.device),
    { frequency: context.middleFrequency },
  ).solve(poseOfDesign(design), 'coarse');
  return { dL1, dL2, dM };
}

/**
 * The link with the permeability that the magnets' flux leaves in each cell of the ferrite, against the link as designed.
 * The change of L1, L2 and M is that of the coarse grids, carried over to the fine ones.
 *
 * The value takes the mean over directions, the ends take the coil's field wholly along the steady flux and wholly across it.
 * The curve is a stand-in for the data sheet's, temperature and tolerance of the saturation flux density are not in it: good
 * to about a factor of two of the change. Measure L with the magnets in place.
 * @param flux of both plates. @param changes of `saturatedChange`, one for each case
 * @returns null where no plate carries flux.
 */
export function saturationEffect(
  design: Design,
  flux: Pick<SaturationState, 'dock' | 'device'>,
  changes: Readonly<Record<SaturationCase, GridChange>>,
): SaturationEffect | null {
  if (!flux.dock && !flux.device) return null;
  const context = linkContext(design);
  const { air, electrical } = linkAtPose(context, poseOfDesign(design), 'fine');
  const demand = demandOf(design);
  const charging = chargesCell(design, demand);
  const boards = boardsOf(design);
  const { none } = changes;
  const solved = (which: SaturationCase) => {
    const change = changes[which];
    const l1 = (electrical.l1 * (air.l1 + change.dL1)) / (air.l1 + none.dL1);
    const l2 = (electrical.l2 * (air.l2 + change.dL2)) / (air.l2 + none.dL2);
    const m = (electrical.m * (air.m + change.dM)) / (air.m + none.dM);
    const { current } = maxOutput({ ...electrical, l1, l2, m }, boards, { charging });
    return { l1, l2, k: m / Math.sqrt(l1 * l2), margin: marginPercent(current, demand.demandA) };
  };
  const links = Object.fromEntries(SATURATION_CASES.map((which) => [which, solved(which)])) as Record<
    SaturationCase,
    ReturnType<typeof solved>
  >;
  const beforeAfter = (pick: (link: ReturnType<typeof solved>) => number): BeforeAfter => {
    const after = (['mean', 'along', 'across'] as const).map((which) => pick(links[which]));
    return { without: pick(links.none), with: after[0]!, low: Math.min(...after), high: Math.max(...after) };
  };
  const effect = {
    transmitterInductanceH: beforeAfter(({ l1 }) => l1),
    receiverInductanceH: beforeAfter(({ l2 }) => l2),
    coupling: beforeAfter(({ k }) => k),
    marginPercent: beforeAfter(({ margin }) => margin),
    fullness: Math.max(...[flux.dock, flux.device].map((plate) => (plate ? plate.peakT / plate.saturationT : 0))),
  };
  return { ...effect, sentence: sentence(effect, flux) };
}

const signed = (value: number) => `${value > 0 ? '+' : value < 0 ? '−' : ''}${Math.abs(value).toFixed(1)}`;

/** `−1.2 % (−1.9 to −0.8)`. */
function percent({ without, with: after, low, high }: BeforeAfter): string {
  const change = (value: number) => signed(Math.round(1000 * (value / without - 1)) / 10);
  const ends = change(low) === change(high) ? '' : ` (${change(low)} to ${change(high)})`;
  return `${change(after)} %${ends}`;
}

function sentence(
  { transmitterInductanceH, receiverInductanceH, coupling, marginPercent: margin }: Omit<SaturationEffect, 'sentence'>,
  flux: Pick<SaturationState, 'dock' | 'device'>,
): string {
  const plates = [
    ['dock’s', flux.dock],
    ['device’s', flux.device],
  ] as const;
  const filled = plates.flatMap(([name, plate]) =>
    plate
      ? [
          `the ${name} ferrite up to ${(1e3 * plate.peakT).toFixed(0)} mT (it saturates towards ${(1e3 * plate.saturationT).toFixed(0)} mT), which takes half its permeability or more over ${(100 * plate.halvedShare).toFixed(0)} % of its area`,
        ]
      : [],
  );
  const whole = (value: number) => `${value <= -0.5 ? '−' : ''}${Math.abs(Math.round(value))}`;
  const ends = whole(margin.low) === whole(margin.high) ? '' : ` (${whole(margin.low)} to ${whole(margin.high)} %)`;
  return `The magnets’ steady flux fills ${filled.join(', and ')}. Solved again with that, transmitter L ${percent(transmitterInductanceH)}, receiver L ${percent(receiverInductanceH)}, k ${percent(coupling)}, margin at home ${whole(margin.without)} % to ${whole(margin.with)} %${ends}. The curve of the ferrite is a usual one, not its data sheet’s: measure L with the magnets in place.`;
}
