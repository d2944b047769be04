import * as v from 'valibot';
import { type FaultDetail, safeText } from '../numerics/errors.ts';
import { defaultText, receivedText, requirementOf } from './describe.ts';
import { nearest } from './nearest.ts';
import { formatPath, type PathSegment } from './path.ts';
import { strangeSign } from './plain-text.ts';
import {
  alternatives,
  boundOf,
  isPlainObject,
  nodeOf,
  noteOf,
  patternOf,
  type SchemaNode,
  slotOf,
  words,
} from './schema-node.ts';

export type SchemaCheck<T> =
  | { readonly ok: true; readonly value: T; readonly defaultsTaken: string[] }
  | { readonly ok: false; readonly faults: FaultDetail[] };

interface Findings {
  tooLong: boolean;
  readonly faults: FaultDetail[];
  readonly defaultsTaken: string[];
  /** Nodes met on the way, by path, in the schema's order: valibot's issues are explained with them. */
  readonly met: Map<string, { readonly node: SchemaNode; readonly value: unknown }>;
}

function hintFor(node: SchemaNode, value: unknown, outer: SchemaNode): string | undefined {
  const slot = slotOf(outer);
  if (value === null) {
    const fallback = defaultText(outer);
    return slot.optional && fallback !== null ? `Leave the key out to take the default: ${fallback}.` : undefined;
  }
  if (typeof value !== 'string') return undefined;
  if (node.type === 'number') {
    return noteOf(node).unit !== undefined && /\d/.test(value)
      ? "Write the number alone, without quotes: its unit is the key's."
      : undefined;
  }
  const known = node.type === 'picklist' ? words(node) : [];
  const meant = nearest(value, known);
  return meant === null ? undefined : `Did you mean "${meant}"?`;
}

/** A text whose only fault is a sign that nobody sees: it is named, since the text shown would look right. */
function strangeText(node: SchemaNode, value: unknown, path: readonly PathSegment[]): FaultDetail | null {
  const plain = patternOf(node);
  if (typeof value !== 'string' || plain === undefined) return null;
  if (value.length > (boundOf(node, 'max_length') ?? Number.POSITIVE_INFINITY)) return null;
  const sign = strangeSign(value, plain);
  if (sign === null) return null;
  const rest = plain.test('\n') ? '' : ' or line ends';
  return {
    code: 'wrong-value',
    path: formatPath(path),
    required: `text without control characters, direction overrides, halves of a character${rest}`,
    received: sign,
    hint: 'Type it anew without that sign.',
  };
}

function fault(outer: SchemaNode, value: unknown, path: readonly PathSegment[]): FaultDetail {
  const node = slotOf(outer).node;
  const strange = strangeText(node, value, path);
  if (strange !== null) return strange;
  const hint = value === undefined ? undefined : hintFor(node, value, outer);
  const code =
    value === undefined
      ? 'missing'
      : node.type === 'number' && typeof value === 'number'
        ? 'out-of-range'
        : 'wrong-value';
  return {
    code,
    path: formatPath(path),
    required: requirementOf(outer),
    received: receivedText(value, node),
    ...(hint === undefined ? {} : { hint }),
  };
}

function unknownKey(key: string, path: readonly PathSegment[], known: readonly string[], free: readonly string[]) {
  const meant = nearest(key, free) ?? nearest(key, known);
  const list = known.length <= 12 ? `Known keys: ${known.join(', ')}.` : undefined;
  const hint = meant === null ? list : `Did you mean ${meant}?`;
  return {
    code: 'unknown-key',
    path: formatPath([...path, key]),
    required: 'a key that the design format knows',
    received: JSON.stringify(safeText(key, 40)),
    ...(hint === undefined ? {} : { hint }),
  };
}

/** Unknown keys told per object: enough for any slip, few enough for a file that is something else. */
const UNKNOWN_KEYS_TOLD = 100;

function visitObject(node: SchemaNode, value: Record<string, unknown>, path: PathSegment[], out: Findings): void {
  const entries = node.entries ?? {};
  for (const [key, child] of Object.entries(entries)) {
    const below = [...path, key];
    if (Object.hasOwn(value, key) && value[key] !== undefined) visit(child, value[key], below, out);
    else absent(child, below, out);
  }
  const unknown = Object.keys(value).filter((key) => !Object.hasOwn(entries, key));
  const known = Object.keys(entries);
  const free = known.filter((word) => !Object.hasOwn(value, word));
  for (const key of unknown.slice(0, UNKNOWN_KEYS_TOLD)) out.faults.push(unknownKey(key, path, known, free));
}

