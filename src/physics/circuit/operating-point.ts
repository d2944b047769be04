import { bridgeSetting, rectifierDemand, regulatedV, type Setting } from './board-model.ts';
import { brokenLimit, type Steered, steer, windowNodes } from './control.ts';
import { type Delivery, type LinkTier, NO_DELIVERY } from './delivery.ts';
import { firstHarmonicTier } from './first-harmonic-tier.ts';
import { lossesOf, receiverLoss, totalLoss, transmitterLoss } from './losses.ts';
import { type MultiHarmonic, solveMultiHarmonic } from './multi-harmonic.ts';
import { periodicTier } from './periodic-tier.ts';
import { stressOf } from './stress.ts';
import { type Temperatures, temperatures } from './thermal.ts';
import type { Boards, Limit, LinkElectrical, LinkState, OperatingPoint } from './types.ts';
import { wakingAt } from './wake.ts';

export interface OperatingOptions {
  /** fast: first harmonic; exact: periodic steady state of the switched circuit. */
  readonly tier: 'fast' | 'exact';
  /** The receiver already runs (it was placed nearer and moved): skip the wake test's verdict. */
  readonly awake: boolean;
  /** The load charges the cell: its temperature limit counts. */
  readonly charging: boolean;
}

export const OPERATING_DEFAULTS: OperatingOptions = Object.freeze({ tier: 'exact', awake: false, charging: false });

/** A solved load with its temperatures, before it gets its state. */
export interface SolvedLoad {
  readonly steered: Steered;
  readonly delivery: Delivery;
  /** What reaches the load. */
  readonly outputA: number;
  readonly outputV: number;
  readonly temperatures: Temperatures;
  readonly tier: LinkTier;
}

/** K; a third of a kelvin moves copper by 0.1 %. */
const EXACT_HEAT_TOLERANCE = 0.3;

/** Copper is not followed above this: the verdict is "hot" long before. */
const HOTTEST_COPPER_C = 300;

/**
 * Lets control, copper and temperatures settle together for one load.
 *
 * @param solver `fast` or `exact`; the exact one starts from the fast one's temperatures and frequency.
 */
export function solveLoad(link: LinkElectrical, boards: Boards, loadA: number, solver: 'fast' | 'exact'): SolvedLoad {
  const { ambient } = boards.thermal;
  let heat: Temperatures = { receiverC: ambient, cellC: ambient, caseC: ambient, transmitterC: ambient };
  let solved = once(firstHarmonicTier(link, boards, clamp(heat)), boards, loadA, []);
  for (let k = 0; k < 24; k++) {
    const change = warmest(heat, solved.temperatures);
    heat = k < 8 ? solved.temperatures : halfway(heat, solved.temperatures);
    if (change < 1e-3) break;
    solved = once(firstHarmonicTier(link, boards, clamp(heat)), boards, loadA, []);
  }
  if (solver === 'fast') return solved;
  const near = (at: SolvedLoad) => {
    const f = at.delivery.setting.frequency;
    return Number.isFinite(f) ? [f * 1.02, f, f * 0.98] : [];
  };
  for (let k = 0; k < 3; k++) {
    solved = once(periodicTier(link, boards, clamp(heat)), boards, loadA, near(solved));
    const change = warmest(heat, solved.temperatures);
    heat = solved.temperatures;
    if (change < EXACT_HEAT_TOLERANCE) break;
  }
  return solved;
}

function clamp(heat: Temperatures): { transmitterC: number; receiverC: number } {
  return {
    transmitterC: Math.min(heat.transmitterC, HOTTEST_COPPER_C),
    receiverC: Math.min(heat.receiverC, HOTTEST_COPPER_C),
  };
}

function warmest(a: Temperatures, b: Temperatures): number {
  return Math.max(Math.abs(a.receiverC - b.receiverC), Math.abs(a.transmitterC - b.transmitterC));
}

