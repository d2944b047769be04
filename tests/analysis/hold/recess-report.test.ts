import { describe, expect, it } from 'vitest';
import { recessOf, recessReport } from '../../../src/analysis/hold/recess-report.ts';
import { demo, RECESS } from './demo-design.ts';

const margin = (x: number, y: number, yaw: number) => 110 - 2.2 * x * x - 2.8 * y * y - 300 * yaw * yaw;

describe('recessReport', () => {
  it('recessOf takes the receiver’s largest part and a wall', () => {
    const { recess, assumed } = recessOf(demo());
    expect(assumed).toBe(true);
    // The demo's widest receiver part is its 48 x 36 mm ferrite sheet.
    expect(recess.outline).toMatchObject({ outerWidthMm: 54, outerHeightMm: 42 });
    expect(recessOf(demo({ recess: RECESS })).recess).toBe(RECESS);
  });

  it('catches what a quick margin without symmetry hides: mirror images are solved too', () => {
    const lopsided = (x: number, y: number, yaw: number) => margin(x, y, yaw) - (x > 0 ? 6 : 0);
    const report = recessReport(demo({ recess: RECESS }), { marginAt: margin, directMarginAt: lopsided, bandAt: null });
    expect(report.recommended.directPercent ?? Number.NaN).toBeGreaterThanOrEqual(20);
    expect(report.recommended.worst.marginPercent).toBeGreaterThan(25);
  });
});
