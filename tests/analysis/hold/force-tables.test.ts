import { describe, expect, it } from 'vitest';
import { forceTable, turnTable } from '../../../src/analysis/hold/force-tables.ts';
import { GRAVITY, type HoldingBody } from '../../../src/analysis/hold/holding.ts';
import { discPairForce } from '../../../src/physics/magnet/disc-pair.ts';
import { layoutProfile } from '../../../src/physics/magnet/pair-profile.ts';

const body: HoldingBody = { massKg: 0.18, friction: 0.3, slope: 0, contactRadius: 0.015 };
const magnet = { radius: 4e-3, thickness: 2e-3, remanence: 1.2 };
const layoutOf = (positions: Float64Array) => ({
  positions,
  polarity: null,
  lower: magnet,
  upper: magnet,
  facing: 'magnet' as const,
  gap: 1.5e-3,
});

describe('forceTable', () => {
  it('lists the pair force in mm and N', () => {
    const table = forceTable(layoutProfile(layoutOf(new Float64Array(2)), 0.03), body, 0.7, 0.02, 41);
    const pair = discPairForce(magnet, magnet, 4e-3, 1.5e-3);
    expect(table.offsetMm[8]).toBeCloseTo(4, 12);
    expect(table.pullN[8]).toBeCloseTo(pair.pull, 9);
    expect(table.restoringN[8]).toBeCloseTo(pair.restoring, 9);
    expect(table.restoringN[0]).toBe(0);
    expect(table.frictionN[8]).toBeCloseTo(0.3 * (0.18 * GRAVITY + pair.pull), 9);
  });
});

describe('turnTable', () => {
  it('two pairs turned: each pulls back along its chord, with the arm of half its distance', () => {
    const half = 20e-3;
    const table = turnTable(layoutProfile(layoutOf(Float64Array.of(-half, 0, half, 0)), 0.05), body, 0.2, 21);
    const turn = 0.1;
    const chord = 2 * half * Math.sin(turn / 2);
    // Cross pairs, 40 mm apart, add next to nothing.
    const force = discPairForce(magnet, magnet, chord, 1.5e-3).restoring;
    const wanted = 2 * 1e3 * force * half * Math.cos(turn / 2);
    expect(table.turnDeg[10]).toBeCloseTo((turn * 180) / Math.PI, 9);
    expect(Math.abs(table.restoringNmm[10] / wanted - 1)).toBeLessThan(0.01);
    expect(table.restoringNmm[0]).toBeCloseTo(0, 9);
    expect(table.frictionNmm[0]).toBeGreaterThan(1e3 * 0.3 * 0.18 * GRAVITY * 0.015);
  });
});
