import { currentAtOutput } from '../../design/demand.ts';
import type { Design, LoadDocument } from '../../design/types.ts';
import { marginPercent } from '../margin/margin-percent.ts';
import type { OperatingAnswer, PeakAnswer } from '../types.ts';
import { boostCollapseW } from './boost.ts';
import { cellOf, HOUR_S, restEnergy } from './cell.ts';
import { type Chain, chainOf } from './chain-of.ts';
import { type ChargeTime, chargeTime, type HeatLimit } from './charge-time.ts';
import { type ChargerPoint, chargeFromInputA, chargerPoint, heatLimitOf } from './charger.ts';
import { awayCellA, type DayBalance, type DayInputs, dayBalance } from './day.ts';
import { type DividerReading, readDivider } from './divider.ts';
import { type ChargeMapInputs, sharedChargeA } from './load-sharing.ts';
import { type Standby, standbyOf } from './standby.ts';
import { type Inrush, inrushOf, type PeakCapacitor, peakCapacitor } from './start-up.ts';

/** One load as the receiver's output sees it. */
export interface LoadRow {
  readonly name: string;
  readonly kind: LoadDocument['kind'];
  /** At the load. */
  readonly currentA: number;
  readonly atV: number;
  /** At the receiver's output; Infinity where its chain cannot draw it. */
  readonly outputA: number;
  /** Of this load alone, %; NaN before the link is known. */
  readonly marginPercent: number;
  readonly durationMs: number;
}

export interface ChargeReport {
  readonly setA: number;
  /** Into the cell at this pose, after load sharing and fold-back at half charge, A. */
  readonly chargeA: number;
  /** The loads leave less than what is set. */
  readonly shared: boolean;
  readonly time: ChargeTime;
  readonly point: ChargerPoint;
  /** Heat in the cell and power kept in it, W. */
  readonly cellHeatW: number;
  readonly storedW: number;
  /** For the offset map. */
  readonly map: ChargeMapInputs;
}

export interface PeakReport {
  readonly name: string;
  readonly demandA: number;
  readonly durationMs: number;
  readonly maxOutputA: number;
  readonly marginPercent: number;
  /** Beyond what the link gives, A. */
  readonly shortA: number;
  /** What carries the shortfall, and what it asks while it fills. */
  readonly capacitor: PeakCapacitor;
  readonly inrush: Inrush;
  /** What would carry the whole step above idle, until the control has followed. */
  readonly alone: PeakCapacitor;
  readonly aloneInrush: Inrush;
}

export interface BoostReport {
  readonly outputV: number;
  /** Asked by the largest load off the dock, W. */
  readonly askedW: number;
  readonly askedBy: string;
  readonly cellA: number;
  /** Of the cell at rest, W, and what becomes heat in the cell and in the converter. */
  readonly cellW: number;
  readonly cellHeatW: number;
  readonly converterHeatW: number;
  readonly collapseW: number;
  readonly divider: DividerReading | null;
}

/** Everything behind the receiver, at one pose. Parts the design does not name are null. */
export interface FeedReport {
  readonly chain: Chain;
  readonly loads: readonly LoadRow[];
  readonly charge: ChargeReport | null;
  readonly peaks: readonly PeakReport[];
  readonly boost: BoostReport | null;
  readonly day: DayBalance | null;
  readonly dayInputs: DayInputs | null;
  /** Energy of a full cell at rest, Wh; null without a cell. */
  readonly cellWh: number | null;
  /** As built, and with the switch on either side of the converter. */
  readonly standby: { readonly asBuilt: Standby; readonly before: Standby; readonly after: Standby } | null;
  /** The dock without a device, W, and in a year, Wh. */
  readonly emptyDockW: number;
  readonly emptyDockWh: number;
}

/** What the link gives at the pose. */
export interface FeedLink {
  readonly maxOutputA: number;
  readonly peaks: readonly PeakAnswer[];
  readonly point: Pick<OperatingAnswer, 'cellC'>;
}

const HOURS_A_YEAR = 365.25 * 24;

/** The chain behind the receiver, worked out from the design and what the link gives; closed forms, well under 1 ms. */
export function feedReport(design: Design, link: FeedLink): FeedReport {
  const chain = chainOf(design);
  const outputV = design.receiver.pickup.regulator.outputV;
  const charge = chargeReport(chain, outputV, link);
  const { cell, boost, awayLoads } = chain;
  const emptyDockW = design.transmitter.drive.standbyW;
  const dayInputs: DayInputs | null =
    cell === null
      ? null
      : {
          cell,
          boost,
          loads: awayLoads,
          dockHours: design.demand.dock.hoursPerDay,
          chargeA: charge === null ? 0 : Math.min(charge.setA, charge.map.gain * available(chain, link)),
          limit: charge?.map.limit ?? null,
        };
  return {
    chain,
    loads: design.demand.loads.map((load) => loadRow(load, outputV, link)),
    charge,
    peaks: link.peaks.map((peak) => peakReport(design, peak)),
    boost: boostReport(chain),
    day: dayInputs === null ? null : dayBalance(dayInputs),
    dayInputs,
    cellWh: cell === null ? null : restEnergy(cellOf(cell), 0, 1) / HOUR_S,
    standby:
      cell === null
        ? null
        : {
            asBuilt: standbyOf(cell, boost, boost?.switchBefore ?? true),
            before: standbyOf(cell, boost, true),
            after: standbyOf(cell, boost, false),
          },
    emptyDockW,
    emptyDockWh: emptyDockW * HOURS_A_YEAR,
  };
}

