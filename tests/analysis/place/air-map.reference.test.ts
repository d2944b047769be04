import { expect, test } from 'vitest';
import { linkAtPose } from '../../../src/analysis/link/link-at-pose.ts';
import { contextOf, poseOfDesign } from '../../../src/analysis/link/link-context.ts';
import { chargesCell } from '../../../src/analysis/margin/pose-answer.ts';
import { demandOf } from '../../../src/design/demand.ts';
import { boardsOf } from '../../../src/design/to-si.ts';
import type { Design } from '../../../src/design/types.ts';
import { createLocalEngine } from '../../../src/engine/local-engine.ts';
import { randomSource } from '../../../src/numerics/random.ts';
import { maxOutput } from '../../../src/physics/circuit/max-output.ts';
import { airPair } from '../pair/air-pair.ts';

const POINTS = 65;
const DESIGNS = 3;
const POSES = 30;

/** The largest current at an offset by the exact circuit, A, with nothing of the map. */
function exactAt(design: Design, x: number, y: number): number {
  const here = { ...design, placement: { ...design.placement, offsetXMm: x, offsetYMm: y } };
  const { electrical } = linkAtPose(contextOf(here, null), poseOfDesign(here), 'coarse');
  return maxOutput(electrical, boardsOf(here), { charging: chargesCell(design, demandOf(design)) }).current;
}

/** Other boards and gaps than those on which the checks were mended (seeds 5 and 21). */
test('coils alone: a map agrees with the exact circuit at every place, also where the current collapses', async () => {
  const source = randomSource(Number(process.env.OFFCENTRE_SEED ?? 20261202));
  const between = (a: number, b: number) => a + (b - a) * source.uniform();
  const engine = createLocalEngine();
  const off: number[] = [];
  for (let d = 0; d < DESIGNS; d++) {
    const design = structuredClone(airPair());
    design.transmitter.drive.supplyV = between(4.5, 12);
    design.transmitter.drive.seriesCapacitanceNf = between(450, 900);
    design.receiver.pickup.seriesCapacitanceNf = between(130, 300);
    design.receiver.pickup.parallelCapacitanceNf = between(0, 5);
    design.placement.gapMm = between(2, 9);
    design.stack = [];
    const outcome = await engine.map({ design, points: POINTS, spanMm: null, level: 'fine' });
    if (!outcome.ok) throw new Error('no map');
    const map = outcome.value;
    const { demandA } = demandOf(design);
    for (let k = 0; k < POSES; k++) {
      const [i, j] = [Math.floor(between(0, POINTS)), Math.floor(between(0, POINTS))];
      const exact = exactAt(design, map.xMm[i]!, map.yMm[j]!);
      off.push((100 * Math.abs(map.maxOutputA[j * POINTS + i]! - exact)) / demandA);
    }
    // The reach as printed: just inside in its tightest direction the wanted margin is there, just outside it is not.
    if (map.reachMm.value > 1) {
      const at = (radius: number) => {
        const angle = (map.tightestDeg * Math.PI) / 180;
        return exactAt(design, radius * Math.cos(angle), radius * Math.sin(angle)) / demandA - 1;
      };
      const wanted = design.demand.wantedMarginPercent / 100;
      expect(at(map.reachMm.value - 0.2)).toBeGreaterThan(wanted);
      expect(at(map.reachMm.value + 0.2)).toBeLessThan(wanted);
    }
  }
  off.sort((a, b) => a - b);
  // Percentage points of margin. Measured on seeds 21, 31 and 32, 720 places: nine in ten 0.1, 99 in a hundred 2.0, worst 6.3 (seed 21
  // before the line of checks: 18.8, 44.9, 47.9). The places here are other ones, more of them where nothing is left.
  expect(off[Math.floor(0.9 * off.length)]).toBeLessThan(1);
  expect(off[Math.floor(0.97 * off.length)]).toBeLessThan(3);
  expect(off.at(-1)).toBeLessThan(10);
}, 120_000);
