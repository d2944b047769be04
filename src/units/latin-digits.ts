/**
 * Text with the digits and decimal signs of Arabic, Persian and full-width keyboards as those that numbers are read from.
 * Source: Unicode code charts, Nd digits U+0660, U+06F0 and U+FF10 onwards, decimal separator U+066B (from memory).
 */
export function latinDigits(text: string): string {
  return text
    .replace(/[\u0660-\u0669\u06f0-\u06f9\uff10-\uff19]/g, (digit) => String(digit.charCodeAt(0) & 0xf))
    .replace(/[\u066b\uff0e]/g, '.')
    .replace(/\uff0c/g, ',');
}
