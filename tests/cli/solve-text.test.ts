import { expect, test } from 'vitest';
import type { PoseAnswer } from '../../src/analysis/types.ts';
import { poseText } from '../../src/cli/commands/solve.ts';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { parseDesign } from '../../src/design/resolve.ts';
import { createFakeEngine } from '../support/fake-engine.ts';

const parsed = parseDesign(DEMO_DESIGN);
if (!parsed.ok) throw new Error('the demo must resolve');
const { design } = parsed;
const outcome = await createFakeEngine().solve(design);
if (!outcome.ok) throw new Error('invented');
const answer: PoseAnswer = outcome.value;

test('the text names the supply’s part, its sag, the method and what is not modelled', () => {
  const text = poseText({ ...answer, notes: ['Boards also stop by protocol.'] }, design);
  expect(text).toMatch(/supply there +1\.30 A +At that load the supply gives 1\.30 of at most 3 A\./);
  expect(text).toContain('97.0 mV lost in supply and cable');
  expect(text).toContain('Solved by an invented method.');
  expect(text).toContain('Also\n  Boards also stop by protocol.');
  expect(text).not.toContain('above 50 V');
});

test('resonant voltages over 50 V carry their caution on the line where they stand', () => {
  const high = { ...answer.operatingPoint, highVoltage: true, receiverCapacitorVPeak: 63 };
  const line = poseText({ ...answer, operatingPoint: high }, design)
    .split('\n')
    .find((text) => text.includes('capacitors, peak'));
  expect(line).toMatch(/63\.0 V.*Caution: above 50 V/);
});

test('a supply’s limit is named where it sets the current', () => {
  const text = poseText({ ...answer, margin: { ...answer.margin, limitedBy: 'supplySag' } }, design);
  expect(text).toContain('limited by the resistance of supply, cable and connectors');
});
