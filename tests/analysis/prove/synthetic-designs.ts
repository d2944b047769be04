import { benchLink, benchPose, designAt } from '../../../src/analysis/prove/bench-links.ts';
import { quickMargin, reachRules } from '../../../src/analysis/prove/reach-line.ts';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { parseDesign } from '../../../src/design/resolve.ts';
import type { Design } from '../../../src/design/types.ts';
import { type RandomSource, randomSource } from '../../../src/numerics/random.ts';
import { airDesign, type PlannedReading, usualPlan } from './synthetic-bench.ts';

/** A design as its owner believes it to be, with what is read of it. */
export interface BaseDesign {
  readonly name: string;
  readonly design: Design;
  readonly plan: readonly PlannedReading[];
}

/** The E12 values of capacitors, nF, from 33 to 820. */
const E12 = [10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82].flatMap((value) => [value, 10 * value]);

const nearestE12 = (nF: number): number =>
  E12.reduce((best, value) => (Math.abs(Math.log(value / nF)) < Math.abs(Math.log(best / nF)) ? value : best));

/** Least nominal current at every planned place, A: below, nobody would take readings. */
const LEAST_A = 0.25;

/** The demand is this share of the nominal largest current, so that the reach ends somewhere off the axis. */
const DEMAND_SHARE = 0.65;

/**
 * A pair drawn at random: sizes, turns, gap, outline of the receiver, capacitors of the E12 row near a drawn resonance. In air, so that any
 * number of them can be solved; the inductances are as large as those of coils on ferrite because there are more turns.
 */
function drawnDesign(random: RandomSource): BaseDesign | null {
  const between = (low: number, high: number): number => low + (high - low) * random.uniform();
  const tenth = (value: number): number => Math.round(10 * value) / 10;
  const outer1 = tenth(between(34, 50));
  const outer2 = tenth(between(30, 46));
  const turns1 = 2 * Math.round(between(6, 8));
  const turns2 = 2 * Math.round(between(8, 11));
  const gapMm = tenth(between(3, 7));
  const resonance1 = between(82e3, 102e3);
  const resonance2 = between(95e3, 125e3);
  const supplyV = random.uniform() < 0.7 ? 5 : 9;
  const round = random.uniform() < 0.5;
  const litz = { kind: 'litz', strands: 105, strandDiameterMm: 0.08, bundleDiameterMm: 1.1 };
  const base = airDesign();
  const pair = (c1: number, c2: number, currentA: number): Design => {
    const parsed = parseDesign({
      format: 'offcentre-design',
      version: 1,
      title: 'Drawn',
      transmitter: {
        ...base.transmitter,
        coil: {
          outline: { shape: 'circle', outerDiameterMm: outer1, innerDiameterMm: tenth(outer1 - 1.12 * turns1 - 2) },
          turns: turns1,
          layers: 2,
          layerPitchMm: 1.2,
          conductor: litz,
        },
        drive: { ...base.transmitter.drive, supplyV, seriesCapacitanceNf: c1 },
      },
      receiver: {
        ...base.receiver,
        coil: {
          outline: round
            ? { shape: 'circle', outerDiameterMm: outer2, innerDiameterMm: tenth(outer2 - 0.8 * turns2 - 2) }
            : {
                shape: 'roundedRectangle',
                outerWidthMm: outer2,
                outerHeightMm: tenth(0.75 * outer2),
                innerWidthMm: tenth(outer2 - 0.8 * turns2 - 2),
                innerHeightMm: tenth(0.75 * outer2 - 0.8 * turns2 - 2),
                outerCornerRadiusMm: 0.2 * outer2,
              },
          turns: turns2,
          layers: 2,
          layerPitchMm: 0.8,
          conductor: { ...litz, strands: 60, bundleDiameterMm: 0.75 },
        },
        pickup: { ...base.receiver.pickup, seriesCapacitanceNf: c2 },
      },
      placement: { gapMm },
      demand: { wantedMarginPercent: 20, loads: [{ name: 'load', currentA }] },
    });
    if (!parsed.ok) throw new Error(JSON.stringify(parsed.faults));
    return { ...parsed.design, assumed: base.assumed ?? [] };
  };
  // Windings that do not fit are drawn again.
  try {
    const untuned = pair(300, 150, 0.5);
    const { l1, l2 } = benchLink(untuned, benchPose(gapMm, 0, 0)).electrical;
    const tuned = (l: number, f: number): number => nearestE12(1e9 / (l * (2 * Math.PI * f) ** 2));
    const c1 = tuned(l1, resonance1);
    const c2 = tuned(l2, resonance2);
    const offset = Math.round(0.22 * outer1);
    const plan = usualPlan().map((reading) => ({
      ...reading,
      supplyV: supplyV * (reading.supplyV / 5),
      gapMm: reading.gapMm === 5 ? gapMm : gapMm + 3,
      offsetXMm: reading.offsetXMm === 0 ? 0 : offset,
    }));
    const first = pair(c1, c2, 0.5);
    const rules = reachRules(first);
    const most = (gap: number, x: number): number =>
      quickMargin(
        benchLink(designAt(first, benchPose(gap, x, 0)), benchPose(gap, x, 0)).electrical,
        rules.boards,
        rules,
      );
    const nominal = [most(gapMm, 0), most(gapMm + 3, 0), most(gapMm, offset)];
    if (!(Math.min(...nominal) > LEAST_A)) return null;
    const design = pair(c1, c2, Number((DEMAND_SHARE * nominal[0]).toFixed(2)));
    return { name: `${outer1}/${outer2} mm, ${gapMm} mm, ${supplyV} V`, design, plan };
  } catch {
    return null;
  }
}

/** The demo: ferrite on both sides and a metal cell. */
function demoBase(): BaseDesign {
  const parsed = parseDesign(DEMO_DESIGN);
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.faults));
  const plan = usualPlan().map((reading) => ({
    ...reading,
    gapMm: reading.gapMm === 5 ? 5.9 : 8.9,
    offsetXMm: reading.offsetXMm === 0 ? 0 : 8,
  }));
  return { name: 'demo', design: parsed.design, plan };
}

/** The air pair of the tests, the demo with its ferrites and cell, then as many drawn pairs as are wanted. */
export function baseDesigns(count: number, seed: number): BaseDesign[] {
  const out: BaseDesign[] = [{ name: 'air pair', design: airDesign(), plan: usualPlan() }, demoBase()].slice(0, count);
  for (let k = 0; out.length < count; k++) {
    const drawn = drawnDesign(randomSource(1000 * seed + k));
    if (drawn !== null) out.push(drawn);
  }
  return out;
}
