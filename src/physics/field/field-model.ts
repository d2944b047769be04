import { poseMatrix } from '../coil/nodes.ts';
import type { Pose } from '../coil/types.ts';
import { MU0 } from '../constants.ts';
import { COUPLING_SHARE, COUPLING_SHARE_METAL, COUPLING_SHARE_SINGLE } from './coupling-error.ts';
import { createFieldView, type FieldView, plateField } from './field-view.ts';
import {
  classForm,
  incidentClasses,
  inverseMotion,
  type LinkEnd,
  type LinkSolution,
  solveLink,
} from './link-solver.ts';
import { refusePlates, refusePose, refuseTouching } from './plate-fault.ts';
import { sheetCutoff } from './sheet-cutoff.ts';
import { SideModel } from './side-model.ts';
import { bodyDistance, heightOver } from './solid-bodies.ts';
import { type TurnField, turnFields } from './turn-field.ts';
import { turnRipple } from './turn-ripple.ts';
import type { GridChange, LinkSide } from './types.ts';

export type { GridChange } from './types.ts';

export interface FieldOptions {
  /** Frequency at which metal sheets are evaluated, Hz. */
  readonly frequency: number;
  /** The two grids of the fine level: cells are those of level 1 over so much. Finer ones are for checks by refinement. */
  readonly grids: readonly [number, number];
}

export const FIELD_DEFAULTS: FieldOptions = Object.freeze({ frequency: 150e3, grids: [2, 3] as const });

/**
 * `fine`: two grids, extrapolated, with an error estimate. `coarse`: the first of them alone. `rough`: a coarser one, for
 * a first number within a fraction of a second, and for shapes that change under the hand.
 */
export type FieldLevel = 'rough' | 'coarse' | 'fine';

/** What ferrite and metal add to the values in air at one pose. H, ohm; errors are half-widths. */
export interface FieldChange extends GridChange {
  readonly errors: GridChange;
  /** The finest grid as it is, before extrapolation, and how far errors go together; `couplingWithError` needs both. */
  readonly grid: GridChange;
  readonly couplingShare: number;
  readonly loss: {
    /** Core loss, ohm/Hz: transmitter, receiver and mutual resistance per frequency. */
    readonly core1: number;
    readonly core2: number;
    readonly coreMutual: number;
    /** Metal loss at the model's frequency, ohm, from both sheets; the shares add up. */
    readonly metal1: number;
    readonly metal2: number;
    readonly metalMutual: number;
    /** Share of `metal1`, `metal2` and `metalMutual` lost in the transmitter's own sheet, ohm. */
    readonly inTransmitterSheet: readonly [number, number, number];
  };
  /** Panels listened to on all grids, and products with the far side's matrix. */
  readonly listeners: number;
  readonly evaluations: number;
}

export interface FieldModel {
  /**
   * Changes against air at a pose.
   * @throws InputError `parts-touch` where a part of one side touches one of the other, `not-finite`
   */
  solve(pose: Pose, level?: FieldLevel): FieldChange;
  /** Each coil with its own ferrite and metal, the far side absent. H, with the error of each. */
  alone(level?: 'rough' | 'fine'): {
    readonly dL1: number;
    readonly dL2: number;
    readonly errors: { readonly dL1: number; readonly dL2: number };
  };
  /**
   * Field at a pose.
   *
   * @param i1 amplitude (or peak phasor's part in phase) of the transmitter's current, A; i2 the receiver's
   */
  fieldView(pose: Pose, i1: number, i2: number): FieldView;
  /** B at points [n, 3] in the transmitter's frame, T, [n, 3]. See `fieldView` for many calls at one pose. */
  fieldAt(pose: Pose, i1: number, i2: number, points: Float64Array): Float64Array;
  /**
   * H of a coil's own plates per ampere in it, A/m, in the coil's frame: what proximity loss adds to the other turns'.
   * From one grid, which a loss needs no finer.
   * Null where the coil has no plates.
   */
  plateField(
    side: 'transmitter' | 'receiver',
    level?: 'rough' | 'coarse',
  ): ((x: number, y: number, z: number, out: Float64Array) => void) | null;
  /** Field of the own plates across each turn, per ampere. Empty without plates. */
  transverseField(side: 'transmitter' | 'receiver'): readonly TurnField[];
}

