import { describe, expect, test } from 'vitest';
import { guideStrokes, type Project } from '../../src/scene/guide-strokes.ts';
import type { Vec3 } from '../../src/scene/vectors.ts';

const flat: Project = (p) => ({ x: p[0] * 1000, y: p[1] * 1000, seen: p[2] >= 0 });
const line = (to: Vec3) => [[0, 0, 0], to] as const;

describe('guideStrokes', () => {
  test('a long dimension has filled heads inside its ends, a short one slanting ticks', () => {
    const long = guideStrokes({ kind: 'dimension', when: 'rest', points: line([0.1, 0, 0]) }, flat);
    expect(long).toHaveLength(2);
    expect(long[1]!.filled).toBe(true);
    const xs = [...long[1]!.d.matchAll(/[ML]([-\d.]+)/g)].map((m) => Number(m[1]));
    expect(Math.min(...xs)).toBe(0);
    expect(Math.max(...xs)).toBe(100);
    const short = guideStrokes({ kind: 'dimension', when: 'rest', points: line([0.008, 0, 0]) }, flat);
    expect(short[1]!.filled).toBe(false);
  });

  test('what lies partly behind the viewer is left out, and so is a single point', () => {
    expect(guideStrokes({ kind: 'extension', when: 'rest', points: line([0.1, 0, -1]) }, flat)).toEqual([]);
    expect(guideStrokes({ kind: 'extension', when: 'rest', points: [[0, 0, 0]] }, flat)).toEqual([]);
  });

  test('kinds are told apart by more than colour: an axis is a chain line, a turn has heads', () => {
    expect(guideStrokes({ kind: 'axis', when: 'rest', points: line([0.1, 0, 0]) }, flat)[0]!.dash).not.toBe('');
    const arc = Array.from({ length: 9 }, (_, i) => [Math.cos(i / 4), Math.sin(i / 4), 0] as const);
    expect(guideStrokes({ kind: 'turn', when: 'rest', points: arc }, flat)).toHaveLength(2);
    expect(guideStrokes({ kind: 'arc', when: 'rest', points: arc }, flat)).toHaveLength(1);
  });
});
