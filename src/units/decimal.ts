/** An exact decimal: digits times ten to the exponent. */
export interface Decimal {
  readonly digits: bigint;
  readonly exponent: number;
}

const PATTERN = /^([+-]?)(\d*)\.?(\d*)(?:[eE]([+-]?\d+))?$/;

/**
 * Reads plain decimal text exactly (`5`, `.5`, `-1.2e3`), or null where it is none. The exponent is bounded to 1000, far
 * beyond any double.
 */
export function readDecimal(text: string): Decimal | null {
  const found = PATTERN.exec(text);
  if (found === null || found[2] + found[3] === '') return null;
  const exponent = Number(found[4] ?? 0) - found[3].length;
  if (Math.abs(exponent) > 1000) return null;
  const digits = BigInt(found[2] + found[3]);
  return { digits: found[1] === '-' ? -digits : digits, exponent };
}

/** The shortest decimal that reads back as this double. */
export function decimalOf(value: number): Decimal {
  return readDecimal(String(value)) ?? { digits: 0n, exponent: 0 };
}

export function times(a: Decimal, b: Decimal): Decimal {
  return { digits: a.digits * b.digits, exponent: a.exponent + b.exponent };
}

/** a / b as the nearest double: exact to 30 digits before the one rounding. */
export function quotient(a: Decimal, b: Decimal): number {
  const sign = a.digits < 0n !== b.digits < 0n ? -1 : 1;
  const top = a.digits < 0n ? -a.digits : a.digits;
  const bottom = b.digits < 0n ? -b.digits : b.digits;
  if (bottom === 0n) return Number.NaN;
  const shift = 30 + bottom.toString().length;
  const scaled = (top * 10n ** BigInt(shift)) / bottom;
  return sign * Number(`${scaled}e${a.exponent - b.exponent - shift}`);
}
