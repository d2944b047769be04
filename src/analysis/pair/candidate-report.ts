import type { Design } from '../../design/types.ts';
import type { Winding } from '../../physics/coil/types.ts';
import { dcResistance } from '../../physics/conductor/ac-resistance.ts';
import type { Ring } from '../hold/ring-geometry.ts';
import { linkAtPose } from '../link/link-at-pose.ts';
import { linkContext, poseOfDesign } from '../link/link-context.ts';
import type { LinkModel } from '../link/link-model.ts';
import type { PlateSensitivity } from '../margin/plate-sensitivity.ts';
import { poseAnswer } from '../margin/pose-answer.ts';
import { checkNodes } from '../place/check-nodes.ts';
import { checkMap } from '../place/map-check.ts';
import { mapCircuit } from '../place/map-circuit.ts';
import { offsetGrid } from '../place/offset-grid.ts';
import { finishOffsetMap } from '../place/offset-map.ts';
import type { LinkAnswer, MarginAnswer, OperatingAnswer, Uncertain } from '../types.ts';
import type { Metrics } from './metrics.ts';
import { type PairedChange, pairedChanges } from './paired-changes.ts';
import { settledReach } from './settled-reach.ts';

/** Points a side of a candidate's map. Odd, so that the centre is one of them. */
const MAP_POINTS = 33;

/** Wire of one coil: length of one wire, m, and resistance at 20 C and no frequency, ohm. */
export interface Copper {
  readonly lengthM: number;
  readonly resistanceOhm: number;
}

/** Everything a candidate is judged by, with the receiver centred. */
export interface CandidateReport {
  /** With its series capacitors matched to its inductances. */
  readonly design: Design;
  readonly link: LinkAnswer;
  readonly operatingPoint: OperatingAnswer;
  readonly margin: MarginAnswer;
  /** With the changes of all tolerances and numerical errors, one-sided root sums of squares. */
  readonly reachMm: Uncertain;
  /** Direction in which the safe region ends first, degrees from +x; NaN where there is none. */
  readonly worstDeg: number;
  readonly wakeReachMm: number;
  readonly safeOutline: readonly Ring[];
  readonly transmitterCopper: Copper;
  readonly receiverCopper: Copper;
  /** Loss in both coils at the demand, W. */
  readonly coilLossW: number;
  /** For comparing end by end. */
  readonly at: Metrics;
  readonly changes: readonly PairedChange[];
  /** Half-width of the map: distances do not go beyond it. */
  readonly edgeMm: number;
  /** Numerical half-widths of k (absolute), of L1, L2 and M (relative). */
  readonly numerical: { readonly coupling: number; readonly l1: number; readonly l2: number; readonly m: number };
}

/** The design with its receiver on the axis. */
export function centredDesign(design: Design): Design {
  return { ...design, placement: { ...design.placement, offsetXMm: 0, offsetYMm: 0 } };
}

/** Both sides' inductances as placed and centred, fine grids, H. */
export function centredInductances(design: Design): { readonly l1: number; readonly l2: number } {
  const centred = centredDesign(design);
  const { l1, l2 } = linkAtPose(linkContext(centred), poseOfDesign(centred), 'fine').electrical;
  return { l1, l2 };
}

/**
 * Judges one candidate by the same steps as every other: direct solution centred, map from the model.
 *
 * @param design with the capacitors it is to have; its offset is left out of account
 * @param model good for its gap (`narrowModel`)
 * @param plates its own answers to the plates' tolerances
 */
export function candidateReport(
  design: Design,
  model: LinkModel,
  plates: readonly PlateSensitivity[],
): CandidateReport {
  const centred = centredDesign(design);
  const answer = poseAnswer(centred, plates);
  const grid = offsetGrid(centred, model, MAP_POINTS, null);
  const circuit = mapCircuit(centred, grid, 0, grid.m.length);
  const checks = checkNodes(model, grid.xMm, grid.yMm).map(([x, y]) => checkMap(centred, model, plates, x, y));
  const timing = { linkModelMs: 0, gridMs: 0, circuitMs: 0 };
  const map = finishOffsetMap(centred, model, grid, circuit, checks, timing);
  const { link, operatingPoint, margin } = answer;
  const numerical = {
    coupling: link.errors.coupling,
    l1: link.errors.transmitterInductanceH / link.transmitterInductanceH,
    l2: link.errors.receiverInductanceH / link.receiverInductanceH,
    m: link.errors.mutualInductanceH / Math.abs(link.mutualInductanceH),
  };
  const paired = pairedChanges({ design: centred, model, grid, checks, plates, numerical });
  const { at, changes } = settled(centred, paired, map.tightestDeg, link.coupling, margin.maxOutputA);
  const context = linkContext(centred);
  return {
    design,
    link,
    operatingPoint,
    margin,
    reachMm: bandOf(at.reachMm, changes),
    worstDeg: map.tightestDeg,
    wakeReachMm: map.wakeReachMm,
    safeOutline: map.safeOutline,
    transmitterCopper: copperOf(context.transmitter.winding),
    receiverCopper: copperOf(context.receiver.winding),
    coilLossW: operatingPoint.losses.transmitterCoil + operatingPoint.losses.receiverCoil,
    at,
    changes,
    numerical,
    edgeMm: grid.xMm[grid.xMm.length - 1]!,
  };
}

/** Everything settled by direct solutions; the changes keep their distance from them. */
function settled(
  design: Design,
  { at, changes }: { readonly at: Metrics; readonly changes: readonly PairedChange[] },
  worstDeg: number,
  coupling: number,
  maxOutputA: number,
): { readonly at: Metrics; readonly changes: readonly PairedChange[] } {
  const known = new Map<number, number>();
  const shift = (fromMapMm: number, directionDeg: number): number => {
    // The model is solved once for directions that are the same but for a hair, or mirror images.
    const key = Math.round(Math.abs(Math.cos((directionDeg * Math.PI) / 180)) * 200);
    let by = known.get(key);
    if (by === undefined) {
      by = settledReach(design, fromMapMm, directionDeg) - fromMapMm;
      known.set(key, by);
    }
    return by;
  };
  const by = {
    reachMm: shift(at.reachMm, worstDeg),
    alongXMm: shift(at.alongXMm, 0),
    alongYMm: shift(at.alongYMm, 90),
    coupling: coupling - at.coupling,
    maxOutputA: maxOutputA - at.maxOutputA,
  };
  const moved = (metrics: Metrics): Metrics => ({
    coupling: metrics.coupling + by.coupling,
    maxOutputA: metrics.maxOutputA + by.maxOutputA,
    reachMm: Math.max(0, metrics.reachMm + by.reachMm),
    alongXMm: Math.max(0, metrics.alongXMm + by.alongXMm),
    alongYMm: Math.max(0, metrics.alongYMm + by.alongYMm),
  });
  return {
    at: moved(at),
    changes: changes.map((change) => ({ ...change, up: moved(change.up), down: moved(change.down) })),
  };
}

function bandOf(value: number, changes: readonly PairedChange[]): Uncertain {
  const moves = changes.flatMap(({ up, down }) => [[up.reachMm - value, down.reachMm - value] as const]);
  return {
    value,
    low: Math.max(0, value - Math.hypot(...moves.map(([up, down]) => Math.min(0, up, down)))),
    high: value + Math.hypot(...moves.map(([up, down]) => Math.max(0, up, down))),
  };
}

function copperOf(winding: Winding): Copper {
  return { lengthM: winding.wireLength, resistanceOhm: dcResistance(winding, 20) };
}
