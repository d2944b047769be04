import { linkLimit } from '../../physics/circuit/link-limit.ts';
import { LESSON_TITLES, type Lesson, spaced } from './lesson.ts';

/** Reactance of both coils, ohm: 10 uH at 140 kHz. */
const REACTANCE = 2 * Math.PI * 140e3 * 10e-6;

export interface LinkOfTwo {
  readonly k: number;
  readonly q: number;
}

export const PAIR_A: LinkOfTwo = Object.freeze({ k: 0.3, q: 100 });
export const PAIR_B: LinkOfTwo = Object.freeze({ k: 0.6, q: 50 });

/**
 * Efficiency of two equal resonant coils into a load in series with the second, both tuned:
 * RL/(R2 + RL) times Rr/(R1 + Rr), Rr = (w M)^2 / (R2 + RL).
 */
export function seriesEfficiency({ k, q }: LinkOfTwo, loadOhm: number): number {
  const resistance = REACTANCE / q;
  const reflected = (k * REACTANCE) ** 2 / (resistance + loadOhm);
  return ((loadOhm / (resistance + loadOhm)) * reflected) / (resistance + reflected);
}

/** Coupling is not efficiency. */
export function efficiencyLesson(): Lesson {
  const x = spaced(0.05, 500, 121, true);
  const curve = (pair: LinkOfTwo): Float64Array => x.map((load) => 100 * seriesEfficiency(pair, load));
  const limit = (pair: LinkOfTwo) => linkLimit(pair.k, pair.q, pair.q, REACTANCE / pair.q);
  const [a, b] = [limit(PAIR_A), limit(PAIR_B)];
  const heavy = seriesEfficiency(PAIR_A, 0.1);
  return {
    number: 5,
    title: LESSON_TITLES[4]!,
    aim: 'What can get across depends on k² Q₁ Q₂ and on a load that fits, not on k alone.',
    prediction: {
      question:
        'Pair A couples at k 0.3, with Q 100 on both sides. Pair B couples twice as well, k 0.6, but with Q 50. Which is the more efficient at its best load?',
      options: ['A', 'B', 'both the same'],
      right: 2,
      because: `Both reach ${(100 * a.efficiency).toFixed(1)} %: k times Q is 30 for both. But each wants its own load: ${a.optimalLoad.toFixed(1)} and ${b.optimalLoad.toFixed(1)} Ω.`,
    },
    drag: { start: 2, min: 0.05, max: 500, what: 'the load' },
    sketch: null,
    figure: {
      title: 'Link efficiency against load',
      x: { name: 'Load', unit: 'Ω', domain: [0.05, 500], logarithmic: true },
      y: { name: 'Efficiency, coil to coil', unit: '%', domain: [0, 100], logarithmic: false },
      curves: [
        { label: 'A: k 0.3, Q 100', stroke: 'first', x, y: curve(PAIR_A) },
        { label: 'B: k 0.6, Q 50', stroke: 'second', x, y: curve(PAIR_B) },
      ],
      dots: [
        {
          x: 30.01666204 * (REACTANCE / PAIR_A.q),
          y: 93.55185288,
          label: '93.55 %',
          source:
            'largest efficiency for k 0.3, Q 100 and 100: closed form after Kurs et al., Science 317 (2007) 83 (from memory), confirmed by brute-force optimisation of the circuit (reference-cases/circuit-link-limit)',
        },
      ],
      levels: [{ y: 100 * a.efficiency, label: 'limit of the link' }],
      readouts: [],
    },
    facts: [
      {
        id: 'same',
        text: `Both pairs reach ${(100 * a.efficiency).toFixed(1)} %.`,
        numbers: [100 * a.efficiency, 100 * b.efficiency],
      },
      {
        id: 'load',
        text: `A wants ${a.optimalLoad.toFixed(1)} Ω, B ${b.optimalLoad.toFixed(1)} Ω.`,
        numbers: [a.optimalLoad, b.optimalLoad],
      },
      {
        id: 'heavy',
        text: `Into 0.1 Ω, A gives only ${(100 * heavy).toFixed(0)} %: most is lost in the receiver’s own coil.`,
        numbers: [100 * heavy],
      },
      { id: 'ninety', text: 'For 90 % the product k √(Q₁ Q₂) must be 19.', numbers: [Math.sqrt(360)] },
    ],
    equation: 'η = K² / (1 + √(1 + K²))²,  K² = k² Q₁ Q₂,  at R = R₂ √(1 + K²)',
    source: 'Kurs et al., Science 317 (2007) 83; Waffenschmidt and Staring, EPE (2009) (both from memory).',
    questions: [
      'A coil of thinner wire fits a smaller gap and couples better. When is that no gain?',
      'Bridge, rectifier and regulator lose more than the coils in most small links. What does the limit then still tell you?',
    ],
  };
}
