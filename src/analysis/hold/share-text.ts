/** A share in percent with as many decimals as tell it from 100; less than sure never reads as sure. */
export function shareText(share: number, space = ' '): string {
  const percent = 100 * share;
  const digits = percent > 99.9 && percent < 100 ? 2 : percent > 99 && percent < 100 ? 1 : percent < 10 ? 1 : 0;
  const shown = percent < 100 ? Math.min(percent, 100 - 10 ** -digits) : percent;
  return `${shown.toFixed(digits)}${space}%`;
}
