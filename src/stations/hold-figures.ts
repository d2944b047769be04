import { pocketFor, shapeOf } from '../analysis/hold/device-shape.ts';
import type { HoldReport } from '../analysis/hold/hold-report.ts';
import type { HoldingAnswer } from '../analysis/hold/holding.ts';
import type { AidName } from '../analysis/hold/lottery-report.ts';
import { playBox, recessPlay } from '../analysis/hold/recess-play.ts';
import { recessOf } from '../analysis/hold/recess-report.ts';
import type { OffsetMap } from '../analysis/types.ts';
import type { ForceCurves } from '../charts/hold-forces-labels.ts';
import type { LotteryRow } from '../charts/hold-lottery.ts';
import type { LotteryCurve } from '../charts/hold-lottery-curve.ts';
import type { HoldPlanData } from '../charts/hold-plan-frame.ts';
import type { Design } from '../design/types.ts';
import type { ResolvedDesign } from '../state/resolved-design.ts';
import { label } from './glossary.ts';
import { outlineOf } from './link-figures.ts';

/** Standard acceleration of gravity, m/s^2. ISO 80000-3. */
const GRAVITY = 9.80665;

/** The plan: what the design says at once, what the report says when it is there. */
export function planData(
  resolved: ResolvedDesign,
  report: HoldReport | null,
  map: OffsetMap | null,
  aid: AidName,
): HoldPlanData {
  const { design } = resolved;
  const { recess, magnets } = design.holding;
  const device = shapeOf(recessOf(design).recess.outline);
  const pocket = recess ? pocketFor(device, recess.clearanceMm) : null;
  const { offsetXMm, offsetYMm, yawDeg } = design.placement;
  const samples = report?.lottery.byAid;
  const placements = samples?.find((entry) => entry.aid === aid)?.sample ?? null;
  // Walls cut the scatter off; only magnets move what was put down.
  const before = aid === 'both' ? 'recess' : 'nothing';
  const began = samples?.find((entry) => entry.aid === before)?.sample ?? null;
  const holding = magnets && report?.magnets ? report.magnets.holding : null;
  return {
    restMm: [offsetXMm, offsetYMm],
    yawDeg,
    transmitterMm: outlineOf(resolved.transmitter).outerMm,
    receiverMm: outlineOf(resolved.receiver).outerMm,
    device,
    pocket,
    playMm: pocket ? playBox(recessPlay(device, pocket), 0) : null,
    safe: report?.safeHere?.outline ?? map?.safeOutline ?? [],
    safeAtWorst: report?.region?.worst.outline ?? [],
    magnets: magnets ? { positionsMm: magnets.positionsMm, radiusMm: magnets.diameterMm / 2 } : null,
    captureMm: holding && holding.captureRadiusMm > 0 ? polar(holding.captureByDirectionMm) : null,
    restBandMm: holding && holding.restBandMm !== null ? polar(holding.restByDirectionMm) : null,
    placements,
    began: placements ? began : null,
  };
}

/** Closed ring of distances by direction, evenly from +x. */
function polar(distances: Float64Array): Float64Array {
  const out = new Float64Array(2 * distances.length);
  distances.forEach((r, k) => {
    const angle = (2 * Math.PI * k) / distances.length;
    out[2 * k] = r * Math.cos(angle);
    out[2 * k + 1] = r * Math.sin(angle);
  });
  return out;
}

/** Curves along an axis; without magnets friction alone. */
export function forceCurves(design: Design, report: HoldReport | null, axis: 'x' | 'y'): ForceCurves | null {
  const magnets = design.holding.magnets ? (report?.magnets ?? null) : null;
  if (design.holding.magnets && !magnets) return null;
  if (!magnets) {
    const offsetMm = Float64Array.from({ length: 21 }, (_, k) => k / 2);
    const { deviceMassG, friction, tableAngleDeg } = design.holding;
    const weight = (deviceMassG / 1e3) * GRAVITY * Math.cos((tableAngleDeg * Math.PI) / 180);
    const none = new Float64Array(offsetMm.length);
    return {
      offsetMm,
      restoringN: none,
      pullN: none,
      frictionN: new Float64Array(offsetMm.length).fill(friction * weight),
      tippingNmm: none,
      airRestoringN: null,
      restBandMm: null,
      captureMm: null,
    };
  }
  const table = axis === 'x' ? magnets.alongX : magnets.alongY;
  const { holding } = magnets;
  const [rest, capture] = directed(holding, axis);
  return {
    offsetMm: table.offsetMm,
    restoringN: table.restoringN,
    frictionN: table.frictionN,
    pullN: table.pullN,
    tippingNmm: table.tippingNmm,
    airRestoringN: axis === 'x' && magnets.ferriteShare !== 0 ? magnets.airAlongX.restoringN : null,
    restBandMm: holding.restBandMm === null ? null : rest,
    captureMm: capture > 0 ? capture : null,
  };
}

function directed(holding: HoldingAnswer, axis: 'x' | 'y'): readonly [number, number] {
  const k = axis === 'x' ? 0 : Math.round(holding.restByDirectionMm.length / 4);
  return [holding.restByDirectionMm[k], holding.captureByDirectionMm[k]];
}

const AID_TERMS = {
  nothing: 'heldByNothing',
  recess: 'recess',
  magnets: 'magnetPairs',
  both: 'bothAids',
} as const;

export function lotteryRows(report: HoldReport | null, aid: AidName): LotteryRow[] {
  return (report?.lottery.byAid ?? []).map((entry) => ({
    id: entry.aid,
    label: label(AID_TERMS[entry.aid]),
    share: entry.answer.all.probability,
    low: entry.answer.all.wilson.low,
    high: entry.answer.all.wilson.high,
    chosen: entry.aid === aid,
  }));
}

export function lotteryCurve(report: HoldReport | null): LotteryCurve | null {
  const curve = report?.lottery.curve;
  if (!report || !curve) return null;
  return {
    clearanceMm: curve.clearanceMm,
    share: curve.probability,
    low: curve.low,
    high: curve.high,
    nowMm: report.lottery.clearanceMm,
  };
}