function halfway(a: Temperatures, b: Temperatures): Temperatures {
  return {
    receiverC: (a.receiverC + b.receiverC) / 2,
    cellC: (a.cellC + b.cellC) / 2,
    caseC: (a.caseC + b.caseC) / 2,
    transmitterC: (a.transmitterC + b.transmitterC) / 2,
  };
}

function once(tier: LinkTier, boards: Boards, askedA: number, near: readonly number[]): SolvedLoad {
  const { drive, pickup, thermal } = boards;
  const { regulator } = pickup;
  const loadA = Math.min(askedA, regulator.currentLimit);
  const steered = steer(tier, boards, loadA, near);
  let { delivery } = steered;
  let outputA = loadA;
  let outputV = regulatedV(pickup, loadA, delivery.rectifiedV);
  const floor = regulator.dropoutV + regulator.dropoutResistance * loadA;
  if (steered.outcome === 'collapsed' || (steered.outcome === 'starved' && delivery.rectifiedV < floor)) {
    // The load takes all the link can drive into a collapsed output.
    delivery = mostCurrent(tier, boards, floor);
    outputA = Math.max(0, Math.min(loadA, delivery.rectifierA - regulator.idleCurrent));
    outputV = 0;
  } else if (askedA > loadA) {
    // A load beyond the regulator's limit, taken as the resistance it would be at the nominal voltage.
    outputV *= loadA / askedA;
  }
  const losses = lossesOf(drive, delivery, outputV * outputA);
  return {
    steered,
    delivery,
    outputA,
    outputV,
    temperatures: temperatures(thermal, receiverLoss(losses), transmitterLoss(losses)),
    tier,
  };
}

/** Setting of the largest current into a held voltage within the limits; where nothing flows, the quietest setting. */
function mostCurrent(tier: LinkTier, boards: Boards, rectifiedV: number): Delivery {
  const { drive } = boards;
  let best: Delivery | null = null;
  for (const frequency of windowNodes(drive, tier.scan)) {
    const at = tier.deliver({ frequency, level: 1 }, rectifiedV);
    if (brokenLimit(drive, at) !== null) continue;
    if (best === null || at.rectifierA > best.rectifierA) best = at;
  }
  if (best !== null && best.rectifierA > 0) return best;
  return unloaded(boards, { frequency: drive.frequencyMax, level: 0 });
}

/** Nothing flows: the transmitter draws its standing current only. The current in an unloaded transmitter coil is not counted. */
function unloaded(boards: Boards, setting: Setting): Delivery {
  const { drive } = boards;
  const supplyA = drive.idleCurrent + drive.gateCharge * setting.frequency;
  return { ...NO_DELIVERY, setting, suppliedV: drive.supplyV - drive.supplyResistance * supplyA, supplyA };
}

/** State and the limit behind it for a solved load. */
export function verdict(
  solved: SolvedLoad,
  boards: Boards,
  askedA: number,
  charging: boolean,
): { state: LinkState; limit: Limit | null } {
  const { pickup, thermal } = boards;
  const { regulator, stop } = pickup;
  const { steered, delivery, temperatures: heat } = solved;
  if (delivery.rectifiedV > regulator.overvoltage) return { state: 'overvoltage', limit: 'overvoltage' };
  if (heat.receiverC > thermal.shutdown) return { state: 'hot', limit: 'shutdown' };
  if (charging && heat.cellC > thermal.cellChargeMax) return { state: 'hot', limit: 'cell' };
  if (stop !== null) {
    const losses = lossesOf(boards.drive, delivery, solved.outputV * solved.outputA);
    const unaccounted = losses.receiverCoil + losses.rectifier;
    if (
      (stop.minimumRectifiedV !== null && delivery.rectifiedV < stop.minimumRectifiedV) ||
      (stop.foreignObjectLossW !== null && unaccounted > stop.foreignObjectLossW) ||
      (stop.minimumLoadA !== null && askedA < stop.minimumLoadA)
    ) {
      return { state: 'stopped', limit: 'stopped' };
    }
  }
  if (steered.outcome === 'starved' || steered.outcome === 'collapsed')
    return { state: 'starved', limit: steered.limit };
  if (askedA > regulator.currentLimit) return { state: 'currentLimited', limit: 'regulatorCurrent' };
  if (steered.outcome === 'overfed') return { state: 'overfed', limit: null };
  return { state: 'regulated', limit: steered.limit };
}

