/** What to tell people who put magnets into a product. */
import { contactBound, discPairForce } from './disc-pair.ts';
import type { MagnetLayout } from './magnet-layout.ts';

export interface PullLimits {
  /** Pull of one pair when its faces touch, N: what a finger or a wall between them may meet. */
  readonly contactPerPairN: number;
  /** Upper bound for any thickness of this remanence and face, N. */
  readonly boundPerPairN: number;
  /** Contact pull over the magnet's face, Pa. */
  readonly contactPressurePa: number;
}

/** Pull of a pair that has been let snap together. Steel: a pair with its own image. */
export function pullLimits(layout: MagnetLayout): PullLimits {
  const facing = layout.facing === 'magnet' ? layout.lower : layout.upper;
  const contact = discPairForce(facing, layout.upper, 0, 0).pull;
  const radius = Math.min(facing.radius, layout.upper.radius);
  return {
    contactPerPairN: contact,
    boundPerPairN: contactBound(facing, layout.upper),
    contactPressurePa: contact / (Math.PI * radius * radius),
  };
}

/** Contact pull above which a pinch is worth a warning, N. Common practice, no source. */
export const PINCH_WARNING = 20;

/** Cautions for a layout, most serious first. Not a substitute for the magnet maker's sheet or a safety assessment. */
export function magnetCautions(layout: MagnetLayout): string[] {
  const { contactPerPairN } = pullLimits(layout);
  const cautions = [
    'Magnets can stop or reset pacemakers, defibrillators and insulin pumps: keep the distance the implant maker states and say so on the product.',
    'Magnetic stripes, some key cards and mechanical watches can be damaged by contact.',
    'Small magnets must not come loose: two swallowed magnets can injure fatally. Follow the product safety rules of your country.',
    'Keep the pull off the cell: no magnet should press on or bend a pouch cell; glue it to the case, not to the cell.',
  ];
  if (contactPerPairN > PINCH_WARNING)
    cautions.unshift(
      `Let go, two of these magnets meet with ${contactPerPairN.toFixed(0)} N: enough to pinch skin and to chip the magnets. Wear eye protection when handling them.`,
    );
  return cautions;
}
