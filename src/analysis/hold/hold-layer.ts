/** Maps over offset at several gaps and turns: what the hold analysis looks its margins up in. */
import { demandOf } from '../../design/demand.ts';
import type { Design } from '../../design/types.ts';
import type { LinkModel } from '../link/link-model.ts';
import { marginPercent } from '../margin/margin-percent.ts';
import { type MapCheck, spreadChecks } from '../place/map-check.ts';
import { mapCircuit } from '../place/map-circuit.ts';
import { offsetGrid } from '../place/offset-grid.ts';
import { type AttitudeChange, attitudePart } from './attitude-change.ts';
import { allowedCorners, attitudeRange, MOST_TURN } from './attitude-range.ts';
import { placingOf, widestTurn } from './placing-of.ts';

/** What a layer is for. */
export type LayerUse = 'turns' | 'worst' | 'volume';

/** A layer to be computed. Plain data. */
export interface LayerPlan {
  readonly use: LayerUse;
  readonly gapMm: number;
  /** Turn and tilts from the design's resting attitude, rad. */
  readonly yaw: number;
  readonly tiltX: number;
  readonly tiltY: number;
  /** Grid points along each axis. */
  readonly points: number;
}

/** Margin, peak current and ping voltage over the offset (mm about the transmitter's axis), row-major [y][x]. Plain data. */
export interface HoldLayer extends LayerPlan {
  readonly xMm: Float64Array;
  readonly yMm: Float64Array;
  readonly marginPercent: Float64Array;
  /** Largest output current without thermal limits, A. */
  readonly peakOutputA: Float64Array;
  /** Rectified voltage at the ping over the wake voltage, V; >= 0 wakes. */
  readonly wakeSlackV: Float64Array;
  /** Band of the margin from model and tolerances, percent; null where the checks have none. */
  readonly lowPercent: Float64Array | null;
  readonly highPercent: Float64Array | null;
}

const TURN_POINTS = 65;
const WORST_POINTS = 49;
const VOLUME_POINTS = 33;
/** Least turn of the outermost map, rad, and the ratio of one such turn to the next. */
const LEAST_TURN = 0.05;
const TURN_RATIO = 1.25;

/** The next step up of a ladder of turns, so that a slightly looser recess asks for the same maps. */
function rung(turn: number): number {
  const steps = Math.ceil(Math.log(Math.max(1, turn / LEAST_TURN)) / Math.log(TURN_RATIO) - 1e-9);
  return Math.min(MOST_TURN, LEAST_TURN * TURN_RATIO ** steps);
}

/** The largest turn of the maps, rad: what the scatter or the recess asks for, on a ladder. */
export function largestTurn(design: Design): number {
  return rung(Math.max(widestTurn(placingOf(design)), attitudeRange(design).yaw));
}

/**
 * The layers of a design: five turns at the design's gap for the lottery and the recess; the corners of what stack and recess
 * allow (gap, turn, tilt) for the worst safe region; and seven gaps for the volume.
 */
export function layerPlans(design: Design): LayerPlan[] {
  const { gapMm } = design.placement;
  const turn = largestTurn(design);
  const level = { tiltX: 0, tiltY: 0 };
  const plans: LayerPlan[] = [-1, -0.5, 0, 0.5, 1].map((share) => ({
    use: 'turns',
    gapMm,
    yaw: share * turn,
    ...level,
    points: TURN_POINTS,
  }));
  for (const corner of allowedCorners(attitudeRange(design)))
    plans.push({ use: 'worst', ...corner, points: WORST_POINTS });
  for (let k = 0; k < 7; k += 1)
    plans.push({ use: 'volume', gapMm: gapMm * 0.4 * 6.25 ** (k / 6), yaw: 0, ...level, points: VOLUME_POINTS });
  return plans;
}

/**
 * One layer: some tens of milliseconds.
 * @param model link model at the design's own attitude. The coils' own part is exact for every turn.
 * @param checks of the map (exact minus first-harmonic current, spread over the grid); empty: none.
 * @param attitudes what turns and tilts do to the plates' part, and tilts to the coils'; null: the plates' part of a turned
 * receiver is that of the unturned one (it changes by the square of the turn), and tilts do nothing. For a first look.
 */
export function holdLayer(
  design: Design,
  model: LinkModel,
  plan: LayerPlan,
  checks: readonly MapCheck[] = [],
  attitudes: AttitudeChange | null = null,
): HoldLayer {
  const at: Design = { ...design, placement: { ...design.placement, gapMm: insideModel(model, plan.gapMm) } };
  const turned: LinkModel = { ...model, attitude: { ...model.attitude, yaw: model.attitude.yaw + plan.yaw } };
  const grid = offsetGrid(at, turned, plan.points, null, attitudes ? attitudePart(attitudes, plan) : null);
  const count = grid.xMm.length * grid.yMm.length;
  const circuit = mapCircuit(at, grid, 0, count);
  const spread = checks.length > 0 ? spreadChecks(model, grid.xMm, grid.yMm, checks, grid.m) : null;
  const { wakeV, regulator } = design.receiver.pickup;
  const { demandA } = demandOf(design);
  const corrected = (current: number, k: number) =>
    spread
      ? Math.min(Math.max(0, current + spread.difference[k]!), Math.max(current, regulator.currentLimitA))
      : current;
  const most = circuit.maxOutputA.map(corrected);
  // Without the answers of the plates' tolerances a check knows no band.
  const band = spread && checks.some(({ less, more }) => less > 0 || more > 0) ? spread : null;
  return {
    ...plan,
    xMm: grid.xMm,
    yMm: grid.yMm,
    marginPercent: most.map((current) => marginPercent(current, demandA)),
    lowPercent: band ? most.map((current, k) => marginPercent(current * (1 - band.less[k]!), demandA)) : null,
    highPercent: band ? most.map((current, k) => marginPercent(current * (1 + band.more[k]!), demandA)) : null,
    peakOutputA: circuit.peakOutputA.map(corrected),
    wakeSlackV: circuit.wakeV.map((volts, k) => volts * (spread ? spread.wakeRatio[k]! : 1) - wakeV),
  };
}

function insideModel(model: LinkModel, gapMm: number): number {
  const { gapMin, gapMax } = model.domain;
  return Math.min(gapMax * 1e3, Math.max(gapMin * 1e3, gapMm));
}
