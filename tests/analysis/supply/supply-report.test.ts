import { describe, expect, test } from 'vitest';
import { curveLoads, supplyDesigns, supplyPoints, supplyReport } from '../../../src/analysis/supply/supply-report.ts';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { parseDesign } from '../../../src/design/resolve.ts';
import { boardsOf } from '../../../src/design/to-si.ts';
import { InputError } from '../../../src/numerics/errors.ts';
import { maxOutput } from '../../../src/physics/circuit/max-output.ts';
import { solveOperatingPoint } from '../../../src/physics/circuit/operating-point.ts';
import { typicalLinks } from './typical-links.ts';

const document = structuredClone(DEMO_DESIGN);
document.receiver.pickup.regulator.currentLimitA = 3;
const parsed = parseDesign({
  ...document,
  demand: {
    loads: [
      { name: 'on', kind: 'typical', atV: 5, currentA: 0.5 },
      { name: 'kick', kind: 'peak', atV: 5, currentA: 0.9, durationMs: 2 },
    ],
  },
});
if (!parsed.ok) throw new Error('the demo must resolve');
const { design } = parsed;
const links = typicalLinks(0.35);

test('two to four different supplies, lowest first, everything else as it is', () => {
  const made = supplyDesigns(design, [9, 5, 9, 12]);
  expect(made.map(({ transmitter }) => transmitter.drive.supplyV)).toEqual([5, 9, 12]);
  expect({ ...made[1]!.transmitter.drive, supplyV: 5 }).toEqual(design.transmitter.drive);
  for (const wrong of [[5], [5, 5], [1, 2, 3, 4, 5], [5, 0], [5, 100], [5, Number.NaN]])
    expect(() => supplyDesigns(design, wrong)).toThrow(InputError);
});

describe('the report of one supply', () => {
  const [five, nine] = supplyDesigns(design, [5, 9]) as [typeof design, typeof design];
  const low = supplyReport(five, links, []);
  const high = supplyReport(nine, links, []);
  test('is the exact circuit at the demand and at its largest output', () => {
    const { electrical } = links.link;
    const point = solveOperatingPoint(electrical, boardsOf(five), 0.5);
    const most = maxOutput(electrical, boardsOf(five));
    expect(low.maxOutputA.value).toBe(most.current);
    expect(low.atDemand.efficiency.value).toBe(point.efficiency);
    expect(low.atDemand.receiverC.value).toBe(point.receiverC);
    const supplyW = 5 * low.atDemand.supplyA;
    expect(Math.abs(supplyW - low.atDemand.lossW - point.outputV * point.outputA) / supplyW).toBeLessThan(1e-6);
    expect(low.marginPercent.value).toBeCloseTo(100 * (most.current / 0.5 - 1), 9);
    expect(low.peakMarginPercent).not.toBeNull();
  });
  test('its bands hold the value, and each of them comes from changes at both ends', () => {
    for (const { value, low: least, high: most } of [low.maxOutputA, low.atDemand.efficiency, low.atDemand.receiverC]) {
      expect(least).toBeLessThanOrEqual(value);
      expect(most).toBeGreaterThanOrEqual(value);
    }
    expect(low.maxOutputA.high - low.maxOutputA.low).toBeGreaterThan(0.02);
    const volts = low.changes.find(({ path }) => path === 'transmitter.drive.supplyV')!;
    expect(volts.up.maxOutputA).toBeGreaterThan(0);
    expect(volts.down.maxOutputA).toBeLessThan(0);
  });
  test('more volts give more amperes here, and more heat at the same load', () => {
    expect(high.maxOutputA.value).toBeGreaterThan(low.maxOutputA.value);
    expect(high.atDemand.receiverC.value).toBeGreaterThanOrEqual(low.atDemand.receiverC.value - 0.1);
  });
});

test('a curve ends at the largest output, where the link still holds it', () => {
  const loads = curveLoads(1);
  expect([...loads]).toEqual([...loads].sort((a, b) => a - b));
  expect(loads[0]).toBeGreaterThan(0);
  expect(loads.at(-1)).toBeCloseTo(0.998, 12);
  expect(curveLoads(0)).toHaveLength(0);
  const boards = boardsOf(design);
  const most = maxOutput(links.link.electrical, boards, { ignoreThermal: true }).current;
  const { efficiency, states } = supplyPoints(design, links.link.electrical, Float64Array.of(0.5, 0.998 * most));
  expect(efficiency[0]).toBeGreaterThan(0.6);
  expect(['regulated', 'overfed']).toContain(states[1]);
});
