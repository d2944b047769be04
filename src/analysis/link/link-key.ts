import type { Design } from '../../design/types.ts';

/** The parts of a design that a link context depends on. */
export function linkKey(design: Design): string {
  const { transmitter, receiver } = design;
  const drive = transmitter.drive;
  return JSON.stringify([
    transmitter.coil,
    transmitter.ferrite,
    transmitter.metal,
    receiver.coil,
    receiver.ferrite,
    receiver.metal,
    receiver.couplingFactor,
    drive.frequencyMinKhz,
    drive.frequencyMaxKhz,
  ]);
}
