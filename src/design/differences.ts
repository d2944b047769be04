import { defaultText } from './describe.ts';
import { entryName, fieldWords, KINDS, ownerWords, valueWords } from './field-words.ts';
import { fieldAt } from './guess.ts';
import { formatPath, type PathSegment } from './path.ts';
import { isPlainObject, noteOf, slotOf } from './schema-node.ts';

/** One place in which two documents differ. */
export interface Difference {
  /** As in messages: `transmitter.drive.supplyV`. */
  readonly path: string;
  /** In words of the trade: `transmitter, supply voltage`. */
  readonly words: string;
  /** What each document says there, ready to show; the default, or `not given`, where it leaves the key out. */
  readonly here: string;
  readonly there: string;
  /** The second document's value; undefined where it leaves the key out. */
  readonly value: unknown;
}

/**
 * Where two design documents differ, in the order of the format, each place as small as the format lets it be changed alone.
 * Titles, notes and readings are left out: they do not change what a link does; so is a gap that follows from the stack, and a
 * value that is its own default on one side and not given on the other, where the default is no guess.
 */
export function differences(here: unknown, there: unknown): readonly Difference[] {
  const found: Difference[] = [];
  compare(here, there, [], found, here);
  const stacked = hasStack(here) && hasStack(there);
  return found
    .filter(({ path }) => !/^(title|notes|readings|format|version)\b/.test(path))
    .filter(({ path }) => !(stacked && path === 'placement.gapMm'));
}

function compare(here: unknown, there: unknown, at: readonly PathSegment[], found: Difference[], whole: unknown): void {
  if (Object.is(here, there)) return;
  // Where one side leaves out what may be left out whole, its fields are compared with their defaults.
  const [a, b] = [here ?? emptyFor(here, there, at), there ?? emptyFor(there, here, at)];
  // Things of another kind differ as a whole.
  if (isPlainObject(a) && isPlainObject(b) && KINDS.every((key) => a[key] === b[key])) {
    for (const key of keysOf(a, b, at)) compare(own(a, key), own(b, key), [...at, key], found, whole);
    return;
  }
  if (Array.isArray(here) && Array.isArray(there) && here.length === there.length) {
    here.forEach((entry, i) => {
      compare(entry, there[i], [...at, i], found, whole);
    });
    return;
  }
  if (JSON.stringify(here) === JSON.stringify(there) || isDefault(here, there, at)) return;
  found.push({
    path: formatPath(at),
    words: wordsFor(at, whole),
    here: textOf(here, at),
    there: textOf(there, at),
    value: there,
  });
}

/** An empty object in the place of one that is not given, where the other side has it and the format requires nothing in it. */
function emptyFor(side: unknown, other: unknown, at: readonly PathSegment[]): unknown {
  if (side !== undefined || !isPlainObject(other)) return side;
  const field = fieldAt(at);
  const entries = field === null ? undefined : slotOf(field).node.entries;
  return entries !== undefined && Object.values(entries).every((entry) => slotOf(entry).optional) ? {} : side;
}

/** Whether one side leaves out what the other gives as the default, and that default is no guess. */
function isDefault(here: unknown, there: unknown, at: readonly PathSegment[]): boolean {
  if (here !== undefined && there !== undefined) return false;
  const field = fieldAt(at);
  if (field === null) return false;
  const { node, fallback } = slotOf(field);
  return fallback !== undefined && noteOf(node).guess === undefined && Object.is(here ?? there, fallback);
}

const hasStack = (document: unknown): boolean =>
  isPlainObject(document) && Array.isArray(document.stack) && document.stack.length > 0;

const own = (object: Record<string, unknown>, key: string): unknown =>
  Object.hasOwn(object, key) ? object[key] : undefined;

/** Keys of both, those the format knows first and in its order. */
function keysOf(
  here: Record<string, unknown>,
  there: Record<string, unknown>,
  at: readonly PathSegment[],
): readonly string[] {
  const field = at.length === 0 ? null : fieldAt(at);
  const known = Object.keys((field === null ? undefined : slotOf(field).node.entries) ?? {});
  const present = new Set([...Object.keys(here), ...Object.keys(there)]);
  return [...known.filter((key) => present.delete(key)), ...present];
}

/** Defaults that JSON writes in its own words. */
const JSON_WORDS: Readonly<Record<string, unknown>> = Object.freeze({ true: true, false: false, '[]': [] });

function textOf(value: unknown, at: readonly PathSegment[]): string {
  if (value !== undefined) return valueWords(value, at) || 'given';
  const field = fieldAt(at);
  const standard = field === null ? null : defaultText(field);
  if (standard === null || standard === 'null') return 'not given';
  return `${valueWords(JSON_WORDS[standard] ?? standard.replaceAll('"', ''), at)} by default`;
}

/** `transmitter ferrite, thickness`; a layer, a load or a step by its name. */
function wordsFor(at: readonly PathSegment[], whole: unknown): string {
  const owners: string[] = [];
  let value = whole;
  for (const segment of at.slice(0, -1)) {
    if (Array.isArray(value) && typeof segment === 'number') {
      value = value[segment];
      owners.push(entryName(value, segment));
    } else value = isPlainObject(value) ? own(value, String(segment)) : undefined;
  }
  const [first, second] = at;
  const words = fieldWords(at, value);
  if (owners.length > 0) return `${ownerWords(owners)}, ${words}`;
  if (first !== 'transmitter' && first !== 'receiver') return words;
  const part = at.length > 2 && (second === 'ferrite' || second === 'metal') ? ` ${second}` : '';
  return `${first}${part}, ${words}`;
}
