import { createPairKernel, referenceKernelOptions } from '../../src/physics/coil/kernel/pair-kernel.ts';
import type { Pose, Winding } from '../../src/physics/coil/types.ts';
import { windCoil } from '../../src/physics/coil/winding.ts';
import { demoReceiver, demoTransmitter, midPlaneDistance, poseAt } from '../physics/coil/kernel/support/coils.ts';
import { cheapestTunedSum, plainChordSum } from './baselines.ts';
import { duration, type Row, type Target } from './table.ts';
import { time } from './timing.ts';

const MM = 1e-3;
const TOLERANCE = 1e-4;

/** The demo receiver's size wound as a transmitter: no circle, so no ring helps. */
function rectangle(): Winding {
  const spec = demoReceiver().spec;
  return windCoil({ ...spec, layers: 1, turns: 7 });
}

export function poseRows(): { rows: Row[]; targets: Target[] } {
  const rows: Row[] = [];
  const targets: Target[] = [];
  const receiver = demoReceiver();
  const pairs = [
    ['demo coils', demoTransmitter(), receiver],
    ['two rectangles', rectangle(), receiver],
  ] as const;
  for (const [name, a, b] of pairs) {
    const kernel = createPairKernel(a, b);
    const reference = createPairKernel(a, b, referenceKernelOptions);
    for (const gapMm of [2, 5, 10, 20]) {
      const z = midPlaneDistance(a, b, gapMm * MM);
      const poses: Pose[] = [
        poseAt(0, 0, z),
        poseAt(7 * MM, 4 * MM, z, 0.3),
        poseAt(20 * MM, 10 * MM, z, 0.3),
        poseAt(5 * MM, 2 * MM, z + 1.5 * MM, 0.3, 0.05, 0.02),
      ];
      const exact = poses.map((pose) => reference.mutual(pose).value);
      const worst = (at: (pose: Pose) => number, count: number) =>
        Math.max(...poses.slice(0, count).map((pose, k) => Math.abs(at(pose) - exact[k]!) / Math.abs(exact[0]!)));
      const estimate = Math.max(...poses.map((pose) => kernel.mutual(pose).errorEstimate / Math.abs(exact[0]!)));
      const group = `one pose, ${name}, clear gap ${gapMm} mm, 1e-4`;
      const tuned = cheapestTunedSum(a, b, z - a.halfThickness - b.halfThickness, poses.slice(0, 3), exact, TOLERANCE);
      const plain = chordsFor(a, b, poses.slice(0, 3), exact, TOLERANCE);
      const tunedTime = time(() => tuned.at(poses[1]!));
      const plainTime = time(() => plain.sum.at(poses[1]!), 100, 3);
      const warm = time(() => poses.map((pose) => kernel.mutual(pose).value));
      const each = { min: warm.min / 4, median: warm.median / 4, max: warm.max / 4, runs: warm.runs };
      const cold = time(() => createPairKernel(a, b).mutual(poses[1]!).value);
      rows.push(
        {
          group,
          name: 'plain chord double sum',
          time: plainTime,
          error: plain.error,
          note: `${plain.perTurn} chords a turn`,
          ratios: {},
        },
        { group, name: 'tuned Neumann sum, JavaScript', time: tunedTime, error: tuned.error, note: '', ratios: {} },
        {
          group,
          name: 'pair kernel, verified',
          time: each,
          error: worst((pose) => kernel.mutual(pose).value, 4),
          note: `claims ${estimate.toExponential(1)}; two coarser sums included; mean of 4 poses, one tilted`,
          ratios: { 'faster than plain': plainTime.min / each.min, 'than tuned': tunedTime.min / each.min },
        },
        {
          group,
          name: 'pair kernel, new coils',
          time: cold,
          error: worst((pose) => createPairKernel(a, b).mutual(pose).value, 2),
          note: 'nodes made anew, as while a coil is dragged',
          ratios: { 'faster than plain': plainTime.min / cold.min, 'than tuned': tunedTime.min / cold.min },
        },
      );
      if (name === 'demo coils') {
        const most = gapMm === 2 ? 0.2 : 0.05;
        targets.push({
          name: `one pose at ${gapMm} mm, 1e-4 verified`,
          wanted: `at most ${duration(most)}`,
          measured: duration(each.min),
          met: each.min <= most,
        });
      }
    }
  }
  rows.push(...referenceRows(), ...turnGrowth());
  return { rows, targets };
}

/** The plain sum with the fewest chords (a power of the square root of two) that keeps the tolerance. */
export function chordsFor(
  a: Winding,
  b: Winding,
  poses: readonly Pose[],
  exact: readonly number[],
  tolerance: number,
  most = 4096,
): { sum: ReturnType<typeof plainChordSum>; perTurn: number; error: number } {
  for (let step = 8; ; step++) {
    const perTurn = Math.round(2 ** (step / 2));
    const sum = plainChordSum(a, b, perTurn);
    const error = Math.max(...poses.map((pose, k) => Math.abs(sum.at(pose) - exact[k]!) / Math.abs(exact[0]!)));
    if (error <= tolerance || perTurn >= most) return { sum, perTurn, error };
  }
}

function referenceRows(): Row[] {
  const a = demoTransmitter();
  const b = demoReceiver();
  return [2, 10].map((gapMm) => {
    const pose = poseAt(7 * MM, 4 * MM, midPlaneDistance(a, b, gapMm * MM), 0.3);
    const kernel = createPairKernel(a, b, referenceKernelOptions);
    const finest = createPairKernel(a, b, { tolerance: 1e-12 }).mutual(pose).value;
    return {
      group: 'reference mode, 1e-9',
      name: `demo coils, clear gap ${gapMm} mm`,
      time: time(() => kernel.mutual(pose).value),
      error: Math.abs(kernel.mutual(pose).value / finest - 1),
      note: `claims ${(kernel.mutual(pose).errorEstimate / finest).toExponential(1)}`,
      ratios: {},
    };
  });
}

function turnGrowth(): Row[] {
  const b = demoReceiver();
  let first = 0;
  return [5, 10, 20, 40].map((turns) => {
    const outline = {
      shape: 'roundedRectangle',
      outerWidth: 46 * MM,
      outerHeight: 33 * MM,
      innerWidth: 28 * MM,
      innerHeight: 15 * MM,
      outerCornerRadius: 10 * MM,
      innerCornerRadius: 2 * MM,
    } as const;
    const diameter = (8 / turns) * MM;
    const a = windCoil({
      ...b.spec,
      outline,
      turns,
      layers: 1,
      conductor: { kind: 'solid', diameter: 0.8 * diameter, insulatedDiameter: diameter },
    });
    const kernel = createPairKernel(a, b);
    const pose = poseAt(4 * MM, 3 * MM, 6.5 * MM, 0.2);
    const timing = time(() => kernel.mutual(pose).value);
    if (first === 0) first = timing.min;
    const exact = createPairKernel(a, b, referenceKernelOptions).mutual(pose).value;
    return {
      group: 'growth with turns (rectangles, same build-up, 6.5 mm between mid-planes)',
      name: `${turns} turns`,
      time: timing,
      error: Math.abs(kernel.mutual(pose).value - exact) / kernel.scale(pose),
      note: 'Gauss nodes stand for the turns',
      ratios: { 'of the first row': timing.min / first },
    };
  });
}
