import { DESIGN_LIMITS } from '../../design/defaults.ts';
import type { ReadingDocument } from '../../design/types.ts';
import { safeText } from '../../numerics/errors.ts';
import { type ColumnKey, numberOf, parseCell, READING_COLUMNS } from './readings-columns.ts';

/** A reading as typed or pasted: what was not given is left to the design's defaults. */
export type PastedReading = Partial<ReadingDocument> & { readonly supplyV: number };

export interface RowFault {
  /** Line of the pasted text, from 1. */
  readonly row: number;
  /** The column's name; empty for the row as a whole. */
  readonly column: string;
  readonly required: string;
  readonly received: string;
}

export interface PastedReadings {
  readonly readings: PastedReading[];
  /** Rows with a fault are not among the readings. */
  readonly faults: RowFault[];
  /** The columns as they were understood, in the order of the text. */
  readonly columns: readonly (ColumnKey | null)[];
}

/** What the first row has to be. */
const TABLE_REQUIRED =
  'the first row of a table of readings: names such as supply V, supply A, output V, output A, gap mm, or numbers in this order';

/** Faults told at once: enough for any slip, few enough for a text that is something else. */
const FAULTS_TOLD = 100;

/** A header's word: lower case, without units in brackets, signs and spaces; no known word is as long as what is cut off. */
function bare(text: string): string {
  return text
    .slice(0, 80)
    .toLowerCase()
    .replace(/[([].*?[)\]]/g, '')
    .replace(/[^a-z]/g, '');
}

/** The sign between cells: a tab if there is any, else a semicolon, else a comma. */
function separatorOf(lines: readonly string[]): string {
  if (lines.some((line) => line.includes('\t'))) return '\t';
  if (lines.some((line) => line.includes(';'))) return ';';
  return ',';
}

/** Cells of a line; a quoted cell may hold the separator. */
function cellsOf(line: string, separator: string): string[] {
  const cells: string[] = [];
  let cell = '';
  let quoted = false;
  for (let i = 0; i < line.length; i++) {
    const sign = line[i];
    if (sign === '"') {
      if (quoted && line[i + 1] === '"') {
        cell += '"';
        i++;
      } else quoted = !quoted;
    } else if (sign === separator && !quoted) {
      cells.push(cell.trim());
      cell = '';
    } else cell += sign;
  }
  cells.push(cell.trim());
  return cells;
}

/** The columns a header names; null where the line is no header: its cells are numbers or empty. */
function headerOf(cells: readonly string[]): (ColumnKey | null)[] | null {
  const words = cells.map(bare);
  if (cells.every((cell) => cell === '' || numberOf(cell) !== null)) return null;
  const known = words.map((word) => READING_COLUMNS.find((column) => column.words.includes(word))?.key ?? null);
  return known.some((key) => key !== null) ? known : null;
}

/** Units that a heading may name in place of its column's: read as the column's own they would be wrong by powers of ten. */
const OTHER_UNITS: Readonly<Record<string, RegExp>> = Object.freeze({
  V: /^[mk\u00b5\u03bcu]v$/,
  A: /^[m\u00b5\u03bcu]a$/,
  mm: /^(m|cm|[\u00b5\u03bcu]m|in|inch|inches|mil|")$/,
  kHz: /^m?hz$/,
  '\u00b0C': /^(\u00b0?f|k)$/,
});

/** A heading that names another unit, or a column that another heading named: neither may be read as if it were right. */
function headingFaults(cells: readonly string[], header: readonly (ColumnKey | null)[], row: number): RowFault[] {
  return header.flatMap((key, i): RowFault[] => {
    const column = READING_COLUMNS.find((entry) => entry.key === key);
    const cell = (cells[i] ?? '').slice(0, 80);
    if (column === undefined) return [];
    const fault = (required: string) => [{ row, column: column.name, required, received: `"${safeText(cell, 40)}"` }];
    if (header.indexOf(key) < i) return fault('named by one heading');
    const unit = /[([]([^)\]]*)[)\]]/.exec(cell)?.[1]?.trim().toLowerCase() ?? '';
    return OTHER_UNITS[column.unit]?.test(unit) ? fault(`in ${column.unit}`) : [];
  });
}

/**
 * Readings from a spreadsheet or a CSV file: cells between tabs, semicolons or commas, a header or none (then the columns stand in the
 * order of `READING_COLUMNS`), decimal point or comma. Where the separator is a comma, decimals need a point or quotes.
 *
 * A row with a fault is left out and told with row, column, what is required and what came. Empty cells are not measured. Empty lines and
 * lines that begin with # are passed over.
 */
