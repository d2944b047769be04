import { receivedText } from './describe.ts';
import { fieldAt } from './guess.ts';
import type { PathSegment } from './path.ts';
import { alternatives, isPlainObject, noteOf, type SchemaNode, slotOf } from './schema-node.ts';

/** Keys that tell one kind of thing from another. */
export const KINDS = ['shape', 'kind'] as const;

/** What the steps behind a receiver are called. */
const STEPS: Readonly<Record<string, string>> = Object.freeze({
  charger: 'charger',
  cell: 'cell',
  boost: 'boost converter',
});

/** Parts whose fields read alike: each says which one it is. */
const PARTS: Readonly<Record<string, string>> = Object.freeze({
  top: 'upper leg',
  bottom: 'lower leg',
  away: 'away from the dock',
});

/** A label without what explains it: `turns in all, over all layers; …` as `turns in all`. */
export function shortLabel(label: string): string {
  return (label.split(/[,;:(]/)[0] ?? label).trim();
}

/** `roundedRectangle` as words. */
export function spaced(word: string): string {
  return word.replace(/([a-z])([A-Z])/g, '$1 $2').toLowerCase();
}

/**
 * What the field at a path is called, in a few words; its key where the format has no label for it.
 * @param parent the object it stands in, which tells a charger's efficiency from a converter's
 */
export function fieldWords(at: readonly PathSegment[], parent?: unknown): string {
  const field = ofKind(at, parent) ?? fieldAt(at);
  const label = field === null ? '' : noteOf(slotOf(field).node).label;
  return shortLabel(label) || spaced(String(at.at(-1)).replace(/(Mm|Deg|Percent|[VAWC])$/, ''));
}

/** The field as the parent's own kind has it. */
function ofKind(at: readonly PathSegment[], parent: unknown): SchemaNode | null {
  const above = fieldAt(at.slice(0, -1));
  if (above === null || !isPlainObject(parent)) return null;
  const { node } = slotOf(above);
  const own = alternatives(node).find(({ word }) => node.key !== undefined && parent[node.key] === word);
  return own?.node.entries?.[String(at.at(-1))] ?? null;
}

/** What an entry of a list is called: by its name, else by what it is, else by its number. */
export function entryName(entry: unknown, index: number): string {
  if (isPlainObject(entry)) {
    if (typeof entry.name === 'string') return entry.name;
    if (typeof entry.kind === 'string') return STEPS[entry.kind] ?? spaced(entry.kind);
  }
  return String(index + 1);
}

/** The name of a part whose fields read as those of another; null for any other key. */
export function partName(key: string): string | null {
  return Object.hasOwn(PARTS, key) ? (PARTS[key] ?? null) : null;
}

/** Whose something is: `charging`, `charging’s cell`, `boost converter’s upper leg`. */
export function ownerWords(owners: readonly string[]): string {
  const away = owners.includes('away from the dock');
  const words = owners.filter((owner) => owner !== 'away from the dock').join('\u2019s ');
  return away ? `${words || 'load'} away from the dock` : words;
}

/** Fields of a thing told where it is told as a whole. */
const MOST_FIELDS = 3;

/**
 * A value as a person would read it: numbers with their unit, words of the format as words, a list by the names in it, a thing by its
 * kind and its first fields. Empty where there is nothing to say.
 */
export function valueWords(value: unknown, at: readonly PathSegment[]): string {
  if (value === null) return 'none';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'string') return STEPS[value] ?? spaced(value);
  const field = fieldAt(at);
  const node: SchemaNode | null = field === null ? null : slotOf(field).node;
  if (Array.isArray(value)) {
    if (value.length === 0) return 'none';
    if (value.every((entry) => typeof entry === 'string')) return value.join(', ');
    if (value.every((entry) => isPlainObject(entry) && (entry.name ?? entry.kind) !== undefined))
      return value.map(entryName).join(', ');
    return receivedText(value, node);
  }
  if (!isPlainObject(value)) return receivedText(value, node);
  const kind = KINDS.map((key) => value[key]).find((word) => typeof word === 'string');
  const told = Object.entries(value)
    .filter(([key, below]) => !KINDS.some((word) => word === key) && below !== null && typeof below !== 'object')
    .slice(0, MOST_FIELDS)
    .map(([key, below]) => `${fieldWords([...at, key], value)} ${valueWords(below, [...at, key])}`);
  return [...(kind === undefined ? [] : [spaced(kind as string)]), ...told].join(', ');
}
