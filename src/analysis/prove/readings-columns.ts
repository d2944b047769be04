import type { ReadingDocument } from '../../design/types.ts';
import { latinDigits } from '../../units/latin-digits.ts';

export type ColumnKey = keyof ReadingDocument;

interface Column {
  readonly key: ColumnKey;
  readonly name: string;
  readonly unit: string;
  readonly low: number;
  readonly high: number;
  /** Words that a header may use, lower case, without signs. */
  readonly words: readonly string[];
}

/** Columns in the order that a paste without header has. Ranges as the schema has them. */
export const READING_COLUMNS: readonly Column[] = Object.freeze([
  {
    key: 'supplyV',
    name: 'supply voltage',
    unit: 'V',
    low: 0,
    high: 100,
    words: ['supplyv', 'supplyvoltage', 'vin', 'inputvoltage', 'inputv', 'usbv', 'uin'],
  },
  {
    key: 'supplyA',
    name: 'supply current',
    unit: 'A',
    low: 0,
    high: 100,
    words: ['supplya', 'supplycurrent', 'iin', 'inputcurrent', 'inputa', 'usba'],
  },
  {
    key: 'outputV',
    name: 'output voltage',
    unit: 'V',
    low: 0,
    high: 200,
    words: ['outputv', 'outputvoltage', 'vout', 'loadv', 'loadvoltage', 'uout'],
  },
  {
    key: 'outputA',
    name: 'output current',
    unit: 'A',
    low: 0,
    high: 100,
    words: ['outputa', 'outputcurrent', 'iout', 'loada', 'loadcurrent', 'load'],
  },
  { key: 'gapMm', name: 'gap', unit: 'mm', low: 0.05, high: 1000, words: ['gap', 'gapmm', 'distance'] },
  {
    key: 'offsetXMm',
    name: 'offset x',
    unit: 'mm',
    low: -1000,
    high: 1000,
    words: ['offset', 'offsetx', 'offsetxmm', 'x', 'xmm', 'dx'],
  },
  {
    key: 'offsetYMm',
    name: 'offset y',
    unit: 'mm',
    low: -1000,
    high: 1000,
    words: ['offsety', 'offsetymm', 'y', 'ymm', 'dy'],
  },
  {
    key: 'frequencyKhz',
    name: 'frequency',
    unit: 'kHz',
    low: 0.1,
    high: 100000,
    words: ['frequency', 'frequencykhz', 'f', 'fkhz', 'khz'],
  },
  {
    key: 'rectifiedV',
    name: 'rectified voltage',
    unit: 'V',
    low: 0,
    high: 200,
    words: ['rectifiedv', 'rectifiedvoltage', 'vrect', 'vr'],
  },
  {
    key: 'receiverC',
    name: 'receiver temperature',
    unit: '°C',
    low: -40,
    high: 300,
    words: ['receiverc', 'receivertemperature', 'trx'],
  },
  {
    key: 'transmitterC',
    name: 'transmitter temperature',
    unit: '°C',
    low: -40,
    high: 300,
    words: ['transmitterc', 'transmittertemperature', 'ttx'],
  },
  {
    key: 'regulated',
    name: 'in regulation',
    unit: '',
    low: 0,
    high: 1,
    words: ['regulated', 'inregulation', 'regulation', 'state'],
  },
]);

const YES = new Set(['1', 'yes', 'y', 'true', 'regulated', 'ok', 'ja']);
const NO = new Set(['0', 'no', 'n', 'false', 'collapsed', 'collapse', 'nein']);

const OWN: Readonly<Record<string, RegExp>> = Object.freeze({
  V: /v$/i,
  A: /a$/i,
  mm: /mm$/i,
  kHz: /khz$/i,
  '°C': /°?c$/i,
});

/**
 * A number with decimal point or comma, digits in groups of three or not, with or without its unit; null where it is none.
 * @param unit the only one that may follow; null: any that a column has.
 */
export function numberOf(text: string, unit: string | null = null): number | null {
  const bare = latinDigits(text.trim().replace(/\u2212/g, '-'));
  const follows = Object.entries(OWN).filter(([name]) => unit === null || name === unit);
  const end = follows.map(([, pattern]) => pattern.exec(bare)).find((found) => found !== null);
  const number = (end ? bare.slice(0, end.index).trimEnd() : bare).replace(/(?<=\d)[\s\u202f](?=\d{3}(?!\d))/g, '');
  const plain = /^[+-]?\d+(?:[.,]\d+)?(?:e[+-]?\d+)?$|^[+-]?[.,]\d+$/i.test(number);
  return plain ? Number(number.replace(',', '.')) : null;
}

export type CellValue =
  | { readonly ok: true; readonly value: number | boolean | null }
  | { readonly ok: false; readonly required: string };

/** Keys that every reading has; all others may be left empty. */
const NEEDED: readonly ColumnKey[] = ['supplyV', 'gapMm', 'offsetXMm', 'offsetYMm'];

/** One cell as typed: a number within its range with point or comma, yes or no, or nothing where nothing may be measured. */
export function parseCell(key: ColumnKey, text: string): CellValue {
  const column = READING_COLUMNS.find((entry) => entry.key === key);
  const cell = text.trim();
  if (key === 'regulated') {
    const word = cell.toLowerCase();
    if (YES.has(word)) return { ok: true, value: true };
    return NO.has(word) ? { ok: true, value: false } : { ok: false, required: 'yes or no' };
  }
  if (column === undefined) return { ok: false, required: 'a known column' };
  const range = `a number from ${column.low} to ${column.high} ${column.unit}`;
  if (cell === '') return NEEDED.includes(key) ? { ok: false, required: range } : { ok: true, value: null };
  const value = numberOf(cell, column.unit);
  return value === null || value < column.low || value > column.high
    ? { ok: false, required: range }
    : { ok: true, value };
}
