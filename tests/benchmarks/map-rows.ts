import { transform2d } from '../../src/numerics/fft.ts';
import { randomSource } from '../../src/numerics/random.ts';
import { createOffsetMapper } from '../../src/physics/coil/kernel/offset-map.ts';
import { createPairKernel, referenceKernelOptions } from '../../src/physics/coil/kernel/pair-kernel.ts';
import type { Pose, Winding } from '../../src/physics/coil/types.ts';
import { demoReceiver, demoTransmitter, midPlaneDistance, poseAt } from '../physics/coil/kernel/support/coils.ts';
import { cheapestTunedSum, plainChordSum } from './baselines.ts';
import type { Row, Target } from './table.ts';
import { type Timing, time } from './timing.ts';

const MM = 1e-3;
const REACH = 20 * MM;
const POINTS = 129;
const YAW = 0.3;
/** Fixed so that two runs can be compared; the unit tests draw other offsets. */
const SEED = 20_240_517;

const line = (count: number): Float64Array =>
  Float64Array.from({ length: count }, (_, k) => (REACH * (2 * k - count + 1)) / (count - 1));

const scaled = (timing: Timing, factor: number): Timing => ({
  min: factor * timing.min,
  median: factor * timing.median,
  max: factor * timing.max,
  runs: timing.runs,
});

export function mapRows(): { rows: Row[]; targets: Target[] } {
  const rows: Row[] = [];
  const targets: Target[] = [];
  const a = demoTransmitter();
  const b = demoReceiver();
  for (const [label, z, direct, plainWanted] of [
    ['wires 2 mm apart', 2.375 * MM, 1000, 20_000],
    ['clear gap 2 mm', midPlaneDistance(a, b, 2 * MM), 1000, 20_000],
    ['wires 5 mm apart', 5.375 * MM, 300, 0],
    ['clear gap 5 mm', midPlaneDistance(a, b, 5 * MM), 300, 0],
  ] as const) {
    const result = oneMap(a, b, z, label);
    rows.push(...result.rows);
    const target = (name: string, measured: number, wanted: number) =>
      targets.push({
        name: `map ${label}, ${name}`,
        wanted: `at least ${wanted} times faster, error at most 1e-6`,
        measured: `${Math.round(measured)} times, ${result.error.toExponential(1)}`,
        met: measured >= wanted && result.error <= 1e-6,
      });
    target('first map against the tuned direct sum', result.firstAgainstTuned, direct);
    if (plainWanted > 0) target('first map against the plain chord sum', result.firstAgainstPlain, plainWanted);
  }
  rows.push(...growth(a, b));
  return { rows, targets };
}

function oneMap(a: Winding, b: Winding, z: number, label: string) {
  const group = `offset map 129 x 129, demo coils, ${label}, 1e-6 of the centre`;
  const reference = createPairKernel(a, b, referenceKernelOptions);
  const at = (x: number, y: number): Pose => poseAt(x, y, z, YAW);
  const probes = [at(0, 0), at(7 * MM, 4 * MM), at(-13 * MM, 18 * MM)];
  const exact = probes.map((pose) => reference.mutual(pose).value);
  const centre = exact[0]!;
  const axis = line(POINTS);
  const cells = POINTS * POINTS;

  const nearest = z - a.halfThickness + 0.55 * MM - 0.375 * MM;
  const tuned = cheapestTunedSum(a, b, nearest, probes, exact, 1e-6);
  const tunedTime = scaled(
    time(() => tuned.at(probes[1]!), 300, 3),
    cells,
  );
  const plain = extrapolatedChords(a, b, probes, exact, 1e-6);
  const plainTime = scaled(plain.time, cells);
  const fast = createPairKernel(a, b, { tolerance: 1e-6 });
  const fastTime = scaled(
    time(() => fast.mutual(probes[1]!).value),
    cells,
  );

  const mapper = createOffsetMapper(a, b, YAW, REACH);
  const first = time(() => createOffsetMapper(a, b, YAW, REACH).map(z, axis, axis).m, 2500, 20);
  const further = time(() => mapper.map(z, axis, axis).m, 400);
  const random = randomSource(SEED);
  const offsets = () => Float64Array.from({ length: 50 }, () => REACH * (2 * random.uniform() - 1));
  const [xs, ys] = [offsets(), offsets()];
  const off = mapper.map(z, xs, ys);
  let error = 0;
  for (let k = 0; k < 50; k++) {
    const value = reference.mutual(at(xs[k]!, ys[k]!)).value;
    error = Math.max(error, Math.abs(off.m[50 * k + k]! - value) / centre);
  }
  const claim = `claims ${(off.errorEstimate / centre).toExponential(1)}`;
  const ratios = (timing: Timing) => ({
    'faster than plain': plainTime.min / timing.min,
    'than tuned': tunedTime.min / timing.min,
    'than the pair kernel': fastTime.min / timing.min,
  });
  const rows: Row[] = [
    {
      group,
      name: 'plain chord double sum',
      time: plainTime,
      error: 1e-6,
      note: `extrapolated: ${plain.perTurn} chords a turn for 1e-6 (error falls as 1/chords^2), 16641 poses`,
      ratios: {},
    },
    {
      group,
      name: 'tuned Neumann sum, JavaScript',
      time: tunedTime,
      error: tuned.error,
      note: 'cheapest rule for 1e-6; one pose timed, times 16641',
      ratios: {},
    },
    {
      group,
      name: 'pair kernel, pose by pose',
      time: fastTime,
      error: Math.max(...probes.map((pose, k) => Math.abs(fast.mutual(pose).value - exact[k]!) / centre)),
      note: 'our own direct sum (rings in closed form), verified; one pose timed, times 16641',
      ratios: { 'faster than tuned': tunedTime.min / fastTime.min },
    },
    {
      group,
      name: 'offset map, first',
      time: first,
      error,
      note: `${claim}; error at 50 random offsets off the grid`,
      ratios: ratios(first),
    },
    { group, name: 'offset map, further distance', time: further, error, note: claim, ratios: ratios(further) },
  ];
  return {
    rows,
    error,
    firstAgainstTuned: tunedTime.min / first.min,
    firstAgainstPlain: plainTime.min / first.min,
  };
}

