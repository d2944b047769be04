import { describe, expect, test } from 'vitest';
import { linkLimit } from '../../../src/physics/circuit/link-limit.ts';
import { receiverLoss, totalLoss, transmitterLoss } from '../../../src/physics/circuit/losses.ts';
import { solveOperatingPoint } from '../../../src/physics/circuit/operating-point.ts';
import { temperatures } from '../../../src/physics/circuit/thermal.ts';
import type { OperatingPoint } from '../../../src/physics/circuit/types.ts';
import { typicalBoards, typicalLink } from './boards.ts';

const imbalance = (supplyV: number, point: OperatingPoint) =>
  Math.abs(1 - (totalLoss(point.losses) + point.outputV * point.outputA) / (supplyV * point.supplyA));

test('energy balance to 1e-9 by the first harmonic, 1e-7 by the periodic steady state', () => {
  for (const supplyV of [5, 9]) {
    for (const k of [0.2, 0.4, 0.6]) {
      for (const load of [0, 0.1, 0.5, 1.1]) {
        const fast = solveOperatingPoint(typicalLink(k), typicalBoards(supplyV), load, { tier: 'fast', awake: true });
        expect(imbalance(supplyV, fast)).toBeLessThan(1e-9);
      }
      const exact = solveOperatingPoint(typicalLink(k), typicalBoards(supplyV), 0.5, { awake: true });
      expect(exact.method).toBe('periodic');
      expect(imbalance(supplyV, exact)).toBeLessThan(1e-7);
    }
  }
});

test('the link coil to coil stays under its limit', () => {
  for (const k of [0.1, 0.25, 0.5]) {
    for (const load of [0.1, 0.5, 0.9]) {
      const link = typicalLink(k);
      const boards = typicalBoards(9);
      const p = solveOperatingPoint(link, boards, load, { tier: 'fast', awake: true });
      const r1 = p.losses.transmitterCoil / p.transmitterCoilA ** 2;
      const r2 = p.losses.receiverCoil / p.receiverCoilA ** 2;
      const w = 2 * Math.PI * p.frequency;
      const limit = linkLimit(k, (w * link.l1) / r1, (w * link.l2) / r2, r2).efficiency;
      const received = p.losses.rectifier + p.losses.regulator + p.outputV * p.outputA;
      const efficiency = received / (received + p.losses.receiverCoil + p.losses.transmitterCoil);
      expect(efficiency).toBeLessThan(limit * (1 + 1e-9));
      expect(p.efficiency).toBeLessThan(limit);
    }
  }
});

describe('states', () => {
  const at = (k: number, supplyV: number, load: number, change = {}, options = {}) =>
    solveOperatingPoint(typicalLink(k), typicalBoards(supplyV, change), load, {
      tier: 'fast',
      awake: true,
      ...options,
    });
  const regulator = typicalBoards(5).pickup.regulator;
  const thermal = typicalBoards(5).thermal;

  test('regulated: on target, nothing limits', () => {
    const point = at(0.4, 5, 0.4);
    expect([point.state, point.limitedBy, point.shortfallV]).toEqual(['regulated', null, 0]);
    expect(point.outputV).toBe(5);
    expect(Math.abs(point.rectifiedV / point.targetV - 1)).toBeLessThan(1e-6);
  });
  test('starved: output below nominal by the shortfall of the rectified voltage', () => {
    const point = at(0.15, 5, 1, { drive: { coilCurrentLimit: 20, supplyCurrentLimit: 20 } });
    expect([point.state, point.limitedBy]).toEqual(['starved', 'link']);
    expect(point.outputV).toBeLessThan(5);
    expect(point.rectifiedV).toBeLessThan(point.neededV);
    expect(point.shortfallV).toBeCloseTo(point.targetV - point.rectifiedV, 9);
  });
  test('collapsed: gives what it can into nothing', () => {
    const point = at(0.03, 5, 1);
    expect(point.state).toBe('starved');
    expect(point.outputV).toBe(0);
    expect(point.outputA).toBeLessThan(1);
  });
  test('overfed, overvoltage and hot, from mild to severe', () => {
    expect(at(0.6, 9, 0.05).state).toBe('overfed');
    expect(at(0.6, 9, 0, { pickup: { regulator: { ...regulator, overvoltage: 9 } } }).state).toBe('overvoltage');
    const hot = at(0.6, 9, 0.9);
    expect([hot.state, hot.limitedBy]).toEqual(['hot', 'shutdown']);
    expect(hot.receiverC).toBeGreaterThan(85);
  });
  test('hot cell only counts while charging', () => {
    const cool = { thermal: { ...thermal, cellChargeMax: 30 } };
    expect(at(0.4, 5, 0.5, cool).state).toBe('regulated');
    const charging = at(0.4, 5, 0.9, cool, { charging: true });
    expect([charging.state, charging.limitedBy]).toEqual(['hot', 'cell']);
  });
  test('currentLimited: no more than the regulator gives', () => {
    const point = at(0.4, 9, 2, { thermal: { receiverResistance: 8 } });
    expect([point.state, point.limitedBy]).toEqual(['currentLimited', 'regulatorCurrent']);
    expect(point.outputA).toBe(1.2);
    expect(point.outputV).toBeCloseTo((5 * 1.2) / 2, 9);
  });
  test('asleep unless it is already awake', () => {
    const far = { awake: false };
    const point = at(0.1, 5, 0.1, {}, far);
    expect([point.state, point.wakes, point.outputA, point.limitedBy]).toEqual(['asleep', false, 0, 'asleep']);
    expect(point.wakeRectifiedV).toBeLessThan(4);
    expect(imbalance(5, point)).toBeLessThan(1e-12);
    expect(at(0.4, 5, 0.1, {}, far).state).toBe('regulated');
  });
  test('stopped by each protocol threshold, and not without one', () => {
    const none = { minimumRectifiedV: null, foreignObjectLossW: null, minimumLoadA: null };
    const stop = (change: object) => at(0.4, 5, 0.4, { pickup: { stop: { ...none, ...change } } }).state;
    expect(stop({})).toBe('regulated');
    expect(stop({ minimumRectifiedV: 6 })).toBe('stopped');
    expect(stop({ foreignObjectLossW: 0.05 })).toBe('stopped');
    expect(stop({ minimumLoadA: 0.5 })).toBe('stopped');
  });
});

