import { createPairKernel } from '../../physics/coil/kernel/pair-kernel.ts';
import { selfInductance } from '../../physics/coil/self-inductance.ts';
import type { CoilSpec } from '../../physics/coil/types.ts';
import { windCoil } from '../../physics/coil/winding.ts';
import { MU0 } from '../../physics/constants.ts';
import { LESSON_TITLES, type Lesson, spaced, valueAt } from './lesson.ts';

/** The measured boards: reference-cases/self-inductance, printed-spiral-measured. */
export const SPIRAL: CoilSpec = {
  outline: { shape: 'circle', outerDiameter: 40.4e-3, innerDiameter: 1.6e-3 },
  turns: 10,
  layers: 1,
  layerPitch: 1e-3,
  filars: 1,
  winding: 'spiral',
  conductor: { kind: 'trace', width: 0.97368e-3, thickness: 35e-6 },
};

/** Measured: L 1.603 and 1.612 uH; M, uH, at 3 and 5 mm, both directions of each. */
const MEASURED_L = Math.sqrt(1.603 * 1.612);
const MEASURED_M: readonly (readonly [number, number])[] = [
  [3, (1.089 + 1.056) / 2],
  [5, (0.84 + 0.817) / 2],
];
const SOURCE =
  'measured with a network analyser: Anderegg, EPFL semester project, 2025, public raw data; inductances by our inversion of them';

/** Distance eats coupling: two equal printed spirals face to face. */
export function distanceLesson(): Lesson {
  const coil = windCoil(SPIRAL);
  const other = windCoil({ ...SPIRAL, leadSide: 1 });
  const inductance = selfInductance(coil, { tolerance: 1e-3 }).value;
  const kernel = createPairKernel(coil, other, { tolerance: 1e-4 });
  const x = spaced(1, 200, 61, true);
  const z = (gapMm: number): number => gapMm / 1e3 + 2 * coil.halfThickness;
  const y = x.map((gapMm) => kernel.mutual({ x: 0, y: 0, z: z(gapMm), yaw: 0, tiltX: 0, tiltY: 0 }).value / inductance);
  // Sum of the turns' areas: a dipole of this moment per ampere.
  const pitch = coil.pitchX;
  const area = Array.from({ length: SPIRAL.turns }, (_, i) => {
    const radius = coil.halfWidth - SPIRAL_HALF_TRACE - (i + 0.5) * pitch;
    return Math.PI * radius ** 2;
  }).reduce((sum, value) => sum + value, 0);
  const dipole = x.map((gapMm) => (MU0 * area * area) / (2 * Math.PI * z(gapMm) ** 3) / inductance);
  const main = { label: 'k', stroke: 'first' as const, x, y };
  const [k5, k10, k100, k200] = [5, 10, 100, 200].map((gap) => valueAt(main, gap)) as [number, number, number, number];
  const share = k10 / k5;
  const eighth = k200 / k100;
  return {
    number: 1,
    title: LESSON_TITLES[0]!,
    aim: 'Coupling falls with distance, gently while the coils are near each other and with the cube of the distance once they are far apart.',
    prediction: {
      question: `At a gap of 5 mm these two coils couple at k ${k5.toFixed(2)}. You pull them apart to 10 mm. What is left?`,
      options: ['nearly all of it: 0.9 of it', 'a little more than half of it', 'an eighth of it'],
      right: 1,
      because: `${share.toFixed(2)} of it. The cube law, which would leave an eighth for twice the distance, rules only far out, beyond the coils’ own size.`,
    },
    drag: { start: 8, min: 1, max: 200, what: 'the gap' },
    sketch: { kind: 'apart', widthMm: 40.4, ferrite: false },
    figure: {
      title: 'Coupling against gap',
      x: { name: 'Gap', unit: 'mm', domain: [1, 200], logarithmic: true },
      y: { name: 'Coupling factor k', unit: '', domain: [1e-4, 1], logarithmic: true },
      curves: [main, { label: 'two dipoles', stroke: 'limit', x, y: dipole }],
      dots: MEASURED_M.map(([gap, m]) => ({
        x: gap,
        y: m / MEASURED_L,
        label: `measured, ${(m / MEASURED_L).toFixed(2)}`,
        source: SOURCE,
      })),
      levels: [],
      readouts: [],
    },
    facts: [
      {
        id: 'near',
        text: `From 5 to 10 mm, k falls from ${k5.toFixed(2)} to ${k10.toFixed(2)}: to ${share.toFixed(2)} of it, not to an eighth.`,
        numbers: [k5, k10, share],
      },
      {
        id: 'far',
        text: `From 100 to 200 mm it falls to ${eighth.toFixed(3)} of it, nearly the eighth of the cube law.`,
        numbers: [eighth],
      },
      {
        id: 'measured',
        text: `Measured on such boards: ${MEASURED_M.map(([gap, m]) => `${(m / MEASURED_L).toFixed(2)} at ${gap} mm`).join(', ')}; the curve gives ${valueAt(main, 3).toFixed(2)} and ${k5.toFixed(2)}.`,
        numbers: [MEASURED_M[0]![1] / MEASURED_L, MEASURED_M[1]![1] / MEASURED_L, valueAt(main, 3), k5],
      },
    ],
    equation: 'k = M / √(L₁ L₂);  far apart M goes to μ₀ A₁ A₂ / (2π z³), with A the sum of the turns’ areas',
    source:
      'Maxwell, Treatise on Electricity and Magnetism, vol. 2 (mutual inductance); the dipole limit is any textbook’s (from memory).',
    questions: [
      'Why does the curve bend near the gap that equals the coils’ radius?',
      'A shelf of 20 mm instead of 5 mm: which share of k is left? Read it off.',
    ],
  };
}

const SPIRAL_HALF_TRACE = 0.97368e-3 / 2;
