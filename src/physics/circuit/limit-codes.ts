import type { Limit } from './types.ts';

/** Limits in the order of their codes in batches. */
export const LIMIT_CODES: readonly Limit[] = Object.freeze([
  'link',
  'regulatorCurrent',
  'coilCurrent',
  'supplyCurrent',
  'shutdown',
  'cell',
  'touch',
  'overvoltage',
  'asleep',
  'stopped',
  'supplySag',
]);

export const LINK = 0;
export const REGULATOR = 1;
export const COIL = 2;
export const SUPPLY = 3;
export const SHUTDOWN = 4;
export const CELL = 5;
export const TOUCH = 6;
export const OVERVOLTAGE = 7;
export const STOPPED = 9;
export const SAG = 10;
