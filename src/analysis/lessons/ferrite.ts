import { DEMO_DESIGN } from '../../design/demo.ts';
import { parseDesign } from '../../design/resolve.ts';
import type { Design } from '../../design/types.ts';
import { couplingOf, linkAtPose } from '../link/link-at-pose.ts';
import { linkContext, poseOfDesign } from '../link/link-context.ts';
import { designAt } from '../place/line-sweep.ts';
import { LESSON_TITLES, type Lesson, spaced, valueAt } from './lesson.ts';

/** L1 (uH) and k of two discs' finite elements against gap: reference-cases/ferrite, pair-13, pair-15, pair-16. */
export const FINITE_ELEMENTS: readonly (readonly [number, number, number])[] = [
  [2, 9.119745, 0.8513193],
  [10, 6.4818, 0.407225],
  [20, 6.186881, 0.1592788],
];
/** Of the same side with the other absent (single-08), and in air, uH. */
const ALONE_UH = 6.148003;
export const AIR_UH = 3.744496;

/** Two round coils on ferrite discs: the geometry of the finite elements. */
export function ferriteDesign(): Design {
  const parsed = parseDesign({
    ...DEMO_DESIGN,
    title: 'Two discs',
    transmitter: {
      ...DEMO_DESIGN.transmitter,
      ferrite: {
        outline: { shape: 'circle', outerDiameterMm: 50 },
        thicknessMm: 1,
        standoffMm: 0.5,
        relativePermeability: 700,
      },
    },
    receiver: {
      ...DEMO_DESIGN.receiver,
      coil: {
        outline: { shape: 'circle', outerDiameterMm: 40, innerDiameterMm: 20 },
        turns: 12,
        conductor: { kind: 'litz', strands: 60, strandDiameterMm: 0.08, bundleDiameterMm: 0.75 },
      },
      ferrite: {
        outline: { shape: 'circle', outerDiameterMm: 42 },
        thicknessMm: 0.8,
        standoffMm: 0.3,
        relativePermeability: 700,
      },
      metal: null,
    },
    stack: [],
    placement: { gapMm: 6 },
  });
  if (!parsed.ok) throw new Error('the lesson’s design must parse');
  return parsed.design;
}

/** Ferrite, and why L moves: some seconds, for the field of both discs. */
export function ferriteLesson(): Lesson {
  const design = ferriteDesign();
  const context = linkContext(design);
  const x = spaced(2, 30, 13, true);
  const l1 = new Float64Array(x.length);
  const k = new Float64Array(x.length);
  const airK = new Float64Array(x.length);
  x.forEach((gapMm, i) => {
    const { electrical, air } = linkAtPose(context, poseOfDesign(designAt(design, 'gap', gapMm)), 'coarse');
    l1[i] = 1e6 * electrical.l1;
    k[i] = couplingOf(electrical);
    airK[i] = couplingOf(air);
  });
  const main = { label: 'L₁ with both discs', stroke: 'first' as const, x, y: l1 };
  const [near, far] = [l1[0]!, l1[l1.length - 1]!];
  const rise = near / far;
  const k5 = valueAt({ x, y: k }, 5);
  const a5 = valueAt({ x, y: airK }, 5);
  return {
    number: 4,
    title: LESSON_TITLES[3]!,
    aim: 'Ferrite behind a coil raises its inductance and the coupling; the ferrite of the other side raises it further as it comes near, so the tuning moves with the gap.',
    prediction: {
      question:
        'Both coils sit on ferrite discs. You bring the receiver from 30 mm down to 2 mm. What does the transmitter’s own inductance do?',
      options: ['it stays: it is its own', 'it rises by about a half', 'it falls, as the receiver takes field away'],
      right: 1,
      because: `It rises from ${far.toFixed(2)} to ${near.toFixed(2)} µH: the other disc shortens the way of the field through air. A series capacitor that was right far away is wrong near by.`,
    },
    drag: { start: 6, min: 2, max: 30, what: 'the gap' },
    sketch: { kind: 'apart', widthMm: 42, ferrite: true },
    figure: {
      title: 'Inductance against gap',
      x: { name: 'Gap', unit: 'mm', domain: [2, 30], logarithmic: true },
      y: { name: 'Transmitter inductance', unit: 'µH', domain: [0, 10], logarithmic: false },
      curves: [
        main,
        { label: 'its own disc alone', stroke: 'limit', x, y: x.map(() => ALONE_UH) },
        { label: 'in air', stroke: 'limit', x, y: x.map(() => AIR_UH) },
      ],
      dots: FINITE_ELEMENTS.map(([gap, value]) => ({
        x: gap,
        y: value,
        label: `${value.toFixed(2)} µH`,
        source:
          'axisymmetric finite elements by an independent program of ours (reference-cases/ferrite); not a measurement',
      })),
      levels: [{ y: 2 * AIR_UH, label: 'one endless plate could double it at most' }],
      readouts: [
        { label: 'k', unit: '', x, y: k },
        { label: 'k in air', unit: '', x, y: airK },
      ],
    },
    facts: [
      {
        id: 'alone',
        text: `Its own disc raises L₁ from ${AIR_UH.toFixed(2)} to ${ALONE_UH.toFixed(2)} µH, ${(ALONE_UH / AIR_UH).toFixed(2)} times; a single plate, however large, could not do more than twice.`,
        numbers: [ALONE_UH / AIR_UH],
      },
      { id: 'rises', text: `From 30 to 2 mm L₁ rises ${rise.toFixed(2)} times.`, numbers: [rise] },
      {
        id: 'resonance',
        text: `Its resonance with a fixed capacitor falls by ${(100 * (1 - 1 / Math.sqrt(rise))).toFixed(0)} %.`,
        numbers: [100 * (1 - 1 / Math.sqrt(rise))],
      },
      {
        id: 'coupling',
        text: `At 5 mm the discs raise k from ${a5.toFixed(2)} to ${k5.toFixed(2)}.`,
        numbers: [a5, k5],
      },
    ],
    equation:
      'f = 1 / (2π √(L C)): L grows as ferrite shortens the field’s way through air; one endless plate of endless permeability: L ≤ 2 L(air), the mirror image',
    source:
      'Image of a current in a half-space: Hammond, Proc. IEE 107C (1960) (from memory); finite discs: the charge-and-flux network of this program, checked against finite elements.',
    questions: [
      'The link is tuned at 10 mm. What happens when somebody makes the shelf thinner?',
      'Why can two plates together do more than the factor of two of a single one?',
    ],
  };
}
