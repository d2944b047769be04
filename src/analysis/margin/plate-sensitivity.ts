import { ferriteOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { linkContext, poseOfDesign } from '../link/link-context.ts';
import { createPlates, type Plates } from '../link/plates.ts';
import { tolerancesOf } from './tolerances.ts';

/** Relative change of L1, L2 and M when a plate's property moves by its tolerance. */
export interface PlateSensitivity {
  readonly path: string;
  readonly l1: number;
  readonly l2: number;
  readonly m: number;
}

/**
 * How the link answers to each plate tolerance, by solving the pose again with the property moved by its tolerance, on
 * the coarse grids. Other poses of the same map use the same relative changes.
 */
export function plateSensitivity(design: Design): PlateSensitivity[] {
  const moved = tolerancesOf(design).filter(({ enters }) => enters.kind === 'plate');
  if (moved.length === 0) return [];
  const context = linkContext(design);
  const pose = poseOfDesign(design);
  const airM = context.kernel.mutual(pose).value;
  const totals = (plates: Plates | null): { l1: number; l2: number; m: number } => {
    const change = plates?.at(pose, 'coarse');
    return {
      l1: context.l1.value + (change?.dL1 ?? 0),
      l2: context.l2.value + (change?.dL2 ?? 0),
      m: airM + (change?.dM ?? 0),
    };
  };
  const base = totals(context.plates);
  return moved.flatMap(({ path, enters }) => {
    if (enters.kind !== 'plate') return [];
    // The side that is not moved stays the same object, so that its plates are not worked out again.
    const { ferrite } = moveProperty(design, enters.side, enters.property)[enters.side];
    const side = { ...context[enters.side], ferrite: ferriteOf(ferrite) };
    const sides = { transmitter: context.transmitter, receiver: context.receiver, [enters.side]: side };
    const other = totals(createPlates(sides.transmitter, sides.receiver, context.middleFrequency));
    return [{ path, l1: other.l1 / base.l1 - 1, l2: other.l2 / base.l2 - 1, m: other.m / base.m - 1 }];
  });
}

function moveProperty(
  design: Design,
  side: 'transmitter' | 'receiver',
  property: 'relativePermeability' | 'standoffMm',
): Design {
  const ferrite = design[side].ferrite;
  if (!ferrite) return design;
  const moved =
    property === 'relativePermeability'
      ? {
          ...ferrite,
          // Towards lower values: an upper bound on the change, since the answer saturates with permeability.
          relativePermeability: Math.max(
            1,
            ferrite.relativePermeability * (1 - Math.min(0.9, ferrite.relativePermeabilityTolerancePercent / 100)),
          ),
        }
      : { ...ferrite, standoffMm: ferrite.standoffMm + ferrite.standoffToleranceMm };
  return { ...design, [side]: { ...design[side], ferrite: moved } };
}