const ROUGH = 1;
const COARSE = 2;
/** Grid of fields in views and at turns. */
const FINE = 3;
/** How much more thinning the coarse level (and the rough one) bears: 5e-4 of a change. */
const COARSE_LOOSENESS = 8;
/** Share of a change that the coarse grid alone may be off: without metal, and with. Measured 0.009 and 0.025. */
const COARSE_SHARE = 0.012;
const COARSE_SHARE_METAL = 0.035;
/** The same of the rough grid: measured 0.041 at round plates, more at random ones (random-plates.reference.test). */
const ROUGH_SHARE = 0.13;
const ROUGH_SHARE_METAL = 0.2;
/** Claimed error: the extrapolation's step times this, and a share of the change for thinning, kernels, iteration. */
const STEP_SHARE = 1.5;
/** The step is trusted less where cells are wide against a narrow winding's charge, up to this factor. */
const TRUSTED_COARSENESS = 0.6;
const MOST_DOUBT = 3;
/** And by chance the step may vanish there: share of the change for each further multiple of that width. */
const DOUBT_FLOOR = 0.005;
const FLOOR = 6e-4;
/** The share where there is metal: its edges and thickness are stood in for. */
const FLOOR_METAL = 0.01;
/**
 * A mutual change may cancel by itself, the more so where metal takes away what ferrite adds: its error counts at least this
 * share of what the two sides' changes are made of.
 */
const MUTUAL_SHARE = 0.2;
const MUTUAL_SHARE_METAL = 0.35;
const FAR_AWAY: Pose = Object.freeze({ x: 0, y: 0, z: 1, yaw: 0, tiltX: 0, tiltY: 0 });

interface GridSolution {
  readonly change: GridChange;
  readonly solution: LinkSolution;
  readonly end1: LinkEnd;
  readonly end2: LinkEnd;
}

/** Side models by the very object that describes the side: models that share a side share its plates' answers. */
const sideModels = new WeakMap<LinkSide, Map<string, SideModel>>();

function sideModel(side: LinkSide, back: 1 | -1, frequency: number): SideModel {
  const ofSide = sideModels.get(side) ?? new Map<string, SideModel>();
  sideModels.set(side, ofSide);
  const key = `${back} ${frequency}`;
  const model = ofSide.get(key) ?? new SideModel(side, back, frequency);
  ofSide.set(key, model);
  return model;
}

/**
 * Field model of two coils with their plates. Plate answers are worked out on first use and kept; poses cost little.
 * Results do not depend on the order of calls. Not safe for use by two callers at once (it keeps scratch).
 *
 * @throws InputError for plates out of range
 * Accuracy: see README.md; reference-cases/ferrite and metal.
 */