/**
 * Closed-loop operating point of the whole link for one load.
 *
 * @param link inductances, mutual inductance and resistance laws at this pose. @param boards both boards and their thermal data.
 * @param loadA load asked at the regulator's output, A, >= 0.
 * @returns state, currents, voltages, losses, temperatures; supply power equals losses plus output power (fast: 1e-12, exact: 1e-8).
 *
 * Accuracy: exact tier: bare circuit within 1e-5 of independent time-domain solutions; fast tier: see README, several per cent, worse at
 * light load and near the bottom of the window at high k.
 */
export function solveOperatingPoint(
  link: LinkElectrical,
  boards: Boards,
  loadA: number,
  options: Partial<OperatingOptions> = OPERATING_DEFAULTS,
): OperatingPoint {
  const { tier, awake, charging } = { ...OPERATING_DEFAULTS, ...options };
  const waking = wakingAt(link, boards, tier);
  if (!waking.wakes && !awake) return asleep(boards, waking.rectifiedV);
  const solved = solveLoad(link, boards, loadA, tier);
  const { steered, temperatures: heat, outputA, outputV } = solved;
  const { state, limit } = verdict(solved, boards, loadA, charging);
  const { drive } = boards;
  // The search stops at a few parts per million of sag; the reported point is solved through.
  const delivery =
    solved.delivery.method === 'periodic'
      ? solved.tier.deliver(solved.delivery.setting, solved.delivery.rectifiedV, true)
      : solved.delivery;
  const losses = lossesOf(drive, delivery, outputV * outputA);
  const bridge = bridgeSetting(drive, delivery.setting.level);
  const drop = 2 * boards.pickup.rectifier.dropV;
  const stress = stressOf(drive, drop, delivery);
  const supplyW = outputV * outputA + totalLoss(losses);
  const opinion = tier === 'exact' ? secondOpinion(link, boards, delivery) : null;
  return {
    state,
    frequency: delivery.setting.frequency,
    duty: bridge.duty,
    bridgeV: delivery.suppliedV * bridge.supplyFraction,
    supplyA: delivery.supplyA,
    outputV,
    outputA,
    rectifiedV: delivery.rectifiedV,
    targetV: steered.targetV,
    neededV: steered.neededV,
    efficiency: supplyW > 0 ? (outputV * outputA) / (drive.supplyV * delivery.supplyA) : 0,
    losses,
    transmitterCoilA: delivery.transmitterA,
    receiverCoilA: delivery.receiverA,
    currentCorrelation: correlation(delivery.currentProduct, delivery.transmitterA * delivery.receiverA, link.m),
    harmonics: (opinion?.harmonics ?? []).slice(1).map(({ order, transmitterA, receiverA, product }) => ({
      order,
      transmitterA,
      receiverA,
      correlation: correlation(product, transmitterA * receiverA, link.m),
    })),
    ...stress,
    receiverC: heat.receiverC,
    cellC: heat.cellC,
    caseC: heat.caseC,
    transmitterC: heat.transmitterC,
    wakes: waking.wakes,
    wakeRectifiedV: waking.rectifiedV,
    method: delivery.method,
    severalPoints: steered.furtherCrossings > 0 || (tier === 'exact' && severalVoltages(solved, boards)),
    methodError: opinion ? Math.abs(opinion.readings.rectifiedV / delivery.rectifiedV - 1) : Number.NaN,
    limitedBy: limit,
    shortfallV: Math.max(0, steered.targetV - delivery.rectifiedV),
  };
}

/** The receiver's current is counted as it leaves its coil, and for a positive mutual inductance: both turn it round. */
function correlation(product: number, scale: number, mutual: number): number {
  if (!(scale > 0)) return 0;
  return (-Math.sign(mutual) * Math.min(scale, Math.max(-scale, product))) / scale;
}

