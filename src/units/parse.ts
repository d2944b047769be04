/** Reads what people type into number fields. Loads mathjs: import it only when something is typed. */
import { unit as mathUnit } from 'mathjs';
import { type FaultDetail, safeText } from '../numerics/errors.ts';
import { type Decimal, decimalOf, quotient, readDecimal, times } from './decimal.ts';
import { latinDigits } from './latin-digits.ts';
import { type QuantityName, UNITS, type UnitName } from './unit-table.ts';

export type ParsedQuantity =
  | { readonly ok: true; readonly value: number }
  | {
      readonly ok: false;
      readonly fault: FaultDetail;
      /** The fault as one sentence for the person who typed. */
      readonly sentence: string;
    };

interface Kind {
  /** With its article. */
  readonly name: string;
  /** In mathjs's spelling; null where mathjs has no part in it. */
  readonly base: string | null;
  readonly example: string;
}

const KINDS: Readonly<Record<QuantityName, Kind>> = Object.freeze({
  length: { name: 'a length', base: 'm', example: '3.4 mm' },
  angle: { name: 'an angle', base: 'rad', example: '15°' },
  inductance: { name: 'an inductance', base: 'H', example: '6.3 uH' },
  capacitance: { name: 'a capacitance', base: 'F', example: '0.18 uF' },
  resistance: { name: 'a resistance', base: 'ohm', example: '47 mohm' },
  frequency: { name: 'a frequency', base: 'Hz', example: '140 kHz' },
  voltage: { name: 'a voltage', base: 'V', example: '5 V' },
  current: { name: 'a current', base: 'A', example: '480 mA' },
  charge: { name: 'a charge', base: 'C', example: '40 nC' },
  power: { name: 'a power', base: 'W', example: '0.1 W' },
  energy: { name: 'an energy', base: 'J', example: '3 Wh' },
  time: { name: 'a time', base: 's', example: '2 ms' },
  mass: { name: 'a mass', base: 'kg', example: '180 g' },
  force: { name: 'a force', base: 'N', example: '1.5 N' },
  temperature: { name: 'a temperature', base: 'K', example: '25 °C' },
  thermalResistance: { name: 'a thermal resistance', base: 'K / W', example: '18 K/W' },
  conductivity: { name: 'a conductivity', base: 'S / m', example: '36 MS/m' },
  fluxDensity: { name: 'a flux density', base: 'T', example: '1.2 T' },
  ratio: { name: 'a ratio', base: null, example: '20' },
  count: { name: 'a count', base: null, example: '10' },
});

/** The parts of a mathjs unit that carry its meaning; its numbers come out off in the last digit and are not used. */
interface MathUnit {
  readonly dimensions: readonly number[];
  readonly units: readonly {
    readonly unit: { readonly name: string; readonly value: unknown; readonly offset: number };
    readonly prefix: { readonly value: number };
    readonly power: number;
  }[];
}

function readUnit(text: string): MathUnit | null {
  try {
    return mathUnit(`1 ${text}`) as unknown as MathUnit;
  } catch {
    return null;
  }
}

const sameDimensions = (a: MathUnit, b: MathUnit) => a.dimensions.every((d, i) => Math.abs(d - b.dimensions[i]) < 1e-9);

const BASES = (Object.keys(KINDS) as QuantityName[]).flatMap((quantity) => {
  const base = KINDS[quantity].base;
  const unit = base === null ? null : readUnit(base);
  return unit === null ? [] : [{ quantity, unit }];
});

/** Spellings that mathjs does not know. Greek mu and micro sign, Greek omega and ohm sign are different characters. */
function plainSpelling(text: string): string {
  return text
    .replace(/[\u00b5\u03bc]/g, 'u')
    .replace(/[\u03a9\u2126]/g, 'ohm')
    .replace(/Ohms?\b/g, 'ohm')
    .replace(/^°\s*C$/, 'degC')
    .replace(/^°\s*F$/, 'degF')
    .replace(/°/g, 'deg')
    .replace(/[\u00b7\u22c5]/g, ' ')
    .trim();
}

const PREFIX_POWERS: Readonly<Record<string, number>> = Object.freeze({
  p: -12,
  n: -9,
  u: -6,
  m: -3,
  k: 3,
  K: 3,
  M: 6,
  G: 9,
});

/** Highest power of a unit that is read. */
const MOST_POWER = 9;

function article(quantity: QuantityName): string {
  return KINDS[quantity].name;
}

function refuse(
  code: string,
  quantity: QuantityName,
  example: string,
  received: string,
  sentence: string,
): ParsedQuantity {
  return {
    ok: false,
    fault: { code, path: '', required: `${article(quantity)}, for example ${example}`, received },
    sentence,
  };
}

const NUMBER = /^([+-]?)(\d{1,3}(?:[ \u00a0\u2009\u202f]\d{3})+|\d+)?(?:([.,])(\d*))?(?:[eE]([+-]?\d{1,3}))?/;

/** The number a text begins with, its decimal comma or point read alike, and what follows it. */
function leadingNumber(text: string): { decimal: Decimal; rest: string } | null {
  const found = NUMBER.exec(text);
  if (found === null) return null;
  const [all, sign, whole = '', , part = '', exponent = '0'] = found;
  const decimal = readDecimal(`${sign}${whole.replace(/\D/g, '')}.${part}e${exponent}`);
  return decimal === null ? null : { decimal, rest: text.slice(all.length) };
}

