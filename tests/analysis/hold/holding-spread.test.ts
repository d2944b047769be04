import { describe, expect, it } from 'vitest';
import { type HoldingBody, holdDevice } from '../../../src/analysis/hold/holding.ts';
import { holdingSpread } from '../../../src/analysis/hold/holding-spread.ts';
import { layoutProfile } from '../../../src/physics/magnet/pair-profile.ts';

const body: HoldingBody = { massKg: 0.18, friction: 0.3, slope: 0, contactRadius: 0.015 };
const magnet = { radius: 4e-3, thickness: 2e-3, remanence: 1.2 };
const profile = (remanence: number) =>
  layoutProfile(
    {
      positions: new Float64Array(2),
      polarity: null,
      lower: { ...magnet, remanence },
      upper: { ...magnet, remanence },
      facing: 'magnet',
      gap: 2e-3,
    },
    0.03,
  );
const force = profile(1.2);
const nominal = holdDevice(force, body);

describe('holdingSpread', () => {
  it('holds the answers of a slipperier and a rougher dock, of weaker and stronger magnets', () => {
    const { pullN, captureMm, restMm } = holdingSpread({}, force, body, {}, nominal);
    for (const friction of [0.24, 0.36]) {
      const answer = holdDevice(force, { ...body, friction });
      expect(answer.captureRadiusMm).toBeGreaterThanOrEqual(captureMm.low - 1e-9);
      expect(answer.captureRadiusMm).toBeLessThanOrEqual(captureMm.high + 1e-9);
      expect(answer.restBandMm).toBeLessThanOrEqual((restMm?.high ?? 0) + 1e-9);
      expect(answer.restBandMm).toBeGreaterThanOrEqual((restMm?.low ?? 9) - 1e-9);
    }
    // The pull hangs on the remanence alone, as its square.
    expect(pullN.high / pullN.value).toBeCloseTo(1.05 ** 2, 6);
    expect(pullN.low / pullN.value).toBeCloseTo(0.95 ** 2, 6);
    const stronger = holdDevice(profile(1.2 * 1.05), body);
    expect(stronger.pullN).toBeCloseTo(pullN.high, 6);
    expect(stronger.captureRadiusMm).toBeLessThanOrEqual(captureMm.high + 1e-3);
  });

  it('a value that was not given may be farther off', () => {
    const stated = holdingSpread({}, force, body, {}, nominal);
    const taken = holdingSpread({ assumed: ['holding.friction'] }, force, body, {}, nominal);
    expect(taken.captureMm.low).toBeLessThan(stated.captureMm.low);
  });

  it('says where more friction would hold it anywhere, and nothing of a rest band that is not there', () => {
    // The least friction at which the nominal still centres, nearly.
    let friction = 0.3;
    while (holdDevice(force, { ...body, friction: friction * 1.2 }).restBandMm !== null) friction *= 1.05;
    const edge = { ...body, friction };
    const answer = holdDevice(force, edge);
    expect(answer.restBandMm).not.toBeNull();
    expect(holdingSpread({}, force, edge, {}, answer).restMm?.high).toBeNull();
    const stuck = { ...body, friction: friction * 3 };
    expect(holdingSpread({}, force, stuck, {}, holdDevice(force, stuck)).restMm).toBeNull();
  });
});
