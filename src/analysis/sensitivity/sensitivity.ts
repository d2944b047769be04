import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { maxOutput } from '../../physics/circuit/max-output.ts';
import type { Boards, Limit, LinkElectrical } from '../../physics/circuit/types.ts';
import { marginPercent } from '../margin/margin-percent.ts';
import { moved } from '../margin/moved.ts';
import type { PlateSensitivity } from '../margin/plate-sensitivity.ts';
import { chargesCell, type PoseLinks } from '../margin/pose-answer.ts';
import { limitWords } from '../margin/state-sentence.ts';
import { toleranceEnds } from '../margin/tolerance-ends.ts';
import { gapToleranceMm } from '../margin/tolerances.ts';
import { MUTUAL, numberAt, type SensitivityInput } from './sensitivity-inputs.ts';

/** What one input does to the largest current. Shares are of the undisturbed current: -0.24 is 24 % less. */
export interface SensitivityRow {
  readonly name: string;
  readonly path: string;
  /** `± 5 %`; null: stated without a tolerance. */
  readonly tolerance: string | null;
  /** Change with the input at the upper and the lower end of its tolerance; 0 without one. */
  readonly up: number;
  readonly down: number;
  /** Change for one percent more of the input, by the middle of both ways. NaN where the input is zero. */
  readonly perPercent: number;
}

export interface Sensitivity {
  readonly maxOutputA: number;
  readonly limitedBy: Limit;
  readonly demandA: number;
  readonly marginPercent: number;
  /** Largest change at the ends of the tolerances first, then those without one by their change per percent. */
  readonly rows: readonly SensitivityRow[];
  /** Inputs that move nothing here. */
  readonly still: readonly string[];
  readonly sentence: string;
}

export interface SensitivityBase {
  readonly maxOutputA: number;
  readonly limitedBy: Limit;
}

/** One percent. */
const STEP = 0.01;
/** Inputs of little influence are moved by ten percent, so that their change stands above the solver's steps. */
const WEAK = /(Ohm|dropV|dropoutV|parallelCapacitanceNf)$/;
const WEAK_STEP = 0.1;
/** Changes below this are within the solver's own steps. */
const NOISE = 2e-4;

function currentOf(design: Design): (link: LinkElectrical, boards: Boards) => number {
  const charging = chargesCell(design, demandOf(design));
  return (link, boards) => maxOutput(link, boards, { charging }).current;
}

/** The undisturbed current at the pose, exact circuit. */
export function sensitivityBase(design: Design, { link }: PoseLinks): SensitivityBase {
  const most = maxOutput(link.electrical, boardsOf(design), { charging: chargesCell(design, demandOf(design)) });
  return { maxOutputA: most.current, limitedBy: most.limitedBy };
}