/** A key that was left out: its defaults, or a fault where it is required. */
function absent(outer: SchemaNode, path: PathSegment[], out: Findings): void {
  out.met.set(formatPath(path), { node: outer, value: undefined });
  const slot = slotOf(outer);
  if (!slot.optional) out.faults.push(fault(outer, undefined, path));
  else if (isPlainObject(slot.fallback) && slot.node.entries) visitObject(slot.node, slot.fallback, path, out);
  else out.defaultsTaken.push(formatPath(path));
}

function visitVariant(node: SchemaNode, value: Record<string, unknown>, path: PathSegment[], out: Findings): void {
  const key = node.key ?? '';
  const word = Object.hasOwn(value, key) ? value[key] : undefined;
  const chosen = alternatives(node).find((option) => option.word === word);
  if (chosen !== undefined) {
    visitObject(chosen.node, value, path, out);
    return;
  }
  const known = alternatives(node).map((option) => option.word);
  const list = { type: 'picklist', options: known };
  out.met.set(formatPath([...path, key]), { node: list, value: word });
  out.faults.push(fault(list, word, [...path, key]));
}

function visit(outer: SchemaNode, value: unknown, path: PathSegment[], out: Findings): void {
  const { node, nullable } = slotOf(outer);
  out.met.set(formatPath(path), { node: outer, value });
  if (value === null && nullable) return;
  if (node.entries !== undefined || node.type === 'variant') {
    if (!isPlainObject(value)) out.faults.push(fault(outer, value, path));
    else if (node.entries !== undefined) visitObject(node, value, path, out);
    else visitVariant(node, value, path, out);
  } else if (node.type === 'array' && node.item !== undefined && Array.isArray(value)) {
    const item = node.item;
    // A list over its limit is one fault, not one for each of a million entries, and nothing below it is read.
    if (value.length > (boundOf(node, 'max_length') ?? Number.POSITIVE_INFINITY)) {
      out.faults.push(fault(outer, value, path));
      out.tooLong = true;
    } else {
      value.forEach((entry, i) => {
        visit(item, entry, [...path, i], out);
      });
    }
  } else if (node.type === 'strict_tuple' && Array.isArray(value) && value.length === node.items?.length) {
    node.items.forEach((item, i) => {
      visit(item, value[i], [...path, i], out);
    });
  }
}

/**
 * Checks a JSON value against a schema built from `fields.ts`.
 *
 * @returns the value with the schema's defaults filled in and the paths that took one, or the faults found: one for
 *   each path, in the schema's order, unknown keys last (a list over its limit is told before any
 *   single value is looked at). Never throws on any JSON value.
 */
export function checkAgainst<T extends v.GenericSchema>(schema: T, value: unknown): SchemaCheck<v.InferOutput<T>> {
  const out: Findings = { tooLong: false, faults: [], defaultsTaken: [], met: new Map() };
  const root = nodeOf(schema);
  visit(root, value, [], out);
  if (out.tooLong) return { ok: false, faults: inOrder(out) };
  const known = new Set(out.faults.map((f) => f.path));
  const result = v.safeParse(schema, value);
  for (const issue of result.issues ?? []) {
    const path = (issue.path ?? []).map((item) => item.key as PathSegment);
    // A fault below or above an explained one follows from it.
    if (path.some((_, i) => known.has(formatPath(path.slice(0, i + 1))))) continue;
    while (path.length > 0 && !out.met.has(formatPath(path))) path.pop();
    const name = formatPath(path);
    if (known.has(name)) continue;
    known.add(name);
    const met = out.met.get(name) ?? { node: root, value };
    out.faults.push(fault(met.node, met.value, path));
  }
  if (!result.success) return { ok: false, faults: inOrder(out) };
  if (out.faults.length > 0) return { ok: false, faults: inOrder(out) };
  return { ok: true, value: result.output, defaultsTaken: out.defaultsTaken };
}

function inOrder(out: Findings): FaultDetail[] {
  const rank = new Map([...out.met.keys()].map((path, i) => [path, i]));
  return out.faults
    .map((f, i) => ({ f, rank: rank.get(f.path) ?? Number.POSITIVE_INFINITY, i }))
    .sort((a, b) => (a.rank === b.rank ? a.i - b.i : a.rank - b.rank))
    .map((entry) => entry.f);
}
