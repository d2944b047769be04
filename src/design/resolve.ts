import type { FaultDetail } from '../numerics/errors.ts';
import { checkAgainst } from './check-schema.ts';
import { agreeOnGap, crossFaults } from './cross-checks.ts';
import { fillDerivedDefaults } from './derived-defaults.ts';
import { receivedText } from './describe.ts';
import { MIGRATIONS, type Migration, migrate } from './migrations.ts';
import { type PathSegment, parsePath, valueAt } from './path.ts';
import { DESIGN_FORMAT, DESIGN_VERSION, type DesignDocument, designSchema } from './schema.ts';
import { isPlainObject } from './schema-node.ts';
import type { Design } from './types.ts';

export type DesignResult =
  | {
      readonly ok: true;
      readonly design: Design;
      /** Paths that took a default, in the schema's order. */
      readonly defaultsTaken: string[];
      /** What was given, brought to the current version; optional keys still left out. */
      readonly document: DesignDocument;
    }
  | { readonly ok: false; readonly faults: FaultDetail[] };

export interface ParseOptions {
  readonly migrations: readonly Migration[];
}

const PARSE_OPTIONS: ParseOptions = Object.freeze({ migrations: MIGRATIONS });

/** A fault that makes all others pointless: not a design at all, or one from a newer program. */
function headFault(value: unknown): FaultDetail | null {
  const wrongFormat = (received: string): FaultDetail => ({
    code: 'wrong-format',
    path: 'format',
    required: `"${DESIGN_FORMAT}"`,
    received,
    hint: 'This does not look like an Offcentre design.',
  });
  if (!isPlainObject(value)) {
    return {
      code: 'wrong-value',
      path: '',
      required: `a JSON object with "format": "${DESIGN_FORMAT}"`,
      received: receivedText(value, null),
    };
  }
  const looksLikeOne = Object.hasOwn(value, 'transmitter') || Object.hasOwn(value, 'receiver');
  if (value.format !== DESIGN_FORMAT && !looksLikeOne) return wrongFormat(receivedText(value.format, null));
  const version = value.version;
  if (typeof version === 'number' && Number.isInteger(version) && version > DESIGN_VERSION) {
    return {
      code: 'newer-version',
      path: 'version',
      required: `${DESIGN_VERSION} or older`,
      received: String(version),
      hint: 'The file was made by a newer Offcentre: update this one to open it.',
    };
  }
  return null;
}

/**
 * Reads a design document.
 *
 * @param json any JSON value.
 * @returns the design with every default filled in, the paths that took one and the document as given; or all faults.
 *   Never throws on a JSON value. Whether the coils can be wound is for the physics to say.
 */
export function parseDesign(json: unknown, options: ParseOptions = PARSE_OPTIONS): DesignResult {
  const document = migrate(json, options.migrations);
  const head = headFault(document);
  if (head !== null) return { ok: false, faults: [head] };
  const checked = checkAgainst(designSchema, document);
  if (!checked.ok) return checked;
  const gap = agreeOnGap(checked.value);
  // Without a gap the other checks can still speak: any gap serves them.
  const design = fillDerivedDefaults(checked.value, 'gapMm' in gap ? gap.gapMm : 1, checked.defaultsTaken);
  const faults = [...('fault' in gap ? [gap.fault] : []), ...crossFaults(design)];
  if (faults.length > 0) return { ok: false, faults };
  const defaultsTaken = checked.defaultsTaken;
  return {
    ok: true,
    design: { ...design, assumed: defaultsTaken },
    defaultsTaken,
    document: document as DesignDocument,
  };
}

/** The document of a design with every key written out. `parseDesign` of it gives the same design, with no default taken. */
export function documentOf(design: Design): DesignDocument {
  const { assumed: _, ...document } = design;
  return JSON.parse(JSON.stringify(document)) as DesignDocument;
}

/** The document without what stands at these paths of it. */
function without(document: DesignDocument, paths: readonly (readonly PathSegment[])[]): DesignDocument {
  const copy = JSON.parse(JSON.stringify(document)) as DesignDocument;
  for (const segments of paths) {
    const owner = valueAt(copy, segments.slice(0, -1));
    const key = segments.at(-1);
    if (typeof key === 'string' && isPlainObject(owner)) delete owner[key];
  }
  return copy;
}

/** JSON text that does not depend on the order of keys. */
function sortedText(value: unknown): string {
  return JSON.stringify(value, (_, entry: unknown) =>
    isPlainObject(entry) ? Object.fromEntries(Object.entries(entry).toSorted(([a], [b]) => (a < b ? -1 : 1))) : entry,
  );
}

/**
 * The document of a design that came from another by a change: what was taken by default stays out as long as reading gives
 * the same design without it, so that a guess keeps the wide tolerance of a guess.
 */
export function documentAsGiven(design: Design): DesignDocument {
  const whole = documentOf(design);
  const wanted = sortedText(whole);
  const readsTheSame = (document: DesignDocument): boolean => {
    const read = parseDesign(document);
    return read.ok && sortedText(documentOf(read.design)) === wanted;
  };
  const guesses = (design.assumed ?? []).flatMap((path) => {
    const parsed = parsePath(path);
    return parsed.ok ? [parsed.segments] : [];
  });
  const bare = without(whole, guesses);
  if (readsTheSame(bare)) return bare;
  // Some default was changed, or hangs on what was: one by one.
  return guesses.reduce((document, segments) => {
    const less = without(document, [segments]);
    return readsTheSame(less) ? less : document;
  }, whole);
}
