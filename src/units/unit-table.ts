/** Physical quantities the program reads and prints, with the phrase used when a wrong one was typed. */
export type QuantityName =
  | 'length'
  | 'angle'
  | 'inductance'
  | 'capacitance'
  | 'resistance'
  | 'frequency'
  | 'voltage'
  | 'current'
  | 'charge'
  | 'power'
  | 'energy'
  | 'time'
  | 'mass'
  | 'force'
  | 'temperature'
  | 'thermalResistance'
  | 'conductivity'
  | 'fluxDensity'
  | 'ratio'
  | 'count';

/** One unit as it may stand behind a number. `exponent` is the power of ten to the SI unit, `scale` a further factor. */
export interface UnitEntry {
  readonly symbol: string;
  readonly quantity: QuantityName;
  /** The symbol without prefix, to which engineering prefixes attach; null where prefixes make no sense. */
  readonly stem: string | null;
  readonly exponent: number;
  readonly scale: number;
}

function entry(symbol: string, quantity: QuantityName, stem: string | null, exponent: number, scale = 1): UnitEntry {
  return Object.freeze({ symbol, quantity, stem, exponent, scale });
}

/**
 * Units used in the design file, on the page and by the command line. Decimal prefixes: SI Brochure, 9th edition (2019),
 * table 7. Non-SI units in use with the SI (degree, hour, ampere hour): the same, table 8.
 */
export const UNITS = Object.freeze({
  m: entry('m', 'length', 'm', 0),
  mm: entry('mm', 'length', 'm', -3),
  rad: entry('rad', 'angle', null, 0),
  deg: entry('°', 'angle', null, 0, Math.PI / 180),
  H: entry('H', 'inductance', 'H', 0),
  uH: entry('µH', 'inductance', 'H', -6),
  F: entry('F', 'capacitance', 'F', 0),
  uF: entry('µF', 'capacitance', 'F', -6),
  nF: entry('nF', 'capacitance', 'F', -9),
  ohm: entry('Ω', 'resistance', 'Ω', 0),
  mohm: entry('mΩ', 'resistance', 'Ω', -3),
  kohm: entry('kΩ', 'resistance', 'Ω', 3),
  Hz: entry('Hz', 'frequency', 'Hz', 0),
  kHz: entry('kHz', 'frequency', 'Hz', 3),
  V: entry('V', 'voltage', 'V', 0),
  mV: entry('mV', 'voltage', 'V', -3),
  A: entry('A', 'current', 'A', 0),
  mA: entry('mA', 'current', 'A', -3),
  C: entry('C', 'charge', 'C', 0),
  nC: entry('nC', 'charge', 'C', -9),
  Ah: entry('Ah', 'charge', 'Ah', 0, 3600),
  W: entry('W', 'power', 'W', 0),
  Wh: entry('Wh', 'energy', 'Wh', 0, 3600),
  s: entry('s', 'time', 's', 0),
  ms: entry('ms', 'time', 's', -3),
  ns: entry('ns', 'time', 's', -9),
  h: entry('h', 'time', null, 0, 3600),
  kg: entry('kg', 'mass', 'g', 0),
  g: entry('g', 'mass', 'g', -3),
  N: entry('N', 'force', 'N', 0),
  degC: entry('°C', 'temperature', null, 0),
  'K/W': entry('K/W', 'thermalResistance', null, 0),
  'S/m': entry('S/m', 'conductivity', 'S/m', 0),
  'MS/m': entry('MS/m', 'conductivity', 'S/m', 6),
  T: entry('T', 'fluxDensity', 'T', 0),
  mT: entry('mT', 'fluxDensity', 'T', -3),
  '%': entry('%', 'ratio', null, -2),
  '1': entry('', 'ratio', null, 0),
  turns: entry('turns', 'count', null, 0),
  count: entry('', 'count', null, 0),
});

/** Name of a unit in `UNITS`. */
export type UnitName = keyof typeof UNITS;
