import { describe, expect, test } from 'vitest';
import { DESIGN_DEFAULTS } from '../../src/design/defaults.ts';
import { designJsonSchema, fieldRows } from '../../src/design/json-schema.ts';
import { designSchema } from '../../src/design/schema.ts';
import { nodeOf } from '../../src/design/schema-node.ts';

const rows = fieldRows(nodeOf(designSchema));

describe('the format describes itself', () => {
  test('every number has a unit and a label', () => {
    const numbers = rows.filter((row) => row.note.unit !== undefined);
    expect(numbers.length).toBeGreaterThan(150);
    for (const row of numbers) expect(row.note.label, row.path).not.toBe('');
  });

  test("a key's unit is the one in its name", () => {
    const suffixes: readonly [RegExp, string][] = [
      [/Mm$/, 'mm'],
      [/Ohm$/, 'ohm'],
      [/Mohm$/, 'mohm'],
      [/Kohm$/, 'kohm'],
      [/Uh$/, 'uH'],
      [/Nf$/, 'nF'],
      [/Uf$/, 'uF'],
      [/Khz$/, 'kHz'],
      [/(?:^|\.|[a-z])V$/, 'V'],
      [/Mv$/, 'mV'],
      [/[a-z]A$/, 'A'],
      [/Ma$/, 'mA'],
      [/Ah$/, 'Ah'],
      [/Nc$/, 'nC'],
      [/Ns$/, 'ns'],
      [/Ms$/, 'ms'],
      [/PerW$/, 'K/W'],
      [/MsPerM$/, 'MS/m'],
      [/[a-z]W$/, 'W'],
      [/[a-z]C$/, 'degC'],
      [/Deg$/, 'deg'],
      [/G$/, 'g'],
      [/Mt$/, 'mT'],
      [/[a-z]T$/, 'T'],
      [/Percent(PerMonth)?$/, '%'],
    ];
    for (const row of rows.filter((r) => r.note.unit !== undefined && r.note.unit !== '1' && r.note.unit !== 'count')) {
      if (/turns$|hoursPerDay$|\[\]$|pointsMm|positionsMm/.test(row.path)) continue;
      const meant = suffixes.filter(([pattern]) => pattern.test(row.path)).map(([, unit]) => unit);
      expect(meant, row.path).toContain(row.note.unit);
    }
  });

  test('every optional key says what it takes: a default of the frozen list, none, or how it follows', () => {
    const listed = JSON.stringify(DESIGN_DEFAULTS);
    for (const row of rows.filter((r) => !r.required)) {
      expect(row.fallback, row.path).not.toBeNull();
      if (row.note.derived !== undefined || ['null', '[]', '""', '0 mm'].includes(row.fallback ?? '')) continue;
      const value = (row.fallback ?? '').replace(/[ °].*$/, '').replace(/^"|"$/g, '');
      const key = row.path.replace(/^.*[.>]/, '');
      // Either under its own name or, for a few nested ones, by its value.
      expect(listed.includes(`"${key}":`) || listed.includes(value), `${row.path} = ${row.fallback}`).toBe(true);
    }
  });

  test('the defaults are frozen at every level', () => {
    expect(Object.isFrozen(DESIGN_DEFAULTS)).toBe(true);
    for (const part of Object.values(DESIGN_DEFAULTS)) expect(Object.isFrozen(part)).toBe(true);
  });
});

describe('JSON Schema', () => {
  const schema = designJsonSchema();
  const text = JSON.stringify(schema);

  test('is draft 2020-12, closed, and carries units in its descriptions', () => {
    expect(schema.$schema).toBe('https://json-schema.org/draft/2020-12/schema');
    expect(text).toContain("outer diameter, to the conductor's edge, in mm.");
    expect(text).toContain('"x-unit":"mm"');
    expect(text).not.toMatch(/"(label|guess|derived)":/);
    expect(text.split('"additionalProperties":false').length).toBeGreaterThan(30);
  });

  test('required keys are exactly the ones without a default', () => {
    const required = (path: string[]): unknown => {
      let here = schema as { properties?: Record<string, unknown>; required?: string[] };
      for (const key of path) here = here.properties?.[key] as typeof here;
      return here.required;
    };
    expect(required([])).toEqual(['format', 'version', 'transmitter', 'receiver', 'demand']);
    expect(required(['transmitter'])).toEqual(['coil', 'drive']);
    expect(required(['transmitter', 'coil'])).toEqual(['outline', 'turns', 'conductor']);
    expect(required(['transmitter', 'drive'])).toEqual(['supplyV', 'seriesCapacitanceNf']);
    expect(required(['receiver', 'pickup'])).toEqual(['seriesCapacitanceNf', 'regulator']);
    expect(required(['receiver', 'pickup', 'regulator'])).toEqual(['outputV']);
  });
});
