import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { InputError } from '../../numerics/errors.ts';
import { maxOutput } from '../../physics/circuit/max-output.ts';
import { solveOperatingPoint } from '../../physics/circuit/operating-point.ts';
import type { Boards, Limit, LinkElectrical, LinkState } from '../../physics/circuit/types.ts';
import { fastOutput } from '../margin/fast-output.ts';
import { marginPercent } from '../margin/margin-percent.ts';
import type { PlateSensitivity } from '../margin/plate-sensitivity.ts';
import { chargesCell, type PoseLinks } from '../margin/pose-answer.ts';
import { toleranceEnds } from '../margin/tolerance-ends.ts';
import { tolerancesOf } from '../margin/tolerances.ts';
import type { Uncertain } from '../types.ts';

/** What two supplies are compared by at the pose. */
export interface SupplyMetrics {
  readonly maxOutputA: number;
  /** At the demand. */
  readonly efficiency: number;
  readonly receiverC: number;
}

/** What one uncertain input does to the metrics, as changes, at both ends of its tolerance. */
export interface SupplyChange {
  readonly path: string;
  readonly up: SupplyMetrics;
  readonly down: SupplyMetrics;
}

/** The design's pose under one supply voltage; everything else is as in the design. */
export interface SupplyReport {
  readonly supplyV: number;
  readonly maxOutputA: Uncertain;
  readonly limitedBy: Limit;
  readonly marginPercent: Uncertain;
  /** Least margin over the peak loads, %; null where there are none. */
  readonly peakMarginPercent: number | null;
  readonly wakes: boolean;
  readonly atDemand: {
    readonly state: LinkState;
    readonly efficiency: Uncertain;
    readonly supplyA: number;
    readonly receiverC: Uncertain;
    readonly transmitterC: number;
    readonly cellC: number;
    readonly caseC: number;
    /** W, supply and cable included. */
    readonly lossW: number;
    readonly highVoltage: boolean;
    readonly severalPoints: boolean;
  };
  /** At the lightest load named, or 10 mA. */
  readonly atLightLoad: { readonly loadA: number; readonly state: LinkState; readonly receiverC: number };
  readonly changes: readonly SupplyChange[];
}

/** Efficiency against load under one supply, up to where regulation ends. */
export interface SupplyCurve {
  readonly supplyV: number;
  readonly loadA: Float64Array;
  readonly efficiency: Float64Array;
  readonly states: readonly LinkState[];
}

/** Load taken as light where the design names no idle load, A. Common practice, no source: a receiver board with its lamp. */
export const LIGHT_LOAD_A = 0.01;

/** How many supplies are compared at once. */
export const SUPPLY_COUNT = Object.freeze({ least: 2, most: 4 });

/**
 * The design under each of two to four supply voltages, lowest first; everything else stays.
 * @throws InputError
 */
export function supplyDesigns(design: Design, suppliesV: readonly number[]): Design[] {
  const volts = [...new Set(suppliesV)].sort((a, b) => a - b);
  const { least, most } = SUPPLY_COUNT;
  if (volts.length < least || volts.length > most || !volts.every((v) => v >= 0.5 && v <= 60))
    throw new InputError({
      code: 'supplies',
      path: 'suppliesV',
      required: `${least} to ${most} different voltages from 0.5 to 60 V`,
      received: suppliesV.join(', '),
    });
  const { transmitter } = design;
  return volts.map((supplyV) => ({
    ...design,
    transmitter: { ...transmitter, drive: { ...transmitter.drive, supplyV } },
  }));
}

/**
 * Largest output, margin, efficiency and heat under one supply voltage, exact circuit; bands and paired changes by the first
 * harmonic (changes are wanted there, not values). Some tenths of a second.
 */
