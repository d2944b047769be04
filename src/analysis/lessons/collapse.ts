import { DEMO_DESIGN } from '../../design/demo.ts';
import { parseDesign } from '../../design/resolve.ts';
import { boardsOf } from '../../design/to-si.ts';
import { neededRectifiedV } from '../../physics/circuit/board-model.ts';
import { solveLoad } from '../../physics/circuit/operating-point.ts';
import type { Boards, LinkElectrical } from '../../physics/circuit/types.ts';
import { LESSON_TITLES, type Lesson, spaced, valueAt } from './lesson.ts';

/** The two links compared: near and far, with the inductances held. */
export const NEAR_K = 0.4;
export const FAR_K = 0.2;

/**
 * Rectified voltage beyond the end, in the time domain: the same circuit at the frequency and bridge voltage that the
 * lesson comes to at this load (reference-cases/lessons).
 */
export const TIME_DOMAIN = Object.freeze({ loadA: 1.1, rectifiedV: 4.4774, frequencyHz: 135_566, bridgeV: 4.877 });

/** Boards of the demo, with a regulator that does not end it first. */
export function lessonBoards(): Boards {
  const parsed = parseDesign(DEMO_DESIGN);
  if (!parsed.ok) throw new Error('the demo must parse');
  const boards = boardsOf(parsed.design);
  const { pickup } = boards;
  return { ...boards, pickup: { ...pickup, regulator: { ...pickup.regulator, currentLimit: 5 } } };
}

/** A link of round numbers with this coupling. */
export function lessonLink(k: number): LinkElectrical {
  const [l1, l2] = [7.3e-6, 15.3e-6];
  const flat = (dc: number) => ({ dc, linear: 0, quadratic: 0, quartic: 0 });
  return { l1, l2, m: k * Math.sqrt(l1 * l2), r1: flat(0.05), r2: flat(0.13) };
}

/** Why it collapses. */
export function collapseLesson(): Lesson {
  const boards = lessonBoards();
  const x = spaced(0.02, 1.3, 65);
  const run = (k: number): { volts: Float64Array; kilohertz: Float64Array } => {
    const link = lessonLink(k);
    const solved = Array.from(x, (load) => solveLoad(link, boards, load, 'fast').delivery);
    return {
      volts: Float64Array.from(solved, ({ rectifiedV }) => rectifiedV),
      kilohertz: Float64Array.from(solved, ({ setting }) => setting.frequency / 1e3),
    };
  };
  const near = run(NEAR_K);
  const far = run(FAR_K);
  const needed = x.map((load) => neededRectifiedV(boards.pickup, load));
  const end = (volts: Float64Array): number => {
    for (let i = 1; i < x.length; i++) {
      const [a, b] = [volts[i - 1]! - needed[i - 1]!, volts[i]! - needed[i]!];
      if (a >= 0 && b < 0) return x[i - 1]! + ((x[i]! - x[i - 1]!) * a) / (a - b);
    }
    return Number.NaN;
  };
  const [nearEnd, farEnd] = [end(near.volts), end(far.volts)];
  const start = valueAt({ x, y: near.kilohertz }, 0.2);
  const lowest = Math.min(...near.kilohertz);
  const before = valueAt({ x, y: near.volts }, nearEnd - 0.2);
  const after = valueAt({ x, y: near.volts }, nearEnd + 0.2);
  return {
    number: 6,
    title: LESSON_TITLES[5]!,
    aim: 'A regulated link hides its strain: the voltage stands until the transmitter has no more to give, and then breaks down.',
    prediction: {
      question: 'The device draws more and more current. What does the receiver’s rectified voltage do?',
      options: [
        'it sags evenly from the start',
        'it stands until the transmitter reaches the end of its range, then it breaks down',
        'it rises, because more power flows',
      ],
      right: 1,
      because: `The transmitter lowers its frequency from ${start.toFixed(0)} to ${lowest.toFixed(0)} kHz, toward resonance, and so holds the voltage. At ${nearEnd.toFixed(2)} A there is nothing left to lower, and the voltage falls below what the regulator needs. (At light load the receiver asks for more, so the curve begins higher.)`,
    },
    drag: { start: 0.2, min: 0.02, max: 1.3, what: 'the load current' },
    sketch: null,
    figure: {
      title: 'Rectified voltage against load',
      x: { name: 'Load current', unit: 'A', domain: [0, 1.3], logarithmic: false },
      y: { name: 'Rectified voltage', unit: 'V', domain: [0, 7], logarithmic: false },
      curves: [
        { label: `k ${NEAR_K}`, stroke: 'first', x, y: near.volts },
        { label: `k ${FAR_K}`, stroke: 'second', x, y: far.volts },
        { label: 'what the regulator needs', stroke: 'limit', x, y: needed },
      ],
      dots: [
        {
          x: TIME_DOMAIN.loadA,
          y: TIME_DOMAIN.rectifiedV,
          label: `${TIME_DOMAIN.rectifiedV.toFixed(2)} V in the time domain`,
          source:
            'the switched circuit in the time domain, adaptive Runge-Kutta by another program of ours, rectifier as an ideal switch (reference-cases/lessons); not a measurement',
        },
      ],
      levels: [],
      readouts: [{ label: 'frequency', unit: 'kHz', x, y: near.kilohertz }],
    },
    facts: [
      {
        id: 'stands',
        text: `0.2 A before the end the voltage is ${before.toFixed(2)} V, 0.2 A beyond it ${after.toFixed(2)} V.`,
        numbers: [before, after],
      },
      {
        id: 'window',
        text: `At the end the transmitter runs at ${lowest.toFixed(0)} kHz, the lowest it may.`,
        numbers: [lowest],
      },
      {
        id: 'far',
        text: `With half the coupling the end comes at ${farEnd.toFixed(2)} A instead of ${nearEnd.toFixed(2)} A: far more than half is lost.`,
        numbers: [farEnd, nearEnd],
      },
    ],
    equation: 'V(rectified) = f(frequency, load), with frequency ≥ the lowest of the window; needed: V(out) + drop-out',
    source:
      'First-harmonic solution of the series-tuned link with a rectifier, as in this program’s Place maps (physics/circuit); the boards are the demo’s, invented.',
    questions: [
      'Why does a test at light load say little about how far the device may be moved?',
      'What would you measure to see the strain before it breaks?',
    ],
  };
}
