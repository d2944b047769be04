import { standingCurrent } from './board-model.ts';
import type { Delivery } from './delivery.ts';
import type { Drive, Losses } from './types.ts';

/** Loss by part for a delivery and the output it feeds, W: supply power = sum of losses + output power. */
export function lossesOf(drive: Drive, delivery: Delivery, outputW: number): Losses {
  const switches = (drive.bridge === 'full' ? 2 : 1) * drive.switchResistance;
  const square1 = delivery.transmitterA ** 2;
  return {
    supply: drive.supplyResistance * delivery.supplyA ** 2,
    bridge: switches * square1 + delivery.deadTimeW,
    transmitterIdle: standingCurrent(drive, delivery.setting.frequency) * delivery.suppliedV,
    transmitterCoil: (delivery.transmitterOhm - switches) * square1,
    receiverCoil: delivery.receiverOhm * delivery.receiverA ** 2 + delivery.ringingLoss,
    rectifier: delivery.rectifierLoss,
    regulator: delivery.rectifiedV * delivery.rectifierA - outputW,
  };
}

export function receiverLoss(losses: Losses): number {
  return losses.receiverCoil + losses.rectifier + losses.regulator;
}

export function transmitterLoss(losses: Losses): number {
  return losses.bridge + losses.transmitterIdle + losses.transmitterCoil;
}

export function totalLoss(losses: Losses): number {
  return losses.supply + receiverLoss(losses) + transmitterLoss(losses);
}
