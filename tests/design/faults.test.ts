import { describe, expect, test } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { withValueAt } from '../../src/design/edit.ts';
import { parsePath } from '../../src/design/path.ts';
import { parseDesign } from '../../src/design/resolve.ts';
import { faultLine } from '../../src/numerics/errors.ts';

type Change = readonly [path: string, value: unknown];

/** The demo with values replaced, keys added (also unknown ones) or, with undefined, removed. */
function changed(...changes: readonly Change[]): unknown {
  const document = JSON.parse(JSON.stringify(DEMO_DESIGN));
  for (const [path, value] of changes) {
    const parsed = parsePath(path);
    if (!parsed.ok) throw new Error(path);
    const parent = parsed.segments.slice(0, -1).reduce((node, key) => node[key], document);
    const key = parsed.segments[parsed.segments.length - 1];
    if (value === undefined) delete parent[key];
    else parent[key] = value;
  }
  return document;
}

function lines(document: unknown): string[] {
  const result = parseDesign(document);
  return result.ok ? [] : result.faults.map(faultLine);
}

const COIL = 'transmitter.coil';

describe('one fault, one exact line', () => {
  test.each<[Change, string]>([
    // Missing keys: what is required, with unit and range.
    [[`${COIL}.turns`, undefined], 'transmitter.coil.turns: must be a number from 1 to 200 turns; received nothing.'],
    [
      [`${COIL}.outline`, undefined],
      'transmitter.coil.outline: must be an object whose "shape" is one of "circle", "roundedRectangle", "stadium", "path"; received nothing.',
    ],
    [
      [`${COIL}.outline.outerDiameterMm`, undefined],
      'transmitter.coil.outline.outerDiameterMm: must be a number from 0.5 to 1000 mm; received nothing.',
    ],
    [
      ['receiver.pickup.seriesCapacitanceNf', undefined],
      'receiver.pickup.seriesCapacitanceNf: must be a number from 0.01 to 1000000 nF; received nothing.',
    ],
    [['demand.loads', undefined], 'demand.loads: must be a list of 1 to 20 entries; received nothing.'],
    [['version', undefined], 'version: must be 1; received nothing.'],
    [['receiver', undefined], 'receiver: must be an object with coil, pickup; received nothing.'],
    // Range, with the unit on both sides.
    [['stack[2].thicknessMm', -3], 'stack[2].thicknessMm: must be a number from 0 to 1000 mm; received -3 mm.'],
    [[`${COIL}.turns`, 201], 'transmitter.coil.turns: must be a number from 1 to 200 turns; received 201 turns.'],
    [
      [`${COIL}.turns`, 9.5],
      'transmitter.coil.turns: must be a whole number of turns for winding "rings"; received 9.5 turns. A "spiral" may have a fraction.',
    ],
    [[`${COIL}.layers`, 1.5], 'transmitter.coil.layers: must be a whole number from 1 to 20; received 1.5.'],
    [
      ['transmitter.drive.supplyV', Number.NaN],
      'transmitter.drive.supplyV: must be a number from 0.5 to 60 V; received NaN V.',
    ],
    [
      ['transmitter.drive.supplyV', Number.POSITIVE_INFINITY],
      'transmitter.drive.supplyV: must be a number from 0.5 to 60 V; received Infinity V.',
    ],
    // Wrong kind of value.
    [
      [`${COIL}.outline.outerDiameterMm`, '44 mm'],
      'transmitter.coil.outline.outerDiameterMm: must be a number from 0.5 to 1000 mm; received "44 mm". Write the number alone, without quotes: its unit is the key\'s.',
    ],
    [['placement', []], 'placement: must be an object; received a list of 0 entries.'],
    [['stack', {}], 'stack: must be a list of at most 40 entries; received an object.'],
    [['title', 7], 'title: must be text of at most 200 characters; received 7.'],
    [['title', 'x'.repeat(201)], 'title: must be text of at most 200 characters; received 201 characters.'],
    [
      ['receiver.pickup.wakeV', null],
      'receiver.pickup.wakeV: must be a number from 0.1 to 100 V; received null. Leave the key out to take the default: 4 V.',
    ],
    [['receiver.ferrite', 3], 'receiver.ferrite: must be an object with outline, thicknessMm, or null; received 3.'],
    [['readings', [{}]], 'readings[0].supplyV: must be a number from 0 to 100 V; received nothing.'],
    // Choices.
    [
      ['transmitter.drive.bridge', 'ful'],
      'transmitter.drive.bridge: must be one of "full", "half"; received "ful". Did you mean "full"?',
    ],
    [
      ['receiver.coil.conductor.kind', 'lits'],
      'receiver.coil.conductor.kind: must be one of "litz", "solid", "trace"; received "lits". Did you mean "litz"?',
    ],
    [
      ['receiver.coil.outline.shape', undefined],
      'receiver.coil.outline.shape: must be one of "circle", "roundedRectangle", "stadium", "path"; received nothing.',
    ],
    // Unknown keys.
    [
      [`${COIL}.tunrs`, 3],
      'transmitter.coil.tunrs: must be a key that the design format knows; received "tunrs". Did you mean turns?',
    ],
    [
      ['transmitter.drive.dutyMax', 1],
      'transmitter.drive.dutyMax: must be a key that the design format knows; received "dutyMax". Did you mean dutyMin?',
    ],
    [
      ['stack[1].thickness', 1],
      'stack[1].thickness: must be a key that the design format knows; received "thickness". Did you mean thicknessMm?',
    ],
    [
      ['placement.hello', 1],
      'placement.hello: must be a key that the design format knows; received "hello". Known keys: gapMm, offsetXMm, offsetYMm, yawDeg, tiltXDeg, tiltYDeg.',
    ],
    // Between keys.
    [
      ['placement.gapMm', 5.92],
      'placement.gapMm: must be the sum of the stack, 5.9 mm, within 0.01 mm; received 5.92 mm. Leave gapMm out, or change the layers, or leave the stack out.',
    ],
    [
      [`${COIL}.outline.innerDiameterMm`, 44],
      'transmitter.coil.outline.innerDiameterMm: must be less than outerDiameterMm (44 mm); received 44 mm.',
    ],
    [
      ['receiver.coil.outline.outerCornerRadiusMm', 17],
      'receiver.coil.outline.outerCornerRadiusMm: must be at most half the shorter side, 16.5 mm; received 17 mm.',
    ],
    [
      ['receiver.coil.outline.innerHeightMm', 40],
      'receiver.coil.outline.innerHeightMm: must be less than outerHeightMm (33 mm); received 40 mm.',
    ],
    [
      ['receiver.ferrite.outline.outerCornerRadiusMm', 19],
      'receiver.ferrite.outline.outerCornerRadiusMm: must be at most half the shorter side, 18 mm; received 19 mm.',
    ],
    [
      [`${COIL}.conductor.bundleDiameterMm`, 0.8],
      // 105 strands of 0.08 mm at the densest packing of circles, pi / (2 sqrt 3) (Lagrange 1773): 0.08 sqrt(105 / 0.9069).
      'transmitter.coil.conductor.bundleDiameterMm: must be at least 0.861 mm to hold 105 strands of 0.08 mm; received 0.8 mm.',
    ],
    [[`${COIL}.layers`, 11], 'transmitter.coil.layers: must be at most the number of turns, 10; received 11.'],
    [
      ['transmitter.drive.frequencyMinKhz', 215],
      'transmitter.drive.frequencyMinKhz: must be less than frequencyMaxKhz (215 kHz); received 215 kHz.',
    ],
    [
      ['transmitter.drive.pingKhz', 20],
      'transmitter.drive.pingKhz: must be from half the lowest to twice the highest frequency, 54 to 430 kHz; received 20 kHz.',
    ],
    [
      ['transmitter.drive.bridge', 'half'],
      'transmitter.drive.dutyMin: must be at most 0.5 for a half bridge (high-side fraction of the cycle); received 1.',
    ],
    [['receiver.pickup.target.lowV', 7.5], 'receiver.pickup.target.lowV: must be at most highV (7 V); received 7.5 V.'],
    [
      ['receiver.pickup.regulator.overvoltageV', 6.5],
      'receiver.pickup.regulator.overvoltageV: must be more than target.highV (7 V); received 6.5 V.',
    ],
    [
      ['demand.loads[1].alongside', ['chargin']],
      'demand.loads[1].alongside[0]: must be the name of a load: "idle", "playing", "charging", "start-up"; received "chargin". Did you mean "charging"?',
    ],
    [
      ['demand.loads[1].alongside', ['playing']],
      'demand.loads[1].alongside[0]: must be the name of another load; received "playing".',
    ],
    [
      ['demand.loads[1].alongside', ['start-up']],
      'demand.loads[1].alongside[0]: must be a load that lasts: a peak is judged by itself; received "start-up".',
    ],
    [['demand.loads[3].name', 'idle'], 'demand.loads[3].name: must be a name that no other load has; received "idle".'],
    [
      ['demand.loads[0].durationMs', 4],
      'demand.loads[0].durationMs: must be 0 for a load that is no peak (this one is "idle"); received 4 ms.',
    ],
  ])('%j', (change, line) => {
    expect(lines(changed(change))).toEqual([line]);
  });
});

