import { describe, expect, it } from 'vitest';
import { holdFromLayers } from '../../../src/analysis/hold/hold-from-layers.ts';
import { holdLayer, layerPlans } from '../../../src/analysis/hold/hold-layer.ts';
import { directMargin } from '../../../src/analysis/hold/hold-margins.ts';
import { RECESS } from './demo-design.ts';
import { plainLink } from './plain-link.ts';

describe('holdFromLayers', () => {
  const { design, model } = plainLink({ recess: RECESS });
  const layers = layerPlans(design).map((plan) => holdLayer(design, model, plan));
  const report = holdFromLayers({
    design,
    model,
    plates: [],
    layers,
    safeOutline: null,
    coilField: null,
    lottery: { count: 20_000, seed: 1 },
    direct: true,
  });

  it('the recommended recess has the wanted margin at its worst corner, solved directly, within 0.5 %', () => {
    const { clearanceMm, worst, directPercent, band } = report.recess.recommended;
    expect(clearanceMm).not.toBeNull();
    expect(directPercent ?? Number.NaN).toBeGreaterThanOrEqual(20);
    expect(directPercent ?? Number.NaN).toBeLessThan(20.5);
    // Solved once more, at the place named and at its images.
    const direct = directMargin(design);
    const images = [1, -1].flatMap((sx) =>
      [1, -1].map((sy) => direct(sx * worst.xMm, sy * worst.yMm, sx * sy * worst.yaw)),
    );
    expect(Math.min(...images)).toBeCloseTo(directPercent ?? Number.NaN, 6);
    expect(band?.low).toBeLessThan(20);
    expect(worst.name).toContain('corner');
  });

  it('has the stack, the region and the lottery of the same design', () => {
    expect(report.stack.limits?.thickestMm).toBeGreaterThan(5.9);
    expect(report.region?.worst.reachMm).toBeGreaterThan(5);
    expect(report.region?.volumeMm3).toBeGreaterThan(1000);
    expect(report.lottery.byAid[0].answer.all.probability).toBeGreaterThan(0.9);
    expect(structuredClone(report)).toEqual(report);
  });
});