export function createFieldModel(
  transmitter: LinkSide,
  receiver: LinkSide,
  options: Partial<FieldOptions> = FIELD_DEFAULTS,
): FieldModel {
  const { frequency, grids } = { ...FIELD_DEFAULTS, ...options };
  const [first, second] = grids;
  // Error of a grid falls as the square of its cell.
  const extrapolation = 1 / ((second / first) ** 2 - 1);
  refusePlates(transmitter, 'transmitter');
  refusePlates(receiver, 'receiver');
  const one = sideModel(transmitter, -1, frequency);
  const two = sideModel(receiver, 1, frequency);
  const hasMetal = transmitter.metal !== null || receiver.metal !== null;
  const doubt = Math.max(one.coarseness(second), two.coarseness(second)) / TRUSTED_COARSENESS;
  const stepShare = STEP_SHARE * Math.min(MOST_DOUBT, Math.max(1, doubt));
  const couplingShare = hasMetal ? COUPLING_SHARE_METAL : COUPLING_SHARE;
  const floorShare = (hasMetal ? FLOOR_METAL : FLOOR) + DOUBT_FLOOR * Math.max(0, doubt - 1);
  const mutualShare = hasMetal ? MUTUAL_SHARE_METAL : MUTUAL_SHARE;
  const ripples = { dL1: turnRipple(transmitter), dL2: turnRipple(receiver), dM: 0 };
  /** What is left out and known to be: between the turns, and of sheets that are cut off. */
  const leftOut = (pose: Pose): GridChange => {
    const cutoff = sheetCutoff(one, two, pose);
    return mapChange((key) => ripples[key] + cutoff[key]);
  };

  /**
   * What each change is made of: changes of both signs may cancel, and a mutual one may pass through zero.
   */
  const madeOf = (grid: GridSolution, value: GridChange): GridChange => {
    const made = (own: number, total: number) => Math.abs(MU0 * own) + Math.abs(total - MU0 * own);
    const dL1 = made(grid.end1.network.self, grid.change.dL1);
    const dL2 = made(grid.end2.network.self, grid.change.dL2);
    return { dL1, dL2, dM: Math.max(Math.abs(value.dM), mutualShare * Math.sqrt(dL1 * dL2)) };
  };

  const solveGrid = (matrix: Float64Array, level: number, looseness = 1): GridSolution => {
    const inverse = inverseMotion(matrix);
    const end = (own: SideModel, far: SideModel, into: Float64Array) => {
      const clear = heightOver(own.front, own.back, far.bodies, into);
      return { network: own.network(level, clear, looseness), ladder: own.parts(level).ladder };
    };
    const wire = (own: SideModel, far: SideModel, into: Float64Array) => {
      const coil = far.bodies[0]!;
      const plates = own.bodies.slice(1).map((body) => bodyDistance(body, coil, into));
      const nearest = plates.length > 0 ? Math.min(...plates) : 1;
      return nearest + coil.radius;
    };
    const end1 = end(one, two, matrix);
    const end2 = end(two, one, inverse);
    const solution = solveLink(end1, end2, matrix, [wire(one, two, matrix), wire(two, one, inverse)], 1e-5 * looseness);
    const change = { dL1: MU0 * solution.change1, dL2: MU0 * solution.change2, dM: MU0 * solution.changeMutual };
    return { change, solution, end1, end2 };
  };

  const lossOf = (grid: GridSolution): FieldChange['loss'] => {
    const { end1, end2, solution } = grid;
    const on1 = [0, 1].map((s) => incidentClasses(end1.network, solution.incident[s as 0 | 1][0], s === 0 ? 1 : 0));
    const on2 = [0, 1].map((s) => incidentClasses(end2.network, solution.incident[s as 0 | 1][1], s === 1 ? 1 : 0));
    const core = (a: number, b: number) =>
      2 *
      Math.PI *
      MU0 *
      (lossWeight(transmitter) * classForm(end1.network.permeability, on1[a]!, on1[b]!) +
        lossWeight(receiver) * classForm(end2.network.permeability, on2[a]!, on2[b]!));
    const omega = 2 * Math.PI * frequency * MU0;
    const in1 = (a: number, b: number) => omega * classForm(end1.network.dissipation, on1[a]!, on1[b]!);
    const in2 = (a: number, b: number) => omega * classForm(end2.network.dissipation, on2[a]!, on2[b]!);
    const inTransmitterSheet = [in1(0, 0), in1(1, 1), in1(0, 1)] as const;
    return {
      core1: core(0, 0),
      core2: core(1, 1),
      coreMutual: core(0, 1),
      metal1: inTransmitterSheet[0] + in2(0, 0),
      metal2: inTransmitterSheet[1] + in2(1, 1),
      metalMutual: inTransmitterSheet[2] + in2(0, 1),
      inTransmitterSheet,
    };
  };

  const matrixOf = (pose: Pose): Float64Array => {
    refusePose(pose);
    const matrix = poseMatrix(pose);
    refuseTouching(one.bodies, two.bodies, matrix);
    return matrix;
  };

  const selfOf = (side: SideModel, rough: boolean) => {
    if (side.bare) return { value: 0, error: 0 };
    if (rough) {
      const value = MU0 * side.self(ROUGH);
      return { value, error: (hasMetal ? ROUGH_SHARE_METAL : ROUGH_SHARE) * Math.abs(value) };
    }
    const [coarse, fine] = grids.map((level) => MU0 * side.self(level)) as [number, number];
    const step = extrapolation * (fine - coarse);
    return { value: fine + step, error: stepShare * Math.abs(step) + floorShare * Math.abs(fine) };
  };

  return {
    solve(pose, level = 'fine') {
      const matrix = matrixOf(pose);
      const out = leftOut(pose);
      if (level !== 'fine') {
        const rough = level === 'rough';
        const only = solveGrid(matrix, rough ? ROUGH : COARSE, COARSE_LOOSENESS);
        const [bare, metal] = rough ? [ROUGH_SHARE, ROUGH_SHARE_METAL] : [COARSE_SHARE, COARSE_SHARE_METAL];
        const share = hasMetal ? metal : bare;
        const of = madeOf(only, only.change);
        const errors = mapChange((key) => share * of[key] + out[key]);
        return assemble(only, only.change, errors, lossOf(only), COUPLING_SHARE_SINGLE, 0);
      }
      const coarse = solveGrid(matrix, first);
      const fine = solveGrid(matrix, second);
      const step = mapChange((key) => extrapolation * (fine.change[key] - coarse.change[key]));
      const value = mapChange((key) => fine.change[key] + step[key]);
      const of = madeOf(fine, value);
      const errors = mapChange((key) => stepShare * Math.abs(step[key]) + floorShare * of[key] + out[key]);
      return assemble(fine, value, errors, lossOf(fine), couplingShare, coarse.solution.evaluations);
    },
    alone(level = 'fine') {
      const a = selfOf(one, level === 'rough');
      const b = selfOf(two, level === 'rough');
      const out = leftOut(FAR_AWAY);
      return { dL1: a.value, dL2: b.value, errors: { dL1: a.error + out.dL1, dL2: b.error + out.dL2 } };
    },
    fieldView(pose, i1, i2) {
      const matrix = matrixOf(pose);
      const { end1, end2, solution } = solveGrid(matrix, FINE);
      return createFieldView(one, two, FINE, { end1, end2, solution, matrix }, i1, i2);
    },
    fieldAt(pose, i1, i2, points) {
      const view = this.fieldView(pose, i1, i2);
      const out = new Float64Array(points.length);
      const b = new Float64Array(3);
      for (let p = 0; p < points.length; p += 3) {
        view.at(points[p]!, points[p + 1]!, points[p + 2]!, b);
        out.set(b, p);
      }
      return out;
    },
    plateField(side, level = 'coarse') {
      const model = side === 'transmitter' ? one : two;
      return model.bare ? null : plateField(model, level === 'rough' ? ROUGH : COARSE);
    },
    transverseField(side) {
      const model = side === 'transmitter' ? one : two;
      return model.bare ? [] : turnFields(model.side.winding, plateField(model, FINE));
    },
  };
}

function mapChange(value: (key: keyof GridChange) => number): GridChange {
  return { dL1: value('dL1'), dL2: value('dL2'), dM: value('dM') };
}

function assemble(
  grid: GridSolution,
  value: GridChange,
  errors: GridChange,
  loss: FieldChange['loss'],
  couplingShare: number,
  before: number,
): FieldChange {
  return {
    ...value,
    errors,
    grid: grid.change,
    couplingShare,
    loss,
    listeners: 4 * (grid.end1.network.quarter + grid.end2.network.quarter),
    evaluations: before + grid.solution.evaluations,
  };
}

/** Imaginary part of the permeability, mu'' = mu' tan delta. */
function lossWeight(side: LinkSide): number {
  return side.ferrite ? side.ferrite.relativePermeability * side.ferrite.lossTangent : 0;
}
