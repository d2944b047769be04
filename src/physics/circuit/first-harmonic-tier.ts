import { bracketedRoot } from '../../numerics/bracketed-root.ts';
import {
  bridgeDrive,
  bridgeSetting,
  deadTimeLoss,
  receiverLoop,
  type Setting,
  standingCurrent,
  transmitterLoop,
} from './board-model.ts';
import type { Delivery, LinkTier } from './delivery.ts';
import { bridgeHarmonic, rectifierVoltage } from './first-harmonic.ts';
import {
  DEAD_TIME,
  deliveredCurrent,
  LINK_W,
  OMEGA_CD,
  OMEGA_M,
  OPEN_V,
  OVERLOADED,
  PER_VOLT,
  R1,
  R2,
  RECEIVER_PEAK,
  RESULT_SIZE,
  requiredExcess,
  SETTING_SIZE,
  SUPPLIED_V,
  SUPPLY_OHM,
  TRANSMITTER_PEAK,
  X1,
  X2,
} from './first-harmonic-kernel.ts';
import type { Boards, LinkElectrical } from './types.ts';

/**
 * The link by its first harmonic, with the parallel capacitor's exact waveform and the supply's resistance.
 *
 * Works from the receiver backwards: rectified voltage and current give both coil currents, the power and the bridge voltage that
 * is needed, all in closed form; a setting is then the root of needed = available, which rises with current and with voltage.
 */
export function firstHarmonicTier(
  link: LinkElectrical,
  boards: Boards,
  temperature: { readonly transmitterC: number; readonly receiverC: number },
): LinkTier {
  const { drive, pickup } = boards;
  const mutual = Math.abs(link.m);
  const drop = 2 * pickup.rectifier.dropV;
  const rectifierOhm = 2 * pickup.rectifier.resistance;
  const at = new Float64Array(RESULT_SIZE);

  const prepare = (setting: Setting): Float64Array => {
    const { frequency } = setting;
    const omega = 2 * Math.PI * frequency;
    const p = new Float64Array(SETTING_SIZE);
    p[OMEGA_M] = omega * mutual;
    p[OMEGA_CD] = omega * pickup.parallelCapacitance;
    p[R1] = transmitterLoop(link, drive, frequency, temperature.transmitterC);
    p[X1] = omega * link.l1 - 1 / (omega * drive.seriesCapacitance);
    p[R2] = receiverLoop(link, pickup, frequency, temperature.receiverC) + rectifierOhm;
    p[X2] = omega * link.l2 - 1 / (omega * pickup.seriesCapacitance);
    p[PER_VOLT] = Math.abs(bridgeHarmonic(bridgeDrive(drive, setting, 1), 1));
    p[DEAD_TIME] = deadTimeLoss(drive, frequency, 1);
    p[OPEN_V] = drive.supplyV - drive.supplyResistance * standingCurrent(drive, frequency);
    p[SUPPLY_OHM] = drive.supplyResistance;
    return p;
  };

  const describe = (setting: Setting, p: Float64Array, rectifiedV: number, rectifierA: number): Delivery => {
    requiredExcess(p, rectifiedV + drop, rectifierA, at);
    const omega = 2 * Math.PI * setting.frequency;
    const { duty, supplyFraction } = bridgeSetting(drive, setting.level);
    const bias = drive.bridge === 'half' ? duty * supplyFraction * at[SUPPLIED_V] : 0;
    const deadTimeW = p[DEAD_TIME] * at[TRANSMITTER_PEAK];
    return {
      setting,
      rectifiedV,
      rectifierA,
      transmitterA: at[TRANSMITTER_PEAK] / Math.SQRT2,
      receiverA: at[RECEIVER_PEAK] / Math.SQRT2,
      currentProduct: productOf(p, at[RECEIVER_PEAK], rectifiedV + drop),
      transmitterPeakA: at[TRANSMITTER_PEAK],
      receiverPeakA: at[RECEIVER_PEAK],
      transmitterCapacitorPeakV: at[TRANSMITTER_PEAK] / (omega * drive.seriesCapacitance) + bias,
      receiverCapacitorPeakV: at[RECEIVER_PEAK] / (omega * pickup.seriesCapacitance),
      linkW: at[LINK_W],
      rectifierLoss: drop * rectifierA + (rectifierOhm * at[RECEIVER_PEAK] ** 2) / 2,
      ringingLoss: 0,
      transmitterOhm: p[R1],
      receiverOhm: p[R2] - rectifierOhm,
      deadTimeW,
      suppliedV: at[SUPPLIED_V],
      supplyA: (at[LINK_W] + deadTimeW) / at[SUPPLIED_V] + standingCurrent(drive, setting.frequency),
      overloaded: at[OVERLOADED] > 0,
      method: 'firstHarmonic',
    };
  };

  const deliver = (setting: Setting, rectifiedV: number): Delivery => {
    const p = prepare(setting);
    return describe(setting, p, rectifiedV, deliveredCurrent(p, rectifiedV + drop, at));
  };

  const settle = (setting: Setting, demand: (rectifiedV: number) => number, guessV: number): Delivery | null => {
    // Needed minus available rises with voltage for a constant current; a constant-power load can give two crossings: take the upper.
    const p = prepare(setting);
    const f = (rectifiedV: number) => requiredExcess(p, rectifiedV + drop, demand(rectifiedV), at);
    let high = Math.max(guessV, 0.1);
    let atHigh = f(high);
    for (let k = 0; k < 40 && atHigh <= 0; k++) {
      high *= 1.6;
      atHigh = f(high);
    }
    let low = high;
    let atLow = atHigh;
    for (let k = 0; k < 60 && atLow > 0; k++) {
      high = low;
      atHigh = atLow;
      low = low > 0.05 ? low * 0.9 : 0;
      atLow = f(low);
      if (low === 0 && atLow > 0) return null;
    }
    const root = bracketedRoot(f, low, high, atLow, atHigh, { xTolerance: 1e-13 });
    if (!root.converged) return null;
    return describe(setting, p, root.value, demand(root.value));
  };

  return { method: 'firstHarmonic', scan: 36, tolerance: 1e-10, deliver, settle };
}

/** Mean product of the coil currents, A^2: j wM I1 = Z2 I2 + V2 with I2 as phase reference. */
function productOf(p: Float64Array, receiverPeakA: number, total: number): number {
  if (!(p[OMEGA_M] > 0)) return 0;
  const reactive = p[X2] * receiverPeakA + rectifierVoltage(receiverPeakA, total, p[OMEGA_CD]).imaginary;
  return (reactive / p[OMEGA_M]) * (receiverPeakA / 2);
}