export function supplyReport(
  design: Design,
  { link, wider, narrower }: PoseLinks,
  plates: readonly PlateSensitivity[],
): SupplyReport {
  const boards = boardsOf(design);
  const demand = demandOf(design);
  const charging = chargesCell(design, demand);
  const { electrical } = link;
  const most = maxOutput(electrical, boards, { charging });
  const point = solveOperatingPoint(electrical, boards, demand.demandA, { charging });
  const loadA = demand.idleA > 0 ? demand.idleA : LIGHT_LOAD_A;
  const light = solveOperatingPoint(electrical, boards, loadA, { charging });
  const peaks = demand.peaks.map(({ currentA }) => currentA);
  const peakMost = peaks.length > 0 ? maxOutput(electrical, boards, { ignoreThermal: true }).current : 0;

  const metrics = (at: LinkElectrical, with_: Boards): SupplyMetrics => {
    const { efficiency, receiverC } = solveOperatingPoint(at, with_, demand.demandA, {
      tier: 'fast',
      charging,
      awake: true,
    });
    return { maxOutputA: fastOutput([at], with_, { charging })[0]!, efficiency, receiverC };
  };
  const base = metrics(electrical, boards);
  const minus = (a: SupplyMetrics): SupplyMetrics => ({
    // The exact current moves by the same share as the fast one.
    maxOutputA: base.maxOutputA > 0 ? most.current * (a.maxOutputA / base.maxOutputA - 1) : 0,
    efficiency: a.efficiency - base.efficiency,
    receiverC: a.receiverC - base.receiverC,
  });
  const gapEnd = (by: number): LinkElectrical => (by > 0 ? wider : narrower).electrical;
  const changes = tolerancesOf(design).map((tolerance): SupplyChange => {
    const [up, down] = toleranceEnds(design, tolerance, electrical, boards, plates, gapEnd).map(([at, with_]) =>
      minus(metrics(at, with_)),
    ) as [SupplyMetrics, SupplyMetrics];
    return { path: tolerance.path, up, down };
  });
  const band = (value: number, key: keyof SupplyMetrics, least: number): Uncertain => ({
    value,
    low: Math.max(least, value - Math.hypot(...changes.map(({ up, down }) => Math.min(0, up[key], down[key])))),
    high: value + Math.hypot(...changes.map(({ up, down }) => Math.max(0, up[key], down[key]))),
  });
  const maxOutputA = band(most.current, 'maxOutputA', 0);
  return {
    supplyV: boards.drive.supplyV,
    maxOutputA,
    limitedBy: most.limitedBy,
    marginPercent: {
      value: marginPercent(most.current, demand.demandA),
      low: marginPercent(maxOutputA.low, demand.demandA),
      high: marginPercent(maxOutputA.high, demand.demandA),
    },
    peakMarginPercent: peaks.length === 0 ? null : Math.min(...peaks.map((asked) => marginPercent(peakMost, asked))),
    wakes: point.wakes,
    atDemand: {
      state: point.state,
      efficiency: band(point.efficiency, 'efficiency', 0),
      supplyA: point.supplyA,
      receiverC: band(point.receiverC, 'receiverC', boards.thermal.ambient),
      transmitterC: point.transmitterC,
      cellC: point.cellC,
      caseC: point.caseC,
      lossW: Object.values(point.losses).reduce((sum, watts) => sum + watts, 0),
      highVoltage: point.highVoltage,
      severalPoints: point.severalPoints,
    },
    atLightLoad: { loadA, state: light.state, receiverC: light.receiverC },
    changes,
  };
}

/** Loads of a curve, A: closer together towards both ends, where the efficiency turns. @param mostA where it ends; 0: no curve */
export function curveLoads(mostA: number, points = 14): Float64Array {
  if (!(mostA > 0)) return new Float64Array(0);
  return Float64Array.from({ length: points }, (_, i) => {
    const t = (i + 1) / points;
    // The last point stands just inside, where the exact solver still holds it.
    return mostA * (i === points - 1 ? 0.998 : 0.4 * t ** 2 + 0.6 * (0.5 - 0.5 * Math.cos(Math.PI * t)));
  });
}

/** Exact operating points at loads of a curve; one call is one chunk of work, about 25 ms a load. */
export function supplyPoints(
  design: Design,
  electrical: LinkElectrical,
  loads: Float64Array,
): { readonly efficiency: Float64Array; readonly states: LinkState[] } {
  const boards = boardsOf(design);
  const points = Array.from(loads, (load) => solveOperatingPoint(electrical, boards, load, { awake: true }));
  return {
    efficiency: Float64Array.from(points, ({ efficiency }) => efficiency),
    states: points.map(({ state }) => state),
  };
}
