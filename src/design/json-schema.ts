import { toJsonSchema } from '@valibot/to-json-schema';
import { UNITS } from '../units/unit-table.ts';
import { defaultText } from './describe.ts';
import type { FieldNote } from './fields.ts';
import { DESIGN_FORMAT, DESIGN_VERSION, designSchema } from './schema.ts';
import { noteOf, type SchemaNode, slotOf } from './schema-node.ts';

function description(note: FieldNote): string {
  const symbol = note.unit === undefined ? '' : UNITS[note.unit].symbol;
  const unit = symbol === '' || symbol === 'turns' ? '' : `, in ${symbol}`;
  const guess =
    note.guess === undefined
      ? ''
      : 'relative' in note.guess
        ? `. The default may be off by ${Math.round(note.guess.relative * 100)} %`
        : note.guess.absolute === 0
          ? ''
          : `. The default may be off by ${note.guess.absolute} ${symbol}`.trimEnd();
  const derived = note.derived === undefined ? '' : `. Default: ${note.derived}`;
  return `${note.label}${unit}${derived}${guess}.`;
}

/** JSON Schema (draft 2020-12) of the design file, with label, unit and default of each key in its description. */
export function designJsonSchema(): Record<string, unknown> {
  const body = toJsonSchema(designSchema, {
    typeMode: 'input',
    target: 'draft-2020-12',
    overrideAction: ({ valibotAction, jsonSchema }) => {
      if (valibotAction.type !== 'metadata') return undefined;
      const note = (valibotAction as unknown as { metadata: FieldNote }).metadata;
      const unit = note.unit === undefined ? '' : UNITS[note.unit].symbol;
      const { label: _l, unit: _u, guess: _g, derived: _d, ...plain } = jsonSchema as Record<string, unknown>;
      return { ...plain, description: description(note), ...(unit === '' ? {} : { 'x-unit': unit }) };
    },
  });
  const { $schema, ...rest } = body;
  return {
    $schema,
    title: `${DESIGN_FORMAT}, version ${DESIGN_VERSION}`,
    description: 'A wireless power link as Offcentre reads it. Every number is in the unit that its key names.',
    ...rest,
  };
}

/** One leaf of the format: path with `[]` for list entries and `<word>` for an alternative, label, unit, default. */
export interface FieldRow {
  readonly path: string;
  readonly note: FieldNote;
  readonly required: boolean;
  /** null where the key is required. */
  readonly fallback: string | null;
}

/** All leaves of a schema, in order. */
export function fieldRows(outer: SchemaNode, path = ''): FieldRow[] {
  const { node, optional } = slotOf(outer);
  const below = (key: string) => (path === '' ? key : `${path}.${key}`);
  if (node.entries !== undefined) {
    return Object.entries(node.entries).flatMap(([key, child]) => fieldRows(child, below(key)));
  }
  if (node.type === 'variant') {
    return (node.options ?? []).flatMap((option) =>
      typeof option === 'string' ? [] : fieldRows(option, `${path}<${option.entries?.[node.key ?? '']?.literal}>`),
    );
  }
  const row = { path, note: noteOf(node), required: !optional, fallback: defaultText(outer) };
  return node.type === 'array' && node.item !== undefined ? [row, ...fieldRows(node.item, `${path}[]`)] : [row];
}
