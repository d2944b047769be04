import { ConvergenceError, InputError } from '../../numerics/errors.ts';
import { turnLength } from '../coil/turn-polyline.ts';
import type { Winding } from '../coil/types.ts';
import { copperArea, copperResistivity, wireResistance } from './conductor-loss.ts';
import { skinDepth } from './round-wire.ts';
import { STATION_DEFAULTS, type StationOptions } from './stations.ts';
import { type WindingFields, windingFields } from './winding-fields.ts';

export interface AcResistanceOptions extends StationOptions {
  /**
   * Squared transverse field on each turn per square ampere, 1/m2, where it is known already; replaces the computed field
   * of the other turns and of what lies around. It acts as a uniform field. Null: computed from the winding.
   */
  readonly transverseFieldSquared: Float64Array | null;
  /** Result of `windingFields` for this winding, to be used at several frequencies. Null: computed. */
  readonly fields: WindingFields | null;
}

export const AC_RESISTANCE_DEFAULTS: AcResistanceOptions = Object.freeze({
  ...STATION_DEFAULTS,
  transverseFieldSquared: null,
  fields: null,
});

/** Resistance of a winding at one frequency, ohm, by cause. The parts add up to `total`. */
export interface AcResistance {
  readonly total: number;
  readonly dc: number;
  /** Skin effect of each wire or strand alone; of a trace through its thickness. */
  readonly skin: number;
  /** Litz: strands in their bundle's own field. */
  readonly bundle: number;
  /** Eddy loss in the field of the other turns, of ferrite and metal where their field was given, and crowding in traces. */
  readonly proximity: number;
  /** False where the model leaves its range: strands or traces thicker than two skin depths. */
  readonly valid: boolean;
}

/** DC resistance of a winding, ohm; filars in parallel. Litz counts its strands' copper at the bundle's length. */
export function dcResistance(winding: Winding, temperatureC: number): number {
  const { conductor, filars } = winding.spec;
  return (copperResistivity(temperatureC) * winding.wireLength) / (copperArea(conductor) * filars);
}

/**
 * Resistance of a winding with sinusoidal current, ohm.
 *
 * @param frequency Hz, 0 or above
 * @param temperatureC copper temperature, all over the winding
 * @throws InputError; ConvergenceError where the eddy currents of close wires do not settle
 * Accuracy: reference-cases/skin-proximity and conductor-arrays; see README.md. Filars are taken to share the current
 * evenly, litz to be ideally twisted, neighbours to run parallel.
 */
export function acResistance(
  winding: Winding,
  frequency: number,
  temperatureC: number,
  options: Partial<AcResistanceOptions> = AC_RESISTANCE_DEFAULTS,
): AcResistance {
  const settings = { ...AC_RESISTANCE_DEFAULTS, ...options };
  if (!(frequency >= 0 && Number.isFinite(frequency))) {
    throw new InputError({
      code: 'negative',
      path: 'frequency',
      required: '0 Hz or above',
      received: `${frequency} Hz`,
    });
  }
  const { conductor, filars } = winding.spec;
  const wire = wireResistance(conductor, frequency, temperatureC);
  // One wire's length, all filars in parallel.
  const share = winding.wireLength / filars;
  const dc = share * wire.dc;
  const skin = share * wire.skin;
  const bundle = share * wire.bundle;
  const given = settings.transverseFieldSquared;
  const proximity = given
    ? givenLoss(winding, given) * wire.perSquareField
    : (settings.fields ?? windingFields(winding, settings)).resistance(frequency, temperatureC);
  if (Number.isNaN(proximity)) {
    throw new ConvergenceError('eddy-currents', 'The eddy currents of neighbouring wires did not settle.', {
      frequency,
    });
  }
  return {
    total: dc + skin + bundle + proximity,
    dc,
    skin,
    bundle,
    proximity,
    valid: isThin(winding, skinDepth(copperResistivity(temperatureC), frequency)),
  };
}

/** Integral along all wires of a squared field given turn by turn. */
function givenLoss(winding: Winding, squares: Float64Array): number {
  if (squares.length !== winding.turns.length) {
    throw new InputError({
      code: 'wrong-count',
      path: 'transverseFieldSquared',
      required: `one value for each of the ${winding.turns.length} turns`,
      received: `${squares.length} values`,
    });
  }
  return winding.turns.reduce((sum, turn, index) => sum + turnLength(turn) * squares[index], 0);
}

function isThin({ spec: { conductor } }: Winding, depth: number): boolean {
  if (conductor.kind === 'solid') return true;
  return (conductor.kind === 'litz' ? conductor.strandDiameter : conductor.thickness) <= 2 * depth;
}
