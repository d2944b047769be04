/** Placements from a spreadsheet or a CSV file: what a user has observed at their own dock. */
import { DESIGN_LIMITS } from '../../design/defaults.ts';

/** One placement as the design file has it: offsets from the resting place, turn from the resting turn. */
export interface ListedPlacement {
  readonly xMm: number;
  readonly yMm: number;
  readonly yawDeg: number;
}

/** What is wrong with a row. */
export interface PlacementFault {
  /** Line of the text, from 1. */
  readonly row: number;
  /** Empty for the row as a whole. */
  readonly column: string;
  readonly required: string;
  readonly received: string;
}

export interface ReadPlacements {
  readonly placements: ListedPlacement[];
  /** Rows with a fault are not among the placements. */
  readonly faults: PlacementFault[];
}

const COLUMNS = [
  { key: 'xMm', name: 'x', limit: 1000, unit: 'mm', words: ['x', 'xmm', 'offsetx', 'offsetxmm'] },
  { key: 'yMm', name: 'y', limit: 1000, unit: 'mm', words: ['y', 'ymm', 'offsety', 'offsetymm'] },
  { key: 'yawDeg', name: 'yaw', limit: 180, unit: 'degrees', words: ['yaw', 'yawdeg', 'turn', 'turndeg', 'yaw°'] },
] as const;

type Column = (typeof COLUMNS)[number];

/** What stands between cells: the first of tab, semicolon and comma that any line has, else blanks. */
function separatorOf(lines: readonly string[]): RegExp {
  for (const sign of ['\t', ';', ',']) if (lines.some((line) => line.includes(sign))) return new RegExp(sign);
  return /\s+/;
}

function numberOf(cell: string): number | null {
  const plain = cell
    .replace(/^"|"$/g, '')
    .trim()
    .replace(/\u2212/g, '-');
  return /^[+-]?(\d+([.,]\d*)?|[.,]\d+)(e[+-]?\d+)?$/i.test(plain) ? Number(plain.replace(',', '.')) : null;
}

/** The columns a header names, in its order; null where the line is no header. */
function headerOf(cells: readonly string[]): (Column | null)[] | null {
  if (cells.some((cell) => numberOf(cell) !== null)) return null;
  const bare = (cell: string): string => cell.toLowerCase().replace(/[^a-z°]/g, '');
  return cells.map((cell) => COLUMNS.find(({ words }) => (words as readonly string[]).includes(bare(cell))) ?? null);
}

/**
 * Rows of x (mm), y (mm) and, if there is one, yaw (degrees); cells between tabs, semicolons, commas or blanks, a header or
 * none, decimal point or comma (a point where commas stand between the cells). Empty lines and lines that begin with # are
 * passed over. A row with a fault is left out and told with row, column, what is required and what came.
 */
export function parsePlacements(text: string): ReadPlacements {
  const used = text
    .replace(/^\uFEFF/, '')
    .split(/\r\n|\r|\n/)
    .map((line, i) => ({ line: line.trim(), row: i + 1 }))
    .filter(({ line }) => line !== '' && !line.startsWith('#'));
  const separator = separatorOf(used.map(({ line }) => line));
  const placements: ListedPlacement[] = [];
  const faults: PlacementFault[] = [];
  let columns: readonly (Column | null)[] = COLUMNS;
  for (const [index, { line, row }] of used.entries()) {
    const cells = line.split(separator).map((cell) => cell.trim());
    const header = index === 0 ? headerOf(cells) : null;
    if (header) {
      const missing = COLUMNS.filter((column) => column.key !== 'yawDeg' && !header.includes(column));
      for (const { name } of missing)
        faults.push({ row, column: name, required: `a column "${name} (mm)" in the header`, received: said(line) });
      if (missing.length > 0) break;
      columns = header;
      continue;
    }
    if (placements.length >= DESIGN_LIMITS.placements) {
      faults.push({ row, column: '', required: `at most ${DESIGN_LIMITS.placements} placements`, received: 'more' });
      break;
    }
    const placement = rowPlacement(cells, columns, row, faults);
    if (placement) placements.push(placement);
  }
  if (placements.length === 0 && faults.length === 0)
    faults.push({ row: 1, column: '', required: 'at least one row of x and y in mm', received: 'nothing' });
  return { placements, faults };
}

function rowPlacement(
  cells: readonly string[],
  columns: readonly (Column | null)[],
  row: number,
  faults: PlacementFault[],
): ListedPlacement | null {
  const before = faults.length;
  if (cells.slice(columns.length).some((cell) => cell !== ''))
    faults.push({
      row,
      column: '',
      required: `at most ${columns.length} cells`,
      received: `${cells.length} cells; where commas stand between cells, decimals need a point`,
    });
  const found = { xMm: 0, yMm: 0, yawDeg: 0 };
  columns.forEach((column, i) => {
    if (!column) return;
    const cell = cells[i] ?? '';
    if (cell === '' && column.key === 'yawDeg') return;
    const value = numberOf(cell);
    if (value !== null && Math.abs(value) <= column.limit) found[column.key] = value;
    else
      faults.push({
        row,
        column: column.name,
        required: `a number from -${column.limit} to ${column.limit} ${column.unit}`,
        received: cell === '' ? 'nothing' : said(cell),
      });
  });
  return faults.length > before ? null : found;
}

function said(text: string): string {
  return `"${text.slice(0, 40)}"`;
}

/** One fault in one line: `row 4, x: must be a number from -1000 to 1000 mm; received "abc".` */
export function placementFaultLine({ row, column, required, received }: PlacementFault): string {
  return `row ${row}${column === '' ? '' : `, ${column}`}: must be ${required}; received ${received}.`;
}

/** Placements as rows that `parsePlacements` reads back. */
export function placementsText(placements: readonly ListedPlacement[]): string {
  return ['x mm\ty mm\tyaw deg', ...placements.map(({ xMm, yMm, yawDeg }) => `${xMm}\t${yMm}\t${yawDeg}`)].join('\n');
}
