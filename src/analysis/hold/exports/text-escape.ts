/** Names that users typed, made harmless for the format they go into. */

/** Text for XML content and double-quoted attributes; characters that XML 1.0 forbids are dropped. */
export function xmlText(text: string): string {
  return dropControl(text)
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;')
    .replace(/'/g, '&#39;');
}

function dropControl(text: string): string {
  let out = '';
  for (const character of text) {
    const code = character.codePointAt(0) ?? 0;
    const allowed =
      code === 9 ||
      code === 10 ||
      code === 13 ||
      (code >= 0x20 && code <= 0xd7ff) ||
      (code >= 0xe000 && code <= 0xfffd) ||
      code >= 0x10000;
    if (allowed) out += character;
  }
  return out;
}

/**
 * One field of a CSV record (RFC 4180). Text that a spreadsheet would run as a formula (first character = + - @, tab or
 * carriage return) gets an apostrophe in front; numbers are never touched.
 */
export function csvField(value: string | number): string {
  if (typeof value === 'number') return Number.isFinite(value) ? String(value) : '';
  const safe = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(safe) || safe !== safe.trim() ? `"${safe.replace(/"/g, '""')}"` : safe;
}

/**
 * One line of text for a DXF group: line ends and control characters become spaces, a caret is doubled by a space as the
 * format wants, other than ASCII is written as \U+XXXX.
 */
export function dxfText(text: string): string {
  let out = '';
  for (const character of text) {
    const code = character.codePointAt(0) ?? 0;
    if (code < 0x20 || code === 0x7f) out += ' ';
    else if (character === '^') out += '^ ';
    else if (code < 0x80) out += character;
    else {
      for (let k = 0; k < character.length; k += 1)
        out += `\\U+${character.charCodeAt(k).toString(16).toUpperCase().padStart(4, '0')}`;
    }
  }
  return out.slice(0, 255);
}

/** A number with at most `digits` decimals, without exponent or trailing zeros; -0 becomes 0. */
export function plainNumber(value: number, digits = 4): string {
  if (!Number.isFinite(value)) throw new RangeError(`a drawing coordinate must be finite; received ${value}`);
  const text = value.toFixed(digits).replace(/\.?0+$/, '');
  return text === '-0' || text === '' ? '0' : text;
}
