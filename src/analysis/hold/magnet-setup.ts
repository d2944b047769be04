/** The design's magnets as the laws take them. */
import type { Design, MagnetsDocument } from '../../design/types.ts';
import type { LinkSide } from '../../physics/field/types.ts';
import { type LayoutPlates, layoutPlateFaults, type PlateAt } from '../../physics/magnet/layout-on-plates.ts';
import type { MagnetLayout } from '../../physics/magnet/magnet-layout.ts';
import type { PlateInFlux, PlatesInFlux } from '../../physics/magnet/saturation.ts';
import { softPlate } from '../../physics/magnet/soft-plate.ts';
import { STEEL_PERMEABILITY } from '../../physics/magnet/steel-disc.ts';

/** Both discs of a pair are alike; a steel disc has the magnet's diameter and thickness. */
export function layoutOf(magnets: MagnetsDocument): MagnetLayout {
  const disc = {
    radius: magnets.diameterMm / 2e3,
    thickness: magnets.thicknessMm / 1e3,
    remanence: magnets.remanenceT,
  };
  return {
    positions: Float64Array.from(magnets.positionsMm.flat(), (v) => v / 1e3),
    polarity: null,
    lower: disc,
    upper: disc,
    facing: magnets.facing,
    steel:
      magnets.facing === 'steel'
        ? { radius: disc.radius, thickness: disc.thickness, relativePermeability: STEEL_PERMEABILITY }
        : null,
    gap: magnets.gapMm / 1e3,
  };
}

export interface MagnetPlates {
  readonly plates: LayoutPlates;
  /** The same as they are cut, for their flux; saturation is the design's to say. */
  readonly inFlux: PlatesInFlux;
  /** Why a plate was left out; empty where all are in. */
  readonly notes: readonly string[];
}

/**
 * The ferrite of both sides around the magnets. The middle of the magnets' gap is taken to lie in the middle of the coils' gap.
 * A plate that a magnet would have to pierce is left out and said so.
 * @param gap between the windings, m. Panels of half the distance to the magnets across, 1.5 to 3.5 mm.
 */
export function magnetPlates(
  layout: MagnetLayout,
  transmitter: LinkSide,
  receiver: LinkSide,
  gap: number,
): MagnetPlates {
  const notes: string[] = [];
  const place = (side: LinkSide, sign: 1 | -1): (PlateAt & { readonly inFlux: PlateInFlux }) | null => {
    const { ferrite, winding } = side;
    if (!ferrite || !(ferrite.relativePermeability > 1)) return null;
    const near = gap / 2 + 2 * winding.halfThickness + ferrite.standoff;
    // What counts is how finely the plate answers to the magnets across the gap.
    const cell = Math.min(3.5e-3, Math.max(1.5e-3, (near + layout.gap / 2) / 2));
    const height = sign * (near + ferrite.thickness / 2);
    const probe = {
      plate: { outline: ferrite.outline, thickness: ferrite.thickness },
      height,
    };
    const faults = layoutPlateFaults(layout, sign < 0 ? { dock: probe, device: null } : { dock: null, device: probe });
    notes.push(...faults);
    if (faults.length > 0) return null;
    const { outline, thickness, relativePermeability } = ferrite;
    const options = { cell, layers: 1 };
    return {
      plate: softPlate(outline, thickness, relativePermeability, options),
      height,
      inFlux: { outline, thickness, relativePermeability, saturation: Number.POSITIVE_INFINITY, height, options },
    };
  };
  const dock = place(transmitter, -1);
  const device = place(receiver, 1);
  return {
    plates: { dock, device },
    inFlux: { dock: dock?.inFlux ?? null, device: device?.inFlux ?? null },
    notes,
  };
}

/** Area taken for a device whose outline is not known, mm^2. */
const UNKNOWN_AREA = 1600;

/** Mean radius at which the device rests, m: two thirds of the radius of a circle of its area (an even contact, textbook). */
export function contactRadiusOf(design: Design): number {
  const outline = design.holding.recess?.outline ?? design.receiver.coil.outline;
  const area =
    outline.shape === 'path'
      ? UNKNOWN_AREA
      : outline.shape === 'circle'
        ? (Math.PI / 4) * outline.outerDiameterMm ** 2
        : outline.outerWidthMm * outline.outerHeightMm;
  return (2 / 3) * Math.sqrt(area / Math.PI) * 1e-3;
}
