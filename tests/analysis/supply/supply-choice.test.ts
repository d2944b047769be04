import { describe, expect, test } from 'vitest';
import { gradeOf, type SupplyChoice, supplyChoice } from '../../../src/analysis/supply/supply-choice.ts';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { parseDesign } from '../../../src/design/resolve.ts';
import { around, change, option, reach, report } from './reports.ts';

const parsed = parseDesign({
  ...DEMO_DESIGN,
  demand: { wantedMarginPercent: 20, loads: [{ name: 'on', kind: 'typical', atV: 5, currentA: 0.8 }] },
});
if (!parsed.ok) throw new Error('the demo must resolve');
const choose = (...options: Parameters<typeof option>[0][]): SupplyChoice =>
  supplyChoice(
    parsed.design,
    options.map((entry) => option(entry)),
  );

describe('grades', () => {
  test('carried, woken and with the wanted margin', () => {
    expect(gradeOf(report(5, { mostA: 1 }), 20)).toBe('enough');
    expect(gradeOf(report(5, { mostA: 0.9 }), 20)).toBe('weak');
    expect(gradeOf(report(5, { mostA: 0.7 }), 20)).toBe('fails');
    expect(gradeOf(report(5, { mostA: 1 }, { wakes: false }), 20)).toBe('fails');
    expect(gradeOf(report(5, { mostA: 1 }, { peakMarginPercent: -5 }), 20)).toBe('fails');
    const hot = report(5, { mostA: 1 });
    expect(gradeOf({ ...hot, atDemand: { ...hot.atDemand, state: 'hot' } }, 20)).toBe('fails');
  });
});

describe('which to take', () => {
  test('the more efficient of two that do', () => {
    const choice = choose(
      report(5, { efficiency: 0.78, receiverC: 36 }),
      report(9, { mostA: 1.15, efficiency: 0.69, receiverC: 57 }),
    );
    expect(choice.takeV).toBe(5);
    expect(choice.sentence).toBe(
      'Take 5 V: it gives 1.00 A for the 0.80 A asked with 25 % in hand (13 to 37 % by the tolerances). Against 9 V: 9 points more efficient at that load (78 % against 69 %), receiver 21 K cooler (36 °C against 57 °C).',
    );
    expect(choice.others).toEqual([
      '9 V: 1.15 A at most, 0.15 A more; 9 points less efficient at 0.80 A; receiver 21 K hotter (57 °C).',
    ]);
  });
  test('differences inside their bands count as none, and the lower voltage is taken', () => {
    const wide = [change('transmitter.drive.supplyV', 0.2, 0.05, 10)];
    const choice = choose(
      report(9, { mostA: 1.1, efficiency: 0.76, receiverC: 38 }, { changes: wide }),
      report(5, { mostA: 1, efficiency: 0.74, receiverC: 40 }, { changes: wide }),
    );
    expect(choice.takeV).toBe(5);
    expect(choice.sentence).toContain('Against 9 V: no difference beyond the tolerances');
    expect(choice.others).toEqual(['9 V: no difference beyond the tolerances.']);
  });
  test('only one has the wanted margin', () => {
    const choice = choose(report(5, { mostA: 0.85, efficiency: 0.8 }), report(9, { mostA: 1.2, efficiency: 0.7 }));
    expect(choice.takeV).toBe(9);
    expect(choice.sentence).toMatch(/^Take 9 V: .*The other does not come up to that\.$/);
  });
  test('none has it: the stronger, and it is said to be less than wanted', () => {
    const choice = choose(report(5, { mostA: 0.82, efficiency: 0.8 }), report(9, { mostA: 0.9, efficiency: 0.7 }));
    expect(choice.takeV).toBe(9);
    expect(choice.sentence).toContain('less than the 20 % wanted');
  });
  test('none carries it', () => {
    const choice = choose(report(5, { mostA: 0.5 }), report(9, { mostA: 0.7 }, { limitedBy: 'cell' }));
    expect(choice.takeV).toBeNull();
    expect(choice.sentence).toContain('None of these supplies carries 0.80 A here: 9 V comes nearest with 0.70 A');
    expect(choice.others[1]).toBe("9 V: 0.70 A at most, limited by the cell's charge temperature limit.");
  });
});

test('reach: further where it is clear, a hole in the middle where there is one', () => {
  const choice = supplyChoice(parsed.design, [
    option(report(5, { efficiency: 0.78 }), reach(around(8, 0.5), around(9, 0.5))),
    option(report(9, { efficiency: 0.7 }), reach(around(11, 0.5), around(9.3, 0.5))),
    option(report(12, { efficiency: 0.6 }), reach(around(0), around(16, 1), 3.2)),
  ]);
  expect(choice.others[0]).toContain('3.0 mm further off centre (11.0 mm)');
  expect(choice.others[0]).not.toContain('apart');
  expect(choice.others[1]).toContain('safe only from 3.2 mm off centre outwards; 7.0 mm further apart (16.0 mm)');
});
