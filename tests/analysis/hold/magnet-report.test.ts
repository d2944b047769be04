import { describe, expect, it } from 'vitest';
import { fullMagnets } from '../../../src/analysis/hold/hold-from-layers.ts';
import { ferriteOf, ferriteSampleCount, ferriteSamples } from '../../../src/analysis/hold/magnet-ferrite.ts';
import { magnetReport } from '../../../src/analysis/hold/magnet-report.ts';
import { layoutOf } from '../../../src/analysis/hold/magnet-setup.ts';
import { discPairForce } from '../../../src/physics/magnet/disc-pair.ts';
import { demo, MAGNETS, RECESS } from './demo-design.ts';

const square = (half: number) => [Float64Array.from([-half, -half, half, -half, half, half, -half, half])];

describe('magnetReport', () => {
  it('is null without magnets', () => {
    expect(magnetReport(demo())).toBeNull();
  });

  it('magnets alone: tables in mm and N, the pair force, capture and rest', () => {
    const report = magnetReport(demo({ recess: RECESS, magnets: MAGNETS }), { safeOutline: square(9) });
    if (!report) throw new Error('no report');
    const disc = layoutOf(MAGNETS).upper;
    const own = discPairForce(disc, disc, 0, 3e-3).pull;
    const cross = discPairForce(disc, disc, 62e-3, 3e-3).pull;
    expect(report.holding.pullN).toBeCloseTo(2 * (own + cross), 6);
    expect(report.alongX.offsetMm[0]).toBe(0);
    expect(report.alongX.pullN[0]).toBeCloseTo(report.holding.pullN, 9);
    const k = 20;
    expect(report.alongX.restoringN[k]).toBeCloseTo(
      2 * discPairForce(disc, disc, report.alongX.offsetMm[k] / 1e3, 3e-3).restoring,
      1,
    );
    expect(report.holding.captureRadiusMm).toBeGreaterThan(report.holding.restBandMm ?? Number.POSITIVE_INFINITY);
    expect(report.restBandIsSafe).toBe(true);
    expect(report.ferriteShare).toBe(0);
    expect(report.stiffness?.sidewaysX).toBeGreaterThan(0);
    expect(report.contactPerPairN).toBeCloseTo(discPairForce(disc, disc, 0, 0).pull, 9);
    expect(report.cautions.join()).toContain('pacemakers');
    expect(report.heating).toBeNull();
  });

  it('judges the rest band against the safe outline', () => {
    const report = magnetReport(demo({ magnets: MAGNETS }), { safeOutline: square(0.4) });
    expect(report?.restBandIsSafe).toBe(false);
    expect(magnetReport(demo({ magnets: MAGNETS }))?.restBandIsSafe).toBeNull();
  });

  it('with the link’s ferrite: more pull, flux against saturation, air kept as the limit', () => {
    const design = demo({ recess: RECESS, magnets: MAGNETS });
    const report = fullMagnets(design, null);
    if (!report) throw new Error('no report');
    expect(report.notes.join()).not.toContain('hole');
    expect(report.ferriteShare).toBeGreaterThan(0.005);
    expect(report.ferriteShare).toBeLessThan(0.6);
    expect(report.alongX.pullN[0]).toBeGreaterThan(report.airAlongX.pullN[0]);
    expect(report.flux.dock?.peakT).toBeGreaterThan(0);
    const { dock } = report.flux;
    expect(dock?.leastPermeability).toBeLessThan(design.transmitter.ferrite?.relativePermeability ?? 0);
    // Flux takes some of the ferrite away, and with it some of the pull.
    expect(report.pullSaturatedN).toBeLessThan(report.holding.pullN);
    expect(report.pullSaturatedN).toBeGreaterThan(report.airAlongX.pullN[0]);
    expect(report.saturation?.sentence).toContain('measure L with the magnets in place');
  });

  it('leaves out a plate that a magnet would pierce and says so', () => {
    const design = demo({ magnets: { ...MAGNETS, positionsMm: [[0, 0]], thicknessMm: 6 } });
    const ferrite = ferriteOf(design, ferriteSamples(design, 0, ferriteSampleCount(design)), null);
    const report = magnetReport(design, { ferrite });
    expect(report?.notes.join()).toContain('hole');
  });

  it('steel: bound and thickness stated, and what a small steel disc does', () => {
    const report = magnetReport(demo({ magnets: { ...MAGNETS, facing: 'steel', gapMm: 1 } }));
    if (!report?.steel) throw new Error('no steel');
    expect(report.holding.pullN).toBeLessThan(report.steel.largePlatePullN);
    expect(report.holding.pullN).toBeGreaterThan(0.3 * report.steel.largePlatePullN);
    expect(report.steel.thicknessNeededMm).toBeGreaterThan(0.1);
    expect(report.stiffness).toBeNull();
    expect(report.notes.join()).toContain('does not centre');
  });

  it('heat in the coil’s field, if known', () => {
    const report = magnetReport(demo({ magnets: MAGNETS }), { coilField: { peakT: 1e-3, frequencyHz: 140e3 } });
    expect(report?.heating?.powerW).toBeGreaterThan(1e-4);
    expect(report?.heating?.note).toContain('Order of magnitude');
  });
});
