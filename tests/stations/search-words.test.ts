import { describe, expect, it } from 'vitest';
import type { FoundDesign, SearchAnswer } from '../../src/analysis/pair/search-answer.ts';
import { frontCsv, frontPoints } from '../../src/stations/search-words.ts';
import { airPair } from '../analysis/pair/air-pair.ts';

const found = (turns: number, reachMm: number): FoundDesign => {
  const design = airPair();
  design.receiver.coil = { ...design.receiver.coil, turns };
  return { design, result: { violation: 0, value: -reachMm, reachMm, maxOutputA: 1.1, lossW: 0.5, receiverC: 40 } };
};

describe('what a search found', () => {
  const front = [found(12, 7), found(14, 8)];
  const confirmed = [{ ...front[1]!, report: { at: { reachMm: 7.77, maxOutputA: 1.05 } } }];
  const answer = { confirmed } as unknown as SearchAnswer;

  it('goes along as a table, quick values beside direct ones, a line for each design', () => {
    const [head, ...rows] = frontCsv(front, 'receiver', 'reach', answer).trimEnd().split('\n');
    const columns = head!.split(',');
    expect(rows).toHaveLength(2);
    const cell = (row: number, name: string): string | undefined => rows[row]!.split(',')[columns.indexOf(name)];
    expect(cell(0, 'turns')).toBe('12');
    expect(cell(0, 'reach mm')).toBe('7.00');
    expect(cell(0, 'reach solved directly mm')).toBe('');
    expect(cell(1, 'reach solved directly mm')).toBe('7.77');
    for (const row of rows) expect(row.split(',')).toHaveLength(columns.length);
  });

  it('is drawn with the goal as its gain', () => {
    expect(frontPoints(front, 'receiver', 'reach', answer).map(({ gain, direct }) => [gain, direct])).toEqual([
      [7, null],
      [8, 7.77],
    ]);
    expect(frontPoints(front, 'receiver', 'current', answer)[1]).toMatchObject({ gain: 1.1, direct: 1.05 });
  });
});
