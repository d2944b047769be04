import type { FaultDetail } from '../numerics/errors.ts';
import { fieldAt } from './guess.ts';
import { nearest } from './nearest.ts';
import { formatPath, type PathSegment } from './path.ts';
import { designSchema } from './schema.ts';
import { alternatives, isPlainObject, nodeOf, type SchemaNode, slotOf } from './schema-node.ts';

export type EditResult =
  | { readonly ok: true; readonly document: unknown }
  | { readonly ok: false; readonly fault: FaultDetail };

function keysOf(node: SchemaNode): string[] {
  if (node.entries !== undefined) return Object.keys(node.entries);
  return [...new Set(alternatives(node).flatMap((option) => Object.keys(option.node.entries ?? {})))];
}

/** Where in the format a key stands that was named without its way there; null where it stands nowhere outside lists. */
function placeOf(key: string): string | null {
  let level: { readonly at: readonly string[]; readonly node: SchemaNode }[] = [{ at: [], node: nodeOf(designSchema) }];
  while (level.length > 0) {
    const found = level.find(({ node }) => keysOf(node).includes(key));
    if (found) return formatPath([...found.at, key]);
    level = level.flatMap(({ at, node }) =>
      Object.entries(node.entries ?? {}).map(([name, child]) => ({ at: [...at, name], node: slotOf(child).node })),
    );
  }
  return null;
}

/** Where a path leaves the format, as a fault; null where it stays inside. */
function pathFault(segments: readonly PathSegment[]): FaultDetail | null {
  for (let depth = 1; depth <= segments.length; depth++) {
    if (fieldAt(segments.slice(0, depth)) !== null) continue;
    const parent = fieldAt(segments.slice(0, depth - 1));
    const node = parent === null ? null : slotOf(parent).node;
    const key = segments[depth - 1];
    const path = formatPath(segments.slice(0, depth));
    const known = node === null ? [] : keysOf(node);
    const isList = node?.type === 'array' || node?.type === 'strict_tuple';
    const required = isList
      ? `an entry of a list, such as ${formatPath(segments.slice(0, depth - 1))}[0]`
      : known.length > 0
        ? 'a key that the design format knows'
        : `the end of the path: ${formatPath(segments.slice(0, depth - 1))} has nothing below it`;
    const meant = typeof key === 'string' ? (nearest(key, known) ?? (depth === 1 ? placeOf(key) : null)) : null;
    return {
      code: 'unknown-key',
      path,
      required,
      received: JSON.stringify(String(key).slice(0, 60)),
      ...(meant === null ? {} : { hint: `Did you mean ${meant}?` }),
    };
  }
  return null;
}

/**
 * The document with the value at a path replaced; the original stays as it is. Objects missing on the way are made; a
 * list can grow by one entry at a time.
 */
export function withValueAt(document: unknown, segments: readonly PathSegment[], value: unknown): EditResult {
  const outside = pathFault(segments);
  if (outside !== null) return { ok: false, fault: outside };
  return replace(document, segments, 0, value);
}

function replace(node: unknown, segments: readonly PathSegment[], depth: number, value: unknown): EditResult {
  if (depth === segments.length) return { ok: true, document: value };
  const key = segments[depth];
  if (typeof key === 'number') {
    const list = Array.isArray(node) ? [...node] : [];
    if (key > list.length) {
      const fault: FaultDetail = {
        code: 'no-such-entry',
        path: formatPath(segments.slice(0, depth + 1)),
        required:
          list.length === 0
            ? 'entry [0]: the list is empty'
            : `an entry from [0] to [${list.length - 1}], or [${list.length}] to add one`,
        received: `[${key}]`,
      };
      return { ok: false, fault };
    }
    const below = replace(list[key], segments, depth + 1, value);
    if (below.ok) list[key] = below.document;
    return below.ok ? { ok: true, document: list } : below;
  }
  const copy = isPlainObject(node) ? { ...node } : {};
  const below = replace(Object.hasOwn(copy, key) ? copy[key] : undefined, segments, depth + 1, value);
  if (!below.ok) return below;
  copy[key] = below.document;
  return { ok: true, document: copy };
}
