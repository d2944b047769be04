import { describe, expect, test } from 'vitest';
import { linkAtPose } from '../../../src/analysis/link/link-at-pose.ts';
import { linkContext, poseOfDesign } from '../../../src/analysis/link/link-context.ts';
import { poseAnswer, poseLinks } from '../../../src/analysis/margin/pose-answer.ts';
import { designAt } from '../../../src/analysis/place/line-sweep.ts';
import { supplyDesigns, supplyPoints } from '../../../src/analysis/supply/supply-report.ts';
import { demandOf } from '../../../src/design/demand.ts';
import { parseDesign } from '../../../src/design/resolve.ts';
import type { DesignDocument } from '../../../src/design/schema.ts';
import { boardsOf } from '../../../src/design/to-si.ts';
import type { Design } from '../../../src/design/types.ts';
import { maxOutput } from '../../../src/physics/circuit/max-output.ts';
import { solveOperatingPoint } from '../../../src/physics/circuit/operating-point.ts';

/**
 * Check values of the trade for a 5 V, 5 W-class pair. Common practice, no source: what a USB meter, an electronic load and a
 * thermometer show on such boards. From the design file to the answers: turns, ferrites, boards.
 *
 * One parameter set for all. The coils are plain: a transmitter of the common published-standard size (44 mm, 10 turns) on its
 * tile, and a round receiver of 25 mm with 20 turns on a thin disc. The boards' values were fitted inside plausible ranges
 * (bounds of the fit: supply and cable 0.05-0.45 ohm, window 100-125 to 175-225 kHz, transmitter capacitor 370-420 nF, least duty 0.3-1, receiver capacitor
 * 70-200 nF, gap "nearly touching" 2.5-5 mm between windings, which is two thin walls): the model can reproduce all of them
 * together, which does not show that each value is right. Where facts pull against each other they end near their tolerance:
 * the collapse at 5 V at its low side (0.77 A), the range at 5 V at its far side (11.8 mm).
 * Tolerances as the issue states them: 5 % in efficiency, 15 % in current, 20 % in range, 5 K.
 */
const DOCUMENT: DesignDocument = {
  format: 'offcentre-design',
  version: 1,
  title: '5 V, 5 W-class pair',
  transmitter: {
    coil: {
      outline: { shape: 'circle', outerDiameterMm: 44, innerDiameterMm: 20.5 },
      turns: 10,
      layers: 1,
      layerPitchMm: 1.2,
      conductor: { kind: 'litz', strands: 105, strandDiameterMm: 0.08, bundleDiameterMm: 1.1 },
    },
    ferrite: {
      outline: { shape: 'roundedRectangle', outerWidthMm: 50, outerHeightMm: 50, outerCornerRadiusMm: 0 },
      thicknessMm: 1,
      standoffMm: 0.5,
      relativePermeability: 700,
      lossTangent: 0.02,
    },
    drive: {
      supplyV: 5,
      supplyResistanceOhm: 0.0699,
      seriesCapacitanceNf: 415,
      seriesCapacitorResistanceOhm: 0.023,
      frequencyMinKhz: 106.86,
      frequencyMaxKhz: 185.07,
      dutyMin: 0.468,
      switchResistanceOhm: 0.0135,
      coilCurrentLimitA: 8,
      idleCurrentA: 0.0309,
      gateChargeNc: 175,
      deadTimeNs: 29,
      pingKhz: 175,
    },
    thermal: { resistanceKPerW: 10.3 },
  },
  receiver: {
    coil: {
      outline: { shape: 'circle', outerDiameterMm: 25, innerDiameterMm: 10 },
      turns: 20,
      layers: 2,
      layerPitchMm: 0.8,
      conductor: { kind: 'litz', strands: 60, strandDiameterMm: 0.08, bundleDiameterMm: 0.75 },
    },
    ferrite: {
      outline: { shape: 'circle', outerDiameterMm: 26 },
      thicknessMm: 0.3,
      standoffMm: 0.2,
      relativePermeability: 300,
      lossTangent: 0.02,
    },
    pickup: {
      seriesCapacitanceNf: 92.8,
      seriesCapacitorResistanceOhm: 0.0137,
      parallelCapacitanceNf: 0.62,
      wakeV: 3,
      rectifier: { kind: 'synchronous', dropV: 0.0646, resistanceOhm: 0.144 },
      regulator: {
        kind: 'linear',
        outputV: 5,
        dropoutV: 0.05,
        dropoutOhm: 0.08,
        currentLimitA: 1.25,
        idleCurrentA: 0.01,
        overvoltageV: 20,
      },
      target: { lowV: 5.434, highV: 6.006, decayA: 0.0537 },
    },
    // Bare boards on a bench: no case to touch, no cell beside them.
    thermal: { resistanceKPerW: 54.6, shutdownC: 150, toCellKPerW: 1000, touchMaxC: 120 },
  },
  placement: { gapMm: 2.75 },
  demand: { loads: [{ name: 'load', kind: 'typical', atV: 5, currentA: 0.5 }] },
};

const parsed = parseDesign(DOCUMENT);
if (!parsed.ok) throw new Error(JSON.stringify(parsed.faults));
const [at5, at9, at12] = supplyDesigns(parsed.design, [5, 9, 12]) as [Design, Design, Design];
const { electrical } = poseLinks(at5).link;

