import { curveAt } from './line-chart-frame.ts';

export interface LessonChartCurve {
  readonly label: string;
  readonly stroke: 'first' | 'second' | 'limit';
  readonly x: Float64Array;
  readonly y: Float64Array;
}

export interface LessonChartAxis {
  readonly name: string;
  readonly unit: string;
  readonly domain: readonly [number, number];
  readonly logarithmic: boolean;
}

export interface LessonChartFigure {
  readonly title: string;
  readonly x: LessonChartAxis;
  readonly y: LessonChartAxis;
  readonly curves: readonly LessonChartCurve[];
  readonly dots: readonly { readonly x: number; readonly y: number; readonly label: string }[];
  readonly levels: readonly { readonly y: number; readonly label: string }[];
  readonly readouts: readonly {
    readonly label: string;
    readonly unit: string;
    readonly x: Float64Array;
    readonly y: Float64Array;
  }[];
}

/** Three significant digits, a true minus sign. */
export function plain(value: number): string {
  return String(Number(value.toPrecision(3))).replace('-', '−');
}

/** Three significant digits. */
export function round(value: number): number {
  return Number(value.toPrecision(3));
}

/** An axis with its unit. */
export function axisText({ name, unit }: LessonChartAxis): string {
  return unit === '' ? name : `${name}, ${unit}`;
}

function withUnit(value: number, unit: string): string {
  return unit === '' ? plain(value) : `${plain(value)}\u00a0${unit}`;
}

/** What the curves say at x, in one line. */
export function readingText(figure: LessonChartFigure, at: number): string {
  const parts = [
    ...figure.curves.filter((curve) => curve.stroke !== 'limit').map((curve) => ({ ...curve, unit: figure.y.unit })),
    ...figure.readouts,
  ].map(({ label, unit, x, y }) => `${label}\u00a0= ${withUnit(curveAt(x, y, at), unit)}`);
  return `${figure.x.name} ${withUnit(at, figure.x.unit)}: ${parts.join('; ')}`;
}
