import { describe, expect, test } from 'vitest';
import { parseCell, READING_COLUMNS } from '../../../src/analysis/prove/readings-columns.ts';
import { parseReadings, readingsCsv, rowFaultLine } from '../../../src/analysis/prove/readings-table.ts';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { parseDesign } from '../../../src/design/resolve.ts';

describe('pasted readings', () => {
  test('tabs, no header, decimal comma', () => {
    const { readings, faults } = parseReadings('5,01\t0,64\t4,98\t0,498\t5,9\n9\t0,67\t5,02\t0,897\t5,9\t10');
    expect(faults).toEqual([]);
    expect(readings).toEqual([
      { supplyV: 5.01, supplyA: 0.64, outputV: 4.98, outputA: 0.498, gapMm: 5.9 },
      { supplyV: 9, supplyA: 0.67, outputV: 5.02, outputA: 0.897, gapMm: 5.9, offsetXMm: 10 },
    ]);
  });
  test('commas with a header in another order, units in brackets, quoted decimal comma, a column of remarks', () => {
    const text =
      'Gap (mm),Remark,Supply voltage (V),Output current (A),Frequency [kHz],Regulated\n5.9,"first, cold",5,0.3,"177,5",yes\n5.9,,5.0 V,1.1,,collapsed\n';
    const { readings, faults, columns } = parseReadings(text);
    expect(faults).toEqual([]);
    expect(columns).toEqual(['gapMm', null, 'supplyV', 'outputA', 'frequencyKhz', 'regulated']);
    expect(readings).toEqual([
      { gapMm: 5.9, supplyV: 5, outputA: 0.3, frequencyKhz: 177.5, regulated: true },
      { gapMm: 5.9, supplyV: 5, outputA: 1.1, regulated: false },
    ]);
  });
  test('semicolons, a byte order mark, Windows line ends, empty lines, comments, true minus', () => {
    const { readings, faults } = parseReadings('\uFEFF# bench of Tuesday\r\nsupply V;x;gap\r\n\r\n5;\u22123,5;6\r\n');
    expect(faults).toEqual([]);
    expect(readings).toEqual([{ supplyV: 5, offsetXMm: -3.5, gapMm: 6 }]);
  });
  test.each([
    ['supply voltage (mV)', 'row 1, supply voltage: must be in V; received "supply voltage (mV)".'],
    ['supply V;supply current (mA)', 'row 1, supply current: must be in A; received "supply current (mA)".'],
    ['Vin;gap [cm]', 'row 1, gap: must be in mm; received "gap [cm]".'],
    ['Vin;frequency (Hz)', 'row 1, frequency: must be in kHz; received "frequency (Hz)".'],
    ['Vin;Vin', 'row 1, supply voltage: must be named by one heading; received "Vin".'],
  ])('heading %s: no number is read as if it were right', (head, line) => {
    const { readings, faults } = parseReadings(`${head}\n5;50\n`);
    expect(readings).toEqual([]);
    expect(faults.map(rowFaultLine)).toEqual([line]);
  });

  test('a row with a fault is left out and told; the others stay', () => {
    const { readings, faults } = parseReadings(
      'supply V\tsupply A\tgap\n5\tabc\t5.9\n5\t0.4\t5.9\n5\t0.4\t-1\n\t0.4\t5\n5\t0.4\t5\t7\n',
    );
    expect(readings).toEqual([{ supplyV: 5, supplyA: 0.4, gapMm: 5.9 }]);
    expect(faults.map(rowFaultLine)).toEqual([
      'row 2, supply current: must be a number from 0 to 100 A; received "abc".',
      'row 4, gap: must be a number from 0.05 to 1000 mm; received "-1".',
      'row 5, supply voltage: must be a number from 0 to 100 V; received nothing.',
      'row 6: must be at most 3 cells; received 4 cells; with commas between cells, decimals need a point.',
    ]);
  });
  test('decimal commas between commas are caught, not swallowed', () => {
    const { readings, faults } = parseReadings('5,01,0,64,4,98,0,498,5,9,0,0,177,5,3,4,5');
    expect(readings).toEqual([]);
    expect(faults.length).toBeGreaterThan(0);
  });
  test('a header without supply voltage is told once', () => {
    const { readings, faults } = parseReadings('gap;load\n5;0.3\n6;0.3');
    expect(readings).toEqual([]);
    expect(faults).toHaveLength(1);
    expect(faults[0].required).toContain('supply voltage (V)');
  });
  test('another kind of file, or a header in other words, is told once with what is wanted', () => {
    for (const text of [
      '{\n  "format": "offcentre-design",\n  "version": 1\n}',
      'volts,amps\n5,0.5\n',
      'Dear reader,\nhello',
    ]) {
      const { readings, faults } = parseReadings(text);
      expect(readings).toEqual([]);
      expect(faults).toHaveLength(1);
      expect(rowFaultLine(faults[0])).toMatch(
        /^row 1: must be the first row of a table of readings: names such as supply V, .*; received "/,
      );
    }
  });
  test('nothing in, nothing out', () => {
    expect(parseReadings('').readings).toEqual([]);
    expect(parseReadings('\n\n').faults).toEqual([]);
  });
  test('too many rows', () => {
    expect(parseReadings('5\t0.1\n'.repeat(501)).faults[0].required).toBe('at most 500 readings');
  });
});

test('the CSV of the demo reads back as the same readings', () => {
  const parsed = parseDesign(DEMO_DESIGN);
  if (!parsed.ok) throw new Error('demo');
  const { readings, faults } = parseReadings(readingsCsv(parsed.design.readings));
  expect(faults).toEqual([]);
  const again = parseDesign({ ...DEMO_DESIGN, readings });
  expect(again.ok && again.design.readings).toEqual(parsed.design.readings);
  expect(READING_COLUMNS.map(({ key }) => key).sort()).toEqual(Object.keys(parsed.design.readings[0]).sort());
});

describe('one cell', () => {
  test.each([
    ['supplyV', '5,01 V', { ok: true, value: 5.01 }],
    ['offsetXMm', '\u22123', { ok: true, value: -3 }],
    ['supplyA', '', { ok: true, value: null }],
    ['gapMm', '', { ok: false, required: 'a number from 0.05 to 1000 mm' }],
    ['outputA', '101', { ok: false, required: 'a number from 0 to 100 A' }],
    // Another column's unit, or two numbers, is no slip to be passed over.
    ['supplyA', '5 V', { ok: false, required: 'a number from 0 to 100 A' }],
    ['supplyV', '5 A', { ok: false, required: 'a number from 0 to 100 V' }],
    ['gapMm', '5 0', { ok: false, required: 'a number from 0.05 to 1000 mm' }],
    ['gapMm', '5,9 mm', { ok: true, value: 5.9 }],
    ['frequencyKhz', '1 250,5 kHz', { ok: true, value: 1250.5 }],
    ['receiverC', '31,5\u202f°C', { ok: true, value: 31.5 }],
    ['supplyV', '\u0665\u066b\u0660\u0661', { ok: true, value: 5.01 }],
    ['regulated', 'Collapsed', { ok: true, value: false }],
    ['regulated', 'perhaps', { ok: false, required: 'yes or no' }],
  ] as const)('%s "%s"', (key, text, taken) => {
    expect(parseCell(key, text)).toEqual(taken);
  });
});
