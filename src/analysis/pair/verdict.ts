import type { CandidateReport } from './candidate-report.ts';
import { type Metrics, NUMERICAL } from './metrics.ts';
import { outerBox } from './outline-size.ts';
import type { RefusedRival, RivalKind } from './rivals.ts';

/** A judged candidate. */
export interface Judged {
  readonly id: string;
  readonly kind: RivalKind;
  readonly name: string;
  readonly note: string;
  readonly report: CandidateReport;
}

export interface RivalsAnswer {
  /** The design's own pair first, then the rivals that could be judged. */
  readonly judged: readonly Judged[];
  readonly refused: readonly RefusedRival[];
}

/** Difference of one measure, second less first, and how well it is known. */
export interface Difference {
  readonly value: number;
  /** Half-width, 95 %. */
  readonly half: number;
  /** Whether it lies outside its error bars. */
  readonly shows: boolean;
}

/**
 * Difference of two candidates in one measure. Inputs that both have (the same gap, supply, kind of part) move both alike
 * and count by what they change in the difference; numerical errors and inputs that only one has count in full.
 */
export function differenceOf(first: CandidateReport, second: CandidateReport, measure: keyof Metrics): Difference {
  const value = second.at[measure] - first.at[measure];
  const own = (report: CandidateReport, end: Metrics): number => end[measure] - report.at[measure];
  const squares: number[] = [];
  const alone = (report: CandidateReport, paths: ReadonlySet<string>): void => {
    for (const change of report.changes) {
      if (paths.has(change.path)) continue;
      squares.push(Math.max(own(report, change.up) ** 2, own(report, change.down) ** 2));
    }
  };
  const shared = new Set<string>();
  for (const change of first.changes) {
    const other = second.changes.find((entry) => entry.path === change.path);
    if (!other || change.path.startsWith(NUMERICAL)) continue;
    shared.add(change.path);
    const up = own(second, other.up) - own(first, change.up);
    const down = own(second, other.down) - own(first, change.down);
    squares.push(Math.max(up * up, down * down));
  }
  alone(first, shared);
  alone(second, shared);
  if (measure === 'coupling') squares.push(first.numerical.coupling ** 2 + second.numerical.coupling ** 2);
  const half = Math.sqrt(squares.reduce((sum, square) => sum + square, 0));
  return { value, half, shows: Math.abs(value) > half };
}

export interface Verdict {
  /** What the user should take from it, one or two sentences. */
  readonly answer: string;
  /** One per rival, in the order given. */
  readonly lines: readonly { readonly id: string; readonly text: string }[];
  /** Id of the pair that does best; the own pair's where no rival shows a difference. */
  readonly best: string;
}

/**
 * The verdict over the design's own pair and its rivals. A rival is better where it reaches farther, or where the reach
 * shows no difference and it carries more current; both beyond the error bars. The order of the rivals changes nothing.
 */
export function verdictOf(own: Judged, rivals: readonly Judged[]): Verdict {
  const lines = rivals.map((rival) => ({ id: rival.id, text: lineOf(own, rival) }));
  const better = rivals
    .filter((rival) => beats(own, rival))
    .toSorted((a, b) => compare(b.report, a.report) || (a.id < b.id ? -1 : 1));
  const best = better[0];
  if (!best) {
    const close = rivals.filter((rival) => !differenceOf(own.report, rival.report, 'reachMm').shows).length;
    const rest =
      rivals.length === 0
        ? 'There is no rival to compare it with.'
        : close === rivals.length
          ? 'No rival’s reach differs from its own beyond the error bars.'
          : 'No rival reaches farther beyond the error bars.';
    return { answer: `Keep this pair. ${rest}`, lines, best: own.id };
  }
  return { answer: `${best.name} would do better: ${lineOf(own, best)}`, lines, best: best.id };
}

function beats(own: Judged, rival: Judged): boolean {
  const reach = differenceOf(own.report, rival.report, 'reachMm');
  if (reach.shows) return reach.value > 0;
  const output = differenceOf(own.report, rival.report, 'maxOutputA');
  return output.shows && output.value > 0;
}

function compare(a: CandidateReport, b: CandidateReport): number {
  const reach = a.at.reachMm - b.at.reachMm;
  return Math.abs(reach) > 1e-9 ? reach : a.at.maxOutputA - b.at.maxOutputA;
}

/** One rival against the own pair, in words with numbers; what lies inside the error bars is said to. */
function lineOf(own: Judged, rival: Judged): string {
  const box = outerBox(own.report.design.receiver.coil);
  const long = box.widthMm >= box.heightMm ? ('alongXMm' as const) : ('alongYMm' as const);
  const square = Math.abs(box.widthMm - box.heightMm) < 1e-6;
  const k = 100 / Math.abs(own.report.at.coupling);
  const parts: readonly (readonly [keyof Metrics, number, string, string, string])[] = [
    ['coupling', k, '%', 'of k centred', 'adds'],
    ['maxOutputA', 1, 'A', 'of the largest current centred', 'adds'],
    ['reachMm', 1, 'mm', 'of reach in every direction', 'gains'],
    [long, 1, 'mm', square ? 'along x' : 'along the receiver’s length', 'gains'],
    [long === 'alongXMm' ? 'alongYMm' : 'alongXMm', 1, 'mm', square ? 'along y' : 'across it', 'gains'],
  ];
  const said: string[] = [];
  const alike: string[] = [];
  const same: string[] = [];
  for (const [measure, scale, unit, words, more] of parts) {
    const { value, half, shows } = differenceOf(own.report, rival.report, measure);
    const digits = unit === 'A' ? 2 : 1;
    const nothing = 0.5 * 10 ** -digits;
    if (Math.abs(scale * value) < nothing && scale * half < nothing) {
      same.push(words.replace(/^of /, ''));
      continue;
    }
    const text = `${Math.abs(scale * value).toFixed(digits)} ± ${(scale * half).toFixed(digits)} ${unit} ${words}`;
    if (shows) said.push(`${value > 0 ? more : more === 'adds' ? 'costs' : 'loses'} ${text}`);
    else alike.push(`${value < 0 ? '−' : '+'}${text}`);
  }
  const equal = same.length === 0 ? '' : `The same: ${same.join(', ')}.`;
  const inside = alike.length === 0 ? '' : `Inside the error bars: ${alike.join(', ')}.`;
  const rest = [inside, equal].filter((text) => text !== '').join(' ');
  if (said.length === 0) return `no difference beyond the error bars. ${rest}`;
  return `it ${said.join(', ')}.${rest === '' ? '' : ` ${rest}`}`;
}
