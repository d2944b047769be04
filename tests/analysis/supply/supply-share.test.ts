import { expect, test } from 'vitest';
import { limitWithSag, supplyShare } from '../../../src/analysis/supply/supply-share.ts';
import { maxOutput } from '../../../src/physics/circuit/max-output.ts';
import { solveOperatingPoint } from '../../../src/physics/circuit/operating-point.ts';
import type { Drive } from '../../../src/physics/circuit/types.ts';
import { typicalBoards, typicalLink } from '../../physics/circuit/boards.ts';

const link = typicalLink(0.35);

function share(supplyV: number, drive: Partial<Drive>) {
  const boards = typicalBoards(supplyV, { drive, thermal: { touchMax: 90, cellChargeMax: 90, shutdown: 120 } });
  const most = maxOutput(link, boards);
  const part = supplyShare(link, boards, most, false);
  return { boards, most, part, named: limitWithSag(most, part) };
}

test('a stiff supply costs nothing, a cable its sag, a long thin one is named as the limit', () => {
  const stiff = share(5, { supplyResistance: 0 });
  expect([stiff.part.sagV, stiff.part.sagCostA, stiff.named]).toEqual([0, 0, 'link']);
  const cable = share(5, { supplyResistance: 0.1 });
  expect(cable.part.sagV).toBeCloseTo(0.1 * cable.part.drawnA, 9);
  const cost = stiff.most.current - cable.most.current;
  expect(Math.abs(cable.part.sagCostA / cost - 1)).toBeLessThan(0.2);
  expect(cable.named).toBe('link');
  const thin = share(5, { supplyResistance: 1 });
  expect(thin.named).toBe('supplySag');
  expect(thin.part.sentence).toMatch(
    /1 Ω of supply, cable and connectors take 1\.\d\d V of it, which costs about 0\.\d\d A/,
  );
});

test('the current limit of a port is named, and the draw stays at it', () => {
  const port = share(5, { supplyCurrentLimit: 0.5 });
  expect([port.most.limitedBy, port.named]).toEqual(['supplyCurrent', 'supplyCurrent']);
  expect(port.part.drawnA).toBeGreaterThan(0.48);
  expect(port.part.drawnA).toBeLessThanOrEqual(0.5 * 1.001);
  expect(port.part.sentence).toContain('its current limit is what ends it');
});

test('the current drawn is that of the exact circuit at the same load', () => {
  for (const [supplyV, supplyResistance] of [
    [5, 0.1],
    [5, 0.4],
    [9, 0.1],
  ] as const) {
    const { part, most, boards } = share(supplyV, { supplyResistance });
    const exact = solveOperatingPoint(link, boards, 0.998 * most.current, { awake: true });
    expect(Math.abs(part.drawnA / exact.supplyA - 1)).toBeLessThan(1e-9);
  }
});

test.each([0.2, 0.3, 0.6])('k %d: what the cable costs is near the exact difference (measured 20 % at most)', (k) => {
  const boards = typicalBoards(5, { thermal: { touchMax: 90, cellChargeMax: 90, shutdown: 120 } });
  const most = maxOutput(typicalLink(k), boards);
  const stiff = maxOutput(typicalLink(k), { ...boards, drive: { ...boards.drive, supplyResistance: 0 } });
  const { sagCostA } = supplyShare(typicalLink(k), boards, most, false);
  expect(Math.abs(sagCostA / (stiff.current - most.current) - 1)).toBeLessThan(0.25);
});
