import { type Demand, demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { resistanceAt } from '../../physics/circuit/board-model.ts';
import { linkLimit } from '../../physics/circuit/link-limit.ts';
import { maxOutput } from '../../physics/circuit/max-output.ts';
import { solveOperatingPoint } from '../../physics/circuit/operating-point.ts';
import type { Boards, MaxOutput, OperatingPoint } from '../../physics/circuit/types.ts';
import type { Pose } from '../../physics/coil/types.ts';
import { cautionsFor } from '../cautions.ts';
import { couplingOf, type LinkAtPose, linkAtPose } from '../link/link-at-pose.ts';
import { COPPER_REFERENCE_C, linkContext, poseOfDesign } from '../link/link-context.ts';
import { limitWithSag, supplyShare } from '../supply/supply-share.ts';
import type { LinkAnswer, MarginAnswer, OperatingAnswer, PoseAnswer, Uncertain } from '../types.ts';
import { marginPercent } from './margin-percent.ts';
import { type OutputBand, outputBand } from './output-band.ts';
import type { PlateSensitivity } from './plate-sensitivity.ts';
import { methodWords, poseNotes } from './pose-notes.ts';
import { stateSentence } from './state-sentence.ts';
import { gapToleranceMm, type Tolerance, tolerancesOf } from './tolerances.ts';

/** Whether the worst continuous combination of a design charges the cell, so that its temperature limit counts. */
export function chargesCell(design: Design, demand: Demand): boolean {
  return design.demand.loads.some((load) => load.kind === 'charging' && demand.demandNames.includes(load.name));
}

/**
 * Everything about the design's own pose, by direct solution: fine plates, exact circuit.
 *
 * @param plates how the link answers to the plates' tolerances; empty leaves them out of the bands
 * @throws InputError
 */
export function poseAnswer(design: Design, plates: readonly PlateSensitivity[]): PoseAnswer {
  const boards = boardsOf(design);
  const demand = demandOf(design);
  const charging = chargesCell(design, demand);
  const { link, wider, narrower } = poseLinks(design);
  const point = solveOperatingPoint(link.electrical, boards, demand.demandA, { charging });
  const most = maxOutput(link.electrical, boards, { charging });

  const tolerances = tolerancesOf(design);
  const band = outputBand({ design, link, wider, narrower, plates, charging }, tolerances);
  const k = couplingOf(link.electrical);
  const bandK = couplingBand(link, wider, narrower, plates, tolerances);

  return {
    link: linkAnswer(link, point, boards, bandK),
    operatingPoint: operatingAnswer(point, boards, demand.demandA),
    margin: marginAnswer(design, demand, link, boards, most, band, charging),
    sensitivity: band.changes
      .map((change) => ({
        name: change.name,
        path: change.path,
        tolerance: change.tolerance,
        changePercent: 100 * (Math.abs(change.up) > Math.abs(change.down) ? change.up : change.down),
      }))
      .sort((a, b) => Math.abs(b.changePercent) - Math.abs(a.changePercent)),
    notes: poseNotes(point, most, boards),
    cautions: cautionsFor(design, point),
  };

  function couplingBand(
    at: LinkAtPose,
    wide: LinkAtPose,
    narrow: LinkAtPose,
    answers: readonly PlateSensitivity[],
    inputs: readonly Tolerance[],
  ): Uncertain {
    const fromPlates = inputs.flatMap(({ path }) => {
      const answer = answers.find((entry) => entry.path === path);
      return answer ? [Math.abs(k) * Math.abs(answer.m - (answer.l1 + answer.l2) / 2)] : [];
    });
    const half = (other: LinkAtPose): number => Math.abs(couplingOf(other.electrical) - k);
    const common = Math.hypot(at.errors.coupling, ...fromPlates);
    return { value: k, low: k - Math.hypot(common, half(wide)), high: k + Math.hypot(common, half(narrow)) };
  }
}

/** The link at a design's pose, and with the gap wider and narrower by its tolerance. */
export interface PoseLinks {
  readonly link: LinkAtPose;
  readonly wider: LinkAtPose;
  readonly narrower: LinkAtPose;
}

/** Solves the pose on the fine grids; the gap's ends on the coarse ones, as changes from the same grids' value here. */
export function poseLinks(design: Design): PoseLinks {
  const context = linkContext(design);
  const pose = poseOfDesign(design);
  const link = linkAtPose(context, pose, 'fine');
  const by = gapToleranceMm(design) / 1e3;
  const here = linkAtPose(context, pose, 'coarse');
  const shifted = (shift: number): LinkAtPose =>
    relativeTo(link, here, linkAtPose(context, nearer(pose, shift, design), 'coarse'));
  return { link, wider: shifted(by), narrower: shifted(-by) };
}

/** The pose with the gap changed, never below a tenth of what it is. */
function nearer(pose: Pose, by: number, design: Design): Pose {
  const gap = design.placement.gapMm / 1e3;
  return { ...pose, z: pose.z + Math.max(by, -0.9 * gap) };
}

/** Carries the change between two coarse solutions over to a fine one. */
function relativeTo(fine: LinkAtPose, coarse: LinkAtPose, moved: LinkAtPose): LinkAtPose {
  const scale = (key: 'l1' | 'l2' | 'm'): number =>
    coarse.electrical[key] === 0 ? 1 : moved.electrical[key] / coarse.electrical[key];
  const { electrical } = fine;
  return {
    ...fine,
    electrical: {
      ...electrical,
      l1: electrical.l1 * scale('l1'),
      l2: electrical.l2 * scale('l2'),
      m: electrical.m * scale('m'),
    },
  };
}

function linkAnswer(link: LinkAtPose, point: OperatingPoint, boards: Boards, couplingBand: Uncertain): LinkAnswer {
  const { electrical, air, errors } = link;
  const { drive } = boards;
  const frequency = Number.isFinite(point.frequency)
    ? point.frequency
    : Math.sqrt(drive.frequencyMin * drive.frequencyMax);
  const omega = 2 * Math.PI * frequency;
  const r1 = resistanceAt(electrical.r1, frequency, COPPER_REFERENCE_C);
  const r2 = resistanceAt(electrical.r2, frequency, COPPER_REFERENCE_C);
  const q1 = (omega * electrical.l1) / r1;
  const q2 = (omega * electrical.l2) / r2;
  const k = couplingOf(electrical);
  const limit = linkLimit(k, q1, q2, r2);
  return {
    transmitterInductanceH: electrical.l1,
    receiverInductanceH: electrical.l2,
    mutualInductanceH: electrical.m,
    coupling: k,
    transmitterResistanceOhm: r1,
    receiverResistanceOhm: r2,
    transmitterQ: q1,
    receiverQ: q2,
    atFrequencyHz: frequency,
    linkEfficiencyLimit: limit.efficiency,
    optimalLoadOhm: limit.optimalLoad,
    errors: {
      mutualInductanceH: errors.m,
      transmitterInductanceH: errors.l1,
      receiverInductanceH: errors.l2,
      coupling: errors.coupling,
    },
    air: {
      transmitterInductanceH: air.l1,
      receiverInductanceH: air.l2,
      mutualInductanceH: air.m,
      coupling: couplingOf(air),
    },
    couplingBand,
  };
}

function operatingAnswer(point: OperatingPoint, boards: Boards, askedA: number): OperatingAnswer {
  return {
    state: point.state,
    sentence: stateSentence(point, boards, askedA),
    frequencyHz: point.frequency,
    duty: point.duty,
    supplyA: point.supplyA,
    outputV: point.outputV,
    outputA: point.outputA,
    rectifiedV: point.rectifiedV,
    targetV: point.targetV,
    neededV: point.neededV,
    shortfallV: point.shortfallV,
    limitedBy: point.limitedBy,
    sagV: boards.drive.supplyResistance * point.supplyA,
    efficiency: point.efficiency,
    losses: point.losses,
    transmitterCoilARms: point.transmitterCoilA,
    receiverCoilARms: point.receiverCoilA,
    currentCorrelation: point.currentCorrelation,
    harmonics: point.harmonics,
    transmitterCapacitorVPeak: point.transmitterCapacitorPeakV,
    receiverCapacitorVPeak: point.receiverCapacitorPeakV,
    transmitterCoilVPeak: point.transmitterCoilPeakV,
    receiverCoilVPeak: point.receiverCoilPeakV,
    highVoltage: point.highVoltage,
    receiverC: point.receiverC,
    cellC: point.cellC,
    caseC: point.caseC,
    transmitterC: point.transmitterC,
    wakes: point.wakes,
    wakeRectifiedV: point.wakeRectifiedV,
    method: point.method,
    methodError: point.methodError,
    methodWords: methodWords(point.method, point.methodError),
    severalPoints: point.severalPoints,
  };
}

function marginAnswer(
  design: Design,
  demand: Demand,
  link: LinkAtPose,
  boards: Boards,
  most: MaxOutput,
  band: OutputBand,
  charging: boolean,
): MarginAnswer {
  const supply = supplyShare(link.electrical, boards, most, charging);
  const percent = (current: number): number => marginPercent(current, demand.demandA);
  const low = most.current * (1 - band.less);
  const high = most.current * (1 + band.more);
  const peakMost = demand.peaks.length > 0 ? maxOutput(link.electrical, boards, { ignoreThermal: true }).current : 0;
  return {
    maxOutputA: most.current,
    maxOutputBand: { value: most.current, low, high },
    demandA: demand.demandA,
    demandNames: demand.demandNames,
    marginPercent: percent(most.current),
    marginBandPercent: { value: percent(most.current), low: percent(low), high: percent(high) },
    marginW: (most.current - demand.demandA) * design.receiver.pickup.regulator.outputV,
    limitedBy: limitWithSag(most, supply),
    limits: most.limits,
    furtherBranch: most.furtherBranch,
    supply,
    peaks: demand.peaks.map((peak) => ({
      name: peak.name,
      demandA: peak.currentA,
      maxOutputA: peakMost,
      marginPercent: marginPercent(peakMost, peak.currentA),
    })),
  };
}
