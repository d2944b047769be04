import { conductorWidthMm, outerBox } from '../analysis/pair/outline-size.ts';
import type { PrintedRules, SearchGoal } from '../analysis/pair/search-space.ts';
import type { ConductorDocument, Design } from '../design/types.ts';

const litz = (strands: number, bundleDiameterMm: number): ConductorDocument => ({
  kind: 'litz',
  strands,
  strandDiameterMm: 0.08,
  bundleDiameterMm,
});

/** Wires to choose from beside the coil's own: common sizes, no source. */
export const WIRES: readonly ConductorDocument[] = [
  litz(30, 0.55),
  litz(60, 0.75),
  litz(105, 1.1),
  litz(180, 1.7),
  { kind: 'solid', diameterMm: 0.4, insulatedDiameterMm: 0.44 },
  { kind: 'solid', diameterMm: 0.7, insulatedDiameterMm: 0.76 },
];

const PRINTED: PrintedRules = {
  leastTraceMm: 0.15,
  leastSpaceMm: 0.15,
  copperMm: 0.07,
  mostLayers: 2,
  layerPitchMm: 0.8,
};

/** What the search is asked for, in the units of its fields. */
export interface Asked {
  readonly side: 'transmitter' | 'receiver';
  readonly goal: SearchGoal;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly thicknessMm: number;
  readonly mostTurns: number;
  readonly kind: 'wire' | 'printed';
  readonly printed: PrintedRules;
}

/** What there is now, as the space to search in. */
export function startOf(design: Design, side: Asked['side'], goal: SearchGoal): Asked {
  const { coil } = design[side];
  const box = outerBox(coil);
  const height = coil.conductor.kind === 'trace' ? coil.conductor.thicknessMm : conductorWidthMm(coil);
  return {
    side,
    goal,
    widthMm: Number(box.widthMm.toFixed(2)),
    heightMm: Number(box.heightMm.toFixed(2)),
    thicknessMm: Number((height + (coil.layers - 1) * coil.layerPitchMm).toFixed(2)),
    mostTurns: Math.min(60, Math.ceil(1.7 * coil.turns)),
    kind: coil.conductor.kind === 'trace' ? 'printed' : 'wire',
    printed: PRINTED,
  };
}
