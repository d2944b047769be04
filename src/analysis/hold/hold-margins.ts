/** Margins for the hold analysis: quick ones from layers, direct ones from the link and circuit. */
import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { InputError } from '../../numerics/errors.ts';
import { maxOutput } from '../../physics/circuit/max-output.ts';
import type { LinkElectrical } from '../../physics/circuit/types.ts';
import { wakingAt } from '../../physics/circuit/wake.ts';
import type { Pose } from '../../physics/coil/types.ts';
import { linkAtPose } from '../link/link-at-pose.ts';
import { linkContext } from '../link/link-context.ts';
import { type LinkModel, linkFromModel, poseAt } from '../link/link-model.ts';
import { bandAtPose } from '../margin/band-at-pose.ts';
import { marginPercent } from '../margin/margin-percent.ts';
import type { PlateSensitivity } from '../margin/plate-sensitivity.ts';
import { chargesCell } from '../margin/pose-answer.ts';
import type { Uncertain } from '../types.ts';
import { type BatchSlack, mapLookup } from './batch-lookup.ts';
import type { HoldLayer } from './hold-layer.ts';
import type { LotteryCondition } from './lottery.ts';
import { scalarSlack } from './lottery-report.ts';
import type { MarginAt } from './worst-placement.ts';

/** Margin taken where the receiver does not wake, percent: far below anything. */
const ASLEEP = -1000;

export interface LayerMargins {
  readonly marginAt: MarginAt;
  /** The worst continuous load, then each peak; all must wake. */
  readonly conditions: readonly LotteryCondition[];
}

/**
 * Quick margins from the layers of use `turns`: offsets in mm and turns in rad from the design's resting place.
 * @throws InputError where there are no such layers.
 */
export function marginsFromLayers(design: Design, layers: readonly HoldLayer[]): LayerMargins {
  const turns = layers.filter((layer) => layer.use === 'turns').sort((a, b) => a.yaw - b.yaw);
  const first = turns[0];
  if (!first)
    throw new InputError({
      code: 'hold-layers',
      path: 'layers',
      required: 'at least one layer of use turns',
      received: 'none',
    });
  const lookUp = (pick: (layer: HoldLayer) => Float64Array): BatchSlack => {
    const size = first.xMm.length * first.yMm.length;
    const values = new Float64Array(size * turns.length);
    turns.forEach((layer, k) => {
      values.set(pick(layer), k * size);
    });
    return mapLookup({ xMm: first.xMm, yMm: first.yMm, yaw: Float64Array.from(turns, (l) => l.yaw), values }, ASLEEP);
  };
  const margin = lookUp((layer) => layer.marginPercent);
  const wake = lookUp((layer) => layer.wakeSlackV);
  const { offsetXMm, offsetYMm } = design.placement;
  // Both conditions at the place itself; asleep counts as no margin at all.
  const awake =
    (slack: BatchSlack, level: number): BatchSlack =>
    (x, y, yaw, out) => {
      const px = offsetXMm === 0 ? x : x.map((v) => v + offsetXMm);
      const py = offsetYMm === 0 ? y : y.map((v) => v + offsetYMm);
      const wakes = new Float64Array(out.length);
      slack(px, py, yaw, out);
      wake(px, py, yaw, wakes);
      for (let k = 0; k < out.length; k += 1) out[k] = wakes[k] >= 0 ? out[k] - level : ASLEEP;
    };
  const demand = demandOf(design);
  return {
    marginAt: scalarSlack(awake(margin, 0)),
    conditions: [
      { name: demand.demandNames.join(' + ') || 'load', slack: awake(margin, 0) },
      ...demand.peaks.map((peak) => ({
        name: peak.name,
        slack: awake(
          lookUp((layer) => layer.peakOutputA.map((current) => marginPercent(current, peak.currentA))),
          0,
        ),
      })),
    ],
  };
}

/** Pose of the receiver moved and turned from the design's resting place. */
function movedPose(design: Design, xMm: number, yMm: number, yaw: number): Pose {
  const { gapMm, offsetXMm, offsetYMm, yawDeg, tiltXDeg, tiltYDeg } = design.placement;
  const radians = Math.PI / 180;
  const attitude = { yaw: yawDeg * radians + yaw, tiltX: tiltXDeg * radians, tiltY: tiltYDeg * radians };
  return poseAt(linkContext(design), attitude, (offsetXMm + xMm) / 1e3, (offsetYMm + yMm) / 1e3, gapMm / 1e3);
}

/**
 * Margin by direct solution: the plates' fine grids and the exact circuit at that very pose. Some tenths of a second each.
 */
export function directMargin(design: Design): MarginAt {
  const context = linkContext(design);
  const demand = demandOf(design);
  return (xMm, yMm, yaw) =>
    exactMargin(design, linkAtPose(context, movedPose(design, xMm, yMm, yaw), 'fine').electrical, demand.demandA);
}

/** Margin from a link by the exact circuit, percent; asleep counts as none. */
export function exactMargin(design: Design, link: LinkElectrical, demandA: number): number {
  const boards = boardsOf(design);
  // At light load the first harmonic may be a third off: waking is settled as exactly as the margin.
  if (!wakingAt(link, boards, 'exact').wakes) return ASLEEP;
  return marginPercent(maxOutput(link, boards, { charging: chargesCell(design, demandOf(design)) }).current, demandA);
}

/** Margin with the band of model and tolerances at a placement, from the link model. */
export function marginBand(
  design: Design,
  model: LinkModel,
  plates: readonly PlateSensitivity[],
): (xMm: number, yMm: number, yaw: number) => Uncertain {
  const context = linkContext(design);
  const demand = demandOf(design);
  const charging = chargesCell(design, demand);
  return (xMm, yMm, yaw) => {
    // The model answers for the unturned receiver; the band hardly depends on the turn.
    const pose = movedPose(design, xMm, yMm, 0);
    const turned = movedPose(design, xMm, yMm, yaw);
    const { less, more } = bandAtPose(design, context, model, pose, plates, charging);
    const { electrical } = linkFromModel(context, model, turned);
    const { current } = maxOutput(electrical, boardsOf(design), { charging });
    const percent = (value: number) => marginPercent(value, demand.demandA);
    return { value: percent(current), low: percent(current * (1 - less)), high: percent(current * (1 + more)) };
  };
}

/** Margin at the resting place against the gap, from the link model within its box. */
export function gapMargin(design: Design, model: LinkModel): (gapMm: number) => number {
  const context = linkContext(design);
  const demand = demandOf(design);
  return (gapMm) => {
    const gap = gapMm / 1e3;
    const slack = 1 + 1e-9;
    if (gap * slack < model.domain.gapMin || gap > model.domain.gapMax * slack) return ASLEEP;
    const at: Design = { ...design, placement: { ...design.placement, gapMm } };
    const { electrical } = linkFromModel(context, model, movedPose(at, 0, 0, 0));
    return exactMargin(design, electrical, demand.demandA);
  };
}