/** What one input does, by the exact circuit: up to four solutions, some 40 ms each; one call is one chunk of work. */
export function sensitivityRow(
  design: Design,
  links: PoseLinks,
  plates: readonly PlateSensitivity[],
  base: SensitivityBase,
  input: SensitivityInput,
): SensitivityRow {
  const { name, path, tolerance } = input;
  const boards = boardsOf(design);
  const here = links.link.electrical;
  const current = currentOf(design);
  const relative = (link: LinkElectrical, with_: Boards): number => {
    if (!(base.maxOutputA > 0)) return 0;
    const change = current(link, with_) / base.maxOutputA - 1;
    return Math.abs(change) < NOISE ? 0 : change;
  };
  const gapEnd = (by: number): LinkElectrical => (by > 0 ? links.wider : links.narrower).electrical;
  const [first, second] = tolerance
    ? (toleranceEnds(design, tolerance, here, boards, plates, gapEnd).map((at) => relative(...at)) as [number, number])
    : [0, 0];
  // The plates' answers are tabulated for less permeability: the other way round.
  const [up, down] = path.endsWith('relativePermeability') ? [second, first] : [first, second];
  return { name, path, tolerance: tolerance?.text ?? null, up, down, perPercent: perPercent() };

  function perPercent(): number {
    const middle = (more: number, less: number): number => (more - less) / 2;
    const scaled = (l1: number, l2: number, m: number): number =>
      relative({ ...here, l1: here.l1 * (1 + l1), l2: here.l2 * (1 + l2), m: here.m * (1 + m) }, boards);
    if (path === MUTUAL) return middle(scaled(0, 0, STEP), scaled(0, 0, -STEP));
    const kind = tolerance?.enters.kind ?? 'board';
    if (kind === 'l1') return middle(scaled(STEP, 0, STEP / 2), scaled(-STEP, 0, -STEP / 2));
    if (kind === 'l2') return middle(scaled(0, STEP, STEP / 2), scaled(0, -STEP, -STEP / 2));
    const value = numberAt(design, path);
    if (!(value > 0)) return Number.NaN;
    if (kind === 'board') {
      const step = WEAK.test(path) ? WEAK_STEP : STEP;
      const at = (sign: number): number => relative(here, boardsOf(moved(design, path, sign * step * value)));
      return (middle(at(1), at(-1)) * STEP) / step;
    }
    // Gap and plates are only solved at the ends of their tolerance: the change is taken as even in between.
    const by = kind === 'gap' ? gapToleranceMm(design) : plateTolerance(design, path, value);
    return by > 0 ? (middle(up, down) * STEP * value) / by : Number.NaN;
  }
}

/** Half-width of a plate's property in its own unit. */
function plateTolerance(design: Design, path: string, value: number): number {
  if (path.endsWith('standoffMm')) return numberAt(design, path.replace('standoffMm', 'standoffToleranceMm'));
  return (
    -(value * numberAt(design, path.replace('relativePermeability', 'relativePermeabilityTolerancePercent'))) / 100
  );
}

/** Ranked rows with the sentence that says what to measure or buy tighter first. */
export function rankSensitivity(design: Design, base: SensitivityBase, solved: readonly SensitivityRow[]): Sensitivity {
  const { demandA } = demandOf(design);
  const size = ({ up, down }: SensitivityRow): number => Math.max(Math.abs(up), Math.abs(down));
  const percentSize = (row: SensitivityRow): number => (Number.isNaN(row.perPercent) ? 0 : Math.abs(row.perPercent));
  const rows = solved
    .filter((row) => size(row) > 0 || percentSize(row) > 0)
    .sort((a, b) => size(b) - size(a) || percentSize(b) - percentSize(a));
  return {
    ...base,
    demandA,
    marginPercent: marginPercent(base.maxOutputA, demandA),
    rows,
    still: solved.filter((row) => !rows.includes(row)).map(({ name }) => name),
    sentence: sentenceOf(base, rows),
  };
}

function sentenceOf(base: SensitivityBase, rows: readonly SensitivityRow[]): string {
  if (!(base.maxOutputA > 0)) return 'Nothing is delivered here, so nothing can be said of what moves it.';
  const moving = rows.filter(({ up, down }) => Math.max(Math.abs(up), Math.abs(down)) >= 0.005);
  const first = moving[0];
  if (!first)
    return `No tolerance moves the largest current by half a percent: it is held by ${limitWords(base.limitedBy)}.`;
  const range = ({ up, down }: SensitivityRow): string =>
    `${signed(Math.min(up, down, 0))} to ${signed(Math.max(up, down, 0))}`;
  const second = moving[1];
  const then = second ? `, then the ${second.name} (${range(second)})` : '';
  return `The ${first.name} moves it most: ${first.tolerance ?? ''} is ${range(first)} of the current${then}. Measure it, or buy it tighter, before anything else.`;
}

function signed(share: number): string {
  const percent = Math.round(100 * share);
  return percent < 0 ? `−${-percent} %` : percent > 0 ? `+${percent} %` : '0 %';
}
