import { expect, test } from 'vitest';
import { linkKey } from '../../../src/analysis/link/link-key.ts';
import { type Change, changed } from '../../design/changed.ts';
import { resolved } from '../../design/least.ts';

const of = (...changes: readonly Change[]) => resolved(changed(...changes)).design;

test.each<Change>([
  ['transmitter.coil.turns', 9],
  ['receiver.ferrite', null],
  ['receiver.metal.thicknessMm', 0.4],
  ['transmitter.drive.frequencyMaxKhz', 200],
])('the link depends on %s', (...change) => {
  expect(linkKey(of(change))).not.toBe(linkKey(of()));
});

test.each<Change>([
  ['transmitter.drive.supplyV', 9],
  ['title', 'another'],
  ['receiver.pickup.seriesCapacitanceNf', 100],
  ['demand.wantedMarginPercent', 30],
])('the link does not depend on %s', (...change) => {
  expect(linkKey(of(change))).toBe(linkKey(of()));
});
