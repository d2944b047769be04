import { ConvergenceError, InputError } from '../../numerics/errors.ts';
import { solveSmallSystem } from '../../numerics/solve-small-system.ts';
import type { ResistanceLaw } from '../circuit/types.ts';
import type { Winding } from '../coil/types.ts';
import { AC_RESISTANCE_DEFAULTS, type AcResistanceOptions, acResistance } from './ac-resistance.ts';
import { windingFields } from './winding-fields.ts';

export interface FittedResistanceLaw {
  readonly law: ResistanceLaw;
  /** Largest relative difference between law and computed resistance between the two frequencies. */
  readonly fitError: number;
  /** False where the model left its range within the window; see AcResistance. */
  readonly valid: boolean;
}

/** Fit error above which the law's constant term is set free from the DC resistance. */
const DC_IS_KEPT_TO = 2e-3;

/**
 * A winding's copper resistance as a law in even powers of frequency between two frequencies.
 *
 * The constant term is the DC resistance as long as that fits to 0.2 %; thick solid wire needs it free, and then its
 * parts no longer scale apart with temperature.
 *
 * @param frequencyMin Hz, above 0
 * @param frequencyMax Hz, at least frequencyMin
 * @param temperatureC copper temperature at which the law holds
 * Method: relative least squares at seven Chebyshev points, checked at nine even ones.
 */
export function resistanceLaw(
  winding: Winding,
  frequencyMin: number,
  frequencyMax: number,
  temperatureC: number,
  options: Partial<AcResistanceOptions> = AC_RESISTANCE_DEFAULTS,
): FittedResistanceLaw {
  if (!(frequencyMin > 0 && frequencyMax >= frequencyMin && Number.isFinite(frequencyMax))) {
    throw new InputError({
      code: 'bad-window',
      path: 'frequency',
      required: 'a window from above 0 Hz upwards',
      received: `${frequencyMin} to ${frequencyMax} Hz`,
    });
  }
  const settings = { ...AC_RESISTANCE_DEFAULTS, ...options };
  const given = settings.transverseFieldSquared !== null;
  const fields = settings.fields ?? (given ? null : windingFields(winding, settings));
  const at = (frequency: number) => acResistance(winding, frequency, temperatureC, { ...settings, fields });
  const spread = (count: number, place: (i: number) => number) =>
    Array.from(
      { length: count },
      (_, i) => (frequencyMin + frequencyMax + (frequencyMax - frequencyMin) * place(i)) / 2,
    );
  const points = spread(7, (i) => Math.cos(((i + 0.5) * Math.PI) / 7)).map((f) => [f, at(f).total] as const);
  const checks = spread(9, (i) => i / 4 - 1).map((f) => [f, at(f).total] as const);
  const { dc } = at(0);

  const kept = fitLaw(points, frequencyMax, dc);
  const keptError = largestError(kept, checks);
  const free = keptError > DC_IS_KEPT_TO ? fitLaw(points, frequencyMax, null) : kept;
  const freeError = largestError(free, checks);
  const [law, fitError] = freeError < keptError ? [free, freeError] : [kept, keptError];
  return { law, fitError, valid: at(frequencyMax).valid };
}

/** Weighted least squares for quadratic and quartic terms, and for the constant one where it is not given. */
function fitLaw(points: readonly (readonly [number, number])[], unit: number, dc: number | null): ResistanceLaw {
  const powers = dc === null ? [0, 2, 4] : [2, 4];
  const n = powers.length;
  const matrix = new Float64Array(n * n);
  const right = new Float64Array(n);
  for (const [f, value] of points) {
    const x = f / unit;
    const basis = powers.map((power) => x ** power / value);
    const target = (value - (dc ?? 0)) / value;
    for (let i = 0; i < n; i++) {
      right[i] += basis[i] * target;
      for (let j = 0; j < n; j++) matrix[i * n + j] += basis[i] * basis[j];
    }
  }
  // One frequency only: no shape to fit, everything beyond DC goes to the quadratic term.
  if (points[0][0] === points[points.length - 1][0]) {
    const base = dc ?? 0;
    return { dc: base, linear: 0, quadratic: (points[0][1] - base) / points[0][0] ** 2, quartic: 0 };
  }
  if (!solveSmallSystem(matrix, right, n)) {
    throw new ConvergenceError('resistance-law', 'The resistance law could not be fitted.', { frequencyMax: unit });
  }
  const [constant, quadratic, quartic] = dc === null ? right : [dc, ...right];
  return { dc: constant, linear: 0, quadratic: quadratic / unit ** 2, quartic: quartic / unit ** 4 };
}

function largestError(law: ResistanceLaw, checks: readonly (readonly [number, number])[]): number {
  let largest = 0;
  for (const [f, value] of checks) {
    const square = f * f;
    const fitted = law.dc + law.quadratic * square + law.quartic * square * square;
    largest = Math.max(largest, Math.abs(fitted / value - 1));
  }
  return largest;
}
