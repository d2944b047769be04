/** A lesson as plain data: what it asks, what is dragged, the figure that answers, and where it comes from. */

export interface LessonCurve {
  readonly label: string;
  /** `first` is the learner's own; `limit` an asymptote or a limit. */
  readonly stroke: 'first' | 'second' | 'limit';
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** What the drag does to the coils, for a picture; sizes in mm. Null: nothing to see. */
export type LessonSketch =
  | { readonly kind: 'apart'; readonly widthMm: number; readonly ferrite: boolean }
  | { readonly kind: 'aside'; readonly radiusMm: number }
  | { readonly kind: 'stretched'; readonly radiusMm: number; readonly areaMm2: number; readonly corner: number }
  | null;

/** A value from outside, on the figure. */
export interface LessonDot {
  readonly x: number;
  readonly y: number;
  readonly label: string;
  /** Citation and how the value was obtained. */
  readonly source: string;
}

export interface LessonAxis {
  readonly name: string;
  /** Empty where the quantity has none. */
  readonly unit: string;
  readonly domain: readonly [number, number];
  readonly logarithmic: boolean;
}

export interface LessonFact {
  readonly id: string;
  readonly text: string;
  /** The numbers in the text, for whoever checks it. */
  readonly numbers: readonly number[];
}

export interface Lesson {
  readonly number: number;
  readonly title: string;
  /** What is to be learnt, for the teacher. */
  readonly aim: string;
  readonly prediction: {
    readonly question: string;
    readonly options: readonly string[];
    /** Index of the right one. */
    readonly right: number;
    readonly because: string;
  };
  /** Along the figure's x axis. */
  readonly drag: { readonly start: number; readonly min: number; readonly max: number; readonly what: string };
  readonly sketch: LessonSketch;
  readonly figure: {
    readonly title: string;
    readonly x: LessonAxis;
    readonly y: LessonAxis;
    readonly curves: readonly LessonCurve[];
    readonly dots: readonly LessonDot[];
    readonly levels: readonly { readonly y: number; readonly label: string }[];
    /** Read out with the curves, but not drawn. */
    readonly readouts: readonly {
      readonly label: string;
      readonly unit: string;
      readonly x: Float64Array;
      readonly y: Float64Array;
    }[];
  };
  readonly facts: readonly LessonFact[];
  readonly equation: string;
  readonly source: string;
  /** What to talk about, for the teacher. */
  readonly questions: readonly string[];
}

/** How many there are. */
export const LESSONS = 6;

/** Titles, for a list that is there before any lesson has been worked out. */
export const LESSON_TITLES: readonly string[] = Object.freeze([
  'Distance eats coupling',
  'Sideways, the sign turns',
  'Shapes that do not match',
  'Ferrite, and why L moves',
  'Coupling is not efficiency',
  'Why it collapses',
]);

/** Evenly spaced, or evenly in the logarithm. */
export function spaced(from: number, to: number, points: number, logarithmic = false): Float64Array {
  return Float64Array.from({ length: points }, (_, i) => {
    const t = i / (points - 1);
    return logarithmic ? from * (to / from) ** t : from + (to - from) * t;
  });
}

/** Value of a curve at x, linear between its points. */
export function valueAt({ x, y }: Pick<LessonCurve, 'x' | 'y'>, at: number): number {
  let i = 1;
  while (i < x.length - 1 && x[i]! < at) i++;
  const t = (at - x[i - 1]!) / (x[i]! - x[i - 1]!);
  return y[i - 1]! + t * (y[i]! - y[i - 1]!);
}

/** First x at which a curve crosses a level, linear between its points; NaN where it does not. */
export function crossing({ x, y }: Pick<LessonCurve, 'x' | 'y'>, level: number): number {
  for (let i = 1; i < x.length; i++) {
    const [a, b] = [y[i - 1]! - level, y[i]! - level];
    if (a === 0) return x[i - 1]!;
    if (a > 0 !== b > 0) return x[i - 1]! + ((x[i]! - x[i - 1]!) * a) / (a - b);
  }
  return Number.NaN;
}
