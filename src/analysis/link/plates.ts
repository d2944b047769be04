import type { Pose } from '../../physics/coil/types.ts';
import type { ExternalField } from '../../physics/conductor/stations.ts';
import type { LinkSide } from '../../physics/field/types.ts';

export type PlateLevel = 'coarse' | 'fine';

/** What ferrite and metal add to the values in air at one pose. H, ohm; errors are half-widths. */
export interface PlateChange {
  readonly dL1: number;
  readonly dL2: number;
  readonly dM: number;
  readonly errorL1: number;
  readonly errorL2: number;
  readonly errorM: number;
  readonly errorCoupling: number;
  /** Core loss, ohm/Hz. */
  readonly core1: number;
  readonly core2: number;
  /** Loss in metal sheets at the context's middle frequency, ohm. */
  readonly metal1: number;
  readonly metal2: number;
}

export const NO_PLATE_CHANGE: PlateChange = Object.freeze({
  dL1: 0,
  dL2: 0,
  dM: 0,
  errorL1: 0,
  errorL2: 0,
  errorM: 0,
  errorCoupling: 0,
  core1: 0,
  core2: 0,
  metal1: 0,
  metal2: 0,
});

/** Numbers a change is packed into. */
export const PLATE_OUTPUTS = 11;

const KEYS = Object.keys(NO_PLATE_CHANGE) as (keyof PlateChange)[];

export function packChange(change: PlateChange, out: Float64Array): Float64Array {
  for (let i = 0; i < PLATE_OUTPUTS; i++) out[i] = change[KEYS[i]!];
  return out;
}

/** @param bound added to the errors of L1, L2 and M, H */
export function unpackChange(values: Float64Array, bound: readonly [number, number, number]): PlateChange {
  return {
    dL1: values[0]!,
    dL2: values[1]!,
    dM: values[2]!,
    errorL1: Math.abs(values[3]!) + bound[0],
    errorL2: Math.abs(values[4]!) + bound[1],
    errorM: Math.abs(values[5]!) + bound[2],
    errorCoupling: Math.abs(values[6]!),
    core1: values[7]!,
    core2: values[8]!,
    metal1: values[9]!,
    metal2: values[10]!,
  };
}

/** The plates of a pair. */
export interface Plates {
  at(pose: Pose, level: PlateLevel): PlateChange;
  /** Each coil with its own ferrite and metal, the other side absent. */
  alone(): {
    readonly dL1: number;
    readonly dL2: number;
    /** Field of the plates at the coil's own turns per ampere, for proximity loss; null without ferrite. */
    readonly field1: ExternalField | null;
    readonly field2: ExternalField | null;
  };
}

/** Null where neither side has a plate. */
export function createPlates(transmitter: LinkSide, receiver: LinkSide, _middleFrequency: number): Plates | null {
  if (!transmitter.ferrite && !transmitter.metal && !receiver.ferrite && !receiver.metal) return null;
  throw new Error('not wired yet');
}
