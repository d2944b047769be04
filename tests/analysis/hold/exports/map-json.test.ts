import { describe, expect, it } from 'vitest';
import { mapJson } from '../../../../src/analysis/hold/exports/map-json.ts';
import { HOSTILE, sampleMap } from './sample.ts';

describe('mapJson', () => {
  it('describes itself and keeps every value', () => {
    const map = sampleMap();
    const read = JSON.parse(mapJson(map, HOSTILE)) as {
      format: string;
      version: number;
      title: string;
      axes: { x: { unit: string; values: number[] } };
      fields: Record<string, { unit: string; meaning: string; values: (number | null)[] }>;
      outlines: { unit: string; safe: [number, number][][] };
      reach: { value: number };
      conventions: { order: string };
    };
    expect([read.format, read.version, read.title]).toEqual(['offcentre-tolerance-map', 1, HOSTILE]);
    expect(read.axes.x).toEqual({ unit: 'mm', values: Array.from(map.xMm) });
    expect(read.fields.margin.values[25]).toBe(map.marginPercent[25]);
    expect(read.fields.margin.values[3]).toBeNull();
    expect(read.fields.mutualInductance.unit).toBe('H');
    for (const field of Object.values(read.fields)) {
      expect(field.values).toHaveLength(441);
      expect(field.meaning).not.toBe('');
    }
    expect(read.outlines.safe[0]).toHaveLength(map.safeOutline[0].length / 2);
    expect(read.reach.value).toBe(9.6);
    expect(read.conventions.order).toContain('yIndex');
  });
});
