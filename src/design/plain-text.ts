/**
 * Text that stays what it looks like wherever it is shown: without control characters (a terminal obeys them, files end a
 * line at them), without direction overrides, embeddings and isolates (they turn what stands behind them, numbers
 * included), without halves of a character. Direction marks and joiners, which several scripts need, are allowed. The
 * direction signs are those of Unicode Standard Annex 9, section 2 (from memory).
 *
 * Written without flags, so that the JSON Schema can state them as patterns.
 */
const KEPT =
  '[^\\u0000-\\u001f\\u007f-\\u009f\\u2028\\u2029\\u202a-\\u202e\\u2066-\\u2069\\ud800-\\udfff]|[\\ud800-\\udbff][\\udc00-\\udfff]';

/** One line. */
export const PLAIN_LINE = new RegExp(`^(?:${KEPT})*$`);
/** Line ends and tabs too. */
export const PLAIN_LINES = new RegExp(`^(?:${KEPT}|[\\t\\n\\r])*$`);

/** The first sign that plain text may not hold, `U+001B as character 3`; null where there is none. */
export function strangeSign(text: string, plain: RegExp): string | null {
  if (plain.test(text)) return null;
  const signs = [...text];
  const at = signs.findIndex((sign) => !plain.test(sign));
  const code = signs[at]?.codePointAt(0) ?? 0;
  return `U+${code.toString(16).toUpperCase().padStart(4, '0')} as character ${at + 1}`;
}
