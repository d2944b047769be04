import { describe, expect, it } from 'vitest';
import { mapLookup } from '../../../src/analysis/hold/batch-lookup.ts';
import { pocketFor } from '../../../src/analysis/hold/device-shape.ts';
import { clearanceCurve, type LotteryCondition, runLottery } from '../../../src/analysis/hold/lottery.ts';
import { recessPlay } from '../../../src/analysis/hold/recess-play.ts';

const SEED = 2;
const within = (name: string, radius: number): LotteryCondition => ({
  name,
  slack: (x, y, _yaw, out) => {
    for (let k = 0; k < out.length; k += 1) out[k] = radius - Math.hypot(x[k], y[k]);
  },
});
const base = {
  placing: { kind: 'gaussian', sigmaXMm: 4, sigmaYMm: 4, sigmaYaw: 0.1 } as const,
  conditions: [within('typical', 7), within('peak', 5)],
  count: 200_000,
  seed: SEED,
  recess: null,
  aid: null,
  confidence: 0.95,
};

describe('runLottery', () => {
  it('Rayleigh: 1 - exp(-r^2 / 2 sigma^2) lies within the interval', () => {
    const answer = runLottery({ ...base, confidence: 0.999 });
    const [typical, peak] = answer.chances;
    for (const [chance, r] of [
      [typical, 7],
      [peak, 5],
    ] as const) {
      const exact = 1 - Math.exp(-(r * r) / 32);
      expect(chance.wilson.low).toBeLessThan(exact);
      expect(chance.wilson.high).toBeGreaterThan(exact);
      expect(chance.exact.low).toBeLessThan(exact);
      expect(chance.exact.high).toBeGreaterThan(exact);
    }
    expect(answer.all.hits).toBe(peak.hits);
  });

  it('the interval covers the truth about as often as it says (200 seeds, 95 %)', () => {
    let covered = 0;
    const exact = 1 - Math.exp(-49 / 32);
    for (let seed = 0; seed < 200; seed += 1) {
      const { wilson } = runLottery({ ...base, count: 500, seed }).chances[0];
      if (wilson.low <= exact && exact <= wilson.high) covered += 1;
    }
    // Binomial(200, 0.95): 5 sigma below the mean is 174.
    expect(covered).toBeGreaterThan(174);
    expect(covered).toBeLessThan(200);
  });

  it('with seeds the same, without the same', () => {
    expect(runLottery(base)).toEqual(runLottery(base));
    expect(runLottery({ ...base, seed: 3 }).all.hits).not.toBe(runLottery(base).all.hits);
  });

  it('an aid changes placements before they are judged', () => {
    const home = runLottery({
      ...base,
      aid: ({ xMm, yMm }) => {
        for (let k = 0; k < xMm.length; k += 1) {
          xMm[k] *= 0.1;
          yMm[k] *= 0.1;
        }
      },
    });
    expect(home.all.probability).toBe(1);
    expect(home.all.wilson.high).toBe(1);
    expect(home.all.wilson.low).toBeLessThan(1);
  });

  it('a list is counted as it is', () => {
    const answer = runLottery({
      ...base,
      placing: {
        kind: 'list',
        xMm: Float64Array.of(0, 6, 8),
        yMm: Float64Array.of(0, 0, 0),
        yaw: Float64Array.of(0, 0, 0),
      },
    });
    expect(answer.chances.map((c) => [c.hits, c.trials])).toEqual([
      [2, 3],
      [1, 3],
    ]);
  });

  it('unknown margins do not hold', () => {
    const nan: LotteryCondition = { name: 'nan', slack: (_x, _y, _a, out) => out.fill(Number.NaN) };
    expect(runLottery({ ...base, conditions: [nan], count: 100 }).all.hits).toBe(0);
  });

  it('a million placements with two bicubic maps in a second of processor time', () => {
    const n = 129;
    const axis = Float64Array.from({ length: n }, (_, i) => -24 + (48 * i) / (n - 1));
    const values = new Float64Array(n * n);
    for (let j = 0; j < n; j += 1) for (let i = 0; i < n; i += 1) values[j * n + i] = 49 - axis[i] ** 2 - axis[j] ** 2;
    const slack = mapLookup({ xMm: axis, yMm: axis, yaw: Float64Array.of(0), values });
    const question = {
      ...base,
      conditions: [
        { name: 'typical', slack },
        { name: 'peak', slack },
      ],
    };
    runLottery(question);
    const before = process.cpuUsage();
    const answer = runLottery({ ...question, count: 1_000_000 });
    const used = process.cpuUsage(before);
    expect(Math.abs(answer.all.probability - (1 - Math.exp(-49 / 32)))).toBeLessThan(5 * Math.sqrt(0.17 / 1e6));
    expect((used.user + used.system) / 1e6).toBeLessThan(1);
  });

  it('refuses a count that is none', () => {
    expect(() => runLottery({ ...base, count: 0 })).toThrow(/1 to 100000000; received 0/);
    expect(() => runLottery({ ...base, count: 2.5 })).toThrow(/whole number/);
  });
});

describe('clearanceCurve', () => {
  it('success falls with clearance, at the rate that the differences say', () => {
    const device = { halfWidthMm: 20, halfHeightMm: 20, cornerRadiusMm: 20 };
    const curve = clearanceCurve(
      {
        ...base,
        placing: { kind: 'disc', radiusMm: 100, halfYaw: 0 },
        conditions: [within('typical', 3)],
        count: 40_000,
      },
      Float64Array.of(2, 4, 6),
      (c) => recessPlay(device, pocketFor(device, c)),
    );
    // Even over the disc of play: (3 / c)^2 from c = 3 on.
    expect(curve.probability[0]).toBe(1);
    expect(curve.probability[1]).toBeCloseTo(9 / 16, 1);
    expect(curve.probability[2]).toBeCloseTo(1 / 4, 1);
    expect(curve.perMm[1]).toBeCloseTo((curve.probability[2] - curve.probability[0]) / 4, 12);
    expect(curve.low[1]).toBeLessThan(9 / 16);
    expect(curve.high[1]).toBeGreaterThan(9 / 16);
  });
});
