import { UNITS, type UnitName } from './unit-table.ts';

export interface FormatOptions {
  /** Half-width of the uncertainty in the value's unit; it sets the digits and is printed after the value. */
  readonly error?: number;
  /** Significant digits where no uncertainty is given. */
  readonly digits: number;
  /** Between number and unit: a thin space on the page, a plain one in a terminal. */
  readonly space: string;
  /** Keep the unit as given instead of choosing a prefix. */
  readonly fixedUnit: boolean;
}

const FORMAT_OPTIONS: FormatOptions = Object.freeze({ digits: 3, space: '\u2009', fixedUnit: false });

/** SI Brochure, 9th edition (2019), table 7: the prefixes whose powers are multiples of three. */
const PREFIXES: Readonly<Record<number, string>> = Object.freeze({
  '-15': 'f',
  '-12': 'p',
  '-9': 'n',
  '-6': 'µ',
  '-3': 'm',
  0: '',
  3: 'k',
  6: 'M',
  9: 'G',
  12: 'T',
});

const MINUS = '\u2212';

/** `toFixed` with a true minus sign and no negative zero. */
function fixed(value: number, decimals: number): string {
  const text = Math.abs(value).toFixed(Math.min(Math.max(decimals, 0), 20));
  return value < 0 && Number(text) !== 0 ? MINUS + text : text;
}

/** Rounds to tens, hundreds ... where the place is before the decimal point; `fixed` does the rest. */
function roundTo(value: number, place: number): number {
  return place > 0 ? Math.round(value / 10 ** place) * 10 ** place : value;
}

/** Decimal place of the last digit worth printing for an error: two digits while they begin with 1 or 2, else one. */
function lastPlace(error: number): number {
  const exponent = Math.floor(Math.log10(error));
  const lead = error / 10 ** exponent;
  return lead < 2.95 ? exponent - 1 : exponent;
}

interface Scale {
  /** Printed number = value / factor. */
  readonly factor: number;
  readonly symbol: string;
}

/** The prefix that brings `magnitude` (in `unit`) between 1 and 1000, after rounding to `digits`. */
function scaleFor(magnitude: number, unit: UnitName, digits: number, fixedUnit: boolean): Scale {
  const { stem, symbol, exponent, quantity } = UNITS[unit];
  if (fixedUnit || stem === null || !(magnitude > 0) || !Number.isFinite(magnitude)) return { factor: 1, symbol };
  // The prefix of a mass goes to the gram, which is itself a thousandth of the SI unit.
  const own = quantity === 'mass' ? exponent + 3 : exponent;
  const rounded = Number(magnitude.toPrecision(Math.min(Math.max(digits, 1), 15)));
  const power = Math.floor((Math.log10(rounded) + own) / 3 + 1e-9) * 3;
  const kept = Math.min(Math.max(power, -15), 12);
  return { factor: 10 ** (kept - own), symbol: `${PREFIXES[kept]}${stem}` };
}

function joined(number: string, symbol: string, space: string): string {
  if (symbol === '') return number;
  return symbol === '°' ? `${number}°` : `${number}${space}${symbol}`;
}

/** Significant digits that an error leaves of a value, 1 to 7. */
function digitsLeft(value: number, error: number): number {
  if (!(error > 0) || value === 0) return 7;
  return Math.min(Math.max(Math.floor(Math.log10(Math.abs(value))) - lastPlace(error) + 1, 1), 7);
}

/**
 * A value with its unit, an engineering prefix and as many digits as make sense: `5.90 µH`, `5.90 ± 0.04 µH`, `−3.1°`.
 *
 * @param value in `unit`; NaN prints as a dash.
 * @param options `error`: half-width in the same unit. Without it, `digits` significant digits.
 */
