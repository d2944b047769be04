import { expect, test } from 'vitest';
import { methodWords, poseNotes } from '../../../src/analysis/margin/pose-notes.ts';
import { maxOutput } from '../../../src/physics/circuit/max-output.ts';
import { solveOperatingPoint } from '../../../src/physics/circuit/operating-point.ts';
import { typicalBoards, typicalLink } from '../../physics/circuit/boards.ts';

test('several operating points near the bottom of the window at high coupling are explained, elsewhere nothing is', () => {
  const boards = typicalBoards(5, { drive: { frequencyMin: 90e3 } });
  const most = maxOutput(typicalLink(0.6), boards, { tier: 'fast' });
  const found = [0.4, 0.8, 1].map((load) => solveOperatingPoint(typicalLink(0.6), boards, load, { awake: true }));
  const several = found.filter((point) => point.severalPoints);
  expect(several.length).toBeGreaterThan(0);
  for (const point of several)
    expect(poseNotes(point, most, boards).join(' ')).toContain('More than one operating point');
  const loose = solveOperatingPoint(typicalLink(0.2), typicalBoards(5), 0.3, { awake: true });
  expect(loose.severalPoints).toBe(false);
  expect(poseNotes(loose, most, typicalBoards(5)).join(' ')).not.toContain('More than one');
});

test('a case too warm to touch is said, and what is not modelled too', () => {
  const boards = typicalBoards(9, { thermal: { touchMax: 30 } });
  const link = typicalLink(0.35);
  const most = maxOutput(link, boards, { tier: 'fast' });
  const notes = poseNotes(solveOperatingPoint(link, boards, 1, { tier: 'fast', awake: true }), most, boards);
  expect(notes.some((note) => /case settles at \d+ °C, above the 30 °C/.test(note))).toBe(true);
  expect(notes.at(-1)).toContain('this is not modelled');
  const stop = { minimumRectifiedV: 3, foreignObjectLossW: null, minimumLoadA: null };
  const given = typicalBoards(9, { pickup: { stop } });
  const other = poseNotes(solveOperatingPoint(link, given, 1, { tier: 'fast', awake: true }), most, given);
  expect(other.at(-1)).toContain('by the thresholds given');
});

test('the method is named with its check', () => {
  expect(methodWords('periodic', 0.0031)).toBe('the exact periodic waveform; several harmonics agree within 0.31 %');
  expect(methodWords('periodic', 1e-5)).toContain('within 0.1 %');
  expect(methodWords('periodic', Number.NaN)).toContain('do not apply here');
  expect(methodWords('firstHarmonic', Number.NaN)).toContain('25 %');
});
