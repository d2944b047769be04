import { describe, expect, test } from 'vitest';
import { parseDesign } from '../../src/design/resolve.ts';
import { faultLine } from '../../src/numerics/errors.ts';
import { type Change, changed, lines } from './changed.ts';

const COIL = 'transmitter.coil';

describe('faults between keys', () => {
  test.each<[Change, string]>([
    // What no file may ask for, though each of its numbers is allowed.
    [
      [
        COIL,
        {
          outline: { shape: 'path', pointsMm: Array.from({ length: 60 }, (_, i) => [i, i * 9]), pitchMm: 1 },
          turns: 190,
          conductor: { kind: 'solid', diameterMm: 0.1 },
        },
      ],
      'transmitter.coil.outline.pointsMm: must be at most 52 points with 190 turns (10000 corners in all); received 60 points. Draw the path with fewer points: they need only be as close as its bends ask for.',
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