function asleep(boards: Boards, wakeRectifiedV: number): OperatingPoint {
  const { drive, pickup, thermal } = boards;
  const supplyA = drive.standbyPower / drive.supplyV;
  const { ambient } = thermal;
  const heat = temperatures(thermal, 0, drive.standbyPower);
  return {
    state: 'asleep',
    frequency: drive.pingFrequency,
    duty: bridgeSetting(drive, 1).duty,
    bridgeV: drive.supplyV,
    supplyA,
    outputV: 0,
    outputA: 0,
    rectifiedV: 0,
    targetV: pickup.target.highV,
    neededV: pickup.regulator.outputV + pickup.regulator.dropoutV,
    efficiency: 0,
    losses: {
      supply: 0,
      bridge: 0,
      transmitterIdle: drive.standbyPower,
      transmitterCoil: 0,
      receiverCoil: 0,
      rectifier: 0,
      regulator: 0,
    },
    transmitterCoilA: 0,
    receiverCoilA: 0,
    currentCorrelation: 0,
    harmonics: [],
    transmitterCapacitorPeakV: 0,
    receiverCapacitorPeakV: 0,
    transmitterCoilPeakV: 0,
    receiverCoilPeakV: 0,
    highVoltage: false,
    receiverC: ambient,
    cellC: ambient,
    caseC: ambient,
    transmitterC: heat.transmitterC,
    wakes: false,
    wakeRectifiedV,
    method: 'firstHarmonic',
    severalPoints: false,
    methodError: Number.NaN,
    limitedBy: 'asleep',
    shortfallV: Math.max(0, pickup.wakeV - wakeRectifiedV),
  };
}

/** Multiples of the found rectified voltage at which the link's current is compared with the load. */
const VOLTAGE_PROBES = [0.35, 0.65, 1.5, 2.3, 3.4];

/** Whether the same setting and load have another rectified voltage: the link's current crosses the load's more than once. */
function severalVoltages(solved: SolvedLoad, boards: Boards): boolean {
  const { delivery, tier, outputA } = solved;
  if (!(delivery.rectifiedV > 0)) return false;
  for (const factor of VOLTAGE_PROBES) {
    const volts = factor * delivery.rectifiedV;
    const at = tier.deliver(delivery.setting, volts);
    if (at.method !== 'periodic') continue;
    const surplus = at.rectifierA - rectifierDemand(boards.pickup, outputA, volts);
    if (factor > 1 && surplus > 0.02 * Math.max(outputA, 0.02)) return true;
    if (factor < 1 && surplus < -0.02 * Math.max(outputA, 0.02) && boards.pickup.regulator.kind === 'linear')
      return true;
  }
  return false;
}

/** The same point by the multi-harmonic method; null where that one does not apply. */
function secondOpinion(link: LinkElectrical, boards: Boards, delivery: Delivery): MultiHarmonic | null {
  const { drive, pickup } = boards;
  if (!(delivery.rectifierA > 0)) return null;
  const bridge = bridgeSetting(drive, delivery.setting.level);
  const network = {
    l1: link.l1,
    l2: link.l2,
    m: link.m,
    c1: drive.seriesCapacitance,
    cs: pickup.seriesCapacitance,
    r1: delivery.transmitterOhm,
    r2: delivery.receiverOhm,
    cd: pickup.parallelCapacitance,
    ringingResistance: 0,
    rectifierDrop: 2 * pickup.rectifier.dropV,
    rectifierResistance: 2 * pickup.rectifier.resistance,
    reservoir: pickup.reservoirCapacitance,
    loadA: delivery.rectifierA,
  };
  const multi = solveMultiHarmonic(
    network,
    {
      bridge: drive.bridge,
      volts: delivery.suppliedV * bridge.supplyFraction,
      frequency: delivery.setting.frequency,
      duty: bridge.duty,
    },
    delivery.rectifierA,
  );
  return multi?.continuous ? multi : null;
}