test('all faults are told at once, in the order of the format, unknown keys last', () => {
  const wrong = changed(
    ['extra', 1],
    [`${COIL}.turns`, 0],
    ['receiver.pickup.wakeV', 'no'],
    ['demand.ambientC', 999],
    ['title', null],
    ['__proto__x', 2],
    ['constructor', 3],
  );
  expect(lines(wrong).map((line) => line.split(':')[0])).toEqual([
    'title',
    'transmitter.coil.turns',
    'receiver.pickup.wakeV',
    'demand.ambientC',
    'extra',
    '__proto__x',
    'constructor',
  ]);
});

test('a key named __proto__ in the file is an unknown key like any other', () => {
  const document = JSON.parse(JSON.stringify(DEMO_DESIGN).replace('"title"', '"__proto__":{"supplyV":1},"title"'));
  expect(lines(document)).toHaveLength(1);
  expect(lines(document)[0]).toMatch(/^__proto__: must be a key that the design format knows/);
});

describe('what is no design at all gets one line', () => {
  test.each<[unknown, string]>([
    [null, 'design: must be a JSON object with "format": "offcentre-design"; received null.'],
    [[], 'design: must be a JSON object with "format": "offcentre-design"; received a list of 0 entries.'],
    [
      { name: 'x', version: 7 },
      'format: must be "offcentre-design"; received nothing. This does not look like an Offcentre design.',
    ],
    [
      { ...DEMO_DESIGN, version: 2, novelty: true },
      'version: must be 1 or older; received 2. The file was made by a newer Offcentre: update this one to open it.',
    ],
    [
      { ...DEMO_DESIGN, format: 'offcenter-design' },
      'format: must be "offcentre-design"; received "offcenter-design".',
    ],
    [{ ...DEMO_DESIGN, version: '1' }, 'version: must be 1; received "1".'],
  ])('%#', (document, line) => {
    expect(lines(document)).toEqual([line]);
  });
});

