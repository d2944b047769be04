import { InputError } from '../../numerics/errors.ts';
import { turnLength } from '../coil/turn-polyline.ts';
import type { Winding } from '../coil/types.ts';
import { copperArea, copperResistivity, type SectionField, wireResistance } from './conductor-loss.ts';
import { TURN_FIELD_DEFAULTS, type TurnFieldOptions, turnFields } from './turn-fields.ts';

export interface AcResistanceOptions extends TurnFieldOptions {
  /**
   * Squared transverse field on each turn per square ampere, 1/m2, where it is known already (round conductors only);
   * replaces all fields of other turns and of what lies around. Null: computed from the winding.
   */
  readonly transverseFieldSquared: Float64Array | null;
  /** Result of `turnFields` for this winding, to be used at several frequencies. Null: computed. */
  readonly fields: readonly SectionField[] | null;
}

export const AC_RESISTANCE_DEFAULTS: AcResistanceOptions = Object.freeze({
  ...TURN_FIELD_DEFAULTS,
  transverseFieldSquared: null,
  fields: null,
});

/** Resistance of a winding at one frequency, ohm, by cause. The parts add up to `total`. */
export interface AcResistance {
  readonly total: number;
  readonly dc: number;
  /** Skin effect of each wire or strand alone. */
  readonly skin: number;
  /** Litz: strands in their bundle's own field. Traces: crowding at a trace's edges by its own field. */
  readonly bundle: number;
  /** Eddy loss in the field of the other turns, and of ferrite and metal where their field was given. */
  readonly proximity: number;
  /** False where a trace is so wide and thick that the low-frequency strip formula overstates its loss by over 3 %. */
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
 * Accuracy: reference-cases/skin-proximity; against a subdivided-conductor solution in README.md. Filars are taken to
 * share the current evenly, litz to be ideally twisted.
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
  const { conductor } = winding.spec;
  const fields = settings.fields ?? givenFields(settings.transverseFieldSquared) ?? turnFields(winding, settings);
  if (fields.length !== winding.turns.length) {
    throw new InputError({
      code: 'wrong-count',
      path: 'transverseFieldSquared',
      required: `one value for each of the ${winding.turns.length} turns`,
      received: `${fields.length} values`,
    });
  }
  let dc = 0;
  let skin = 0;
  let bundle = 0;
  let proximity = 0;
  winding.turns.forEach((turn, index) => {
    const wire = wireResistance(conductor, frequency, temperatureC, fields[index], turn.weight);
    // Loss per square ampere of coil current.
    const share = turnLength(turn) * turn.weight ** 2;
    dc += share * wire.dc;
    skin += share * wire.skin;
    bundle += share * wire.bundle;
    proximity += share * wire.field;
  });
  return {
    total: dc + skin + bundle + proximity,
    dc,
    skin,
    bundle,
    proximity,
    valid: stripIsValid(winding, frequency, temperatureC),
  };
}

function givenFields(squares: Float64Array | null): SectionField[] | null {
  return squares === null
    ? null
    : Array.from(squares, (square) => ({ centreSquare: square, meanSquare: square, potentialVariance: 0 }));
}

function stripIsValid(winding: Winding, frequency: number, temperatureC: number): boolean {
  const { conductor } = winding.spec;
  if (conductor.kind !== 'trace') return true;
  const depth2 = copperResistivity(temperatureC) / (Math.PI * frequency * 4e-7 * Math.PI);
  return conductor.width * conductor.thickness <= depth2;
}