export function formatQuantity(value: number, unit: UnitName, options: Partial<FormatOptions> = {}): string {
  const { digits, space, fixedUnit, error } = { ...FORMAT_OPTIONS, ...options };
  const symbol = UNITS[unit].symbol;
  if (Number.isNaN(value)) return '–';
  if (!Number.isFinite(value)) return joined(value < 0 ? `${MINUS}∞` : '∞', symbol, space);
  const known = error !== undefined && error > 0 && Number.isFinite(error);
  const magnitude = Math.max(Math.abs(value), known ? error : 0);
  const shown = known ? Math.max(digitsLeft(value, error), 1) : digits;
  const scale = scaleFor(magnitude, unit, shown, fixedUnit);
  const scaled = value / scale.factor;
  if (known) {
    const scaledError = error / scale.factor;
    // Never more than seven digits: beyond, the model's own limits are larger than any numerical error.
    const floor = magnitude > 0 ? Math.floor(Math.log10(magnitude / scale.factor)) - 6 : -6;
    const place = Math.max(lastPlace(scaledError), floor);
    const round = (x: number) => roundTo(x, place);
    // An error below the last place shown is rounded up to it, never to zero.
    const errorText = fixed(Math.max(round(scaledError), 10 ** place), -place);
    const text = `${fixed(round(scaled), -place)} ± ${errorText}`;
    return joined(symbol === '°' ? `(${text})` : text, scale.symbol, space);
  }
  if (scaled === 0) return joined('0', scale.symbol, space);
  const decimals = digits - 1 - Math.floor(Math.log10(Math.abs(Number(scaled.toPrecision(digits)))));
  return joined(fixed(Number(scaled.toPrecision(Math.min(digits, 15))), decimals), scale.symbol, space);
}

/** A range with one unit: `6.4–7.8 mm`; the digits follow from its width. */
export function formatBand(low: number, high: number, unit: UnitName, options: Partial<FormatOptions> = {}): string {
  const { digits, space, fixedUnit } = { ...FORMAT_OPTIONS, ...options };
  if (Number.isNaN(low) || Number.isNaN(high)) return '–';
  const width = Math.abs(high - low);
  const magnitude = Math.max(Math.abs(low), Math.abs(high));
  if (!(width > 1e-6 * magnitude) || !Number.isFinite(magnitude)) {
    return formatQuantity(Number.isFinite(high) ? (low + high) / 2 : high, unit, { digits, space, fixedUnit });
  }
  const scale = scaleFor(magnitude, unit, 6, fixedUnit);
  const place = lastPlace(width / scale.factor);
  const text = (x: number) => fixed(roundTo(x / scale.factor, place), -place);
  const joint = low < 0 || high < 0 ? ' to ' : '–';
  return joined(`${text(low)}${joint}${text(high)}`, scale.symbol, space);
}

/**
 * A value in its own unit, rounded where its band is rounded, so that it never stands outside of it: 36.5 °C in 35.8–36.6 °C.
 *
 * @param options `digits`: significant digits at least, which may be more than the band leaves; none by default.
 */
export function formatInBand(
  value: number,
  low: number,
  high: number,
  unit: UnitName,
  options: { readonly space?: string; readonly digits?: number } = {},
): string {
  const { space = FORMAT_OPTIONS.space, digits = 0 } = options;
  const width = Math.abs(high - low);
  if (!Number.isFinite(value) || !Number.isFinite(width) || !(width > 1e-6 * Math.abs(value))) {
    return formatQuantity(value, unit, { space, fixedUnit: true, ...(digits > 0 ? { digits } : {}) });
  }
  const wanted = digits > 0 && value !== 0 ? Math.floor(Math.log10(Math.abs(value))) - digits + 1 : Infinity;
  const place = Math.min(lastPlace(width), wanted);
  return joined(fixed(roundTo(value, place), -place), UNITS[unit].symbol, space);
}

/** A value that was given rather than computed: every digit it has, in its own unit, no trailing zeros. */
export function formatGiven(value: number, unit: UnitName, space: string = FORMAT_OPTIONS.space): string {
  if (!Number.isFinite(value)) return formatQuantity(value, unit, { space });
  const text = String(Number(value.toPrecision(12))).replace('-', MINUS);
  return joined(text, UNITS[unit].symbol, space);
}