/** Chords needed for a tolerance from the errors at two numbers of chords, and the time they would take. */
function extrapolatedChords(
  a: Winding,
  b: Winding,
  poses: readonly Pose[],
  exact: readonly number[],
  tolerance: number,
): { perTurn: number; time: Timing } {
  const errorOf = (perTurn: number) => {
    const sum = plainChordSum(a, b, perTurn);
    return Math.max(...poses.map((pose, k) => Math.abs(sum.at(pose) - exact[k]!) / Math.abs(exact[0]!)));
  };
  const tried = 360;
  // The smaller of two estimates of the constant: in favour of the plain sum.
  const constant = Math.min(errorOf(tried) * tried ** 2, errorOf(240) * 240 ** 2);
  const perTurn = Math.ceil(Math.sqrt(constant / tolerance));
  const sum = plainChordSum(a, b, tried);
  const timing = time(() => sum.at(poses[1]!), 100, 3);
  return { perTurn, time: scaled(timing, (perTurn / tried) ** 2) };
}

function growth(a: Winding, b: Winding): Row[] {
  const rows: Row[] = [];
  const z = 5.375 * MM;
  const mapper = createOffsetMapper(a, b, YAW, REACH);
  const centre = createPairKernel(a, b).mutual(poseAt(0, 0, z, YAW)).value;
  let base = 0;
  for (const count of [65, 129, 257, 513]) {
    const axis = line(count);
    const timing = time(() => mapper.map(z, axis, axis).m, 300);
    if (base === 0) base = timing.min / count ** 2;
    rows.push({
      group: 'growth with map points (one further distance)',
      name: `${count} x ${count}`,
      time: timing,
      error: mapper.map(z, axis, axis).errorEstimate / centre,
      note: 'error as claimed',
      ratios: { 'of linear growth': timing.min / count ** 2 / base },
    });
  }
  base = 0;
  const axis = line(POINTS);
  for (const gaps of [1, 2, 4, 8, 16]) {
    const distances = Array.from({ length: gaps }, (_, k) => z * 1.08 ** k);
    const timing = time(() => distances.map((at) => mapper.map(at, axis, axis).m[0]), 300);
    if (base === 0) base = timing.min;
    rows.push({
      group: 'growth with gaps (129 x 129 each)',
      name: `${gaps} gap${gaps > 1 ? 's' : ''}`,
      time: timing,
      error: Math.max(...distances.map((at) => mapper.map(at, axis, axis).errorEstimate)) / centre,
      note: 'error as claimed',
      ratios: { 'of linear growth': timing.min / gaps / base },
    });
  }
  base = 0;
  for (const grid of [128, 256, 512, 1024]) {
    const field = new Float64Array(2 * grid * grid).fill(1);
    const timing = time(() => transform2d(field.fill(1), grid), 300);
    const work = grid * grid * Math.log2(grid);
    if (base === 0) base = timing.min / work;
    rows.push({
      group: 'growth with the grid (one complex transform)',
      name: `${grid} x ${grid}`,
      time: timing,
      error: Math.abs(transform2d(field.fill(1), grid)[0]! / grid ** 2 - 1),
      note: '',
      ratios: { 'of n log n': timing.min / work / base },
    });
  }
  return rows;
}
