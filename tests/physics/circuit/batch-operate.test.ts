import { expect, test } from 'vitest';
import { BATCH_STATES, batchOperate, operateBatch } from '../../../src/physics/circuit/batch-operate.ts';
import { solveOperatingPoint } from '../../../src/physics/circuit/operating-point.ts';
import { typicalBoards, typicalLink } from './boards.ts';

const couplings = Array.from({ length: 30 }, (_, i) => 0.12 + 0.018 * i);
const links = couplings.map((k) => typicalLink(k));
const batch = {
  l1: Float64Array.from(links, (link) => link.l1),
  l2: Float64Array.from(links, (link) => link.l2),
  m: Float64Array.from(links, (link) => link.m),
  r1: links[0].r1,
  r2: links[0].r2,
};

test.each([
  [5, 0.3],
  [5, 0.6],
  [9, 0.3],
])('%d V, %d A: agrees with the single solver at the same copper temperature', (supplyV, load) => {
  // No heating at all, so that both use copper at ambient.
  const base = typicalBoards(supplyV, { thermal: { transmitterResistance: 0, receiverResistance: 1e-9 } });
  const out = batchOperate(batch, base, load, operateBatch(links.length));
  let regulated = 0;
  for (let i = 0; i < links.length; i++) {
    const single = solveOperatingPoint(links[i], base, load, { tier: 'fast', awake: true });
    const state = BATCH_STATES[out.state[i]];
    if (single.state === 'regulated' && single.shortfallV === 0) {
      regulated++;
      expect(state).toBe('regulated');
      expect(Math.abs(out.frequency[i] / single.frequency - 1)).toBeLessThan(1e-5);
      expect(Math.abs(out.supplyA[i] / single.supplyA - 1)).toBeLessThan(1e-5);
      expect(Math.abs(out.transmitterA[i] / single.transmitterCoilA - 1)).toBeLessThan(1e-5);
      const loss = single.losses.receiverCoil + single.losses.rectifier + single.losses.regulator;
      expect(Math.abs(out.receiverLoss[i] / loss - 1)).toBeLessThan(1e-5);
    } else if (single.state === 'overfed' || single.state === 'starved') {
      expect(state).toBe(single.state);
      if (single.state === 'overfed') expect(Math.abs(out.rectifiedV[i] / single.rectifiedV - 1)).toBeLessThan(1e-5);
    }
  }
  expect(regulated).toBeGreaterThan(5);
});

test('corrected charge is near the exact waveform: frequency and supply current within 8 % (measured 5.1 %)', () => {
  const boards = typicalBoards(5);
  const exact = batchOperate(batch, boards, 0.4, operateBatch(links.length));
  const corrected = batchOperate(batch, boards, 0.4, operateBatch(links.length), { waveform: 'corrected' });
  for (let i = 0; i < links.length; i++) {
    if (exact.state[i] !== 0 || corrected.state[i] !== 0) continue;
    expect(Math.abs(corrected.frequency[i] / exact.frequency[i] - 1)).toBeLessThan(0.08);
    expect(Math.abs(corrected.supplyA[i] / exact.supplyA[i] - 1)).toBeLessThan(0.08);
  }
});

test('speed: at least 100 closed-loop solves per millisecond of processor time here (500 on an idle machine, see README)', () => {
  const n = 20000;
  const many = {
    l1: new Float64Array(n).fill(6.3e-6),
    l2: new Float64Array(n).fill(15e-6),
    m: Float64Array.from({ length: n }, (_, i) => (0.15 + (0.5 * i) / n) * Math.sqrt(6.3e-6 * 15e-6)),
    r1: links[0].r1,
    r2: links[0].r2,
  };
  const out = operateBatch(n);
  for (const [waveform, least] of [
    ['corrected', 100],
    ['exact', 60],
  ] as const) {
    batchOperate(many, typicalBoards(5), 0.4, out, { waveform });
    const before = process.cpuUsage();
    batchOperate(many, typicalBoards(5), 0.4, out, { waveform });
    const { user, system } = process.cpuUsage(before);
    expect(n / ((user + system) / 1e3), waveform).toBeGreaterThan(least);
  }
});