export function parseReadings(text: string): PastedReadings {
  if (text.length > DESIGN_LIMITS.fileBytes) {
    const required = `at most ${DESIGN_LIMITS.fileBytes} characters of readings`;
    return { readings: [], faults: [{ row: 1, column: '', required, received: `${text.length}` }], columns: [] };
  }
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\r|\n/);
  const used = lines
    .map((line, i) => ({ line, row: i + 1 }))
    .filter(({ line }) => line.trim() !== '' && !line.trimStart().startsWith('#'));
  const separator = separatorOf(used.map(({ line }) => line));
  const readings: PastedReading[] = [];
  const faults: RowFault[] = [];
  let columns: (ColumnKey | null)[] = READING_COLUMNS.map(({ key }) => key);
  let first = true;
  for (const { line, row } of used) {
    const cells = cellsOf(line, separator);
    if (first) {
      first = false;
      const header = headerOf(cells);
      if (header !== null) {
        columns = header;
        const missing = READING_COLUMNS.filter(({ key }) => key === 'supplyV' && !header.includes(key));
        for (const { name } of missing)
          faults.push({
            row,
            column: name,
            required: `a column "${name} (V)" in the header`,
            received: safeText(line, 80),
          });
        faults.push(...headingFaults(cells, header, row));
        if (faults.length > 0) break;
        continue;
      }
      if (!cells.some((cell) => /\d/.test(cell) && numberOf(cell.trim()) !== null)) {
        // Neither a known name nor a number: some other file, or a header in other words.
        faults.push({ row, column: '', required: TABLE_REQUIRED, received: `"${safeText(line.trim(), 40)}"` });
        break;
      }
    }
    if (readings.length >= DESIGN_LIMITS.readings) {
      faults.push({ row, column: '', required: `at most ${DESIGN_LIMITS.readings} readings`, received: 'more' });
      break;
    }
    const reading = rowReading(cells, columns, row, faults);
    if (reading !== null) readings.push(reading);
    if (faults.length >= FAULTS_TOLD) {
      faults.push({ row, column: '', required: 'a table of readings', received: 'too many faults to go on' });
      break;
    }
  }
  return { readings, faults, columns };
}

function rowReading(
  cells: readonly string[],
  columns: readonly (ColumnKey | null)[],
  row: number,
  faults: RowFault[],
): PastedReading | null {
  const before = faults.length;
  const extra = cells.slice(columns.length).filter((cell) => cell !== '');
  if (extra.length > 0)
    faults.push({
      row,
      column: '',
      required: `at most ${columns.length} cells`,
      received: `${cells.length} cells; with commas between cells, decimals need a point`,
    });
  const found: Record<string, number | boolean | null> = {};
  columns.forEach((key, i) => {
    if (key === null) return;
    const cell = cells[i] ?? '';
    const column = READING_COLUMNS.find((entry) => entry.key === key);
    if (cell === '' || column === undefined) return;
    const taken = parseCell(key, cell);
    if (taken.ok) found[key] = taken.value;
    else faults.push({ row, column: column.name, required: taken.required, received: `"${safeText(cell, 40)}"` });
  });
  if (found.supplyV === undefined && faults.length === before)
    faults.push({ row, column: 'supply voltage', required: 'a number from 0 to 100 V', received: 'nothing' });
  return faults.length > before ? null : (found as unknown as PastedReading);
}

/** One fault in one line: `row 4, supply current: must be a number from 0 to 100 A; received "abc"`. */
export function rowFaultLine({ row, column, required, received }: RowFault): string {
  return `row ${row}${column === '' ? '' : `, ${column}`}: must be ${required}; received ${received}.`;
}

/** Readings as CSV with a header that `parseReadings` reads back. */
export function readingsCsv(readings: readonly ReadingDocument[]): string {
  const head = READING_COLUMNS.map(({ name, unit }) => (unit === '' ? name : `${name} (${unit})`)).join(',');
  const cell = (value: number | boolean | null): string =>
    value === null ? '' : value === true ? 'yes' : value === false ? 'no' : String(value);
  return `${[head, ...readings.map((reading) => READING_COLUMNS.map(({ key }) => cell(reading[key])).join(','))].join('\n')}\n`;
}
