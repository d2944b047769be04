import type { Delivery } from './delivery.ts';
import type { Drive } from './types.ts';

/** Peak voltage above which resonant parts carry a caution, V. Common practice, no source: the usual touch limit is 60 V dc, less when wet. */
export const CAUTION_VOLTAGE = 50;

export interface Stress {
  readonly transmitterCapacitorPeakV: number;
  readonly receiverCapacitorPeakV: number;
  readonly transmitterCoilPeakV: number;
  readonly receiverCoilPeakV: number;
  readonly highVoltage: boolean;
}

/**
 * Peak voltages at the resonant parts.
 *
 * Coil voltages are bounds by their loops: the coil carries what its capacitor, the bridge (or the rectifier) and the loop's resistance
 * leave, each at its peak. Good to a few per cent near resonance, where the capacitor's share dominates; never low.
 */
export function stressOf(drive: Drive, rectifierDrop: number, delivery: Delivery): Stress {
  const bridgeSwing = drive.bridge === 'full' ? delivery.suppliedV : delivery.suppliedV / 2;
  const bias = drive.bridge === 'full' ? 0 : delivery.suppliedV / 2;
  const transmitterCoilPeakV =
    Math.max(0, delivery.transmitterCapacitorPeakV - bias) +
    bridgeSwing +
    delivery.transmitterOhm * delivery.transmitterPeakA;
  const receiverCoilPeakV =
    delivery.receiverCapacitorPeakV +
    delivery.rectifiedV +
    rectifierDrop +
    delivery.receiverOhm * delivery.receiverPeakA;
  return {
    transmitterCapacitorPeakV: delivery.transmitterCapacitorPeakV,
    receiverCapacitorPeakV: delivery.receiverCapacitorPeakV,
    transmitterCoilPeakV,
    receiverCoilPeakV,
    highVoltage:
      Math.max(
        delivery.transmitterCapacitorPeakV,
        delivery.receiverCapacitorPeakV,
        transmitterCoilPeakV,
        receiverCoilPeakV,
      ) > CAUTION_VOLTAGE,
  };
}
