import { describe, expect, test } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { type Change, changed, lines } from './changed.ts';

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
    [['notes', 'n'.repeat(5001)], 'notes: must be text of at most 5000 characters; received 5001 characters.'],
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
      ),
    ),
  ).toEqual([
    'transmitter.coil.outline.pointsMm: must be a list of 3 to 500 entries; received a list of 501 entries.',
    'stack: must be a list of at most 40 entries; received a list of 41 entries.',
    'demand.loads: must be a list of 1 to 20 entries; received a list of 21 entries.',
    'readings: must be a list of at most 500 entries; received a list of 501 entries.',
  ]);
});

test('a hostile file is refused at once: 100,000 entries, or as many unknown keys', () => {
  const start = process.cpuUsage();
  const long = lines(changed(['readings', Array.from({ length: 1e5 }, () => ({ x: 5 }))]));
  expect(long).toEqual(['readings: must be a list of at most 500 entries; received a list of 100000 entries.']);
  const strange = Object.fromEntries(Array.from({ length: 1e5 }, (_, i) => [`key${i}`, i]));
  expect(lines({ ...DEMO_DESIGN, ...strange })).toHaveLength(100);
  const { user, system } = process.cpuUsage(start);
  // Some tenths of a second of processor time.
  expect((user + system) / 1e6).toBeLessThan(3);
});
