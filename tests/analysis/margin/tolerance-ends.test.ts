import { expect, test } from 'vitest';
import { toleranceEnds } from '../../../src/analysis/margin/tolerance-ends.ts';
import type { Tolerance } from '../../../src/analysis/margin/tolerances.ts';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { boardsOf } from '../../../src/design/to-si.ts';
import type { LinkElectrical } from '../../../src/physics/circuit/types.ts';
import { resolved } from '../../design/least.ts';

const { design } = resolved(DEMO_DESIGN);
const boards = boardsOf(design);
const law = { dc: 0.1, linear: 0, quadratic: 0, quartic: 0 };
const here = { l1: 6e-6, l2: 15e-6, m: 4e-6, r1: law, r2: law } as unknown as LinkElectrical;
const PLATE = 'receiver.ferrite.relativePermeability';

const both = (path: string, enters: Tolerance['enters']) =>
  toleranceEnds(
    design,
    { name: '', path, text: '', enters },
    here,
    boards,
    [{ path: PLATE, l1: 0.02, l2: 0.1, m: 0.05 }],
    (by) => ({
      ...here,
      m: here.m * (1 - 100 * by),
    }),
  );

test('gap: the link at each end, the wider first', () => {
  const [wide, near] = both('stack', { kind: 'gap', by: 1e-4 });
  expect([wide[0].m, near[0].m]).toEqual([here.m * 0.99, here.m * 1.01].map((m) => expect.closeTo(m, 12)));
  expect(wide[1]).toBe(boards);
});

test.each(['l1', 'l2'] as const)('%s moves M by half as much, so that k stays to first order', (kind) => {
  const k = ({ l1, l2, m }: LinkElectrical) => m / Math.sqrt(l1 * l2);
  for (const [link] of both('coil', { kind, by: 0.02 })) {
    expect(Math.abs(link[kind] / here[kind] - 1)).toBeCloseTo(0.02, 12);
    // (1 + x / 2) / sqrt(1 + x) = 1 + x^2 / 8 + ...
    expect(Math.abs(k(link) / k(here) - 1)).toBeLessThan(0.02 ** 2 / 7);
  }
});

test('a plate moves all three as it was found to; an unknown one moves nothing', () => {
  const [up, down] = both(PLATE, { kind: 'plate', side: 'receiver', property: 'relativePermeability' });
  expect([up[0].l2 / here.l2, down[0].l2 / here.l2]).toEqual([1.1, 0.9].map((v) => expect.closeTo(v, 12)));
  const unknown = both('receiver.ferrite.standoffMm', { kind: 'plate', side: 'receiver', property: 'standoffMm' });
  expect(unknown.map(([link]) => link.m)).toEqual([here.m, here.m]);
});

test('a part of the boards moves the boards and not the link', () => {
  const path = 'receiver.pickup.seriesCapacitanceNf';
  const [up, down] = both(path, { kind: 'board', by: 10 });
  expect(up[0]).toBe(here);
  expect(up[1].pickup.seriesCapacitance - down[1].pickup.seriesCapacitance).toBeCloseTo(20e-9, 15);
});
