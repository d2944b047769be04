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
import { bridgeHarmonic } from './first-harmonic.ts';
import type { Boards, LinkElectrical } from './types.ts';

/** What does not change while rectified voltage and current vary at one setting. */
interface Prepared {
  readonly setting: Setting;
  readonly omega: number;
  readonly omegaM: number;
  readonly omegaCd: number;
  readonly r1: number;
  readonly x1: number;
  readonly r2: number;
  readonly x2: number;
  /** Amplitude of the bridge's fundamental per volt of supply. */
  readonly perVolt: number;
  /** Dead-time loss per ampere of peak transmitter current, W/A. */
  readonly deadTime: number;
  /** Supply behind the standing current's drop, V. */
  readonly openV: number;
}

/** Everything the first harmonic says about one point: rectified voltage and rectifier current given, bridge voltage asked. */
interface Required {
  /** Supply voltage (after its resistance) that this point needs. */
  neededV: number;
  suppliedV: number;
  overloaded: boolean;
  transmitterPeakA: number;
  receiverPeakA: number;
  linkW: number;
}

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
  const rs = drive.supplyResistance;
  const at: Required = {
    neededV: 0,
    suppliedV: 0,
    overloaded: false,
    transmitterPeakA: 0,
    receiverPeakA: 0,
    linkW: 0,
  };

  const prepare = (setting: Setting): Prepared => {
    const { frequency } = setting;
    const omega = 2 * Math.PI * frequency;
    return {
      setting,
      omega,
      omegaM: omega * mutual,
      omegaCd: omega * pickup.parallelCapacitance,
      r1: transmitterLoop(link, drive, frequency, temperature.transmitterC),
      x1: omega * link.l1 - 1 / (omega * drive.seriesCapacitance),
      r2: receiverLoop(link, pickup, frequency, temperature.receiverC) + rectifierOhm,
      x2: omega * link.l2 - 1 / (omega * pickup.seriesCapacitance),
      perVolt: Math.abs(bridgeHarmonic(bridgeDrive(drive, setting, 1), 1)),
      deadTime: deadTimeLoss(drive, frequency, 1),
      openV: drive.supplyV - rs * standingCurrent(drive, frequency),
    };
  };

  /** Fills `at`; returns how much more voltage the point needs than the supply gives (monotone also where it is overloaded). */
  const excess = (p: Prepared, rectifiedV: number, rectifierA: number): number => {
    const total = rectifiedV + drop;
    const current = (Math.PI / 2) * rectifierA + p.omegaCd * total;
    let vRe = (4 / Math.PI) * total;
    let vIm = 0;
    if (p.omegaCd > 0 && current > 0) {
      const x = current / p.omegaCd;
      const c = 1 - (2 * total) / x;
      vRe *= 1 - total / x;
      vIm = -(x / Math.PI) * (Math.acos(Math.max(-1, c)) - Math.sqrt(Math.max(0, 1 - c * c)) * c);
    }
    const re = p.r2 * current + vRe;
    const im = p.x2 * current + vIm;
    const i1Re = im / p.omegaM;
    const i1Im = -re / p.omegaM;
    const square = i1Re * i1Re + i1Im * i1Im;
    const peak = Math.sqrt(square);
    const v1Re = p.r1 * i1Re - p.x1 * i1Im;
    const v1Im = p.r1 * i1Im + p.x1 * i1Re - p.omegaM * current;
    const linkW = 0.5 * (square * p.r1 + current * re);
    const under = p.openV * p.openV - 4 * rs * (linkW + p.deadTime * peak);
    at.overloaded = under < 0;
    at.suppliedV = at.overloaded ? p.openV / 2 : (p.openV + Math.sqrt(under)) / 2;
    at.neededV = Math.sqrt(v1Re * v1Re + v1Im * v1Im) / p.perVolt;
    at.transmitterPeakA = peak;
    at.receiverPeakA = current;
    at.linkW = linkW;
    return at.neededV - at.suppliedV + (at.overloaded ? linkW : 0);
  };

  const describe = (p: Prepared, rectifiedV: number, rectifierA: number): Delivery => {
    excess(p, rectifiedV, rectifierA);
    const { setting, omega } = p;
    const { duty, supplyFraction } = bridgeSetting(drive, setting.level);
    const bias = drive.bridge === 'half' ? duty * supplyFraction * at.suppliedV : 0;
    const deadTimeW = p.deadTime * at.transmitterPeakA;
    return {
      setting,
      rectifiedV,
      rectifierA,
      transmitterA: at.transmitterPeakA / Math.SQRT2,
      receiverA: at.receiverPeakA / Math.SQRT2,
      transmitterPeakA: at.transmitterPeakA,
      receiverPeakA: at.receiverPeakA,
      transmitterCapacitorPeakV: at.transmitterPeakA / (omega * drive.seriesCapacitance) + bias,
      receiverCapacitorPeakV: at.receiverPeakA / (omega * pickup.seriesCapacitance),
      linkW: at.linkW,
      rectifierLoss: drop * rectifierA + (rectifierOhm * at.receiverPeakA ** 2) / 2,
      ringingLoss: 0,
      transmitterOhm: p.r1,
      receiverOhm: p.r2 - rectifierOhm,
      deadTimeW,
      suppliedV: at.suppliedV,
      supplyA: (at.linkW + deadTimeW) / at.suppliedV + standingCurrent(drive, setting.frequency),
      overloaded: at.overloaded,
      method: 'firstHarmonic',
    };
  };

  /** Current by the closed form that neglects the capacitor's phase and the sag: a start for the root. */
  const firstGuess = (p: Prepared, rectifiedV: number): number => {
    const total = rectifiedV + drop;
    const reflected = (p.omegaM * p.omegaM) / (p.r1 * p.r1 + p.x1 * p.x1);
    const r = p.r2 + reflected * p.r1;
    const x = p.x2 - reflected * p.x1;
    const open2 = reflected * (p.perVolt * p.openV) ** 2;
    const v = (4 * total) / Math.PI;
    const z2 = r * r + x * x;
    const under = v * v * r * r + z2 * (open2 - v * v);
    if (!(under > 0)) return 0;
    return Math.max(0, (2 / Math.PI) * ((Math.sqrt(under) - v * r) / z2 - p.omegaCd * total));
  };

  const deliver = (setting: Setting, rectifiedV: number): Delivery => {
    const p = prepare(setting);
    const atZero = excess(p, rectifiedV, 0);
    if (!(atZero < 0)) return describe(p, rectifiedV, 0);
    // Secant steps from the closed form, kept inside a bracket that shrinks with every evaluation.
    let low = 0;
    let atLow = atZero;
    let high = Number.POSITIVE_INFINITY;
    let atHigh = Number.NaN;
    let x = firstGuess(p, rectifiedV);
    if (!(x > 0)) x = 0.01;
    for (let k = 0; k < 12; k++) {
      const fx = excess(p, rectifiedV, x);
      if (Math.abs(fx) < 1e-13 * p.openV) return describe(p, rectifiedV, x);
      if (fx < 0) {
        low = x;
        atLow = fx;
      } else {
        high = x;
        atHigh = fx;
      }
      const h = 1e-6 * (x + 1e-3);
      const slope = (excess(p, rectifiedV, x + h) - fx) / h;
      const newton = x - fx / slope;
      if (newton > low && newton < high) {
        if (Math.abs(newton - x) < 1e-13 * x) return describe(p, rectifiedV, newton);
        x = newton;
      } else x = high === Number.POSITIVE_INFINITY ? 2 * x : (low + high) / 2;
    }
    for (let k = 0; k < 60 && high === Number.POSITIVE_INFINITY; k++) {
      x = 2 * Math.max(low, 1e-3);
      const fx = excess(p, rectifiedV, x);
      if (fx < 0) {
        low = x;
        atLow = fx;
      } else {
        high = x;
        atHigh = fx;
      }
    }
    const root = bracketedRoot((i) => excess(p, rectifiedV, i), low, high, atLow, atHigh, { xTolerance: 1e-13 });
    return describe(p, rectifiedV, root.value);
  };

  const settle = (setting: Setting, demand: (rectifiedV: number) => number, guessV: number): Delivery | null => {
    // Needed minus available rises with voltage for a constant current; a constant-power load can give two crossings: take the upper.
    const p = prepare(setting);
    const f = (rectifiedV: number) => excess(p, rectifiedV, demand(rectifiedV));
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
    return describe(p, root.value, demand(root.value));
  };

  return { method: 'firstHarmonic', scan: 48, tolerance: 1e-10, deliver, settle };
}
