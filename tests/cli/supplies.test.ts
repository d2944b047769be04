import { describe, expect, test } from 'vitest';
import { suppliesText } from '../../src/cli/commands/supplies.ts';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { parseDesign } from '../../src/design/resolve.ts';
import { fakeSupplyChoice } from '../support/fake-supply.ts';
import { file, tell } from './capture.ts';

const parsed = parseDesign(DEMO_DESIGN);
if (!parsed.ok) throw new Error('the demo must resolve');
const { design } = parsed;

describe('supplies', () => {
  test('as text: the verdict first, quantities in rows, supplies in columns, the others, the caution', () => {
    const text = suppliesText(fakeSupplyChoice({ design, suppliesV: [5, 9, 12] }, true), design);
    const lines = text.split('\n');
    expect(lines[2]).toMatch(/^Take 5 V: it gives 1\.10 A/);
    expect(text).toMatch(/most it gives +1\.10 A \(0\.99–1\.21 A\) +1\.39 A/);
    expect(text).toMatch(/limited by +link +link +cell heat/);
    expect(text).toContain('only from 2.4 mm');
    expect(text).toContain('  9 V: 1.39 A at most');
    expect(text).toContain('At 12 V a series capacitor or coil carries more than 50 V peak');
  });

  test.each(['5', '5,x', '5,9,12,15,20', '5,,9', '0,5', '5,5', '5 9', '5W,9W'])(
    '--volts %s is refused with what is wanted',
    async (volts) => {
      const told = await tell('supplies', file(DEMO_DESIGN), '--volts', volts);
      expect(told.code).toBe(2);
      expect(told.err).toContain('two to four different voltages from 0.5 to 60 V');
    },
  );
});