describe('gap and stack', () => {
  test.each<[readonly Change[], number]>([
    [[['placement.gapMm', undefined]], 5.9],
    [[['stack', undefined]], 5.9],
    [[['stack', []]], 5.9],
    [[['placement.gapMm', 5.91]], 5.91],
    [[['placement.gapMm', 5.89]], 5.89],
    [[['placement', undefined]], 5.9],
    [
      [
        ['stack', undefined],
        ['placement.gapMm', 0.1],
      ],
      0.1,
    ],
  ])('%j gives %d mm', (changes, gapMm) => {
    const result = parseDesign(changed(...changes));
    if (!result.ok) throw new Error(result.faults.map(faultLine).join('\n'));
    expect(result.design.placement.gapMm).toBe(gapMm);
  });

  test('neither is a fault of its own, and does not hide the others', () => {
    const found = lines(changed(['stack', undefined], ['placement.gapMm', undefined], [`${COIL}.layers`, 11]));
    expect(found).toEqual([
      'placement.gapMm: must be a number from 0.05 to 1000 mm, or a stack whose layers add up to the gap; received nothing.',
      'transmitter.coil.layers: must be at most the number of turns, 10; received 11.',
    ]);
  });

  test('a stack of nothing is refused', () => {
    const found = lines(changed(['stack', [{ name: 'air', thicknessMm: 0 }]], ['placement.gapMm', undefined]));
    expect(found).toEqual(['stack: must be layers that add up to 0.05 to 1000 mm; received 0 mm.']);
  });
});

