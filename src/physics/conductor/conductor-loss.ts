import type { Conductor } from '../coil/types.ts';
import { COPPER_RESISTIVITY_20C, COPPER_TEMPERATURE_COEFFICIENT, MU0 } from '../constants.ts';
import { foilFieldFactor, foilSkinFactor } from './foil.ts';
import { roundWireFactors, skinDepth } from './round-wire.ts';

/** Resistivity of annealed copper, ohm m. IEC 60028 at 20 C, linear in temperature; good from -50 to 200 C. */
export function copperResistivity(temperatureC: number): number {
  return COPPER_RESISTIVITY_20C * (1 + COPPER_TEMPERATURE_COEFFICIENT * (temperatureC - 20));
}

/** Copper area of one wire, m2. */
export function copperArea(conductor: Conductor): number {
  switch (conductor.kind) {
    case 'litz':
      return (conductor.strands * Math.PI * conductor.strandDiameter ** 2) / 4;
    case 'solid':
      return (Math.PI * conductor.diameter ** 2) / 4;
    case 'trace':
      return conductor.width * conductor.thickness;
  }
}

/**
 * Squared transverse field on one wire's section per square ampere of coil current, 1/m2, averaged along the wire.
 * rms or peak makes no difference as long as the current is meant alike.
 */
export interface SectionField {
  /** On the section's middle. */
  readonly centreSquare: number;
  /** Mean over the section; at least about `centreSquare`. */
  readonly meanSquare: number;
  /**
   * Traces: mean square, over the width, of (A - mean A)/mu0 with A the vector potential of all currents including the
   * trace's own, per square ampere (dimensionless). Zero for round conductors.
   */
  readonly potentialVariance: number;
}

/** Resistance of one wire per metre, ohm/m, by cause. */
export interface WireResistance {
  readonly dc: number;
  /** Skin effect of the wire, or of each strand, alone. */
  readonly skin: number;
  /** Litz: eddy loss of the strands in the bundle's own field. Traces: crowding in the trace's own field. */
  readonly bundle: number;
  /** Eddy loss in the field of the other turns and of what lies around. */
  readonly field: number;
}

/**
 * Resistance per metre of a wire that carries `share` of the coil current, in terms of that wire's own current: the loss
 * per metre is the sum of the parts times (share I)^2.
 *
 * Litz: every strand carries the same current (ideal twist); each lies in the bundle's own field, mean square
 * 1/(8 pi^2 b^2), and in the outside field. Solid: the dipole part by the exact cylinder solution, what the field varies
 * across the wire by a third of its mean square (quadrupole at low frequency). Trace: low-frequency eddy loss in the
 * normal field across the width and in the tangential field across the thickness; good to 3 % while
 * width x thickness < depth^2 (see README.md).
 *
 * @param field of all currents other than the wire's own, per coil ampere; for traces including its own
 * Source: Sullivan, IEEE Trans. Power Electron. 14 (1999) 283 (squared-field form); Ferreira 9 (1994) 127; re-derived.
 */
export function wireResistance(
  conductor: Conductor,
  frequency: number,
  temperatureC: number,
  field: SectionField,
  share: number,
): WireResistance {
  const resistivity = copperResistivity(temperatureC);
  const depth = skinDepth(resistivity, frequency);
  const dc = resistivity / copperArea(conductor);
  const omegaMu2 = (2 * Math.PI * frequency * MU0) ** 2;
  const own2 = share * share;
  if (conductor.kind === 'trace') {
    const { width, thickness } = conductor;
    const area = width * thickness;
    const tangential = (omegaMu2 / resistivity) * ((width * thickness ** 3) / 12) * foilFieldFactor(thickness / depth);
    const across = ((omegaMu2 / resistivity) * area * field.potentialVariance) / own2;
    const alone = (omegaMu2 / resistivity) * area * OWN_POTENTIAL_VARIANCE;
    return {
      dc,
      skin: dc * (foilSkinFactor(thickness / depth) - 1),
      bundle: alone,
      field: across - alone + (tangential * field.centreSquare) / own2,
    };
  }
  const diameter = conductor.kind === 'litz' ? conductor.strandDiameter : conductor.diameter;
  const factors = roundWireFactors(diameter, depth);
  // Loss per metre of one round wire in a unit transverse field.
  const perSquare = ((Math.PI * (diameter / 2) ** 4 * omegaMu2) / (4 * resistivity)) * factors.transverse;
  const skin = dc * (factors.resistance - 1);
  if (conductor.kind === 'solid') {
    const effective = field.centreSquare + Math.max(0, field.meanSquare - field.centreSquare) / 3;
    return { dc, skin, bundle: 0, field: (perSquare * effective) / own2 };
  }
  const { strands, bundleDiameter } = conductor;
  const ownSquare = (1 - 1 / strands) / (2 * Math.PI ** 2 * bundleDiameter ** 2);
  return {
    dc,
    skin,
    bundle: strands * perSquare * ownSquare,
    field: (strands * perSquare * field.meanSquare) / own2,
  };
}

/**
 * Mean square over the width of (A - mean A)/mu0 of a flat strip's own current, per square ampere:
 * (variance of (1/2 - x) ln(1/2 - x) + (1/2 + x) ln(1/2 + x)) / 4 pi^2; recomputed in
 * tests/physics/conductor/conductor-loss.test.ts.
 */
export const OWN_POTENTIAL_VARIANCE = 0.03502197771725816 / (4 * Math.PI ** 2);
