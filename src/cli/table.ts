/** Rows of text in columns: the first flush left, the others flush right where they begin with a digit or sign. */
export function table(rows: readonly (readonly string[])[], indent = '  '): string {
  const columns = Math.max(0, ...rows.map((row) => row.length));
  const widths = Array.from({ length: columns }, (_, c) => Math.max(...rows.map((row) => [...(row[c] ?? '')].length)));
  return rows
    .map((row) => {
      const cells = row.map((cell, c) => {
        const gap = ' '.repeat(Math.max(0, widths[c] - [...cell].length));
        return c > 0 && /^[−+±\d.]/.test(cell) && c < row.length - 1 ? gap + cell : cell + gap;
      });
      return (indent + cells.join('  ')).trimEnd();
    })
    .join('\n');
}
