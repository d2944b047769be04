import { describe, expect, test } from 'vitest';
import {
  bridgeDrive,
  bridgeSetting,
  hasLevel,
  loadFromRectifier,
  neededRectifiedV,
  rectifierDemand,
  regulatedV,
  resistanceAt,
  ringingResistance,
  standingCurrent,
  supplyDraw,
  targetRectifiedV,
} from '../../../src/physics/circuit/board-model.ts';
import { typicalBoards, typicalLink } from './boards.ts';

const { drive, pickup } = typicalBoards(5);
const switching = typicalBoards(5, { pickup: { regulator: { ...pickup.regulator, kind: 'switching' } } }).pickup;

test('resistance: copper warms the dc term by 0.393 % a kelvin (IEC 60028), eddy terms fall, ferrite stays', () => {
  expect(resistanceAt({ dc: 0.1, linear: 0, quadratic: 0, quartic: 0 }, 1e5, 20)).toBeCloseTo(0.1, 15);
  expect(resistanceAt({ dc: 0.1, linear: 0, quadratic: 0, quartic: 0 }, 1e5, 120)).toBeCloseTo(0.1393, 12);
  const eddy = { dc: 0, linear: 0, quadratic: 1e-12, quartic: 0 };
  expect(resistanceAt(eddy, 1e5, 120)).toBeCloseTo(0.01 / 1.393, 12);
  expect(resistanceAt({ dc: 0, linear: 1e-7, quadratic: 0, quartic: 0 }, 1e5, 120)).toBeCloseTo(0.01, 15);
  // A law pressed beyond its window does not turn negative.
  expect(resistanceAt({ dc: 0.1, linear: 0, quadratic: 1e-12, quartic: -1e-22 }, 1e6, 20)).toBeGreaterThan(0);
});

test('ringing resistance: the eddy term at the ringing frequency, nothing without capacitor or eddies, never bent down', () => {
  const link = typicalLink(0.4);
  const leakage = link.l2 - link.m ** 2 / link.l1;
  const ringing = 1 / (2 * Math.PI * Math.sqrt(leakage * pickup.parallelCapacitance));
  const alone = {
    ...link,
    r1: { ...link.r1, linear: 0, quadratic: 0 },
    r2: { dc: 1, linear: 0, quadratic: 1e-12, quartic: 0 },
  };
  expect(ringingResistance(alone, pickup, 150e3, 20)).toBeCloseTo(1e-12 * (ringing ** 2 - 150e3 ** 2), 9);
  expect(ringingResistance(link, { ...pickup, parallelCapacitance: 0 }, 150e3, 20)).toBe(0);
  const bent = { ...alone, r2: { ...alone.r2, quartic: -1e-22 } };
  const value = ringingResistance(bent, pickup, 150e3, 20);
  expect(value).toBeGreaterThanOrEqual(0);
  expect(value).toBeLessThan(ringingResistance(alone, pickup, 150e3, 20));
});

describe('bridge and supply', () => {
  test('level 0 to 1 runs from least to full duty, or from least to full supply', () => {
    const half = { ...drive, bridge: 'half' as const, dutyMin: 0.1 };
    expect(bridgeSetting(half, 0)).toEqual({ duty: 0.1, supplyFraction: 1 });
    expect(bridgeSetting(half, 1).duty).toBeCloseTo(0.5, 15);
    const rail = { ...drive, control: 'supply' as const, supplyMinFraction: 0.3 };
    expect(bridgeSetting(rail, 0)).toEqual({ duty: 1, supplyFraction: 0.3 });
    expect(bridgeDrive(rail, { frequency: 1e5, level: 0.5 }, 10).volts).toBeCloseTo(6.5, 12);
    expect([hasLevel(drive), hasLevel(half), hasLevel(rail)]).toEqual([false, true, true]);
  });
  test('sag: supply voltage + resistance x current = open voltage; beyond the most power it says so', () => {
    const draw = supplyDraw(drive, 4, 150e3);
    expect(draw.suppliedV + drive.supplyResistance * draw.supplyA).toBeCloseTo(drive.supplyV, 12);
    expect(draw.suppliedV * (draw.supplyA - standingCurrent(drive, 150e3))).toBeCloseTo(4, 12);
    expect(draw.overloaded).toBe(false);
    expect(supplyDraw(drive, 70, 150e3).overloaded).toBe(true);
    expect(supplyDraw({ ...drive, supplyResistance: 0 }, 70, 150e3).overloaded).toBe(false);
  });
});

describe('regulator', () => {
  test('target falls from high to low with load and stays above what the regulator needs', () => {
    expect(targetRectifiedV(pickup, 0)).toBeCloseTo(7, 12);
    expect(targetRectifiedV(pickup, 0.08)).toBeCloseTo(5.27 + 1.73 / Math.E, 12);
    const greedy = { ...pickup, regulator: { ...pickup.regulator, dropoutResistance: 1 } };
    expect(targetRectifiedV(greedy, 1)).toBe(neededRectifiedV(greedy, 1));
  });
  test('switching demand is constant power above drop-out and continuous through it', () => {
    const need = neededRectifiedV(switching, 0.5);
    const idle = switching.regulator.idleCurrent;
    expect((rectifierDemand(switching, 0.5, 10) - idle) * 10 * 0.9).toBeCloseTo(2.5, 12);
    expect(rectifierDemand(switching, 0.5, need - 1e-9)).toBeCloseTo(rectifierDemand(switching, 0.5, need + 1e-9), 7);
    expect(rectifierDemand(pickup, 0.5, 10)).toBeCloseTo(0.51, 12);
  });
  test('load and demand invert each other in regulation', () => {
    for (const one of [pickup, switching]) {
      for (const volts of [5.5, 8]) {
        expect(loadFromRectifier(one, rectifierDemand(one, 0.7, volts), volts)).toBeCloseTo(0.7, 12);
      }
    }
    expect(loadFromRectifier(pickup, 0.001, 6)).toBe(0);
  });
  test('output follows the rectified voltage below drop-out and never turns negative', () => {
    expect(regulatedV(pickup, 0.5, 8)).toBe(5);
    expect(regulatedV(pickup, 0.5, 4)).toBeCloseTo(4 - 0.05 - 0.075, 12);
    expect(regulatedV(pickup, 0.5, 0.01)).toBe(0);
  });
});
