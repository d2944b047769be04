import fc from 'fast-check';
import { expect, test } from 'vitest';
import { READING_COLUMNS } from '../../src/analysis/prove/readings-columns.ts';
import { parseReadings, readingsCsv, rowFaultLine } from '../../src/analysis/prove/readings-table.ts';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { parseDesign } from '../../src/design/resolve.ts';
import { faultLine } from '../../src/numerics/errors.ts';
import { hostileText, OBEYED, oddNumber, PATIENCE, share, watched } from './support.ts';

const heading = fc.oneof(
  { weight: 4, arbitrary: fc.constantFrom(...READING_COLUMNS.map(({ name, unit }) => `${name} (${unit})`)) },
  { weight: 1, arbitrary: fc.constantFrom(...READING_COLUMNS.flatMap(({ words }) => [...words])) },
  { weight: 1, arbitrary: hostileText },
);

const cell = fc.oneof(
  { weight: 6, arbitrary: fc.double({ min: 0, max: 20, noNaN: true }).map((x) => String(Number(x.toPrecision(4)))) },
  {
    weight: 1,
    arbitrary: fc.constantFrom('', 'yes', 'no', '5 V', '0,4', '-3', '1e3', '1e999', '+.5', '−2', '"5', '""'),
  },
  { weight: 1, arbitrary: oddNumber.map(String) },
  { weight: 1, arbitrary: hostileText },
);

const table = fc
  .record({
    head: fc.option(fc.array(heading, { minLength: 1, maxLength: 14 })),
    rows: fc.array(fc.array(cell, { minLength: 1, maxLength: 14 }), { maxLength: 6 }),
    separator: fc.constantFrom('\t', ';', ',', ', '),
    end: fc.constantFrom('\n', '\r\n', '\r'),
    before: fc.constantFrom('', '\ufeff', '# note\n', '\n\n'),
  })
  .map(
    ({ head, rows, separator, end, before }) =>
      before + [...(head === null ? [] : [head]), ...rows].map((cells) => cells.join(separator)).join(end),
  );

const text = fc.oneof(
  { weight: 36, arbitrary: table },
  { weight: 3, arbitrary: fc.string({ unit: 'binary', maxLength: 300 }) },
  {
    weight: 1,
    arbitrary: fc
      .tuple(
        fc.constantFrom('(', '[a', '"', '\t', ';', '5 ', '5,', 'x\n', '\n', '# ', '1;1\n', '\u00a0'),
        fc.constantFrom(10, 3000, 100_000),
      )
      .map(([part, count]) => part.repeat(count)),
  },
);

test('any paste gives readings that the design takes, and faults for the rest', { timeout: PATIENCE }, () => {
  let taken = 0;
  fc.assert(
    fc.property(text, (pasted) => {
      const { readings, faults } = watched(pasted, () => parseReadings(pasted));
      expect(readings.length).toBeLessThanOrEqual(500);
      expect(faults.length).toBeLessThanOrEqual(130);
      for (const fault of faults) expect(rowFaultLine(fault).length).toBeLessThan(400);
      const design = parseDesign({ ...DEMO_DESIGN, readings });
      expect(design.ok ? [] : design.faults.map(faultLine)).toEqual([]);
      if (!design.ok || readings.length === 0) return;
      taken++;
      const again = parseReadings(readingsCsv(design.design.readings));
      expect(again.faults).toEqual([]);
      expect(again.readings.map((r) => ({ ...r }))).toEqual(
        design.design.readings.map((r) => Object.fromEntries(Object.entries(r).filter(([, value]) => value !== null))),
      );
    }),
    share(0.12, 0.2),
  );
  expect(taken).toBeGreaterThan(share(0.12, 0.2).numRuns / 20);
});

test('faults of a paste hold no sign that a terminal obeys', () => {
  const { faults } = parseReadings('supply voltage\n\u001b[2J\u202e\n');
  expect(faults.map(rowFaultLine).join()).not.toMatch(OBEYED);
});
