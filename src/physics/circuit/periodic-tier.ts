import { bracketedRoot } from '../../numerics/bracketed-root.ts';
import {
  bridgeDrive,
  deadTimeLoss,
  receiverLoop,
  ringingResistance,
  type Setting,
  supplyDraw,
  transmitterLoop,
} from './board-model.ts';
import type { Delivery, LinkTier } from './delivery.ts';
import { firstHarmonicTier } from './first-harmonic-tier.ts';
import { type PeriodicSolution, solveHeldVoltage, solveLoadCurrent } from './periodic-operation.ts';
import type { FlowCache } from './periodic-steady-state.ts';
import type { SwitchedNetwork } from './switched-network.ts';
import type { Boards, LinkElectrical } from './types.ts';

/** Relative change of the supply voltage at which the sag counts as settled: while searching, and for a reported point. */
const SAG_TOLERANCE = 2e-6;
const FINAL_SAG_TOLERANCE = 1e-12;
const MOST_SAG_STEPS = 12;
const EMPTY_CACHE: FlowCache = { network: null, frequency: 0, duty: 0, flow: null };

/**
 * The link by the periodic steady state of its switched circuit, with the supply's resistance.
 *
 * Keeps the last solution as the start of the next: ask in order of nearby settings. Where no periodic state is found the first
 * harmonic answers instead and says so in `method`.
 */
export function periodicTier(
  link: LinkElectrical,
  boards: Boards,
  temperature: { readonly transmitterC: number; readonly receiverC: number },
): LinkTier & { solves: () => number } {
  const { drive, pickup } = boards;
  const fallback = firstHarmonicTier(link, boards, temperature);
  let guess: Float64Array | null = null;
  let suppliedV = drive.supplyV;
  let solves = 0;

  const networkAt = (frequency: number, loadA: number): SwitchedNetwork => ({
    l1: link.l1,
    l2: link.l2,
    m: link.m,
    c1: drive.seriesCapacitance,
    cs: pickup.seriesCapacitance,
    r1: transmitterLoop(link, drive, frequency, temperature.transmitterC),
    r2: receiverLoop(link, pickup, frequency, temperature.receiverC),
    cd: pickup.parallelCapacitance,
    ringingResistance: ringingResistance(link, pickup, frequency, temperature.receiverC),
    rectifierDrop: 2 * pickup.rectifier.dropV,
    rectifierResistance: 2 * pickup.rectifier.resistance,
    reservoir: pickup.reservoirCapacitance,
    loadA,
  });

  /** Repeats a solve until the supply voltage it used is the one it leaves. */
  const withSag = (
    setting: Setting,
    final: boolean,
    solve: (volts: number) => PeriodicSolution | null,
  ): Delivery | null => {
    let found: PeriodicSolution | null = null;
    let volts = suppliedV;
    let previousVolts = Number.NaN;
    let previousError = Number.NaN;
    for (let k = 0; k < MOST_SAG_STEPS; k++) {
      found = solve(volts);
      solves++;
      if (found === null) return null;
      guess = found.state.start;
      const { readings } = found;
      const deadTimeW = deadTimeLoss(drive, setting.frequency, readings.transmitterPeakA);
      const draw = supplyDraw(drive, readings.bridgeW + deadTimeW, setting.frequency);
      const error = draw.suppliedV - volts;
      const done = Math.abs(error) <= (final ? FINAL_SAG_TOLERANCE : SAG_TOLERANCE) * volts;
      if (done || k === MOST_SAG_STEPS - 1) {
        suppliedV = volts;
        return deliveryOf(setting, found, volts, draw.overloaded, deadTimeW);
      }
      // Secant on the sag: the plain repetition contracts by the share of the drop only.
      let next = draw.suppliedV;
      if (k > 0 && error !== previousError) {
        const secant = volts - (error * (volts - previousVolts)) / (error - previousError);
        if (secant > 0.3 * drive.supplyV && secant <= drive.supplyV) next = secant;
      }
      previousVolts = volts;
      previousError = error;
      volts = next;
    }
    return null;
  };

  const deliveryOf = (
    setting: Setting,
    { readings }: PeriodicSolution,
    volts: number,
    overloaded: boolean,
    deadTimeW: number,
  ): Delivery => ({
    setting,
    rectifiedV: readings.rectifiedV,
    rectifierA: readings.rectifierA,
    transmitterA: readings.transmitterA,
    receiverA: readings.receiverA,
    currentProduct: readings.currentProduct,
    transmitterPeakA: readings.transmitterPeakA,
    receiverPeakA: readings.receiverPeakA,
    transmitterCapacitorPeakV: readings.transmitterCapacitorPeakV,
    receiverCapacitorPeakV: readings.receiverCapacitorPeakV,
    linkW: readings.bridgeW,
    rectifierLoss: readings.rectifierLoss,
    ringingLoss: readings.ringingLoss,
    transmitterOhm: transmitterLoop(link, drive, setting.frequency, temperature.transmitterC),
    receiverOhm: receiverLoop(link, pickup, setting.frequency, temperature.receiverC),
    deadTimeW,
    suppliedV: volts,
    supplyA: (readings.bridgeW + deadTimeW) / volts + drive.idleCurrent + drive.gateCharge * setting.frequency,
    overloaded,
    method: 'periodic',
  });

  const deliver = (setting: Setting, rectifiedV: number, final = false): Delivery => {
    const network = networkAt(setting.frequency, 0);
    const options = { quick: !final, cache: { ...EMPTY_CACHE } };
    const found = withSag(setting, final, (volts) =>
      solveHeldVoltage(network, bridgeDrive(drive, setting, volts), rectifiedV, guess, options),
    );
    return found ?? fallback.deliver(setting, rectifiedV);
  };

  const settle = (
    setting: Setting,
    demand: (rectifiedV: number) => number,
    guessV: number,
    final = false,
  ): Delivery | null => {
    const asked = demand(guessV);
    if (Math.abs(demand(0.7 * guessV) - asked) < 1e-12) {
      const network = networkAt(setting.frequency, Math.max(asked, 1e-6));
      const options = { quick: !final, cache: { ...EMPTY_CACHE } };
      return withSag(setting, final, (supply) =>
        solveLoadCurrent(network, bridgeDrive(drive, setting, supply), guess, options),
      );
    }
    return settleVarying(setting, demand, guessV, final);
  };

  /** A load that depends on voltage: the held-voltage current against it, from the guess to the nearest crossing, upwards first. */
  const settleVarying = (
    setting: Setting,
    demand: (rectifiedV: number) => number,
    guessV: number,
    final: boolean,
  ): Delivery | null => {
    const surplus = (volts: number) => deliver(setting, volts).rectifierA - demand(volts);
    let high = guessV;
    let atHigh = surplus(high);
    let low = high;
    let atLow = atHigh;
    for (let k = 0; k < 12 && atHigh > 0; k++) {
      low = high;
      atLow = atHigh;
      high *= 1.35;
      atHigh = surplus(high);
    }
    for (let k = 0; k < 14 && atLow <= 0; k++) {
      high = low;
      atHigh = atLow;
      low *= 0.8;
      atLow = surplus(low);
    }
    if (!(atLow > 0 && atHigh <= 0)) return null;
    const root = bracketedRoot(surplus, low, high, atLow, atHigh, {
      xTolerance: 1e-9 * high,
      fTolerance: 1e-9,
      maxEvaluations: 60,
    });
    return root.converged ? deliver(setting, root.value, final) : null;
  };

  return { method: 'periodic', scan: 8, tolerance: 1e-5, deliver, settle, solves: () => solves };
}
