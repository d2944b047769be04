import type { Boards, MaxOutput, OperatingPoint, SolverMethod } from '../../physics/circuit/types.ts';

const METHODS: Readonly<Record<SolverMethod, string>> = Object.freeze({
  firstHarmonic: 'the first harmonic',
  multiHarmonic: 'several harmonics with commutation',
  periodic: 'the exact periodic waveform',
});

/** By which method a point was solved and how far the check beside it is off: `the exact periodic waveform, ...`. */
export function methodWords(method: SolverMethod, methodError: number): string {
  const name = METHODS[method];
  if (method === 'firstHarmonic') return `${name} only, which can be 25 % off at light load`;
  if (!Number.isFinite(methodError)) return `${name}; several harmonics do not apply here as a check`;
  const error = 100 * methodError;
  return `${name}; several harmonics agree within ${error < 0.1 ? '0.1' : error.toPrecision(2)} %`;
}

/**
 * What must be said beside the numbers of a pose: several operating points, a branch beyond the collapse, a case too warm
 * to touch, and that protocol stops are left out where they are.
 */
export function poseNotes(point: OperatingPoint, most: MaxOutput, boards: Boards): string[] {
  const out: string[] = [];
  const khz = (f: number): string => `${Math.round(f / 1e3)} kHz`;
  if (point.severalPoints)
    out.push(
      `More than one operating point fits this load: strongly coupled coils split their resonance near the bottom of the window. The one shown, at ${khz(point.frequency)}, is the first that a controller meets coming down from ${khz(boards.drive.frequencyMax)}; one that starts elsewhere, or a sudden load, can end at another, hotter or collapsed. Widen the gap a little, raise the lowest frequency, or try the load step on the bench.`,
    );
  if (most.furtherBranch)
    out.push(
      `Beyond ${most.current.toFixed(2)} A there are larger loads that would be carried again, but a load that grows from idle does not reach them without a gap.`,
    );
  const { touchMax } = boards.thermal;
  if (point.caseC > touchMax)
    out.push(
      `The outside of the case settles at ${Math.round(point.caseC)} °C, above the ${touchMax} °C taken as the most to touch. Lower the load or the supply voltage, or spread the heat.`,
    );
  out.push(
    boards.pickup.stop === null
      ? 'Boards also stop by protocol (lost messages, foreign-object test, power class). No threshold is given, so this is not modelled.'
      : 'Protocol stops are modelled by the thresholds given, and by nothing else: lost messages and power classes are left out.',
  );
  return out;
}
