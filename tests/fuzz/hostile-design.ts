/** Designs that begin as good ones and are bent in one to five places. */
import fc from 'fast-check';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { fieldAt } from '../../src/design/guess.ts';
import type { PathSegment } from '../../src/design/path.ts';
import { boundOf, isWhole, slotOf, words } from '../../src/design/schema-node.ts';
import { STARTING_POINTS } from '../../src/design/starting-points.ts';
import { LEAST } from '../design/least.ts';
import { hostileText, oddNumber } from './support.ts';

const BASES: readonly unknown[] = [DEMO_DESIGN, LEAST, ...STARTING_POINTS.map(({ document }) => document)];

type Tree = Record<PathSegment, unknown>;

/** Every place of a document, root left out. */
function places(node: unknown, path: PathSegment[] = []): PathSegment[][] {
  if (typeof node !== 'object' || node === null) return [];
  return Object.entries(node).flatMap(([key, child]) => {
    const here = [...path, Array.isArray(node) ? Number(key) : key];
    return [here, ...places(child, here)];
  });
}

/** Another value for what stands at a place. */
type Bend =
  | { readonly how: 'value'; readonly value: unknown }
  | { readonly how: 'legal'; readonly share: number }
  | { readonly how: 'remove' }
  | { readonly how: 'wrap' | 'text' }
  | { readonly how: 'scale'; readonly by: number }
  | { readonly how: 'many'; readonly count: number }
  | { readonly how: 'key'; readonly name: string; readonly value: unknown };

const anyValue = fc.oneof(
  oddNumber,
  hostileText,
  fc.constantFrom(null, true, false, [], {}, [[]], { shape: 'circle' }, { kind: 'litz' }, { kind: 'path' }),
  fc.jsonValue({ maxDepth: 3 }),
  // Parsed from text, so that __proto__ is a key of the object itself.
  fc
    .constant(null)
    .map(() => JSON.parse('{"__proto__":{"polluted":true},"constructor":{"prototype":{"polluted":true}}}')),
);

const bend: fc.Arbitrary<Bend> = fc.oneof(
  { weight: 3, arbitrary: fc.record({ how: fc.constant('value' as const), value: anyValue }) },
  {
    weight: 5,
    arbitrary: fc.record({ how: fc.constant('legal' as const), share: fc.double({ min: 0, max: 1, noNaN: true }) }),
  },
  {
    weight: 2,
    arbitrary: fc.oneof(
      fc.constant({ how: 'remove' as const }),
      fc.record({ how: fc.constantFrom('wrap' as const, 'text' as const) }),
    ),
  },
  {
    weight: 2,
    arbitrary: fc.record({ how: fc.constant('scale' as const), by: fc.constantFrom(-1, 0.01, 0.5, 2, 10, 1e3, 1e6) }),
  },
  {
    weight: 1,
    arbitrary: fc.record({ how: fc.constant('many' as const), count: fc.constantFrom(2, 9, 41, 600, 20_000) }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      how: fc.constant('key' as const),
      name: fc.oneof(fc.constantFrom('__proto__', 'constructor', 'toString', 'turns', 'gapMm', 'length'), hostileText),
      value: anyValue,
    }),
  },
);

/** A value that the schema allows at a place: at an end of its range or within, near a small number as often as a large. */
function legal(path: readonly PathSegment[], now: unknown, share: number): unknown {
  const field = fieldAt(path);
  if (field === null) return now;
  const { node, nullable } = slotOf(field);
  if (nullable && share < 0.05) return null;
  if (node.type === 'picklist') return words(node)[Math.floor(share * 0.999 * words(node).length)];
  if (node.type === 'boolean') return share < 0.5;
  const [low, high] = [boundOf(node, 'min_value'), boundOf(node, 'max_value')];
  if (node.type !== 'number' || low === undefined || high === undefined) return now;
  const small = Math.max(low, 1e-3 * high);
  const value = share < 0.1 ? low : share > 0.9 ? high : small * (high / small) ** ((share - 0.1) / 0.8);
  return isWhole(node) ? Math.round(value) : value;
}

