/**
 * One cell of a CSV file (RFC 4180). Text that a spreadsheet would take for a formula gets an apostrophe in front;
 * numbers stay as they are, what is not finite becomes empty.
 */
export function csvCell(value: number | string): string {
  if (typeof value === 'number') return Number.isFinite(value) ? String(value) : '';
  const harmless = /^[\s]*[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(harmless) ? `"${harmless.replaceAll('"', '""')}"` : harmless;
}

/** Rows as CSV text with line ends of RFC 4180. */
export function csvText(rows: readonly (readonly (number | string)[])[]): string {
  return rows.map((row) => `${row.map(csvCell).join(',')}\r\n`).join('');
}