const within = (value: number, wanted: number, share: number): void => {
  expect(value).toBeGreaterThan(wanted * (1 - share));
  expect(value).toBeLessThan(wanted * (1 + share));
};

/** Load of the largest efficiency by the least-squares parabola through equally spaced loads, and the largest sample. */
function peak(design: Design, loads: readonly number[]): { load: number; efficiency: number } {
  const values = [...supplyPoints(design, electrical, Float64Array.from(loads)).efficiency];
  const n = loads.length;
  const mean = loads.reduce((sum, x) => sum + x, 0) / n;
  const x = loads.map((load) => load - mean);
  const sum = (of: (v: number, i: number) => number): number => x.reduce((total, v, i) => total + of(v, i), 0);
  const s2 = sum((v) => v * v);
  const y0 = values.reduce((total, v) => total + v, 0);
  const slope = sum((v, i) => v * values[i]!) / s2;
  const curvature = (n * sum((v, i) => v * v * values[i]!) - s2 * y0) / (n * sum((v) => v ** 4) - s2 * s2);
  return { load: mean - slope / (2 * curvature), efficiency: Math.max(...values) };
}

/** Gap at which 0.5 A is just held, by interpolation between two gaps on either side of it. */
function range(design: Design, nearMm: number, farMm: number): number {
  const most = (gapMm: number): number => {
    const here = designAt(design, 'gap', gapMm);
    return maxOutput(linkAtPose(linkContext(here), poseOfDesign(here), 'coarse').electrical, boardsOf(here)).current;
  };
  const [near, far] = [most(nearMm), most(farMm)];
  expect(near).toBeGreaterThan(0.5);
  expect(far).toBeLessThan(0.5);
  return nearMm + ((near - 0.5) / (near - far)) * (farMm - nearMm);
}

describe('common practice, no source: a 5 V, 5 W-class pair, from its design', () => {
  test('5 V, nearly touching: about 73 % DC to DC near 0.5 A', () => {
    const best = peak(at5, [0.35, 0.45, 0.55, 0.65]);
    within(best.efficiency, 0.73, 0.05);
    within(best.load, 0.5, 0.15);
  });

  test('5 V: loses regulation between 0.9 and 1.0 A', () => {
    const { current, limitedBy } = maxOutput(electrical, boardsOf(at5));
    expect(limitedBy).toBe('link');
    expect(current).toBeGreaterThan(0.9 * 0.85);
    expect(current).toBeLessThan(1.0 * 1.15);
    expect(solveOperatingPoint(electrical, boardsOf(at5), 1.15).state).toBe('starved');
  });

  test('9 V: just under 70 % near 1.1 A, about 1.2 A reachable', () => {
    const best = peak(at9, [0.75, 0.9, 1.05, 1.2]);
    within(best.efficiency, 0.69, 0.05);
    within(best.load, 1.1, 0.15);
    within(maxOutput(electrical, boardsOf(at9)).current, 1.2, 0.15);
  });

  test('0.5 A is held to about 10 mm at 5 V and 15-20 mm at 9 V', () => {
    within(range(at5, 10.5, 12.5), 10, 0.2);
    const far = range(at9, 14.5, 18.5);
    expect(far).toBeGreaterThan(15 * 0.8);
    expect(far).toBeLessThan(20 * 1.2);
  });

  test('12 V: the receiver 30 K hotter (80 against 50 C), the transmitter 5-6 K, low loads not held', () => {
    const low = solveOperatingPoint(electrical, boardsOf(at5), 0.5);
    const high = solveOperatingPoint(electrical, boardsOf(at12), 0.5);
    expect(Math.abs(low.receiverC - 50)).toBeLessThan(5);
    expect(Math.abs(high.receiverC - 80)).toBeLessThan(5);
    expect(Math.abs(high.receiverC - low.receiverC - 30)).toBeLessThan(5);
    expect(Math.abs(high.transmitterC - low.transmitterC - 5.5)).toBeLessThan(5);
    // Unstable at low load: no setting of the control meets the target.
    expect(['overfed', 'overvoltage']).toContain(solveOperatingPoint(electrical, boardsOf(at12), 0.05).state);
    expect(solveOperatingPoint(electrical, boardsOf(at5), 0.05).state).toBe('regulated');
  });

  test('a 5 V boost in series adds to what the load asks', () => {
    const [load] = DOCUMENT.demand.loads;
    const through = [{ kind: 'boost', outputV: 5, efficiency: 0.88, sourceResistanceOhm: 0.15 }] as const;
    const boosted = parseDesign({ ...DOCUMENT, demand: { loads: [{ ...load!, through: [...through] }] } });
    if (!boosted.ok) throw new Error(JSON.stringify(boosted.faults));
    // 2.5 W at 88 % out of 5 V behind 0.15 ohm: 0.578 A, and the converter's own milliampere.
    expect(demandOf(boosted.design).demandA).toBeCloseTo(0.5783 + 0.001, 3);
  });

  test('the answer of the pose says the same', () => {
    const { operatingPoint, margin } = poseAnswer(at5, []);
    const point = solveOperatingPoint(electrical, boardsOf(at5), 0.5);
    expect(operatingPoint.efficiency).toBeCloseTo(point.efficiency, 9);
    expect(margin.maxOutputA).toBeCloseTo(maxOutput(electrical, boardsOf(at5)).current, 9);
  });
});
