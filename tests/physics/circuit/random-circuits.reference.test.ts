import { describe, expect, test } from 'vitest';
import { randomSource } from '../../../src/numerics/random.ts';
import { totalLoss } from '../../../src/physics/circuit/losses.ts';
import { maxOutput } from '../../../src/physics/circuit/max-output.ts';
import { solveOperatingPoint } from '../../../src/physics/circuit/operating-point.ts';
import type { OperatingPoint } from '../../../src/physics/circuit/types.ts';
import { type RandomCase, randomCase } from './boards.ts';

/**
 * Long run, documented in src/physics/circuit/README.md:
 * CIRCUIT_RANDOM=100000 CIRCUIT_RANDOM_EXACT=3000 npx vitest run --project reference tests/physics/circuit/random-circuits.reference.test.ts
 */
const COUNT = Number(process.env.CIRCUIT_RANDOM ?? 3000);
const EXACT = Number(process.env.CIRCUIT_RANDOM_EXACT ?? 12);
const SEED = Number(process.env.CIRCUIT_SEED ?? 20250);
const MINUTES = 60_000;

const STATES = ['regulated', 'starved', 'overfed', 'overvoltage', 'currentLimited', 'hot', 'asleep', 'stopped'];

function faultsOf({ boards, loadA }: RandomCase, point: OperatingPoint): string[] {
  const faults: string[] = [];
  if (!STATES.includes(point.state)) faults.push(`state ${point.state}`);
  const { losses, ...rest } = point;
  for (const [key, value] of [...Object.entries(rest), ...Object.entries(losses)]) {
    if (typeof value === 'number' && key !== 'methodError' && !Number.isFinite(value)) faults.push(`${key} ${value}`);
  }
  const supplyW = boards.drive.supplyV * point.supplyA;
  const outputW = point.outputV * point.outputA;
  const imbalance = Math.abs(supplyW - totalLoss(losses) - outputW) / Math.max(supplyW, 1e-6);
  if (!(imbalance < 1e-6)) faults.push(`imbalance ${imbalance}`);
  for (const [key, value] of Object.entries(losses))
    if (value < -1e-7 * Math.max(supplyW, 1)) faults.push(`${key} loss ${value}`);
  if (!(point.efficiency >= 0 && point.efficiency < 1)) faults.push(`efficiency ${point.efficiency}`);
  if (point.outputA > loadA * (1 + 1e-9) + 1e-12) faults.push(`output ${point.outputA} of ${loadA}`);
  if (point.state === 'regulated' && point.rectifiedV < point.neededV * (1 - 1e-6)) faults.push('regulated below need');
  return faults;
}

describe('random circuits end in a named state, without NaN, with their energy balanced to 1e-6', () => {
  test(
    `${COUNT} circuits by the first harmonic, seed ${SEED}`,
    () => {
      const source = randomSource(SEED);
      const states = new Map<string, number>();
      const bad: string[] = [];
      for (let i = 0; i < COUNT; i++) {
        const one = randomCase(source);
        const point = solveOperatingPoint(one.link, one.boards, one.loadA, { tier: 'fast', awake: i % 4 !== 0 });
        states.set(point.state, (states.get(point.state) ?? 0) + 1);
        for (const fault of faultsOf(one, point)) bad.push(`${i}: ${fault}`);
      }
      expect(bad.slice(0, 20)).toEqual([]);
      // The draw covers every state, or the test proves little.
      expect([...states.keys()].sort()).toEqual([...STATES].sort());
    },
    10 * MINUTES,
  );

  test(
    `${EXACT} circuits by the periodic steady state, seed ${SEED + 1}`,
    () => {
      const source = randomSource(SEED + 1);
      const bad: string[] = [];
      let periodic = 0;
      for (let i = 0; i < EXACT; i++) {
        const one = randomCase(source);
        const point = solveOperatingPoint(one.link, one.boards, one.loadA, { tier: 'exact', awake: true });
        if (point.method === 'periodic') periodic++;
        for (const fault of faultsOf(one, point)) bad.push(`${i}: ${fault}`);
      }
      expect(bad.slice(0, 20)).toEqual([]);
      expect(periodic).toBeGreaterThan(0.8 * EXACT);
    },
    60 * MINUTES,
  );

  test(
    `the largest output separates regulated loads from others, ${COUNT / 10} circuits, seed ${SEED + 2}`,
    () => {
      const source = randomSource(SEED + 2);
      const bad: string[] = [];
      let compared = 0;
      for (let i = 0; i < COUNT / 10; i++) {
        const { link, boards } = randomCase(source);
        const most = maxOutput(link, boards, { tier: 'fast' });
        if (!(most.current >= 0 && most.current <= boards.pickup.regulator.currentLimit))
          bad.push(`${i}: ${most.current}`);
        if (most.current < 0.05) continue;
        compared++;
        const carried = ['regulated', 'overfed'];
        const below = solveOperatingPoint(link, boards, 0.99 * most.current, { tier: 'fast', awake: true });
        if (!carried.includes(below.state)) bad.push(`${i}: below is ${below.state}, limited by ${most.limitedBy}`);
        const above = solveOperatingPoint(link, boards, 1.02 * most.current + 0.002, { tier: 'fast', awake: true });
        const touch = above.caseC > boards.thermal.touchMax;
        if (carried.includes(above.state) && !touch && !most.furtherBranch) {
          bad.push(`${i}: above is ${above.state}, limited by ${most.limitedBy}`);
        }
      }
      expect(compared).toBeGreaterThan(COUNT / 40);
      // Near a fold the copper's temperature on either side differs: one in three hundred is let pass.
      expect(bad.length, bad.join('\n')).toBeLessThanOrEqual(COUNT / 3000);
    },
    30 * MINUTES,
  );
});
