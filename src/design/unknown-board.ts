import type { Design } from './types.ts';

/** What a design may say it does not know of its transmitter board. The stated values then are guesses. */
export const DRIVE_UNKNOWNS = ['supply', 'frequency', 'capacitor', 'control'] as const;
/** And of its receiver board. */
export const PICKUP_UNKNOWNS = ['capacitor'] as const;

export type DriveUnknown = (typeof DRIVE_UNKNOWNS)[number];
export type PickupUnknown = (typeof PICKUP_UNKNOWNS)[number];

/**
 * How far a stated value may be off where the design says that it is not known, 95 % half-width in percent. Common practice,
 * no source: supplies of small boards, the windows of their controllers, resonances near 100 kHz within a tenth and a tenth
 * for the part. What is not a number (the control) enters only the bounds over plausible boards.
 */
export const UNKNOWN_PERCENT = Object.freeze({ supply: 30, frequency: 10, capacitor: 25 });

/** The tolerance of a board's value: as stated, or the wide one of a value that is not known. */
export function boardPercent(stated: number, unknown: readonly string[], what: keyof typeof UNKNOWN_PERCENT): number {
  return unknown.includes(what) ? Math.max(stated, UNKNOWN_PERCENT[what]) : stated;
}

/** The design as if it knew its boards. */
export function knownBoards(design: Design): Design {
  const { transmitter, receiver } = design;
  return {
    ...design,
    transmitter: { ...transmitter, drive: { ...transmitter.drive, unknown: [] } },
    receiver: { ...receiver, pickup: { ...receiver.pickup, unknown: [] } },
  };
}
