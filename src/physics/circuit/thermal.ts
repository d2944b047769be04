import type { Thermal } from './types.ts';

/**
 * Share of a path to ambient that lies outside the case: film to the air against what lies between the parts and the case.
 * Common practice, no source: in a small plastic case still air is the larger part.
 */
export const CASE_SHARE = 0.6;

export interface Temperatures {
  readonly receiverC: number;
  readonly cellC: number;
  readonly caseC: number;
  readonly transmitterC: number;
}

/**
 * Steady temperatures of the small network receiver - cell - case, and of the transmitter.
 *
 * The receiver's parts lose heat to ambient through the case directly and through the cell; the cell itself does not heat.
 * The case is taken at the warmest point of both paths, behind `CASE_SHARE` of the path's resistance.
 *
 * @param receiverW loss of coil, capacitor, rectifier and regulator, W. @param transmitterW loss of the transmitter, W.
 */
export function temperatures(thermal: Thermal, receiverW: number, transmitterW: number): Temperatures {
  const { ambient, receiverResistance, receiverToCell, cellToAmbient } = thermal;
  const throughCell = receiverToCell + cellToAmbient;
  const effective = (receiverResistance * throughCell) / (receiverResistance + throughCell);
  const receiverRise = effective * receiverW;
  const cellRise = (receiverRise * cellToAmbient) / throughCell;
  return {
    receiverC: ambient + receiverRise,
    cellC: ambient + cellRise,
    caseC: ambient + CASE_SHARE * Math.max(receiverRise, cellRise),
    transmitterC: ambient + thermal.transmitterResistance * transmitterW,
  };
}
