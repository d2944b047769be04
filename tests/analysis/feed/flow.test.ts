import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { awayFlow, dockedFlow } from '../../../src/analysis/feed/docked-flow.ts';
import { type FlowNode, flowImbalance, flowNodes, usefulW } from '../../../src/analysis/feed/flow.ts';
import type { OperatingAnswer } from '../../../src/analysis/types.ts';
import { currentAtOutput, demandOf } from '../../../src/design/demand.ts';
import type { ChainStepDocument, Design } from '../../../src/design/types.ts';
import { demoWith, POINT } from './designs.ts';

const names = (design: Design) => demandOf(design).demandNames;
const totalLoss = (root: FlowNode) =>
  flowNodes(root).reduce((sum, node) => sum + node.losses.reduce((part, loss) => part + loss.watts, 0), 0);

describe('the energy flow of the demo', () => {
  const design = demoWith();
  const root = dockedFlow(design, names(design), POINT);

  test('begins with the supply and ends in playing and in the cell', () => {
    const losses = Object.values(POINT.losses).reduce((sum, watts) => sum + watts, 0);
    expect(root.watts).toBeCloseTo(5 * 0.78 + losses, 12);
    const ends = flowNodes(root).filter((node) => node.next.length === 0);
    expect(ends.map((node) => node.name)).toEqual(['playing', 'into the cell']);
    expect(ends[0].watts).toBeCloseTo(2.4, 12);
    // By hand: 0.3 A into 3.7 V behind 0.15 ohm stores 1.11 W, warms the cell by 13.5 mW, the charger by 0.3765 W.
    expect(ends[1].watts).toBeCloseTo(1.11, 12);
    const heat = flowNodes(root).flatMap((node) => node.losses);
    expect(heat.find((loss) => loss.name === 'charger')?.watts).toBeCloseTo(0.3765, 12);
    expect(heat.find((loss) => loss.name === 'cell')?.watts).toBeCloseTo(0.0135, 12);
  });

  test('what enters leaves', () => {
    expect(flowImbalance(root)).toBeLessThan(1e-12);
    expect(usefulW(root) + totalLoss(root)).toBeCloseTo(root.watts, 9);
  });
});

test('conserved for any chain and any operating point, nothing negative (seed 77)', () => {
  const step: fc.Arbitrary<ChainStepDocument[]> = fc.constantFrom<ChainStepDocument[]>(
    [],
    [{ kind: 'charger', topology: 'linear', efficiency: 0.9, setCurrentA: 0.4, foldbackC: 100, resistanceKPerW: 60 }],
    [
      {
        kind: 'boost',
        outputV: 12,
        efficiency: 0.8,
        sourceResistanceOhm: 0.2,
        switchBefore: false,
        idleCurrentA: 0.01,
        feedback: null,
      },
    ],
    [
      {
        kind: 'charger',
        topology: 'switching',
        efficiency: 0.85,
        setCurrentA: 0.4,
        foldbackC: 100,
        resistanceKPerW: 60,
      },
      {
        kind: 'cell',
        capacityAh: 1,
        voltageV: 3.6,
        resistanceOhm: 0.2,
        chargeVoltageV: 4.2,
        cutoffA: 0.05,
        emptyV: 3.4,
        restV: [],
        selfDischargePercentPerMonth: 3,
      },
    ],
  );
  const watts = fc.double({ min: 0, max: 2, noNaN: true });
  fc.assert(
    fc.property(step, step, fc.double({ min: 0, max: 2, noNaN: true }), watts, watts, (a, b, outputA, loss, other) => {
      const design = demoWith();
      const [idle, playing, charging, peak] = design.demand.loads;
      const loads = [
        idle,
        { ...playing, through: a, atV: a[0]?.kind === 'boost' ? 12 : 5 },
        { ...charging, through: b },
        peak,
      ];
      const changed: Design = { ...design, demand: { ...design.demand, loads } };
      const losses = { ...POINT.losses, regulator: loss, receiverCoil: other };
      const root = dockedFlow(changed, ['playing', 'charging'], { ...POINT, outputA, losses } as OperatingAnswer);
      expect(flowImbalance(root)).toBeLessThan(1e-9);
      expect(Math.abs(usefulW(root) + totalLoss(root) - root.watts)).toBeLessThan(1e-9 * root.watts);
      for (const node of flowNodes(root)) {
        expect(node.watts).toBeGreaterThanOrEqual(-1e-12);
        for (const item of node.losses) expect(item.watts).toBeGreaterThanOrEqual(-1e-9);
      }
    }),
    { seed: 77, numRuns: 300 },
  );
});

test('a boost in the docked chain gives the load what it asks where the link holds', () => {
  const design = demoWith(
    ['demand.loads[1].atV', 12],
    ['demand.loads[1].currentA', 0.15],
    ['demand.loads[1].through', [{ kind: 'boost', outputV: 12, sourceResistanceOhm: 0.1, idleCurrentA: 0.004 }]],
  );
  const outputA = demandOf(design).demandA;
  expect(outputA).toBeCloseTo(currentAtOutput(design.demand.loads[1], 5) + 0.3, 12);
  const root = dockedFlow(design, names(design), { ...POINT, outputA } as OperatingAnswer);
  expect(flowNodes(root).find((node) => node.name === 'playing')?.watts).toBeCloseTo(1.8, 9);
});

test('off the dock: from the cell through the converter; nothing where it collapses', () => {
  const design = demoWith();
  const playing = design.demand.loads[1];
  const boost = design.demand.away.through[0];
  const root = awayFlow(playing, 3.7, 0.15, boost);
  if (!root) throw new Error('it holds');
  expect(flowImbalance(root)).toBeLessThan(1e-12);
  expect(usefulW(root)).toBeCloseTo(2.4, 12);
  expect(totalLoss(root)).toBeGreaterThan(2.4 / 0.88 - 2.4);
  expect(awayFlow(playing, 3.7, 2, boost)).toBeNull();
  expect(awayFlow(playing, 3.7, 0.15, null)?.next[0].name).toBe('playing');
});
