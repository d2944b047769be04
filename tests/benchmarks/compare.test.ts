import { describe, expect, it } from 'vitest';
import { compare } from './compare.ts';
import { duration, print, type Report, type Row } from './table.ts';
import { time } from './timing.ts';

const row = (name: string, min: number, error: number | null): Row => ({
  group: 'g',
  name,
  time: { min, median: min, max: min, runs: 1 },
  error,
  note: '',
  ratios: { 'faster than it': 12.3456 },
});
const report = (...rows: Row[]): Report => ({ machine: { node: '20', processor: 'p', load: 0 }, rows, targets: [] });

describe('comparing two runs', () => {
  const baseline = report(
    row('a', 1, 1e-6),
    row('b', 1, 1e-6),
    row('c', 1, 1e-6),
    row('d', 1, null),
    row('gone', 1, 0),
  );
  const current = report(
    row('a', 1.4, 2e-6),
    row('b', 1.6, 1e-6),
    row('c', 0.5, 1e-5),
    row('d', 1, null),
    row('new', 1, 0),
  );

  it('counts what is slower and what is less exact', () => {
    const { lines, worse } = compare(baseline, current);
    expect(worse).toBe(2);
    expect(lines.map((line) => line.split(/\s/)[0])).toEqual(['same', 'slower', 'inexact', 'same', 'new', 'gone']);
  });

  it('finds a run equal to itself', () => {
    expect(compare(baseline, baseline).worse).toBe(0);
  });
});

describe('the table', () => {
  it('prints time and error in one line, and targets', () => {
    const text = print({
      ...report(row('work', 0.0123, 4.5e-7)),
      targets: [{ name: 't', wanted: 'w', measured: 'm', met: false }],
    });
    expect(text).toMatch(/work\s+12\.3 us \(12\.3 us\)\s+4\.5e-7\s+12\.3x faster than it/);
    expect(text).toMatch(/MISSED {2}t: m \(wanted w\)/);
  });

  it('chooses the unit', () => {
    expect([5e-7, 0.002, 3, 4000, 120_000].map(duration)).toEqual([
      '0.500 ns',
      '2.00 us',
      '3.00 ms',
      '4.00 s',
      '2.00 min',
    ]);
  });
});

describe('timing', () => {
  it('measures work in processor time', () => {
    let sum = 0;
    const work = (count: number) => () => {
      for (let k = 0; k < count; k++) sum += Math.sqrt(k);
      return sum;
    };
    const short = time(work(100_000), 60);
    const long = time(work(1_000_000), 60);
    expect(short.min).toBeLessThanOrEqual(short.median);
    expect(short.median).toBeLessThanOrEqual(short.max);
    expect(long.min / short.min).toBeGreaterThan(3);
  });
});
