import { describe, expect, it } from 'vitest';
import { MAP_FIELDS, mapDocument, mapJson } from '../../../../src/analysis/hold/exports/map-json.ts';
import { HOSTILE, sampleMap } from './sample.ts';

interface Read {
  readonly format: string;
  readonly version: number;
  readonly title: string;
  readonly conventions: { readonly grid: string; readonly rings: string };
  readonly fields: Record<string, { readonly unit: string; readonly meaning: string; readonly shape: string }>;
  readonly [key: string]: unknown;
}

describe('mapJson', () => {
  const map = sampleMap();
  const read = JSON.parse(mapJson(map, HOSTILE)) as Read;

  it('describes itself: format, version, and unit, meaning and layout of every key', () => {
    expect([read.format, read.version, read.title]).toEqual(['offcentre-map', 1, HOSTILE]);
    expect(read.conventions.grid).toContain('yIndex');
    expect(Object.keys(read.fields).sort()).toEqual(Object.keys(map).sort());
    for (const [key, { meaning, unit, shape }] of Object.entries(read.fields)) {
      expect(meaning, key).not.toBe('');
      expect(unit, key).not.toBe('');
      expect(read, key).toHaveProperty(key);
      const value = read[key];
      if (shape === 'grid') expect(value, key).toHaveLength(map.xMm.length * map.yMm.length);
      if (shape === 'axis') expect(value, key).toHaveLength(21);
      if (shape === 'band') expect(Object.keys(value as object), key).toEqual(['value', 'low', 'high']);
    }
    // Every key is described or is part of the description.
    const known = ['format', 'version', 'title', 'conventions', 'fields', ...Object.keys(MAP_FIELDS)];
    expect(Object.keys(mapDocument(map, '')).sort()).toEqual(known.sort());
  });

  it('keeps every value; null where there is no number', () => {
    expect(read.xMm).toEqual(Array.from(map.xMm));
    expect((read.marginPercent as number[])[25]).toBe(map.marginPercent[25]);
    expect((read.marginPercent as (number | null)[])[3]).toBeNull();
    expect((read.safeOutline as number[][][])[0]).toHaveLength(map.safeOutline[0].length / 2);
    expect(read.reachMm).toMatchObject({ value: 9.6 });
  });
});
