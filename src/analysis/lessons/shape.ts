import { createPairKernel } from '../../physics/coil/kernel/pair-kernel.ts';
import { selfInductance } from '../../physics/coil/self-inductance.ts';
import type { CoilSpec } from '../../physics/coil/types.ts';
import { windCoil } from '../../physics/coil/winding.ts';
import { LESSON_TITLES, type Lesson, spaced, valueAt } from './lesson.ts';

const WIRE = { kind: 'solid', diameter: 0.5e-3, insulatedDiameter: 0.55e-3 } as const;
/** Transmitter: the common published-standard size. */
const TRANSMITTER: CoilSpec = {
  outline: { shape: 'circle', outerDiameter: 44e-3, innerDiameter: 20.5e-3 },
  turns: 10,
  layers: 1,
  layerPitch: 1e-3,
  filars: 1,
  winding: 'rings',
  conductor: WIRE,
};
/** Area inside the receiver's outer edge, m2, its turns and the width of its band, m. */
export const AREA = 1000e-6;
const TURNS = 8;
const BAND = 5e-3;
/** Corner radius, as a share of the shorter side. */
const CORNER = 0.4;
const GAP = 6e-3;
const OFFSET = 14e-3;

/**
 * Coupling centred and at the offset, by another method: closed polylines, Neumann's double sum, Maxwell's loops
 * (reference-cases/lessons/generate.py). [length over width, centred, along its length]
 */
export const RECOMPUTED = Object.freeze([
  [1, 0.41121, 0.20909],
  [2, 0.33895, 0.22675],
  [3, 0.25642, 0.21327],
] as const);
const RECOMPUTED_BY =
  'k by another program of ours: polylines, Neumann’s double sum, Maxwell’s loops (reference-cases/lessons); not a measurement';

/** A receiver of the fixed area with length over width `ratio`. */
export function receiverOf(ratio: number): CoilSpec {
  // length x width - (4 - pi) (CORNER width)^2 = AREA, length = ratio width.
  const width = Math.sqrt(AREA / (ratio - (4 - Math.PI) * CORNER ** 2));
  return {
    ...TRANSMITTER,
    turns: TURNS,
    outline: {
      shape: 'roundedRectangle',
      outerWidth: ratio * width,
      outerHeight: width,
      innerWidth: ratio * width - 2 * BAND,
      innerHeight: width - 2 * BAND,
      outerCornerRadius: CORNER * width,
      innerCornerRadius: null,
    },
  };
}

/** Shapes that do not match: the same area, stretched. */
export function shapeLesson(): Lesson {
  const transmitter = windCoil(TRANSMITTER);
  const l1 = selfInductance(transmitter, { tolerance: 1e-3 }).value;
  const x = spaced(1, 3, 11);
  const centred = new Float64Array(x.length);
  const along = new Float64Array(x.length);
  const across = new Float64Array(x.length);
  x.forEach((ratio, i) => {
    const receiver = windCoil(receiverOf(ratio));
    const root = Math.sqrt(l1 * selfInductance(receiver, { tolerance: 1e-3 }).value);
    const kernel = createPairKernel(transmitter, receiver, { tolerance: 1e-4 });
    const z = GAP + transmitter.halfThickness + receiver.halfThickness;
    const k = (ox: number, oy: number): number =>
      kernel.mutual({ x: ox, y: oy, z, yaw: 0, tiltX: 0, tiltY: 0 }).value / root;
    centred[i] = k(0, 0);
    along[i] = k(OFFSET, 0);
    across[i] = k(0, OFFSET);
  });
  const main = { label: 'centred', stroke: 'first' as const, x, y: centred };
  const moved = { label: `${OFFSET * 1e3} mm off along its length`, stroke: 'second' as const, x, y: along };
  const [k1, k2, k3] = [1, 2, 3].map((ratio) => valueAt(main, ratio)) as [number, number, number];
  const [a1, a2] = [1, 2].map((ratio) => valueAt(moved, ratio)) as [number, number];
  const w2 = valueAt({ x, y: across }, 2);
  const lost = 100 * (1 - k2 / k1);
  const keeps = [a1 / k1, a2 / k2] as const;
  return {
    number: 3,
    title: LESSON_TITLES[2]!,
    aim: 'A receiver of another shape than the transmitter costs coupling when centred, and answers differently to offsets along and across it.',
    prediction: {
      question:
        'A round transmitter of 44 mm. The receiver keeps its area, turns and wire, but is stretched from a square to twice as long as wide. How much of k, centred, does that cost?',
      options: [`about ${Math.round(lost)} %`, 'about half of it', 'nothing: area is what counts'],
      right: 0,
      because: `${lost.toFixed(1)} %: from ${k1.toFixed(3)} to ${k2.toFixed(3)}. The ends of the long coil reach beyond the field that they should catch.`,
    },
    drag: { start: 1, min: 1, max: 3, what: 'the length over the width' },
    sketch: { kind: 'stretched', radiusMm: 22, areaMm2: AREA * 1e6, corner: CORNER },
    figure: {
      title: 'Coupling against shape',
      x: { name: 'Length over width', unit: '', domain: [1, 3], logarithmic: false },
      y: { name: 'Coupling factor k', unit: '', domain: [0, 0.5], logarithmic: false },
      curves: [main, moved],
      dots: RECOMPUTED.map(([ratio, k]) => ({ x: ratio, y: k, label: k.toFixed(3), source: RECOMPUTED_BY })),
      levels: [],
      readouts: [{ label: `${OFFSET * 1e3} mm off across it`, unit: '', x, y: across }],
    },
    facts: [
      {
        id: 'cost',
        text: `Twice as long as wide costs ${lost.toFixed(1)} % of k centred, three times ${(100 * (1 - k3 / k1)).toFixed(1)} %.`,
        numbers: [lost, 100 * (1 - k3 / k1)],
      },
      {
        id: 'along',
        text: `Moved ${OFFSET * 1e3} mm along its length the stretched coil keeps ${(100 * keeps[1]).toFixed(0)} % of its own k, the square one ${(100 * keeps[0]).toFixed(0)} %.`,
        numbers: [keeps[1], keeps[0]],
      },
      {
        id: 'across',
        text: `Across its length it keeps only ${((100 * w2) / k2).toFixed(0)} %: what one direction gains the other pays for.`,
        numbers: [w2 / k2],
      },
    ],
    equation: 'k = M / √(L₁ L₂): the shape enters M, and by its longer wire L₂ too',
    source: 'Neumann’s integral over the turns as wound.',
    questions: [
      'Your case leaves 46 × 33 mm. Would you fill it, or wind a circle of 33 mm? What does the device’s user do with it?',
      'Why does the loss begin so gently?',
    ],
  };
}
