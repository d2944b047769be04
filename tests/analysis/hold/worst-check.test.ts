import { describe, expect, it } from 'vitest';
import { assembleAttitudes, attitudePoseCount, solveAttitudes } from '../../../src/analysis/hold/attitude-change.ts';
import { attitudeRange } from '../../../src/analysis/hold/attitude-range.ts';
import { holdLayer, layerPlans } from '../../../src/analysis/hold/hold-layer.ts';
import { directAt, worstPlaces } from '../../../src/analysis/hold/worst-check.ts';
import { worstCheckOf } from '../../../src/analysis/hold/worst-check-sum.ts';
import { linkContext } from '../../../src/analysis/link/link-context.ts';
import { poseAt } from '../../../src/analysis/link/link-model.ts';
import { fastOutput } from '../../../src/analysis/margin/fast-output.ts';
import { marginPercent } from '../../../src/analysis/margin/margin-percent.ts';
import { boardsOf } from '../../../src/design/to-si.ts';
import { RECESS } from './demo-design.ts';
import { plainLink } from './plain-link.ts';

const { design, model } = plainLink({ recess: RECESS });
const turn = 0.37;
const poses = attitudePoseCount(design, model, turn);
const attitudes = assembleAttitudes(design, model, turn, solveAttitudes(design, model, turn, 0, poses));
const layers = layerPlans(design)
  .filter((plan) => plan.use === 'worst')
  .map((plan) => holdLayer(design, model, plan, [], attitudes));

describe('the worst region, solved directly at allowed places between its corners', () => {
  const places = worstPlaces(design, layers);

  it('places lie on the border, at gaps and attitudes within the tolerances', () => {
    const range = attitudeRange(design);
    expect(places).toHaveLength(10);
    for (const { worstPercent, gapMm, yaw, tiltX, tiltY } of places) {
      expect(Math.abs(worstPercent - design.demand.wantedMarginPercent)).toBeLessThan(3);
      expect(Math.abs(yaw)).toBeLessThanOrEqual(range.yaw);
      const gapShare = Math.abs(gapMm - range.nominalMm) / (range.thickestMm - range.nominalMm);
      expect(gapShare + Math.abs(tiltX) / range.tiltX + Math.abs(tiltY) / range.tiltY).toBeLessThanOrEqual(1 + 1e-9);
    }
    // Every other one between the corners.
    expect(new Set(places.filter((_, k) => k % 2 === 1).map(({ tiltX }) => tiltX)).size).toBe(5);
  });

  it('in air the coils’ tilt is all there is: no place is worse than the map by more than the maps’ own steps', () => {
    const direct = places.map((place) => directAt(design, place));
    // Maps of 49 points, 40 percent points a millimetre near collapse: two points are a twentieth of a millimetre.
    expect(worstCheckOf(places, direct)?.shortfallPercent).toBeLessThan(2);
  });

  it('at the corners that are worst there the border is where the maps’ own circuit puts it', () => {
    const context = linkContext(design);
    places.forEach(({ xMm, yMm, gapMm, yaw, tiltX, tiltY, worstPercent }, k) => {
      if (k % 2 === 1) return;
      const pose = poseAt(context, { yaw, tiltX, tiltY }, xMm / 1e3, yMm / 1e3, gapMm / 1e3);
      const m = context.kernel.mutual(pose).value;
      const link = { l1: context.l1.value, l2: context.l2.value, m, r1: context.copper1, r2: context.copper2 };
      const [current] = fastOutput([link], boardsOf(design));
      // Grid points 1.5 mm apart and 40 percent points a millimetre near collapse: a quarter of a step.
      expect(Math.abs(marginPercent(current, 0.48) - worstPercent)).toBeLessThan(15);
    });
  });

  it('a shortfall is told, and nothing without places', () => {
    const direct = places.map(({ worstPercent }, k) => worstPercent + (k === 3 ? -1.5 : 4));
    expect(worstCheckOf(places, direct)).toEqual({ places: 10, shortfallPercent: expect.closeTo(1.5, 9) });
    expect(worstCheckOf([], [])).toBeNull();
    expect(worstPlaces(design, [])).toEqual([]);
  });
});
