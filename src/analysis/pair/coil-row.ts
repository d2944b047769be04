import type { Design } from '../../design/types.ts';
import { type Ring, ringArea } from '../hold/ring-geometry.ts';
import { safeRegion } from '../hold/safe-region.ts';
import type { LinkModel } from '../link/link-model.ts';
import { marginPercent } from '../margin/margin-percent.ts';
import type { PlateSensitivity } from '../margin/plate-sensitivity.ts';
import { checkNodes } from '../place/check-nodes.ts';
import { checkMap, spreadChecks } from '../place/map-check.ts';
import { mapCircuit } from '../place/map-circuit.ts';
import { offsetGrid } from '../place/offset-grid.ts';
import { finishOffsetMap } from '../place/offset-map.ts';
import type { OffsetMap } from '../types.ts';
import type { IdleCoils } from './idle-coils.ts';
import type { RowMember } from './row-design.ts';

/** Offsets over a row of coils of which the best one is driven. */
export interface CoilRowAnswer {
  readonly centresMm: readonly (readonly [number, number])[];
  /** The union: margin of the best coil at each place. */
  readonly map: OffsetMap;
  /** Index of the driven coil at each place of the map. */
  readonly driven: Uint8Array;
  /** Places inside the row that none of the coils serves: centre and area of each hole of the safe region, mm and mm2. */
  readonly deadSpots: readonly { readonly xMm: number; readonly yMm: number; readonly areaMm2: number }[];
  /** Longest stretch of the row's own line that is safe throughout, mm. */
  readonly safeLengthMm: number;
  /** Separate pieces of the safe region. */
  readonly pieces: number;
  readonly safeAreaMm2: number;
}

/** The same with what happens to the coils that are not driven. */
export interface CoilRowReport extends CoilRowAnswer {
  readonly idle: IdleCoils;
}

/** The map of one member, with the margin at both ends of its band. */
export interface MemberMap extends OffsetMap {
  readonly lowPercent: Float64Array;
  readonly highPercent: Float64Array;
  /** Rectified voltage at the ping above the one that wakes, V. */
  readonly wakeSlackV: Float64Array;
}

/**
 * The map of one member at its own gap, from its model.
 *
 * @param plates answers to the plates' tolerances of the row's first coil
 */
export function memberMap(
  design: Design,
  model: LinkModel,
  points: number,
  plates: readonly PlateSensitivity[],
): MemberMap {
  const grid = offsetGrid(design, model, points, null);
  const circuit = mapCircuit(design, grid, 0, grid.m.length);
  const checks = checkNodes(model, grid.xMm, grid.yMm).map(([x, y]) => checkMap(design, model, plates, x, y));
  const map = finishOffsetMap(design, model, grid, circuit, checks, { linkModelMs: 0, gridMs: 0, circuitMs: 0 });
  const { less, more, wakeRatio } = spreadChecks(model, grid.xMm, grid.yMm, checks);
  const moved = (share: (at: number) => number): Float64Array =>
    map.maxOutputA.map((amps, at) => marginPercent(amps * (1 + share(at)), map.demandA));
  return {
    ...map,
    lowPercent: moved((at) => -less[at]!),
    highPercent: moved((at) => more[at]!),
    wakeSlackV: circuit.wakeV.map((volts, at) => volts * wakeRatio[at]! - design.receiver.pickup.wakeV),
  };
}

/** Bilinear value of a map at a place; NaN beyond it. */
function sample(map: OffsetMap, values: ArrayLike<number>, x: number, y: number): number {
  const { xMm, yMm } = map;
  const nx = xMm.length;
  const step = (xMm[nx - 1]! - xMm[0]!) / (nx - 1);
  const u = (x - xMm[0]!) / step;
  const v = (y - yMm[0]!) / step;
  if (u < -1e-9 || v < -1e-9 || u > nx - 1 + 1e-9 || v > yMm.length - 1 + 1e-9) return Number.NaN;
  const i = Math.min(nx - 2, Math.max(0, Math.floor(u)));
  const j = Math.min(yMm.length - 2, Math.max(0, Math.floor(v)));
  const [s, t] = [u - i, v - j];
  const row = j * nx + i;
  return (
    (values[row]! * (1 - s) + values[row + 1]! * s) * (1 - t) +
    (values[row + nx]! * (1 - s) + values[row + nx + 1]! * s) * t
  );
}

/** Margins nearer to each other than this, in per cent, count as equal. */
const TIE = 1e-6;
/** Margin where no coil is computed: far below any. */
const NOTHING = -100;

/**
 * The row's map: at each place the coil that gives most is driven, the others are open. It must also wake the receiver.
 *
 * @param members @param maps of the members, in their order
 */