function available(chain: Chain, link: FeedLink): number {
  return Math.max(0, link.maxOutputA - chain.systemA);
}

function loadRow(load: LoadDocument, outputV: number, link: FeedLink): LoadRow {
  const outputA = currentAtOutput(load, outputV);
  const peak = link.peaks.find((entry) => entry.name === load.name);
  return {
    name: load.name,
    kind: load.kind,
    currentA: load.currentA,
    atV: load.atV,
    outputA,
    marginPercent: peak?.marginPercent ?? marginPercent(link.maxOutputA, outputA),
    durationMs: load.durationMs,
  };
}

function chargeReport(chain: Chain, outputV: number, link: FeedLink): ChargeReport | null {
  const { charger, cell } = chain;
  if (charger === null || cell === null) return null;
  const around = link.point.cellC;
  const limit: HeatLimit | null = heatLimitOf(charger, outputV, around);
  const gain = chargeFromInputA(charger, 1, outputV, cell.voltageV);
  const setA = charger.setCurrentA;
  const wanted = gain * sharedChargeA(setA / gain, link.maxOutputA, chain.systemA);
  const cellV = cell.voltageV + cell.resistanceOhm * wanted;
  const point = chargerPoint(charger, wanted, outputV, cellV, around);
  const model = cellOf(cell);
  return {
    setA,
    chargeA: point.chargeA,
    shared: wanted < setA * (1 - 1e-9),
    time: chargeTime(model, wanted, 0, limit),
    point,
    cellHeatW: cell.resistanceOhm * point.chargeA * point.chargeA,
    storedW: cell.voltageV * point.chargeA,
    map: { cell: model, setA, systemA: chain.systemA, gain, limit },
  };
}

function boostReport({ boost, cell, awayLoads }: Chain): BoostReport | null {
  if (boost === null) return null;
  const largest = awayLoads.reduce<LoadDocument | null>(
    (most, load) => (most === null || load.currentA * load.atV > most.currentA * most.atV ? load : most),
    null,
  );
  const sourceOhm = cell?.resistanceOhm ?? boost.sourceResistanceOhm;
  const sourceV = cell?.voltageV ?? 0;
  const askedW = largest === null ? 0 : largest.currentA * largest.atV;
  const cellA = largest === null || cell === null ? 0 : awayCellA(largest, cell, boost);
  const cellHeatW = sourceOhm * cellA * cellA;
  return {
    outputV: boost.outputV,
    askedW,
    askedBy: largest?.name ?? '',
    cellA,
    cellW: sourceV * cellA,
    cellHeatW,
    converterHeatW: sourceV * cellA - cellHeatW - askedW,
    collapseW: boostCollapseW(sourceV, sourceOhm, boost.efficiency),
    divider: boost.feedback === null ? null : readDivider(boost.feedback),
  };
}

function peakReport(design: Design, peak: PeakAnswer): PeakReport {
  const load = design.demand.loads.find((entry) => entry.name === peak.name);
  const { regulator } = design.receiver.pickup;
  const durationMs = load?.durationMs ?? 0;
  const resistanceOhm = load?.capacitorResistanceOhm ?? 0;
  const step = (stepA: number) => ({
    stepA,
    durationS: durationMs / 1e3,
    droopV: load?.droopV ?? 0.25,
    resistanceOhm,
  });
  const shortA = Math.max(0, peak.demandA - peak.maxOutputA);
  const idle = design.demand.loads.filter((entry) => entry.kind === 'idle');
  const idleA = Math.min(peak.demandA, ...idle.map((entry) => currentAtOutput(entry, regulator.outputV)));
  const capacitor = peakCapacitor(step(shortA));
  const alone = peakCapacitor(step(peak.demandA - (idle.length > 0 ? idleA : 0)));
  const limitA = Math.max(0, Math.min(regulator.currentLimitA, peak.maxOutputA) - (idle.length > 0 ? idleA : 0));
  const filling = (size: PeakCapacitor) => inrushOf(size.capacitanceF, regulator.outputV, limitA, resistanceOhm);
  return {
    name: peak.name,
    demandA: peak.demandA,
    durationMs,
    maxOutputA: peak.maxOutputA,
    marginPercent: peak.marginPercent,
    shortA,
    capacitor,
    inrush: filling(capacitor),
    alone,
    aloneInrush: filling(alone),
  };
}

/** Charge time from empty as a number for bands and tables, h. */
export function chargeHours(report: FeedReport): number {
  return report.charge === null ? Number.NaN : report.charge.time.totalS / HOUR_S;
}
