/** What the magnets' steady flux in the ferrite does to the link: L, k and margin, in numbers. */
import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { maxOutput } from '../../physics/circuit/max-output.ts';
import { createFieldModel } from '../../physics/field/field-model.ts';
import type { LinkSide } from '../../physics/field/types.ts';
import type { PlateFlux } from '../../physics/magnet/saturation.ts';
import { linkAtPose } from '../link/link-at-pose.ts';
import { linkContext, poseOfDesign } from '../link/link-context.ts';
import { marginPercent } from '../margin/margin-percent.ts';
import { chargesCell } from '../margin/pose-answer.ts';

export interface BeforeAfter {
  /** Without the magnets' flux. */
  readonly without: number;
  readonly with: number;
}

/** Effect of the ferrite's lowered permeability at home. */
export interface SaturationEffect {
  /** Relative permeability of each ferrite; null where there is none in reach. */
  readonly transmitterPermeability: BeforeAfter | null;
  readonly receiverPermeability: BeforeAfter | null;
  readonly transmitterInductanceH: BeforeAfter;
  readonly receiverInductanceH: BeforeAfter;
  readonly coupling: BeforeAfter;
  readonly marginPercent: BeforeAfter;
  /** The flux would exceed what the ferrite carries somewhere: the linear plate overstates it there. */
  readonly saturates: boolean;
  readonly sentence: string;
}

/**
 * The link with each ferrite at the effective permeability that the magnets' flux leaves it (`plateFlux`), against the link
 * as designed. The change of L1, L2 and M is that of the coarse grids, carried over to the fine ones.
 *
 * A ferrite is taken as even: the loss is spread over the plate, though the flux crowds about the magnets. Good to a factor,
 * not to a digit: measure L with the magnets in place.
 * @param flux of both plates; null where a ferrite is missing or was left out.
 * @returns null where no plate carries flux.
 */
export function saturationEffect(
  design: Design,
  flux: { readonly dock: PlateFlux | null; readonly device: PlateFlux | null },
): SaturationEffect | null {
  if (!flux.dock && !flux.device) return null;
  const context = linkContext(design);
  const pose = poseOfDesign(design);
  const change = (transmitter: LinkSide, receiver: LinkSide) =>
    createFieldModel(transmitter, receiver, { frequency: context.middleFrequency }).solve(pose, 'coarse');
  const weakened = (side: LinkSide, plate: PlateFlux | null): LinkSide =>
    side.ferrite && plate
      ? { ...side, ferrite: { ...side.ferrite, relativePermeability: Math.max(1.01, plate.effectivePermeability) } }
      : side;
  const nominal = linkAtPose(context, pose, 'fine');
  const before = change(context.transmitter, context.receiver);
  const after = change(weakened(context.transmitter, flux.dock), weakened(context.receiver, flux.device));
  const { air } = nominal;
  const ratio = (value: number, from: number, to: number) => (value + to) / (value + from);
  const { electrical } = nominal;
  const link = {
    ...electrical,
    l1: electrical.l1 * ratio(air.l1, before.dL1, after.dL1),
    l2: electrical.l2 * ratio(air.l2, before.dL2, after.dL2),
    m: electrical.m * ratio(air.m, before.dM, after.dM),
  };
  const demand = demandOf(design);
  const charging = chargesCell(design, demand);
  const margin = (of: typeof link) =>
    marginPercent(maxOutput(of, boardsOf(design), { charging }).current, demand.demandA);
  const coupling = (of: typeof link) => of.m / Math.sqrt(of.l1 * of.l2);
  const permeability = (side: LinkSide, plate: PlateFlux | null): BeforeAfter | null =>
    side.ferrite && plate ? { without: side.ferrite.relativePermeability, with: plate.effectivePermeability } : null;
  const effect = {
    transmitterPermeability: permeability(context.transmitter, flux.dock),
    receiverPermeability: permeability(context.receiver, flux.device),
    transmitterInductanceH: { without: electrical.l1, with: link.l1 },
    receiverInductanceH: { without: electrical.l2, with: link.l2 },
    coupling: { without: coupling(electrical), with: coupling(link) },
    marginPercent: { without: margin(electrical), with: margin(link) },
    saturates: Math.max(flux.dock?.utilisation ?? 0, flux.device?.utilisation ?? 0) > 1,
  };
  return { ...effect, sentence: sentence(effect) };
}

const percent = ({ without, with: after }: BeforeAfter) => {
  const change = 100 * (after / without - 1);
  return `${change > 0 ? '+' : change < 0 ? '−' : ''}${Math.abs(change).toFixed(1)} %`;
};

function sentence(effect: Omit<SaturationEffect, 'sentence'>): string {
  const { transmitterPermeability, receiverPermeability, marginPercent: margin } = effect;
  const plates = [
    ['dock’s', transmitterPermeability],
    ['device’s', receiverPermeability],
  ] as const;
  const lowered = plates.flatMap(([name, mu]) =>
    mu ? [`the ${name} ferrite from a permeability of ${mu.without.toFixed(0)} to about ${mu.with.toFixed(0)}`] : [],
  );
  const much = effect.saturates
    ? ' Somewhere the ferrite saturates, where the linear plate overstates the flux: take these numbers as the worst.'
    : '';
  return `The magnets’ steady flux takes ${lowered.join(' and ')}: transmitter L ${percent(effect.transmitterInductanceH)}, receiver L ${percent(effect.receiverInductanceH)}, k ${percent(effect.coupling)}, margin at home ${margin.without.toFixed(0)} % to ${margin.with.toFixed(0)} %.${much}`;
}
