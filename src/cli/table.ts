/**
 * Rows of text in columns.
 *
 * @param numbersRight flush right what begins with a digit or a sign, in every column but the first: for grids of numbers.
 */
export function table(rows: readonly (readonly string[])[], numbersRight = false): string {
  const columns = Math.max(0, ...rows.map((row) => row.length));
  const widths = Array.from({ length: columns }, (_, c) => Math.max(...rows.map((row) => [...(row[c] ?? '')].length)));
  return rows
    .map((row) => {
      const cells = row.map((cell, c) => {
        const gap = ' '.repeat(Math.max(0, widths[c] - [...cell].length));
        return numbersRight && c > 0 && /^[−+±\d.]/.test(cell) ? gap + cell : cell + gap;
      });
      return `  ${cells.join('  ')}`.trimEnd();
    })
    .join('\n');
}
