import { safeText } from '../numerics/errors.ts';
import { UNITS } from '../units/unit-table.ts';
import {
  alternatives,
  boundOf,
  isPlainObject,
  isWhole,
  noteOf,
  type SchemaNode,
  slotOf,
  words,
} from './schema-node.ts';

/** A number as JSON would write it, with its unit. */
function withUnit(value: number | string, unit: keyof typeof UNITS | undefined): string {
  const symbol = unit === undefined ? '' : UNITS[unit].symbol;
  if (symbol === '') return String(value);
  return symbol === '°' || symbol === '%' ? `${value}${symbol === '%' ? ' %' : symbol}` : `${value} ${symbol}`;
}

function quoted(list: readonly string[]): string {
  const marked = list.map((word) => `"${word}"`);
  return marked.length === 1 ? marked[0] : `one of ${marked.join(', ')}`;
}

function bareRequirement(node: SchemaNode): string {
  const unit = noteOf(node).unit;
  switch (node.type) {
    case 'number': {
      const minimum = boundOf(node, 'min_value');
      const maximum = boundOf(node, 'max_value');
      return `a ${isWhole(node) ? 'whole ' : ''}number from ${minimum} to ${withUnit(maximum ?? '', unit)}`;
    }
    case 'string': {
      const minimum = boundOf(node, 'min_length') ?? 0;
      return `text of ${minimum > 0 ? `${minimum} to` : 'at most'} ${boundOf(node, 'max_length')} characters`;
    }
    case 'boolean':
      return 'true or false';
    case 'picklist':
      return quoted(words(node));
    case 'literal':
      return typeof node.literal === 'string' ? `"${node.literal}"` : String(node.literal);
    case 'array': {
      const minimum = boundOf(node, 'min_length') ?? 0;
      return `a list of ${minimum > 0 ? `${minimum} to` : 'at most'} ${boundOf(node, 'max_length')} entries`;
    }
    case 'strict_tuple':
      return `a pair [x, y] of numbers${unit === undefined ? '' : ` in ${UNITS[unit].symbol}`}`;
    case 'variant':
      return `an object whose "${node.key}" is ${quoted(alternatives(node).map((a) => a.word))}`;
    default: {
      const needed = Object.entries(node.entries ?? {}).filter(([, child]) => !slotOf(child).optional);
      return needed.length === 0 ? 'an object' : `an object with ${needed.map(([key]) => key).join(', ')}`;
    }
  }
}

/** What a field must be, with unit and range: `a number from 0.5 to 1000 mm`. */
export function requirementOf(outer: SchemaNode): string {
  const slot = slotOf(outer);
  return `${bareRequirement(slot.node)}${slot.nullable ? ', or null' : ''}`;
}

/** What came, for a message: numbers with the field's unit, text quoted and cut, structures by their size. */
export function receivedText(value: unknown, node: SchemaNode | null): string {
  if (value === undefined) return 'nothing';
  if (value === null) return 'null';
  if (typeof value === 'number') {
    return node !== null && node.type === 'number' ? withUnit(value, noteOf(node).unit) : String(value);
  }
  if (typeof value === 'string') {
    return value.length > 60 && node?.type === 'string'
      ? `${value.length} characters`
      : JSON.stringify(safeText(value, 40)).replaceAll('\\\\u{', '\\u{');
  }
  if (Array.isArray(value)) return `a list of ${value.length} ${value.length === 1 ? 'entry' : 'entries'}`;
  if (isPlainObject(value)) return 'an object';
  return String(value);
}

/** The default of an optional field, in words; null where it is required. */
export function defaultText(outer: SchemaNode): string | null {
  const slot = slotOf(outer);
  if (!slot.optional) return null;
  if (slot.fallback === undefined) return noteOf(slot.node).derived ?? null;
  if (typeof slot.fallback === 'number') return withUnit(slot.fallback, noteOf(slot.node).unit);
  return JSON.stringify(slot.fallback);
}
