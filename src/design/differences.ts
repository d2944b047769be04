import { receivedText } from './describe.ts';
import { fieldAt } from './guess.ts';
import { formatPath, type PathSegment } from './path.ts';
import { isPlainObject, noteOf, type SchemaNode, slotOf } from './schema-node.ts';

/** One place in which two documents differ. */
export interface Difference {
  /** As in messages: `transmitter.drive.supplyV`. */
  readonly path: string;
  /** In words of the trade: `transmitter, supply voltage`. */
  readonly words: string;
  /** What each document says there, ready to show; `not given` where it leaves the key out. */
  readonly here: string;
  readonly there: string;
  /** The second document's value; undefined where it leaves the key out. */
  readonly value: unknown;
}

/** Keys that tell one kind of thing from another: where they differ, the thing differs as a whole. */
const KINDS = ['shape', 'kind'] as const;

/**
 * Where two design documents differ, in the order of the format, each place as small as the format lets it be changed alone.
 * Titles, notes and readings are left out: they do not change what a link does; so is a gap that follows from the stack.
 */
export function differences(here: unknown, there: unknown): readonly Difference[] {
  const found: Difference[] = [];
  compare(here, there, [], found);
  const stacked = hasStack(here) && hasStack(there);
  return found
    .filter(({ path }) => !/^(title|notes|readings|format|version)\b/.test(path))
    .filter(({ path }) => !(stacked && path === 'placement.gapMm'))
    .map((entry) => ({ ...entry, words: named(entry.words, entry.path, here) }));
}

function compare(here: unknown, there: unknown, at: readonly PathSegment[], found: Difference[]): void {
  if (Object.is(here, there)) return;
  if (isPlainObject(here) && isPlainObject(there) && KINDS.every((key) => here[key] === there[key])) {
    for (const key of keysOf(here, there, at)) compare(own(here, key), own(there, key), [...at, key], found);
    return;
  }
  if (Array.isArray(here) && Array.isArray(there) && here.length === there.length) {
    here.forEach((entry, i) => {
      compare(entry, there[i], [...at, i], found);
    });
    return;
  }
  if (JSON.stringify(here) === JSON.stringify(there)) return;
  const field = fieldAt(at);
  const node = field === null ? null : slotOf(field).node;
  found.push({
    path: formatPath(at),
    words: wordsFor(at, node),
    here: textOf(here, node),
    there: textOf(there, node),
    value: there,
  });
}

const hasStack = (document: unknown): boolean =>
  isPlainObject(document) && Array.isArray(document.stack) && document.stack.length > 0;

/** A layer or load by its name instead of its number. */
function named(words: string, path: string, document: unknown): string {
  const found = /^(stack|demand\.loads)\[(\d+)\]\./.exec(path);
  if (!found || !isPlainObject(document)) return words;
  const list = found[1] === 'stack' ? document.stack : isPlainObject(document.demand) ? document.demand.loads : null;
  const entry: unknown = Array.isArray(list) ? list[Number(found[2])] : null;
  const name = isPlainObject(entry) ? entry.name : null;
  return typeof name === 'string' ? words.replace(/^(layer|load) \d+/, name) : words;
}

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

function textOf(value: unknown, node: SchemaNode | null): string {
  if (value === undefined) return 'not given';
  if (value === null) return 'none';
  if (typeof value === 'string') return spaced(value);
  if (isPlainObject(value)) {
    const kind = KINDS.map((key) => value[key]).find((word) => typeof word === 'string');
    return kind === undefined ? 'given' : spaced(kind as string);
  }
  return receivedText(value, node);
}

/** `roundedRectangle` as words. */
function spaced(word: string): string {
  return word.replace(/([a-z])([A-Z])/g, '$1 $2').toLowerCase();
}

function wordsFor(at: readonly PathSegment[], node: SchemaNode | null): string {
  const [first, second] = at;
  const last = at.at(-1);
  const label =
    (node === null ? '' : noteOf(node).label) || spaced(String(last).replace(/(Mm|Deg|Percent|[VAWC])$/, ''));
  const side = first === 'transmitter' || first === 'receiver' ? first : '';
  if (side !== '') {
    const part = at.length > 2 && (second === 'ferrite' || second === 'metal') ? ` ${second}` : '';
    return `${side}${part}, ${label}`;
  }
  if (first === 'stack' && typeof second === 'number') return `layer ${second + 1}, ${label}`;
  if (first === 'demand' && second === 'loads' && typeof at[2] === 'number') return `load ${at[2] + 1}, ${label}`;
  return label;
}