test('sizes are limited so that no file can hang the program', () => {
  const points = Array.from({ length: 501 }, (_, i) => [Math.cos(i), Math.sin(i)]);
  const load = (i: number) => ({ name: `load ${i}`, currentA: 0.1 });
  const many = <T>(n: number, make: (i: number) => T) => Array.from({ length: n }, (_, i) => make(i));
  expect(
    lines(
      changed(
        [`${COIL}.outline`, { shape: 'path', pointsMm: points, pitchMm: 1 }],
        ['stack', many(41, (i) => ({ name: `${i}`, thicknessMm: 0.1 }))],
        ['demand.loads', many(21, load)],
        ['readings', many(501, () => ({ supplyV: 5 }))],
        ['notes', 'n'.repeat(5001)],
      ),
    ),
  ).toEqual([
    'notes: must be text of at most 5000 characters; received 5001 characters.',
    'transmitter.coil.outline.pointsMm: must be a list of 3 to 500 entries; received a list of 501 entries.',
    'stack: must be a list of at most 40 entries; received a list of 41 entries.',
    'demand.loads: must be a list of 1 to 20 entries; received a list of 21 entries.',
    'readings: must be a list of at most 500 entries; received a list of 501 entries.',
  ]);
});

test('withValueAt changes one value, keeps the original, and says where a path leaves the format', () => {
  const edit = (path: string, value: unknown) => {
    const parsed = parsePath(path);
    if (!parsed.ok) throw new Error(path);
    const result = withValueAt(DEMO_DESIGN, parsed.segments, value);
    return result.ok ? lines(result.document).join('\n') || 'fine' : faultLine(result.fault);
  };
  const before = JSON.stringify(DEMO_DESIGN);
  expect(edit('transmitter.drive.supplyV', 9)).toBe('fine');
  expect(edit('transmitter.metal.thicknessMm', 1)).toMatch(/^transmitter\.metal\.outline: must be/);
  expect(edit('stack[4]', { name: 'tape', thicknessMm: 0.005 })).toBe('fine');
  expect(edit('stack[9].thicknessMm', 1)).toBe(
    'stack[9]: must be an entry from [0] to [3], or [4] to add one; received [9].',
  );
  expect(edit('transmitter.coil.tunrs', 3)).toBe(
    'transmitter.coil.tunrs: must be a key that the design format knows; received "tunrs". Did you mean turns?',
  );
  expect(edit('stack.name', 'x')).toBe('stack.name: must be an entry of a list, such as stack[0]; received "name".');
  expect(edit('title.x', 'x')).toBe('title.x: must be the end of the path: title has nothing below it; received "x".');
  expect(JSON.stringify(DEMO_DESIGN)).toBe(before);
});
