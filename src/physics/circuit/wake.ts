import { WAKE_LOAD_A } from './board-model.ts';
import { firstHarmonicTier } from './first-harmonic-tier.ts';
import { periodicTier } from './periodic-tier.ts';
import type { Boards, LinkElectrical, SolverMethod } from './types.ts';

export interface Waking {
  /** Rectified voltage at the ping frequency under a milliampere, V; 0 where the link does not reach the rectifier's drop. */
  readonly rectifiedV: number;
  readonly wakes: boolean;
  readonly method: SolverMethod;
}

/**
 * Whether the receiver reaches its wake voltage at the ping frequency under a milliampere of load, at ambient temperature.
 *
 * At light load the first harmonic can be 25 % low or high, since the rectifier conducts in short pulses: maps that use it should be
 * corrected at sampled poses (`correctionAt`).
 */
export function wakingAt(link: LinkElectrical, boards: Boards, method: 'fast' | 'exact'): Waking {
  const { drive, pickup, thermal } = boards;
  const cold = { transmitterC: thermal.ambient, receiverC: thermal.ambient };
  const fast = firstHarmonicTier(link, boards, cold);
  const setting = { frequency: drive.pingFrequency, level: 1 };
  const demand = () => WAKE_LOAD_A;
  if (method === 'exact') {
    const exact = periodicTier(link, boards, cold);
    const settled = exact.settle(setting, demand, pickup.wakeV);
    if (settled !== null) return waking(settled.rectifiedV, pickup.wakeV, 'periodic');
    // No steady state under that load: judge by the current at the wake voltage, which is the more robust question.
    const held = exact.deliver(setting, pickup.wakeV);
    if (held.method === 'periodic' && held.rectifierA >= WAKE_LOAD_A)
      return { rectifiedV: pickup.wakeV, wakes: true, method: 'periodic' };
  }
  const settled = fast.settle(setting, demand, pickup.wakeV);
  return waking(settled?.rectifiedV ?? 0, pickup.wakeV, 'firstHarmonic');
}

function waking(rectifiedV: number, wakeV: number, method: SolverMethod): Waking {
  return { rectifiedV: Math.max(0, rectifiedV), wakes: rectifiedV >= wakeV, method };
}
