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
 * Where a spreadsheet may begin to read a formula: at the field's start, and after signs that another locale's spreadsheet
 * takes for the end of a field. Full-width forms count, since some programs fold them. Common practice, no source.
 */
const INNER_FORMULA = /[;,\t\r\n](?=[\s"']*[=+\-@\uff1d\uff0b\uff0d\uff20])/g;
const FORMULA = /^[\s"']*[=+\-@\uff1d\uff0b\uff0d\uff20\t\r]/;

/**
 * One field of a CSV record (RFC 4180). Text that a spreadsheet would run as a formula (= + - @, tab or carriage return at
 * the start of a field) gets an apostrophe in front; numbers are never touched.
 */
export function csvField(value: string | number): string {
  if (typeof value === 'number') return Number.isFinite(value) ? String(value) : '';
  const inner = value.replace(INNER_FORMULA, "$&'");
  const safe = FORMULA.test(value) ? `'${inner}` : inner;
  return /[",;\t\r\n]/.test(safe) || safe !== safe.trim() ? `"${safe.replace(/"/g, '""')}"` : safe;
}

/** Longest line of a DXF group. */
const DXF_LINE = 255;

/**
 * One line of text for a DXF group: line ends and control characters become spaces, a caret is doubled by a space as the
 * format wants, other than ASCII is written as \U+XXXX. Cut where the line would be longer than 255 signs.
 */
export function dxfText(text: string): string {
  let out = '';
  for (const character of text) {
    const written = dxfCharacter(character);
    if (out.length + written.length > DXF_LINE) break;
    out += written;
  }
  return out;
}

function dxfCharacter(character: string): string {
  const code = character.codePointAt(0) ?? 0;
  if (code < 0x20 || (code >= 0x7f && code < 0xa0)) return ' ';
  if (character === '^') return '^ ';
  if (code < 0x80) return character;
  return Array.from({ length: character.length }, (_, k) => {
    const unit = character.charCodeAt(k);
    return `\\U+${unit.toString(16).toUpperCase().padStart(4, '0')}`;
  }).join('');
}

/** A number with at most `digits` decimals, without exponent or trailing zeros; -0 becomes 0. */
export function plainNumber(value: number, digits = 4): string {
  if (!Number.isFinite(value)) throw new RangeError(`a drawing coordinate must be finite; received ${value}`);
  const text = value.toFixed(digits).replace(/\.?0+$/, '');
  return text === '-0' || text === '' ? '0' : text;
}
