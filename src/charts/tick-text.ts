/** Minus sign and no-break space: numbers on the drawings never break or hyphenate. */
const MINUS = '\u2212';
const NBSP = '\u00a0';

/** `6`, `−2.5`: at most `digits` decimals, without trailing zeros. */
export function plain(value: number, digits = 1): string {
  const rounded = Number(value.toFixed(digits));
  return `${rounded < 0 ? MINUS : ''}${Math.abs(rounded)}`;
}

/** `+20 %`, `−5 %`, `0 %`. */
export function signedPercent(value: number, digits = 0): string {
  const rounded = Number(value.toFixed(digits));
  return `${rounded > 0 ? '+' : rounded < 0 ? MINUS : ''}${Math.abs(rounded)}${NBSP}%`;
}

/** Number and unit with a no-break space between. */
export function withUnit(value: number, unit: string, digits = 1): string {
  return unit === '' ? plain(value, digits) : `${plain(value, digits)}${unit === '°' ? '' : NBSP}${unit}`;
}
