import { randomSource } from '../../src/numerics/random.ts';
import { createGapSurrogate } from '../../src/physics/coil/kernel/gap-surrogate.ts';
import { createPairKernel } from '../../src/physics/coil/kernel/pair-kernel.ts';
import { createPlacementSurrogate } from '../../src/physics/coil/kernel/placement-surrogate.ts';
import { demoReceiver, demoTransmitter, midPlaneDistance, poseAt } from '../physics/coil/kernel/support/coils.ts';
import { duration, type Row, type Target } from './table.ts';
import { time } from './timing.ts';

const MM = 1e-3;
const MILLION = 1_000_000;
const SEED = 77_003;

export function surrogateRows(): { rows: Row[]; targets: Target[] } {
  const a = demoTransmitter();
  const b = demoReceiver();
  const kernel = createPairKernel(a, b, { tolerance: 1e-8 });
  const random = randomSource(SEED);
  const sample = (z: number) => kernel.mutual(poseAt(0, 0, z));
  const [low, high] = [2.375 * MM, 25.375 * MM];
  const build = time(() => createGapSurrogate(sample, low, high), 300);
  const gap = createGapSurrogate(sample, low, high);
  const scale = sample(low).value;
  let gapError = 0;
  for (let k = 0; k < 100; k++) {
    const z = low * (high / low) ** random.uniform();
    gapError = Math.max(gapError, Math.abs(gap.evaluate(z) - sample(z).value) / scale);
  }

  const rest = midPlaneDistance(a, b, 5.9 * MM);
  const box = { x: [-16 * MM, 16 * MM], y: [-16 * MM, 16 * MM], z: [rest - MM, rest + 2 * MM] } as const;
  const made = time(() => createPlacementSurrogate(a, b, 0, box), 400);
  const surrogate = createPlacementSurrogate(a, b, 0, box);
  const row = ([from, to]: readonly [number, number]) =>
    random.fillUniform(new Float64Array(MILLION)).map((share) => from + (to - from) * share);
  const [x, y, z] = [row(box.x), row(box.y), row(box.z)];
  const out = new Float64Array(MILLION);
  const million = time(() => surrogate.evaluateMany(x, y, z, out), 1500);
  const centre = kernel.mutual(poseAt(0, 0, box.z[0])).value;
  let placementError = 0;
  for (let k = 0; k < 200; k++) {
    const at = Math.floor(MILLION * random.uniform());
    const exact = kernel.mutual(poseAt(x[at]!, y[at]!, z[at]!)).value;
    placementError = Math.max(placementError, Math.abs(out[at]! - exact) / centre);
  }
  const group = 'surrogates, demo coils';
  const rows: Row[] = [
    {
      group,
      name: 'distance 2 to 25 mm, built',
      time: build,
      error: gapError,
      note: `${gap.evaluations} poses, checks included; claims ${(gap.bound / scale).toExponential(1)}`,
      ratios: {},
    },
    {
      group,
      name: '(x, y, distance), built',
      time: made,
      error: placementError,
      note: `${surrogate.size} values, 16 held-out placements; claims ${(surrogate.bound / centre).toExponential(1)}`,
      ratios: {},
    },
    {
      group,
      name: 'a million placements',
      time: million,
      error: placementError,
      note: 'error at 200 random placements',
      ratios: {},
    },
  ];
  const whole = made.min + million.min;
  return {
    rows,
    targets: [
      {
        name: 'a million placements (x, y, gap), surrogate built',
        wanted: 'at most 1 s',
        measured: duration(whole),
        met: whole <= 1000 && placementError <= surrogate.bound / centre,
      },
    ],
  };
}
