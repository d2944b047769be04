import { createPairKernel } from '../../physics/coil/kernel/pair-kernel.ts';
import type { CoilSpec } from '../../physics/coil/types.ts';
import { windCoil } from '../../physics/coil/winding.ts';
import { MU0 } from '../../physics/constants.ts';
import { crossing, LESSON_TITLES, type Lesson, spaced, valueAt } from './lesson.ts';

/** Two equal rings, m, and the distance of their planes: Grover's example at a tenth of its size. */
export const RING_RADIUS = 15e-3;
export const RING_DISTANCE = 20e-3;
/** The published geometry's value at a tenth of its size, nH: reference-cases/displaced-circles, equal-15cm-offset20-20. */
export const GROVER_NH = 1.7937796273;

/** So thin that it is a filament for this purpose. */
const RING: CoilSpec = {
  outline: { shape: 'circle', outerDiameter: 2 * RING_RADIUS + 1e-5, innerDiameter: 2 * RING_RADIUS - 1e-5 },
  turns: 1,
  layers: 1,
  layerPitch: 1e-3,
  filars: 1,
  winding: 'rings',
  conductor: { kind: 'solid', diameter: 1e-5, insulatedDiameter: 1e-5 },
};

/** Sideways, the sign turns. */
export function offsetLesson(): Lesson {
  const ring = windCoil(RING);
  const kernel = createPairKernel(ring, ring, { tolerance: 1e-6 });
  const at = (offset: number, distance: number): number =>
    kernel.mutual({ x: offset, y: 0, z: distance, yaw: 0, tiltX: 0, tiltY: 0 }).value;
  const x = spaced(0, 80, 81);
  const y = x.map((mm) => 1e9 * at(mm / 1e3, RING_DISTANCE));
  const moment = Math.PI * RING_RADIUS ** 2;
  const dipole = x.map((mm) => {
    const offset = mm / 1e3;
    const r2 = offset * offset + RING_DISTANCE ** 2;
    return (1e9 * MU0 * moment * moment * (2 * RING_DISTANCE ** 2 - offset * offset)) / (4 * Math.PI * r2 ** 2.5);
  });
  const main = { label: 'M', stroke: 'first' as const, x, y };
  const far = { label: 'two dipoles', stroke: 'limit' as const, x, y: dipole };
  const zero = crossing(main, 0);
  const least = Math.min(...y);
  const leastAt = x[y.indexOf(least)]!;
  const distanceMm = RING_DISTANCE * 1e3;
  const ratio = zero / distanceMm;
  return {
    number: 2,
    title: LESSON_TITLES[1]!,
    aim: 'Moved sideways, the coupling passes through zero and turns negative: the field that returns outside goes the other way.',
    prediction: {
      question:
        'You slide the upper ring sideways until it lies well beside the lower one. What becomes of the mutual inductance?',
      options: [
        'it fades out and stays above zero',
        'it is zero as soon as the rings no longer overlap',
        'it passes through zero and turns negative',
      ],
      right: 2,
      because: `It is zero at ${zero.toFixed(1)} mm, and negative beyond: there the ring catches the field on its way back. The sign itself does not matter to a receiver, but the zero does: no power crosses there.`,
    },
    drag: { start: 0, min: 0, max: 80, what: 'the offset' },
    sketch: { kind: 'aside', radiusMm: RING_RADIUS * 1e3 },
    figure: {
      title: 'Mutual inductance against offset',
      x: { name: 'Offset', unit: 'mm', domain: [0, 80], logarithmic: false },
      y: { name: 'Mutual inductance', unit: 'nH', domain: [-1, 6.5], logarithmic: false },
      curves: [main, far],
      dots: [
        {
          x: 20,
          y: GROVER_NH,
          label: `${GROVER_NH.toFixed(3)} nH`,
          source:
            'geometry of an example in Grover, Inductance Calculations (1946), ch. 20, at a tenth of its size; the value recomputed independently (line integral with elliptic functions)',
        },
      ],
      levels: [{ y: 0, label: 'no power crosses' }],
      readouts: [],
    },
    facts: [
      {
        id: 'zero',
        text: `With the planes ${distanceMm} mm apart M is zero at an offset of ${zero.toFixed(1)} mm, ${ratio.toFixed(2)} times the distance.`,
        numbers: [zero, ratio],
      },
      { id: 'dipole', text: 'Far apart that ratio goes to √2 = 1.41, whatever the coils.', numbers: [Math.SQRT2] },
      {
        id: 'negative',
        text: `The most negative value, ${least.toFixed(2).replace('-', '−')} nH at ${leastAt.toFixed(0)} mm, is ${((100 * -least) / y[0]!).toFixed(0)} % of the value on the axis.`,
        numbers: [least, leastAt, -least / y[0]!],
      },
      {
        id: 'published',
        text: `At an offset of 20 mm the curve gives ${valueAt(main, 20).toFixed(3)} nH.`,
        numbers: [valueAt(main, 20)],
      },
    ],
    equation:
      'M = μ₀/4π times the double line integral of dl₁·dl₂ / r; two dipoles: M goes with (2z² − x²), so it is zero at x = √2 z',
    source: 'Neumann’s integral: Grover, Inductance Calculations (1946), ch. 20 (from memory); dipoles: any textbook.',
    questions: [
      'Where would you put a second transmitter coil so that the first does not disturb it?',
      'Why does a wider receiver coil move the zero outwards?',
    ],
  };
}
