import { describe, expect, test } from 'vitest';
import {
  rankSensitivity,
  type SensitivityRow,
  sensitivityBase,
  sensitivityRow,
} from '../../../src/analysis/sensitivity/sensitivity.ts';
import { MUTUAL, sensitivityInputs } from '../../../src/analysis/sensitivity/sensitivity-inputs.ts';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { parseDesign } from '../../../src/design/resolve.ts';
import { boardsOf } from '../../../src/design/to-si.ts';
import { maxOutput } from '../../../src/physics/circuit/max-output.ts';
import { typicalLinks } from '../supply/typical-links.ts';

const document = structuredClone(DEMO_DESIGN);
document.receiver.pickup.regulator.currentLimitA = 3;
document.receiver.thermal = { ...document.receiver.thermal, touchMaxC: 100, shutdownC: 150 };
const parsed = parseDesign({
  ...document,
  demand: { loads: [{ name: 'on', kind: 'typical', atV: 5, currentA: 0.5 }] },
});
if (!parsed.ok) throw new Error('the demo must resolve');
const { design } = parsed;
const links = typicalLinks(0.3);
const base = sensitivityBase(design, links);
const inputs = sensitivityInputs(design);
const rowOf = (path: string): SensitivityRow =>
  sensitivityRow(design, links, [], base, inputs.find((input) => input.path === path)!);

describe('each row is the exact circuit with the input moved', () => {
  test('supply voltage: both ends of its tolerance, and one percent', () => {
    const row = rowOf('transmitter.drive.supplyV');
    const at = (share: number): number => {
      const boards = boardsOf(design);
      const supplyV = boards.drive.supplyV * (1 + share);
      return maxOutput(links.link.electrical, { ...boards, drive: { ...boards.drive, supplyV } }).current;
    };
    expect(row.up).toBeCloseTo(at(0.03) / base.maxOutputA - 1, 6);
    expect(row.down).toBeCloseTo(at(-0.03) / base.maxOutputA - 1, 6);
    expect(row.perPercent).toBeCloseTo((at(0.01) - at(-0.01)) / 2 / base.maxOutputA, 6);
    expect(row.up).toBeGreaterThan(0);
  });
  test('the gap by the links at its ends, its percent by their slope', () => {
    const row = rowOf('placement.gapMm');
    expect(Math.sign(row.up)).toBe(-Math.sign(row.down));
    expect(Math.sign(row.perPercent)).toBe(Math.sign(row.up));
  });
  test('without a tolerance only one percent is asked', () => {
    const row = rowOf('receiver.pickup.regulator.dropoutOhm');
    expect([row.tolerance, row.up, row.down]).toEqual([null, 0, 0]);
    expect(row.perPercent).toBeLessThan(0);
    expect(rowOf(MUTUAL).perPercent).not.toBe(0);
  });
});

const row = (name: string, up: number, down: number, perPercent = 0): SensitivityRow => ({
  name,
  path: name,
  tolerance: up === 0 && down === 0 ? null : '± 5 %',
  up,
  down,
  perPercent,
});

describe('ranking', () => {
  test('largest change first, those without tolerance by percent, the still ones named apart', () => {
    const ranked = rankSensitivity(design, base, [
      row('a', 0.01, -0.01),
      row('b', -0.2, 0.1),
      row('c', 0, 0, 0.03),
      row('d', 0, 0),
      row('e', 0, 0, -0.04),
    ]);
    expect(ranked.rows.map(({ name }) => name)).toEqual(['b', 'a', 'e', 'c']);
    expect(ranked.still).toEqual(['d']);
    expect(ranked.sentence).toBe(
      'The b moves it most: ± 5 % is −20 % to +10 % of the current, then the a (−1 % to +1 %). Measure it, or buy it tighter, before anything else.',
    );
  });
  test('where a limit holds the current still, that is said', () => {
    const held = rankSensitivity(design, { ...base, limitedBy: 'regulatorCurrent' }, [row('a', 0, 0)]);
    expect(held.sentence).toContain("held by the receiver regulator's own current limit");
    expect(rankSensitivity(design, { maxOutputA: 0, limitedBy: 'link' }, []).sentence).toContain(
      'Nothing is delivered',
    );
  });
});
