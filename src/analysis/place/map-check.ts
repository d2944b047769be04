import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { CORRECTION_THRESHOLD, correctionAt } from '../../physics/circuit/correction.ts';
import { contextOf } from '../link/link-context.ts';
import { type LinkModel, linkFromModel, poseAt } from '../link/link-model.ts';
import { bandAtPose } from '../margin/band-at-pose.ts';
import type { PlateSensitivity } from '../margin/plate-sensitivity.ts';
import { chargesCell } from '../margin/pose-answer.ts';
import { readLine } from './check-line.ts';
import { CHECK_POINTS, checkNodes, nodeAt } from './check-nodes.ts';

/** What is known at one node of the check. */
export interface MapCheck {
  /** Exact minus first-harmonic current, A. */
  readonly difference: number;
  readonly relative: number;
  readonly wakeRatio: number;
  /** Relative half-widths of the current. */
  readonly less: number;
  readonly more: number;
  /** Mutual inductance there, H, and the current by first harmonic, A: of a check that counts wherever the mutual inductance is the same. */
  readonly mutualH?: number;
  readonly fastA?: number;
}

/** What is said of a place whose exact circuit is not asked. */
export const FIRST_HARMONIC = Object.freeze({ difference: 0, relative: 0, wakeRatio: 1, fastA: 0 });

/** What a check asks: band and exact circuit, one of them, or the circuit for all places of the same mutual inductance (`check-line.ts`). */
export type CheckKind = 'whole' | 'band' | 'mutual';

/** Checks one node. A first look from a rough model has its band, but not the exact circuit. */
export function checkMap(
  design: Design,
  model: LinkModel,
  plates: readonly PlateSensitivity[],
  x: number,
  y: number,
  kind: CheckKind = 'whole',
): MapCheck {
  const context = contextOf(design, model);
  const boards = boardsOf(design);
  const charging = chargesCell(design, demandOf(design));
  const pose = poseAt(context, model.attitude, x / 1e3, y / 1e3, design.placement.gapMm / 1e3);
  const { electrical } = linkFromModel(context, model, pose);
  if (kind === 'mutual') {
    const { difference, relative, wakeRatio, fastA } = correctionAt(electrical, boards, { charging });
    return { difference, relative, wakeRatio, less: 0, more: 0, mutualH: electrical.m, fastA };
  }
  const { difference, relative, wakeRatio } =
    model.level === 'rough' || kind === 'band' ? FIRST_HARMONIC : correctionAt(electrical, boards, { charging });
  const { less, more } = bandAtPose(design, context, model, pose, plates, charging);
  return { difference, relative, wakeRatio, less, more };
}

/**
 * The checks spread over the map: bilinear between nodes; corrections count only where they exceed the threshold.
 *
 * @param checks of the nodes, then those of the line, where there are any. @param m mutual inductance over the map, H, for those.
 */
export function spreadChecks(
  model: LinkModel,
  xMm: Float64Array,
  yMm: Float64Array,
  checks: readonly MapCheck[],
  m: Float64Array | null = null,
): Record<'difference' | 'wakeRatio' | 'less' | 'more', Float64Array> {
  const nodes = checkNodes(model, xMm, yMm);
  const needed = checks.some((check) => check.relative > CORRECTION_THRESHOLD);
  const index = new Map(nodes.map(([x, y], i) => [`${x.toFixed(9)},${y.toFixed(9)}`, i]));
  const find = (i: number, j: number): MapCheck => {
    const x = nodeAt(xMm, i);
    const y = nodeAt(yMm, j);
    const ax = model.even.x ? Math.abs(x) : x;
    const ay = model.even.y ? Math.abs(y) : y;
    return checks[index.get(`${ax.toFixed(9)},${ay.toFixed(9)}`) ?? 0]!;
  };
  const count = xMm.length * yMm.length;
  const out = {
    difference: new Float64Array(count),
    wakeRatio: new Float64Array(count),
    less: new Float64Array(count),
    more: new Float64Array(count),
  };
  const line = m !== null && checks.length > nodes.length ? readLine(checks.slice(nodes.length)) : null;
  const place = (axis: Float64Array, at: number): [number, number] => {
    const span = axis[axis.length - 1]! - axis[0]!;
    const u = span === 0 ? 0 : ((axis[at]! - axis[0]!) / span) * (CHECK_POINTS - 1);
    const i = Math.min(CHECK_POINTS - 2, Math.floor(u));
    return [i, u - i];
  };
  for (let row = 0, at = 0; row < yMm.length; row++) {
    const [j, v] = place(yMm, row);
    for (let column = 0; column < xMm.length; column++, at++) {
      const [i, u] = place(xMm, column);
      const [a, b, c, d] = [find(i, j), find(i + 1, j), find(i, j + 1), find(i + 1, j + 1)];
      const mix = (key: keyof typeof out): number =>
        (a[key] * (1 - u) + b[key] * u) * (1 - v) + (c[key] * (1 - u) + d[key] * u) * v;
      const read = (key: 'difference' | 'wakeRatio'): number => (line ? line(m![at]!, key) : mix(key));
      out.difference[at] = needed ? read('difference') : 0;
      out.wakeRatio[at] = read('wakeRatio');
      out.less[at] = mix('less');
      out.more[at] = mix('more');
    }
  }
  return out;
}
