import { expect, test } from 'vitest';
import { layersCsv, sweepsCsv } from '../../src/charts/csv.ts';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { parseDesign } from '../../src/design/resolve.ts';
import { createFakeEngine } from '../support/fake-engine.ts';

test('the stack is a table of its layers; names are made harmless', () => {
  const text = layersCsv(
    [
      { name: 'oak, oiled', thicknessMm: 4, toleranceMm: 0.1 },
      { name: '=1+1', thicknessMm: 0.3, toleranceMm: 0 },
    ],
    4.3,
  );
  // RFC 4180: CRLF, quotes round a field with a comma.
  expect(text).toBe('layer,thickness_mm,tolerance_mm\r\n"oak, oiled",4,0.1\r\n\'=1+1,0.3,0\r\ngap,4.3,\r\n');
  // A gap that stands alone is not an empty table.
  expect(layersCsv([], 5.9)).toBe('layer,thickness_mm,tolerance_mm\r\ngap,5.9,\r\n');
});

test('curves are rows that name their curve', async () => {
  const parsed = parseDesign(DEMO_DESIGN);
  if (!parsed.ok) throw new Error('demo');
  const outcome = await createFakeEngine().sweep({ design: parsed.design, axis: 'gap', from: 2, to: 10, points: 5 });
  if (!outcome.ok) throw new Error(outcome.message);
  const lines = sweepsCsv([{ name: 'here', sweep: outcome.value }])
    .trimEnd()
    .split('\r\n');
  expect(lines).toHaveLength(6);
  expect(lines[0].split(',')).toHaveLength(lines[1].split(',').length);
  expect(lines[1].startsWith('here,gap,2,mm,')).toBe(true);
});