test('exact and fast agree in continuous conduction, method and its error are named', () => {
  const link = typicalLink(0.35);
  const exact = solveOperatingPoint(link, typicalBoards(5), 0.5, { awake: true });
  const fast = solveOperatingPoint(link, typicalBoards(5), 0.5, { tier: 'fast', awake: true });
  expect([exact.method, fast.method]).toEqual(['periodic', 'firstHarmonic']);
  expect(exact.methodError).toBeLessThan(0.02);
  expect(fast.methodError).toBeNaN();
  expect(Math.abs(exact.efficiency / fast.efficiency - 1)).toBeLessThan(0.03);
  expect(Math.abs(exact.frequency / fast.frequency - 1)).toBeLessThan(0.03);
});

test('several operating points near the bottom of the window at high coupling are flagged, one elsewhere is not', () => {
  const flagged = solveOperatingPoint(typicalLink(0.5), typicalBoards(5), 0.9, { awake: true });
  expect(flagged.state).toBe('regulated');
  expect(flagged.severalPoints).toBe(true);
  // The control rests at the upper one.
  expect(flagged.frequency).toBeGreaterThan(140e3);
  expect(solveOperatingPoint(typicalLink(0.3), typicalBoards(5), 0.5, { awake: true }).severalPoints).toBe(false);
});

test('copper heat is fed back: a poorly cooled transmitter draws more', () => {
  const warm = (transmitterResistance: number) =>
    solveOperatingPoint(typicalLink(0.2), typicalBoards(5, { thermal: { transmitterResistance } }), 0.4, {
      tier: 'fast',
      awake: true,
    });
  expect(warm(40).supplyA).toBeGreaterThan(warm(1).supplyA * 1.01);
  expect(warm(40).transmitterC).toBeGreaterThan(80);
});

test('heat has converged: the temperatures are those of the losses they come from, also where cooling is poor', () => {
  for (const [tier, kelvin] of [
    ['fast', 0.01],
    ['exact', 0.35],
  ] as const) {
    for (const receiverResistance of [30, 90]) {
      const boards = typicalBoards(9, { thermal: { receiverResistance, transmitterResistance: 60, shutdown: 200 } });
      const point = solveOperatingPoint(typicalLink(0.3), boards, 1, { tier, awake: true });
      const again = temperatures(boards.thermal, receiverLoss(point.losses), transmitterLoss(point.losses));
      expect(Math.abs(again.receiverC - point.receiverC)).toBeLessThan(kelvin);
      expect(Math.abs(again.transmitterC - point.transmitterC)).toBeLessThan(kelvin);
      expect(again.caseC).toBeLessThan(again.receiverC);
    }
  }
});