/**
 * Reads typed text as a quantity.
 *
 * Accepts `3.4 mm`, `3,4 mm`, `0.18 uF`, `0.18 µF`, `1.2k` (a prefix alone goes to the unit without prefix), other units
 * of the same quantity (`0.3 in`, `2 mil`, `77 °F`), and a plain number, which takes the field's own unit. A comma is a
 * decimal comma; digits may be grouped by spaces; comma and point together are refused because they could mean two things.
 *
 * @param text as typed, at most 64 characters are considered sensible.
 * @param unit the field's unit; the value comes back in it.
 * @returns the double nearest to the exact decimal (`5 uH` in henry is 5e-6 as the literal), or a fault with a sentence.
 */
export function parseQuantity(text: string, unit: UnitName): ParsedQuantity {
  const target = UNITS[unit];
  const quantity = target.quantity;
  const example = exampleFor(unit);
  const fail = (code: string, received: string, sentence: string) =>
    refuse(code, quantity, example, received, sentence);
  const tidy = latinDigits(text.replace(/[\u2212\u2012\u2013]/g, '-').trim());
  const need = `${article(quantity)} is needed, for example ${example}`;
  if (tidy === '') return fail('empty', 'nothing', `${capital(need)}.`);
  const shown = JSON.stringify(safeText(tidy, 40)).replaceAll('\\\\u{', '\\u{');
  if (tidy.length > 64) return fail('too-long', `${tidy.length} characters`, `${capital(need)}.`);
  const number = leadingNumber(tidy);
  if (number === null) return fail('not-a-number', shown, `That does not begin with a number; ${need}.`);
  if (/^\s*[.,]\s*\d/.test(number.rest) || /^['’]\d/.test(number.rest)) {
    return fail('two-separators', shown, `Write the number with one decimal point or comma; ${need}.`);
  }
  if (/^\s+[\d+-]/.test(number.rest)) return fail('two-numbers', shown, `That is more than one number; ${need}.`);
  const attached = /^[A-Za-z\u00b5\u03bc%°]/.test(number.rest);
  const name = plainSpelling(number.rest.trim());
  const direct = withoutMathjs(name, attached, number.decimal, unit);
  if (direct !== null) return finite(direct, fail, shown, need);
  const typed = quantity === 'temperature' && name === 'C' ? readUnit('degC') : readUnit(name);
  if (typed === null) {
    return fail('unknown-unit', shown, `The unit "${safeText(name, 20)}" is not known; ${need}.`);
  }
  if (typed.units.some(({ power }) => !Number.isInteger(power) || Math.abs(power) > MOST_POWER)) {
    return fail('unknown-unit', shown, `The unit "${safeText(name, 20)}" has a power that no unit has; ${need}.`);
  }
  const base = BASES.find((entry) => entry.quantity === quantity)?.unit;
  if (base === undefined || !sameDimensions(typed, base)) {
    const other = BASES.find((entry) => sameDimensions(typed, entry.unit));
    const what = other === undefined ? 'something else' : article(other.quantity);
    return fail('wrong-dimension', `${shown}, ${what}`, `That is ${what}; ${need}.`);
  }
  return finite(convert(number.decimal, typed, unit), fail, shown, need);
}

function finite(
  value: number,
  fail: (code: string, received: string, sentence: string) => ParsedQuantity,
  shown: string,
  need: string,
): ParsedQuantity {
  return Number.isFinite(value) ? { ok: true, value } : fail('not-finite', shown, `That number is too large; ${need}.`);
}

/** Plain numbers, bare prefixes, percent and counts: what is no matter of units. */
function withoutMathjs(name: string, attached: boolean, decimal: Decimal, unit: UnitName): number | null {
  const { quantity, stem, exponent, scale } = UNITS[unit];
  const one = { digits: 1n, exponent: 0 };
  if (name === '') return quotient(decimal, one);
  if (quantity === 'ratio' && name === '%') return quotient(decimal, { digits: 1n, exponent: unit === '%' ? 0 : 2 });
  if (quantity === 'count' && /^turns?$/.test(name)) return quotient(decimal, one);
  const power = Object.hasOwn(PREFIX_POWERS, name) ? PREFIX_POWERS[name] : undefined;
  // "100 m" is metres and "100m" in a resistance field is milliohms; in a length field both are metres.
  if (power === undefined || stem === null || scale !== 1 || (!attached && name === 'm')) return null;
  if (quantity === 'length' && name === 'm') return null;
  const own = quantity === 'mass' ? exponent + 3 : exponent;
  return quotient({ digits: decimal.digits, exponent: decimal.exponent + power - own }, one);
}

function convert(decimal: Decimal, typed: MathUnit, unit: UnitName): number {
  const first = typed.units[0].unit;
  if (UNITS[unit].quantity === 'temperature') {
    const value = quotient(decimal, { digits: 1n, exponent: 0 });
    if (first.name === 'degC' || first.name === 'celsius') return value;
    const kelvin = first.name === 'degF' || first.name === 'fahrenheit' ? ((value + 459.67) * 5) / 9 : value;
    return Number((kelvin - 273.15).toPrecision(12));
  }
  let top: Decimal = decimal;
  let bottom: Decimal = times(decimalOf(UNITS[unit].scale), { digits: 1n, exponent: UNITS[unit].exponent });
  for (const part of typed.units) {
    const factor = times(decimalOf(Number(part.unit.value)), decimalOf(part.prefix.value));
    for (let i = 0; i < Math.abs(part.power); i++) {
      if (part.power > 0) top = times(top, factor);
      else bottom = times(bottom, factor);
    }
  }
  return quotient(top, bottom);
}

/** An example in the field's own unit where the general one has another. */
function exampleFor(unit: UnitName): string {
  const { symbol, quantity } = UNITS[unit];
  const general = KINDS[quantity].example;
  if (symbol === '%') return '20 %';
  return general;
}

function capital(sentence: string): string {
  return sentence.charAt(0).toUpperCase() + sentence.slice(1);
}
