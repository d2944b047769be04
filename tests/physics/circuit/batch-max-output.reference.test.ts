import { describe, expect, test } from 'vitest';
import { randomSource } from '../../../src/numerics/random.ts';
import type { LinkBatch } from '../../../src/physics/circuit/batch-link.ts';
import { BATCH_MAX_DEFAULTS, batchMaxOutput, maxOutputBatch } from '../../../src/physics/circuit/batch-max-output.ts';
import { LIMIT_CODES } from '../../../src/physics/circuit/limit-codes.ts';
import { maxOutput } from '../../../src/physics/circuit/max-output.ts';
import type { Boards, LinkElectrical } from '../../../src/physics/circuit/types.ts';
import { randomCase, typicalBoards, typicalLink } from './boards.ts';

const couplings = Array.from({ length: 40 }, (_, i) => 0.03 + 0.016 * i);

function batchOf(links: readonly LinkElectrical[]): LinkBatch {
  return {
    l1: Float64Array.from(links, (link) => link.l1),
    l2: Float64Array.from(links, (link) => link.l2),
    m: Float64Array.from(links, (link) => link.m),
    r1: links[0].r1,
    r2: links[0].r2,
  };
}

function compare(
  links: readonly LinkElectrical[],
  boards: Boards,
  options: { ignoreThermal: boolean; charging?: boolean },
) {
  const out = batchMaxOutput(batchOf(links), boards, maxOutputBatch(links.length), options);
  for (let i = 0; i < links.length; i++) {
    const single = maxOutput(links[i], boards, { tier: 'fast', ...options });
    const tolerance = 0.005 * single.current + 0.001;
    expect(
      Math.abs(out.current[i] - single.current),
      `pose ${i}: ${out.current[i]} against ${single.current}`,
    ).toBeLessThan(tolerance);
    if (single.current > 0.05) expect(LIMIT_CODES[out.limitedBy[i]]).toBe(single.limitedBy);
  }
}

describe('agrees with the single solver of the first-harmonic tier', () => {
  test.each([5, 9])('%d V, no heat', (supplyV) => {
    const boards = typicalBoards(supplyV);
    compare(
      couplings.map((k) => typicalLink(k)),
      boards,
      { ignoreThermal: true },
    );
  });
  test('with heat, the cell while charging', () => {
    const links = couplings.map((k) => typicalLink(k));
    compare(links, typicalBoards(9), { ignoreThermal: false });
    compare(links, typicalBoards(9, { thermal: { cellChargeMax: 32 } }), { ignoreThermal: false, charging: true });
  });
  test('inductances that change with the pose', () => {
    const links = couplings.map((k) => typicalLink(k, 6.3e-6 * (1 + 0.3 * k), 15e-6 * (1 + 0.25 * k)));
    compare(links, typicalBoards(5), { ignoreThermal: true });
  });
});

// Not the seeds on which the solver was mended (1, 2) or measured (11 to 14, see batchMaxOutput): three standard deviations of so few
// boards under what was measured.
test.each([true, false])(
  'fresh random boards, heat left out %s: as near to the single solver as stated',
  (ignoreThermal) => {
    const source = randomSource(Number(process.env.OFFCENTRE_SEED ?? 20261130));
    const off: number[] = [];
    for (let i = 0; i < 500; i++) {
      const { link, boards } = randomCase(source);
      const [current] = batchMaxOutput(batchOf([link]), boards, maxOutputBatch(1), { ignoreThermal }).current;
      expect(Number.isFinite(current)).toBe(true);
      const single = maxOutput(link, boards, { tier: 'fast', ignoreThermal }).current;
      if (current > 0 || single > 0) off.push(Math.max(0, Math.abs(current - single) - 1e-3) / Math.max(single, 1e-9));
    }
    const within = (share: number) => (100 * off.filter((value) => value <= share).length) / off.length;
    expect(off.length).toBeGreaterThan(200);
    expect(within(0.005)).toBeGreaterThan(96);
    expect(within(0.02)).toBeGreaterThan(97.5);
    expect(within(0.05)).toBeGreaterThan(98);
  },
);

// What was up to all of the current off before: limits were judged on the closed form, whose supply current is off by half.
test('where the supply or the coil sets the limit: within 0.5 % and 1 mA (typical pair, all couplings)', () => {
  const links = couplings.filter((_, i) => i % 4 === 1).map((k) => typicalLink(k));
  for (const supplyV of [5, 9, 12, 19])
    for (const change of [
      { supplyCurrentLimit: 0.4 },
      { supplyCurrentLimit: 0.8, supplyResistance: 0.4 },
      { coilCurrentLimit: 1.5 },
      { supplyCurrentLimit: 0.5, dutyMin: 0.1 },
    ]) {
      const boards = typicalBoards(supplyV, { drive: change });
      const out = batchMaxOutput(batchOf(links), boards, maxOutputBatch(links.length), { ignoreThermal: true });
      links.forEach((link, i) => {
        const single = maxOutput(link, boards, { tier: 'fast', ignoreThermal: true }).current;
        expect(
          Math.abs(out.current[i] - single),
          `${supplyV} V ${JSON.stringify(change)} ${i}: ${out.current[i]} against ${single}`,
        ).toBeLessThan(0.005 * single + 1e-3);
      });
    }
});

test('chunks give the same bits as one run; resistance per pose equals a shared law', () => {
  const boards = typicalBoards(9);
  const batch = batchOf(couplings.map((k) => typicalLink(k)));
  const whole = batchMaxOutput(batch, boards, maxOutputBatch(40));
  const parts = maxOutputBatch(40);
  for (const [from, to] of [
    [0, 7],
    [7, 30],
    [30, 40],
  ]) {
    batchMaxOutput(batch, boards, parts, BATCH_MAX_DEFAULTS, from, to);
  }
  expect([...parts.current]).toEqual([...whole.current]);
  expect([...parts.limitedBy]).toEqual([...whole.limitedBy]);
  const { dc, linear, quadratic, quartic } = typicalLink(0.1).r1;
  const r1 = Float64Array.from({ length: 160 }, (_, i) => [dc, linear, quadratic, quartic][i % 4]);
  expect([...batchMaxOutput({ ...batch, r1 }, boards, maxOutputBatch(40)).current]).toEqual([...whole.current]);
});

test('a 129 x 129 map within 0.15 s of processor time on an idle machine (0.6 s allowed here)', () => {
  const n = 129 * 129;
  const m = Float64Array.from({ length: n }, (_, i) => {
    const x = ((i % 129) - 64) / 64;
    const y = (Math.floor(i / 129) - 64) / 64;
    return 0.6 * Math.exp(-2.7 * (x * x + y * y)) * Math.sqrt(6.3e-6 * 15e-6);
  });
  const { r1, r2 } = typicalLink(0.5);
  const batch = { l1: new Float64Array(n).fill(6.3e-6), l2: new Float64Array(n).fill(15e-6), m, r1, r2 };
  const out = maxOutputBatch(n);
  batchMaxOutput(batch, typicalBoards(5), out);
  const before = process.cpuUsage();
  batchMaxOutput(batch, typicalBoards(9), out);
  const { user, system } = process.cpuUsage(before);
  // Processor time, since the machine is shared; other threads of the test runner count in it, hence the margin.
  expect((user + system) / 1e6).toBeLessThan(0.6);
});
