/**
 * Building blocks of the schema. Each leaf carries its label, unit, range and, where it has a default, how far the
 * default may be off; messages, the JSON Schema, the page's fields and the error bars all read the same note.
 */
import * as v from 'valibot';
import type { UnitName } from '../units/unit-table.ts';
import { PLAIN_LINE, PLAIN_LINES } from './plain-text.ts';

/** How far a value that was not given may be from its default: 95 % half-width, as a fraction or in the field's unit. */
export type Guess = { readonly relative: number } | { readonly absolute: number };

export interface FieldNote {
  /** What the field is, in words of the trade. */
  readonly label: string;
  readonly unit?: UnitName;
  readonly guess?: Guess;
  /** For a default that depends on other keys: what it is, in words. */
  readonly derived?: string;
}

type Note<T> = v.MetadataAction<T, Record<string, unknown>>;

function note<T>(fields: FieldNote): Note<T> {
  return v.metadata<T, Record<string, unknown>>({ ...fields });
}

/** A number within [minimum, maximum] of the note's unit. */
export function quantity(minimum: number, maximum: number, fields: FieldNote & { readonly unit: UnitName }) {
  return v.pipe(v.number(), v.minValue(minimum), v.maxValue(maximum), note<number>(fields));
}

/** A whole number within [minimum, maximum]. */
export function whole(minimum: number, maximum: number, fields: FieldNote & { readonly unit: UnitName }) {
  return v.pipe(v.number(), v.integer(), v.minValue(minimum), v.maxValue(maximum), note<number>(fields));
}

/** A length in millimetres. */
export function length(
  minimum: number,
  maximum: number,
  label: string,
  fields: Omit<FieldNote, 'label' | 'unit'> = {},
) {
  return quantity(minimum, maximum, { label, unit: 'mm', ...fields });
}

/** A relative tolerance in percent. */
export function percent(label: string, maximum = 100, derived?: string) {
  return quantity(0, maximum, { label, unit: '%', ...(derived === undefined ? {} : { derived }) });
}

/** Text of one line, or with line ends and tabs where `lines` says so; never with a sign that `strangeSign` finds. */
export function text(maximum: number, label: string, { minimum = 0, lines = false } = {}) {
  return v.pipe(
    v.string(),
    v.minLength(minimum),
    v.maxLength(maximum),
    v.regex(lines ? PLAIN_LINES : PLAIN_LINE),
    note<string>({ label }),
  );
}

export function choice<const T extends readonly string[]>(options: T, label: string, derived?: string) {
  return v.pipe(v.picklist(options), note<T[number]>(derived === undefined ? { label } : { label, derived }));
}

export function flag(label: string) {
  return v.pipe(v.boolean(), note<boolean>({ label }));
}

/** The word that tells the alternatives of a variant apart. */
export function kind<const T extends string>(word: T) {
  return v.literal(word);
}

export function list<T extends v.GenericSchema>(item: T, minimum: number, maximum: number, label: string) {
  return v.pipe(v.array(item), v.minLength(minimum), v.maxLength(maximum), note<v.InferOutput<T>[]>({ label }));
}

/** A point [x, y] in millimetres. */
export function point(limit: number, label: string) {
  return v.pipe(
    v.strictTuple([length(-limit, limit, `${label}, x`), length(-limit, limit, `${label}, y`)]),
    note<[number, number]>({ label, unit: 'mm' }),
  );
}
