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

/** Resistance of one wire per metre in its own field, ohm/m, by cause. */
export interface WireResistance {
  readonly dc: number;
  /** Skin effect of the wire, or of each strand, alone; of a trace through its thickness. */
  readonly skin: number;
  /** Litz: eddy loss of the strands in the bundle's own field. */
  readonly bundle: number;
  /**
   * Eddy loss per metre in a uniform transverse field of 1 A/m rms, ohm m: across a round section, along a trace's faces.
   */
  readonly perSquareField: number;
}

/**
 * A wire's resistance per metre, alone, and how it answers an outside field.
 *
 * Litz: every strand carries the same current (ideal twist) and lies in the bundle's own field, mean square
 * (1 - 1/n) / (8 pi^2 b^2) for bundle radius b.
 * Source: squared-field form after Sullivan, IEEE Trans. Power Electron. 14 (1999) 283; Ferreira 9 (1994) 127; re-derived.
 */
export function wireResistance(conductor: Conductor, frequency: number, temperatureC: number): WireResistance {
  const resistivity = copperResistivity(temperatureC);
  const depth = skinDepth(resistivity, frequency);
  const dc = resistivity / copperArea(conductor);
  const drive = (2 * Math.PI * frequency * MU0) ** 2 / resistivity;
  if (conductor.kind === 'trace') {
    const { width, thickness } = conductor;
    const ratio = thickness / depth;
    return {
      dc,
      skin: dc * (foilSkinFactor(ratio) - 1),
      bundle: 0,
      perSquareField: ((drive * width * thickness ** 3) / 12) * foilFieldFactor(ratio),
    };
  }
  const diameter = conductor.kind === 'litz' ? conductor.strandDiameter : conductor.diameter;
  const factors = roundWireFactors(diameter, depth);
  const perWire = ((drive * Math.PI * (diameter / 2) ** 4) / 4) * factors.transverse;
  const skin = dc * (factors.resistance - 1);
  if (conductor.kind === 'solid') return { dc, skin, bundle: 0, perSquareField: perWire };
  const { strands, bundleDiameter } = conductor;
  const ownSquare = (1 - 1 / strands) / (2 * Math.PI ** 2 * bundleDiameter ** 2);
  return { dc, skin, bundle: strands * perWire * ownSquare, perSquareField: strands * perWire };
}
