import type { Pose } from '../../physics/coil/types.ts';
import type { ExternalField } from '../../physics/conductor/stations.ts';
import { createFieldModel } from '../../physics/field/field-model.ts';
import type { FieldView } from '../../physics/field/field-view.ts';
import type { GridChange, LinkSide } from '../../physics/field/types.ts';

export type PlateLevel = 'rough' | 'coarse' | 'fine';

/** What ferrite and metal add to the values in air at one pose. H, ohm; errors are half-widths. */
export interface PlateChange {
  readonly dL1: number;
  readonly dL2: number;
  readonly dM: number;
  readonly errorL1: number;
  readonly errorL2: number;
  readonly errorM: number;
  /** The finest grid as it is, before extrapolation; absent where the change comes from a model. */
  readonly grid?: GridChange;
  /** Share of the errors of L and M that is left in k; absent where the change comes from a model (the widest is taken). */
  readonly couplingShare?: number;
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
  core1: 0,
  core2: 0,
  metal1: 0,
  metal2: 0,
});

/** Numbers a change is packed into. */
export const PLATE_OUTPUTS = 10;

const KEYS = Object.keys(NO_PLATE_CHANGE) as Exclude<keyof PlateChange, 'grid' | 'couplingShare'>[];

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
    core1: values[6]!,
    core2: values[7]!,
    metal1: values[8]!,
    metal2: values[9]!,
  };
}

/** The plates of a pair. */
export interface Plates {
  at(pose: Pose, level: PlateLevel): PlateChange;
  /** Each coil with its own ferrite and metal, the other side absent; from the rough grid alone, or two finer ones. H */
  alone(level: 'rough' | 'coarse'): { readonly dL1: number; readonly dL2: number };
  /** Field of a coil's plates at its own turns per ampere, for proximity loss; null without plates on that side. */
  proximityField(side: 'transmitter' | 'receiver', level: 'rough' | 'coarse'): ExternalField | null;
  /** The field at a pose; by default of one ampere in the transmitter, the receiver open. */
  view(pose: Pose, transmitterA?: number, receiverA?: number): FieldView;
}

/** Null where neither side has a plate. @param middleFrequency at which metal sheets are evaluated, Hz */
export function createPlates(transmitter: LinkSide, receiver: LinkSide, middleFrequency: number): Plates | null {
  if (!transmitter.ferrite && !transmitter.metal && !receiver.ferrite && !receiver.metal) return null;
  const model = createFieldModel(transmitter, receiver, { frequency: middleFrequency });
  return {
    at(pose, level) {
      const { dL1, dL2, dM, errors, loss, grid, couplingShare } = model.solve(pose, level);
      return {
        dL1,
        dL2,
        dM,
        errorL1: errors.dL1,
        errorL2: errors.dL2,
        errorM: errors.dM,
        grid,
        couplingShare,
        core1: loss.core1,
        core2: loss.core2,
        metal1: loss.metal1,
        metal2: loss.metal2,
      };
    },
    alone: (level) => model.alone(level === 'rough' ? 'rough' : 'fine'),
    proximityField: (side, level) => model.plateField(side, level),
    view: (pose, transmitterA = 1, receiverA = 0) => model.fieldView(pose, transmitterA, receiverA),
  };
}
