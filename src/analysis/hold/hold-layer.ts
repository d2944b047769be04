/** Maps over offset at several gaps and turns: what the hold analysis looks its margins up in. */
import { demandOf } from '../../design/demand.ts';
import type { Design } from '../../design/types.ts';
import type { LinkModel } from '../link/link-model.ts';
import { marginPercent } from '../margin/pose-answer.ts';
import { type MapCheck, spreadChecks } from '../place/map-check.ts';
import { mapCircuit } from '../place/map-circuit.ts';
import { offsetGrid } from '../place/offset-grid.ts';
import { shapeOf } from './device-shape.ts';
import { placingOf, widestTurn } from './placing-of.ts';
import { loosestPlay, tolerancesOf } from './recess.ts';
import { recessOf } from './recess-report.ts';
import { stackThickness } from './tolerance-stack.ts';

/** What a layer is for. */
export type LayerUse = 'turns' | 'worst' | 'volume';

/** A layer to be computed. Plain data. */
export interface LayerPlan {
  readonly use: LayerUse;
  readonly gapMm: number;
  /** Turn from the design's resting place, rad. */
  readonly yaw: number;
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
}

const TURN_POINTS = 65;
const WORST_POINTS = 49;
const VOLUME_POINTS = 33;
/** Largest turn for which a map is made, rad. */
const MOST_TURN = Math.PI / 6;
/** Least turn of the outermost map, rad, and the ratio of one such turn to the next. */
const LEAST_TURN = 0.05;
const TURN_RATIO = 1.25;

/** The next step up of a ladder of turns, so that a slightly looser recess asks for the same maps. */
function rung(turn: number): number {
  const steps = Math.ceil(Math.log(Math.max(1, turn / LEAST_TURN)) / Math.log(TURN_RATIO) - 1e-9);
  return Math.min(MOST_TURN, LEAST_TURN * TURN_RATIO ** steps);
}

/**
 * The layers of a design: five turns at the design's gap for the lottery and the recess, the ends of the worst-case stack with
 * the recess's own turns for the worst safe region, and seven gaps for the volume.
 */
export function layerPlans(design: Design): LayerPlan[] {
  const { gapMm } = design.placement;
  const scatter = widestTurn(placingOf(design));
  const { recess } = recessOf(design);
  const { play } = loosestPlay(
    shapeOf(recess.outline),
    Math.max(1, recess.clearanceMm),
    tolerancesOf(recess),
    'worst',
    null,
  );
  const ofRecess = Number.isNaN(play.largestYaw) ? 0 : Math.min(MOST_TURN, play.largestYaw);
  const turn = rung(Math.max(scatter, ofRecess));
  const plans: LayerPlan[] = [-1, -0.5, 0, 0.5, 1].map((share) => ({
    use: 'turns',
    gapMm,
    yaw: share * turn,
    points: TURN_POINTS,
  }));
  const stack = stackThickness(design.stack);
  const ends = design.stack.length > 0 ? [stack.worst.thinnestMm, stack.worst.thickestMm] : [gapMm];
  for (const end of new Set(ends.map((v) => Math.max(0.2, v))))
    for (const yaw of new Set([-ofRecess, 0, ofRecess]))
      plans.push({ use: 'worst', gapMm: end, yaw, points: WORST_POINTS });
  for (let k = 0; k < 7; k += 1)
    plans.push({ use: 'volume', gapMm: gapMm * 0.4 * 6.25 ** (k / 6), yaw: 0, points: VOLUME_POINTS });
  return plans;
}

/**
 * One layer: some tens of milliseconds.
 * @param model link model at the design's own attitude. The plates' part of the link is taken as that of the unturned
 * receiver (it changes by the square of the turn); the coils' own part is exact for every turn.
 * @param checks of the map (exact minus first-harmonic current, spread over the grid); empty: none.
 */
export function holdLayer(
  design: Design,
  model: LinkModel,
  plan: LayerPlan,
  checks: readonly MapCheck[] = [],
): HoldLayer {
  const at: Design = { ...design, placement: { ...design.placement, gapMm: insideModel(model, plan.gapMm) } };
  const turned: LinkModel = { ...model, attitude: { ...model.attitude, yaw: model.attitude.yaw + plan.yaw } };
  const grid = offsetGrid(at, turned, plan.points, null);
  const count = grid.xMm.length * grid.yMm.length;
  const circuit = mapCircuit(at, grid, 0, count);
  const spread = checks.length > 0 ? spreadChecks(model, grid.xMm, grid.yMm, checks) : null;
  const { wakeV, regulator } = design.receiver.pickup;
  const { demandA } = demandOf(design);
  const corrected = (current: number, k: number) =>
    spread
      ? Math.min(Math.max(0, current + spread.difference[k]!), Math.max(current, regulator.currentLimitA))
      : current;
  return {
    ...plan,
    xMm: grid.xMm,
    yMm: grid.yMm,
    marginPercent: circuit.maxOutputA.map((current, k) => marginPercent(corrected(current, k), demandA)),
    peakOutputA: circuit.peakOutputA.map(corrected),
    wakeSlackV: circuit.wakeV.map((volts, k) => volts * (spread ? spread.wakeRatio[k]! : 1) - wakeV),
  };
}

function insideModel(model: LinkModel, gapMm: number): number {
  const { gapMin, gapMax } = model.domain;
  return Math.min(gapMax * 1e3, Math.max(gapMin * 1e3, gapMm));
}