function bent(path: readonly PathSegment[], now: unknown, change: Exclude<Bend, { how: 'remove' | 'key' }>): unknown {
  switch (change.how) {
    case 'value':
      return change.value;
    case 'legal':
      return legal(path, now, change.share);
    case 'wrap':
      return [now];
    case 'text':
      return typeof now === 'object' ? JSON.stringify(now) : String(now);
    case 'scale':
      return typeof now === 'number' ? now * change.by : now;
    default:
      return Array.isArray(now) && now.length > 0
        ? Array.from({ length: change.count }, (_, i) => structuredClone(now[i % now.length]))
        : now;
  }
}

function apply(document: unknown, at: number, change: Bend): void {
  const all = places(document);
  if (all.length === 0) return;
  const path = all[at % all.length];
  const key = path[path.length - 1];
  const parent = path.slice(0, -1).reduce((node, segment) => (node as Tree)[segment] as Tree, document as Tree);
  if (change.how === 'remove') {
    delete parent[key];
  } else if (change.how === 'key') {
    // A list's only own keys are its entries: text could not give it another.
    if (Array.isArray(parent)) return;
    // Defined, not assigned: an assignment to __proto__ would not make a key.
    Object.defineProperty(parent, change.name, {
      value: change.value,
      enumerable: true,
      configurable: true,
      writable: true,
    });
  } else parent[key] = bent(path, parent[key], change);
}

/** A bent design, as a value; may hold numbers that JSON cannot. */
export const bentDesign: fc.Arbitrary<unknown> = fc
  .tuple(fc.nat({ max: BASES.length - 1 }), fc.array(fc.tuple(fc.nat(), bend), { minLength: 1, maxLength: 5 }))
  .map(([base, bends]) => {
    const document = structuredClone(BASES[base]);
    for (const [at, change] of bends) apply(document, at, change);
    return document;
  });

/** What may have happened to the text of a file on its way. */
const damage = fc.oneof(
  { weight: 4, arbitrary: fc.constant((text: string) => text) },
  {
    weight: 1,
    arbitrary: fc
      .double({ min: 0, max: 1, noNaN: true })
      .map((part) => (text: string) => text.slice(0, text.length * part)),
  },
  {
    weight: 1,
    arbitrary: fc
      .tuple(fc.double({ min: 0, max: 1, noNaN: true }), hostileText)
      .map(([part, put]) => (text: string) => {
        const at = Math.floor(text.length * part);
        return text.slice(0, at) + put + text.slice(at + 1);
      }),
  },
  {
    weight: 1,
    arbitrary: fc.constantFrom(
      (text: string) => `\ufeff${text}`,
      (text: string) => `\ufeff\ufeff${text}`,
      // UTF-16 and Latin-1 read as UTF-8.
      (text: string) => Buffer.from(text, 'utf16le').toString('utf8'),
      (text: string) => Buffer.from(text, 'latin1').toString('utf8'),
      (text: string) => text.replace('{', '{"title":"one","title":"two",'),
      (text: string) => text.replace(/"version"/, '"__proto__":{"polluted":1},"version"'),
      (text: string) => text.replace(/:(\d)/, ':1e999,"x":$1'),
      (text: string) => text.replace(/\d+/, '9'.repeat(5000)),
      (text: string) => `${text}${text}`,
      (text: string) => `${'['.repeat(100_000)}${text}`,
      (text: string) => `${'{"a":'.repeat(20_000)}${text}`,
      (text: string) => `"${'a'.repeat(1_500_000)}"`.concat(text.slice(0, 0)),
      (text: string) => text + ' '.repeat(2_000_001),
    ),
  },
);

/** Text of a file: a bent design, garbage, or any JSON. */
export const designText: fc.Arbitrary<string> = fc.oneof(
  {
    weight: 8,
    arbitrary: fc.tuple(bentDesign, damage).map(([document, harm]) => harm(JSON.stringify(document) ?? '')),
  },
  { weight: 1, arbitrary: fc.string({ unit: 'binary', maxLength: 200 }) },
  { weight: 1, arbitrary: fc.json() },
);
