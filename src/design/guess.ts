import type { Guess } from './fields.ts';
import { type PathSegment, parsePath, valueAt } from './path.ts';
import { designSchema } from './schema.ts';
import { alternatives, nodeOf, noteOf, type SchemaNode, slotOf } from './schema-node.ts';
import type { Design } from './types.ts';

function childOf(node: SchemaNode, segment: PathSegment): SchemaNode | undefined {
  if (typeof segment === 'number') return node.item ?? node.items?.[segment];
  if (node.entries !== undefined) return Object.hasOwn(node.entries, segment) ? node.entries[segment] : undefined;
  return alternatives(node)
    .map((option) => option.node.entries)
    .find((entries) => entries !== undefined && Object.hasOwn(entries, segment))?.[segment];
}

/** The schema's node at a path of the design, or null where the format has none. */
export function fieldAt(segments: readonly PathSegment[]): SchemaNode | null {
  let here: SchemaNode | undefined = nodeOf(designSchema);
  for (const segment of segments) here = here === undefined ? undefined : childOf(slotOf(here).node, segment);
  return here ?? null;
}

/** How far the default at a path may be off, as the schema states it; null where it states nothing. */
export function guessAt(path: string): Guess | null {
  const parsed = parsePath(path);
  if (!parsed.ok) return null;
  const field = fieldAt(parsed.segments);
  return field === null ? null : (noteOf(slotOf(field).node).guess ?? null);
}

/** A number the design's owner did not give: its default and the 95 % half-width, in the key's unit. */
export interface GuessedValue {
  readonly path: string;
  readonly label: string;
  readonly value: number;
  readonly halfWidth: number;
}

/** Every numeric default taken that may be off, for the error bars. Empty for a design whose every key was given. */
export function guessedValues(design: Design): GuessedValue[] {
  return (design.assumed ?? []).flatMap((path) => {
    const guess = guessAt(path);
    const parsed = parsePath(path);
    const value = parsed.ok ? valueAt(design, parsed.segments) : undefined;
    if (guess === null || !parsed.ok || typeof value !== 'number') return [];
    const halfWidth = 'relative' in guess ? Math.abs(value) * guess.relative : guess.absolute;
    const field = fieldAt(parsed.segments);
    const label = field === null ? '' : noteOf(slotOf(field).node).label;
    return halfWidth > 0 ? [{ path, label, value, halfWidth }] : [];
  });
}
