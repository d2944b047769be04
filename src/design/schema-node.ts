import type * as v from 'valibot';
import type { FieldNote } from './fields.ts';

/** What this folder reads of a valibot schema: its structure, not its validation. */
export interface SchemaNode {
  readonly type: string;
  /** Objects. */
  readonly entries?: Readonly<Record<string, SchemaNode>>;
  /** Optional and nullable. */
  readonly wrapped?: SchemaNode;
  readonly default?: unknown;
  /** Lists and tuples. */
  readonly item?: SchemaNode;
  readonly items?: readonly SchemaNode[];
  /** Alternatives of a variant (schemas) or of a choice (words). */
  readonly options?: readonly (SchemaNode | string)[];
  /** The key that tells a variant's alternatives apart. */
  readonly key?: string;
  readonly literal?: string | number | boolean;
  readonly pipe?: readonly { readonly type: string; readonly requirement?: unknown; readonly metadata?: unknown }[];
}

/** A valibot schema seen as a tree. */
export function nodeOf(schema: v.GenericSchema): SchemaNode {
  return schema as unknown as SchemaNode;
}

/** A node without its optional and nullable wrappers, and what they said. */
export interface Slot {
  readonly node: SchemaNode;
  readonly optional: boolean;
  readonly nullable: boolean;
  /** undefined: none, or derived from other keys. */
  readonly fallback: unknown;
}

export function slotOf(outer: SchemaNode): Slot {
  let node = outer;
  let optional = false;
  let nullable = false;
  let fallback: unknown;
  while (node.wrapped !== undefined) {
    if (node.type === 'optional') {
      optional = true;
      fallback = node.default;
    } else {
      nullable = true;
    }
    node = node.wrapped;
  }
  return { node, optional, nullable, fallback };
}

/** Label, unit and guess of a leaf or list; an empty label where the schema states none. */
export function noteOf(node: SchemaNode): FieldNote {
  const found = node.pipe?.find((action) => action.type === 'metadata')?.metadata;
  return (found as FieldNote | undefined) ?? { label: '' };
}

/** A bound of the node's pipe, undefined where there is none. */
export function boundOf(
  node: SchemaNode,
  action: 'min_value' | 'max_value' | 'min_length' | 'max_length',
): number | undefined {
  const requirement = node.pipe?.find((step) => step.type === action)?.requirement;
  return typeof requirement === 'number' ? requirement : undefined;
}

/** The pattern that a text keeps to, undefined where it may hold anything. */
export function patternOf(node: SchemaNode): RegExp | undefined {
  const requirement = node.pipe?.find((step) => step.type === 'regex')?.requirement;
  return requirement instanceof RegExp ? requirement : undefined;
}

export function isWhole(node: SchemaNode): boolean {
  return node.pipe?.some((step) => step.type === 'integer') ?? false;
}

/** The alternatives of a variant with the word each goes by. */
export function alternatives(node: SchemaNode): { readonly word: string; readonly node: SchemaNode }[] {
  if (node.key === undefined) return [];
  const key = node.key;
  return (node.options ?? []).flatMap((option) =>
    typeof option === 'string' ? [] : [{ word: String(option.entries?.[key]?.literal), node: option }],
  );
}

/** The words of a choice. */
export function words(node: SchemaNode): string[] {
  return (node.options ?? []).filter((option) => typeof option === 'string');
}

export function isPlainObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
