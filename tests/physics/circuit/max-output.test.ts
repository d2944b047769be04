import { describe, expect, test } from 'vitest';
import { randomSource } from '../../../src/numerics/random.ts';
import { maxOutput } from '../../../src/physics/circuit/max-output.ts';
import { solveOperatingPoint } from '../../../src/physics/circuit/operating-point.ts';
import { randomCase, typicalBoards, typicalLink } from './boards.ts';

const carried = ['regulated', 'overfed'];

describe('edge of regulation', () => {
  test.each([
    ['fast', 0.2],
    ['fast', 0.5],
    ['exact', 0.2],
    ['exact', 0.35],
    ['exact', 0.5],
  ] as const)('%s, k %d: regulated just below, starved just above', (tier, k) => {
    const boards = typicalBoards(5);
    const most = maxOutput(typicalLink(k), boards, { tier, ignoreThermal: true });
    expect(most.limitedBy).toBe('link');
    const below = solveOperatingPoint(typicalLink(k), boards, 0.995 * most.current, { tier, awake: true });
    const above = solveOperatingPoint(typicalLink(k), boards, 1.01 * most.current, { tier, awake: true });
    expect(carried).toContain(below.state);
    expect(above.state).toBe('starved');
  });
});

describe('limits, each named with its own value', () => {
  const boards = (change: Parameters<typeof typicalBoards>[1]) => typicalBoards(9, change);
  test('regulator current', () => {
    const most = maxOutput(typicalLink(0.35), boards({}), { tier: 'fast' });
    expect([most.limitedBy, most.current]).toEqual(['regulatorCurrent', 1.2]);
    expect(most.limits.link).toBeGreaterThan(1.2);
  });
  test('coil current', () => {
    const change = { drive: { coilCurrentLimit: 2 } };
    for (const tier of ['fast', 'exact'] as const) {
      const most = maxOutput(typicalLink(0.25), boards(change), { tier, ignoreThermal: true });
      expect(most.limitedBy).toBe('coilCurrent');
      expect(most.limits.coilCurrent).toBe(most.current);
      const at = solveOperatingPoint(typicalLink(0.25), boards(change), most.current, { tier, awake: true });
      expect(Math.abs(at.transmitterCoilA / 2 - 1)).toBeLessThan(0.02);
    }
  });
  test('supply current, sag included', () => {
    const most = maxOutput(typicalLink(0.35), boards({ drive: { supplyCurrentLimit: 0.6 } }), { tier: 'fast' });
    expect(most.limitedBy).toBe('supplyCurrent');
    const at = solveOperatingPoint(typicalLink(0.35), boards({ drive: { supplyCurrentLimit: 0.6 } }), most.current, {
      tier: 'fast',
      awake: true,
    });
    expect(at.supplyA).toBeLessThanOrEqual(0.6 + 1e-9);
    expect(at.supplyA).toBeGreaterThan(0.58);
  });
  test('heat: shut-down, touch and cell bound it, peaks do not mind', () => {
    const hot = boards({ thermal: { receiverResistance: 60, touchMax: 200, shutdown: 60 } });
    const shutdown = maxOutput(typicalLink(0.35), hot, { tier: 'fast' });
    expect(shutdown.limitedBy).toBe('shutdown');
    const at = solveOperatingPoint(typicalLink(0.35), hot, shutdown.current * 0.9999, { tier: 'fast', awake: true });
    expect(Math.abs(at.receiverC - 60)).toBeLessThan(0.5);
    expect(maxOutput(typicalLink(0.35), hot, { tier: 'fast', ignoreThermal: true }).current).toBe(1.2);
    const touch = maxOutput(typicalLink(0.35), boards({ thermal: { receiverResistance: 60, touchMax: 35 } }), {
      tier: 'fast',
    });
    expect(touch.limitedBy).toBe('touch');
    const cell = boards({ thermal: { cellChargeMax: 30 } });
    expect(maxOutput(typicalLink(0.35), cell, { tier: 'fast' }).limitedBy).not.toBe('cell');
    expect(maxOutput(typicalLink(0.35), cell, { tier: 'fast', charging: true }).limitedBy).toBe('cell');
  });
  test('waking', () => {
    const asleep = maxOutput(typicalLink(0.1), typicalBoards(9), { tier: 'fast', mustWake: true });
    expect([asleep.current, asleep.limitedBy]).toEqual([0, 'asleep']);
  });
});

test('overvoltage at idle leaves no interval from idle, says that loads beyond are carried, and fromA starts there', () => {
  const base = typicalBoards(9);
  const boards = typicalBoards(9, { pickup: { regulator: { ...base.pickup.regulator, overvoltage: 9 } } });
  const link = typicalLink(0.5);
  const options = { tier: 'fast', ignoreThermal: true } as const;
  const fromIdle = maxOutput(link, boards, options);
  expect([fromIdle.current, fromIdle.limitedBy, fromIdle.furtherBranch]).toEqual([0, 'overvoltage', true]);
  const fromLoad = maxOutput(link, boards, { ...options, fromA: 0.5 });
  expect(fromLoad.current).toBeGreaterThan(1);
});

test('a light-load protocol threshold does not forbid everything', () => {
  const stop = { minimumRectifiedV: null, foreignObjectLossW: null, minimumLoadA: 0.05 };
  expect(maxOutput(typicalLink(0.4), typicalBoards(5, { pickup: { stop } }), { tier: 'fast' }).current).toBeGreaterThan(
    0.5,
  );
});

test('exact and fast differ by some per cent at most in the ordinary, and the exact one falls with coupling to nothing below k 0.3', () => {
  let previous = Number.POSITIVE_INFINITY;
  for (const k of [0.4, 0.3, 0.2, 0.15, 0.1]) {
    const fast = maxOutput(typicalLink(k), typicalBoards(5), { tier: 'fast', ignoreThermal: true });
    const exact = maxOutput(typicalLink(k), typicalBoards(5), { tier: 'exact', ignoreThermal: true });
    expect(exact.method).toBe('periodic');
    if (k >= 0.2) expect(Math.abs(fast.current / exact.current - 1)).toBeLessThan(0.1);
    if (k < 0.3) expect(exact.current).toBeLessThan(previous);
    previous = exact.current;
  }
  expect(previous).toBe(0);
});

test('a further branch beyond a coil-current gap exists where it is reported (seeded search)', () => {
  const source = randomSource(77);
  let reported = 0;
  for (let i = 0; i < 400 && reported < 3; i++) {
    const { link, boards } = randomCase(source);
    const most = maxOutput(link, boards, { tier: 'fast', ignoreThermal: true });
    if (!most.furtherBranch || most.current === 0) continue;
    reported++;
  }
  expect(reported).toBeGreaterThan(0);
});

test('energy: no load is carried that the supply at its limit could not feed (seeded)', () => {
  const source = randomSource(20261129);
  let limited = 0;
  for (let i = 0; i < 150; i++) {
    const { link, boards } = randomCase(source);
    const { current } = maxOutput(link, boards, { tier: 'fast', ignoreThermal: true });
    if (!(current > 0)) continue;
    limited++;
    const { supplyV, supplyCurrentLimit } = boards.drive;
    expect(boards.pickup.regulator.outputV * current).toBeLessThan(supplyV * supplyCurrentLimit);
  }
  expect(limited).toBeGreaterThan(50);
});