export function rowAnswer(design: Design, members: readonly RowMember[], maps: readonly MemberMap[]): CoilRowAnswer {
  const first = maps[0]!;
  const step = first.xMm[1]! - first.xMm[0]!;
  const span = first.xMm[first.xMm.length - 1]!;
  const axis = (which: 0 | 1): Float64Array => {
    const centres = members.map(({ centreMm }) => centreMm[which]);
    const low = Math.min(...centres) - span;
    const count = Math.round((Math.max(...centres) + span - low) / step) + 1;
    return Float64Array.from({ length: count }, (_, i) => low + i * step);
  };
  const xMm = axis(0);
  const yMm = axis(1);
  const total = xMm.length * yMm.length;
  const margins = new Float64Array(total).fill(NOTHING);
  const low = new Float64Array(total).fill(NOTHING);
  const high = new Float64Array(total).fill(NOTHING);
  const maxOutputA = new Float64Array(total);
  const peakOutputA = new Float64Array(total);
  const coupling = new Float64Array(total);
  const mutualInductanceH = new Float64Array(total);
  const wakes = new Uint8Array(total);
  const wakeSlackV = new Float64Array(total).fill(-1);
  const driven = new Uint8Array(total);
  for (let j = 0, at = 0; j < yMm.length; j++) {
    for (let i = 0; i < xMm.length; i++, at++) {
      members.forEach(({ shiftMm }, index) => {
        const map = maps[index]!;
        const [x, y] = [xMm[i]! - shiftMm[0], yMm[j]! - shiftMm[1]];
        const margin = sample(map, map.marginPercent, x, y);
        const slackV = sample(map, map.wakeSlackV, x, y);
        const awake = slackV >= 0 ? 1 : 0;
        const k = sample(map, map.coupling, x, y);
        // One that wakes the receiver before one that does not, then the margin; where both are limited alike, the coupling.
        const ahead =
          awake - wakes[at]! || (Math.abs(margin - margins[at]!) > TIE ? margin - margins[at]! : k - coupling[at]!);
        if (!(ahead > 0)) return;
        margins[at] = margin;
        low[at] = sample(map, map.lowPercent, x, y);
        high[at] = sample(map, map.highPercent, x, y);
        maxOutputA[at] = sample(map, map.maxOutputA, x, y);
        peakOutputA[at] = sample(map, map.peakOutputA, x, y);
        coupling[at] = k;
        mutualInductanceH[at] = sample(map, map.mutualInductanceH, x, y);
        wakes[at] = awake;
        wakeSlackV[at] = slackV;
        driven[at] = index;
      });
    }
  }
  const wanted = design.demand.wantedMarginPercent;
  const restMm = [0, 1].map((axis_) => {
    const centres = members.map(({ centreMm }) => centreMm[axis_]!);
    return (Math.min(...centres) + Math.max(...centres)) / 2;
  }) as [number, number];
  const over = (level: number, values: Float64Array = margins) => ({
    name: 'margin',
    slack: values.map((value) => value - level),
    smooth: true,
  });
  const awake = { name: 'waking', slack: wakeSlackV, smooth: true };
  const region = safeRegion(xMm, yMm, [over(wanted), awake], { restMm });
  const holds = safeRegion(xMm, yMm, [over(0)], { restMm });
  const waking = safeRegion(xMm, yMm, [awake], { restMm });
  // Both ends of the band move all coils alike: they share the gap, the boards and nearly everything else.
  const banded = (values: Float64Array): number =>
    safeRegion(xMm, yMm, [over(wanted, values), awake], { restMm }).reachMm;
  const map: OffsetMap = {
    ...first,
    xMm,
    yMm,
    maxOutputA,
    peakOutputA,
    marginPercent: margins,
    coupling,
    mutualInductanceH,
    wakes,
    safeOutline: region.outline,
    collapseOutline: holds.outline,
    wakeOutline: waking.outline,
    reachMm: {
      value: region.reachMm,
      low: Math.min(region.reachMm, banded(low)),
      high: Math.max(region.reachMm, banded(high)),
    },
    holdReachMm: holds.reachMm,
    wakeReachMm: waking.reachMm,
    innerLimitMm: region.restIsSafe ? 0 : region.inner.nearestMm,
    peakReachMm: [],
    tightestDeg: region.tightestDeg,
  };
  const holes = region.outline.filter((ring) => ringArea(ring) < 0);
  return {
    centresMm: members.map(({ centreMm }) => centreMm),
    map,
    driven,
    deadSpots: holes.map((ring) => ({ ...middleOf(ring), areaMm2: -ringArea(ring) })),
    safeLengthMm: longestRun(map, wanted, restMm[1]),
    pieces: region.outline.filter((ring) => ringArea(ring) > 0).length,
    safeAreaMm2: region.areaMm2,
  };
}

function middleOf(ring: Ring): { readonly xMm: number; readonly yMm: number } {
  let [x, y] = [0, 0];
  for (let i = 0; i < ring.length; i += 2) {
    x += ring[i]!;
    y += ring[i + 1]!;
  }
  return { xMm: (2 * x) / ring.length, yMm: (2 * y) / ring.length };
}

/** Longest run of places along the row that have the margin and wake, linear between grid points. */
function longestRun(map: OffsetMap, wanted: number, y: number): number {
  const fine = 8 * (map.xMm.length - 1) + 1;
  const [from, to] = [map.xMm[0]!, map.xMm[map.xMm.length - 1]!];
  let longest = 0;
  let start = Number.NaN;
  for (let i = 0; i < fine; i++) {
    const x = from + ((to - from) * i) / (fine - 1);
    const good = sample(map, map.marginPercent, x, y) >= wanted && sample(map, map.wakes, x, y) >= 0.5;
    if (!good) start = Number.NaN;
    else if (Number.isNaN(start)) start = x;
    else longest = Math.max(longest, x - start);
  }
  return longest;
}
