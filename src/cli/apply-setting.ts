import { type EditResult, withValueAt } from '../design/edit.ts';
import { fieldAt } from '../design/guess.ts';
import { readJsonText } from '../design/json-text.ts';
import { parsePath } from '../design/path.ts';
import { noteOf, type SchemaNode, slotOf } from '../design/schema-node.ts';
import type { FaultDetail } from '../numerics/errors.ts';
import { UsageError } from './terminal.ts';

/** The text as a JSON value, or undefined where it is none. */
function jsonValue(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

async function typed(text: string, field: SchemaNode | null): Promise<unknown> {
  const slot = field === null ? null : slotOf(field);
  const value = jsonValue(text);
  if (value === null && (slot === null || slot.nullable)) return null;
  if (slot === null) return value ?? text;
  if (['string', 'picklist', 'literal'].includes(slot.node.type)) {
    const isNumber = typeof slot.node.literal === 'number';
    return typeof value === 'string' || (isNumber && value !== undefined) ? value : text;
  }
  const unit = noteOf(slot.node).unit;
  if (slot.node.type === 'number' && unit !== undefined && value === undefined) {
    const { parseQuantity } = await import('../units/parse.ts');
    const parsed = parseQuantity(text, unit);
    if (parsed.ok) return parsed.value;
  }
  return value === undefined ? text : value;
}

/** Why a value that begins as a list or an object is no JSON, or says a key twice; undefined where there is nothing to say. */
function jsonFault(text: string, path: string): FaultDetail | undefined {
  if (!/^\s*[[{]/.test(text)) return undefined;
  const read = readJsonText(text);
  return read.ok ? undefined : { ...read.faults[0]!, path };
}

/**
 * Applies one `--set path=value`. The value is read as the field's type wants it: text as it stands, a number with or
 * without a unit (`4.2`, `4.2 mm`, `0.11 uF`), anything else as JSON.
 *
 * @throws UsageError where it is no `path=value`.
 */
export async function applySetting(document: unknown, setting: string): Promise<EditResult> {
  const equals = setting.indexOf('=');
  const parsed = equals < 1 ? null : parsePath(setting.slice(0, equals).trim());
  if (parsed === null || !parsed.ok) {
    throw new UsageError(
      `Option --set needs PATH=VALUE, for example --set transmitter.drive.supplyV=9 or --set "stack[0].thicknessMm=4 mm"; received "${setting.slice(0, 60)}".`,
    );
  }
  const text = setting.slice(equals + 1);
  const field = fieldAt(parsed.segments);
  const isText = field !== null && slotOf(field).node.type === 'string';
  const fault = isText ? undefined : jsonFault(text, setting.slice(0, equals).trim());
  if (fault !== undefined) return { ok: false, fault };
  const value = await typed(text, field);
  return withValueAt(document, parsed.segments, value);
}
