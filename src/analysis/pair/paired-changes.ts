import { demandOf } from '../../design/demand.ts';
import type { Design } from '../../design/types.ts';
import { safeRegion } from '../hold/safe-region.ts';
import type { LinkModel } from '../link/link-model.ts';
import { marginPercent } from '../margin/margin-percent.ts';
import { moved } from '../margin/moved.ts';
import type { PlateSensitivity } from '../margin/plate-sensitivity.ts';
import { type Tolerance, tolerancesOf } from '../margin/tolerances.ts';
import { designAt } from '../place/line-sweep.ts';
import { type MapCheck, spreadChecks } from '../place/map-check.ts';
import { type OffsetGrid, offsetGrid } from '../place/offset-grid.ts';
import { type Metrics, NUMERICAL } from './metrics.ts';
import { mirroredCircuit, mirrorRows } from './mirrored-circuit.ts';
import { rayLength } from './ray-length.ts';

/** What one uncertain input does to a candidate. */
export interface PairedChange {
  readonly name: string;
  readonly path: string;
  readonly up: Metrics;
  readonly down: Metrics;
}

export interface ChangeInputs {
  readonly design: Design;
  readonly model: LinkModel;
  readonly grid: OffsetGrid;
  readonly checks: readonly MapCheck[];
  readonly plates: readonly PlateSensitivity[];
  /** Relative numerical half-widths of the link. */
  readonly numerical: { readonly l1: number; readonly l2: number; readonly m: number };
}

/**
 * The candidate at both ends of every tolerance. Two candidates are compared end by end, so that what moves both alike (the
 * same gap, supply, parts that err alike) does not count against their difference.
 */
export function pairedChanges(inputs: ChangeInputs): { readonly at: Metrics; readonly changes: PairedChange[] } {
  const { design, model, grid, checks } = inputs;
  const spread = spreadChecks(model, grid.xMm, grid.yMm, checks);
  const demand = demandOf(design);
  const wanted = design.demand.wantedMarginPercent;
  const edge = grid.xMm[grid.xMm.length - 1]!;
  const centre = (grid.xMm.length * grid.yMm.length - 1) / 2;
  const quarter = mirrorRows(model.even, grid.xMm.length, grid.yMm.length);
  const measure = (boards: Design, at: OffsetGrid): Metrics => {
    const circuit = mirroredCircuit(boards, at, quarter);
    const limit = boards.receiver.pickup.regulator.currentLimitA;
    const output = circuit.maxOutputA.map((current, i) =>
      Math.min(Math.max(0, current + spread.difference[i]!), Math.max(current, limit)),
    );
    const { reachMm, outline } = safeRegion(at.xMm, at.yMm, [
      { name: 'margin', slack: output.map((a) => marginPercent(a, demand.demandA) - wanted), smooth: true },
      {
        name: 'waking',
        slack: circuit.wakeV.map((v, i) => v * spread.wakeRatio[i]! - boards.receiver.pickup.wakeV),
        smooth: true,
      },
    ]);
    return {
      coupling: at.m[centre]! / Math.sqrt(at.l1[centre]! * at.l2[centre]!),
      maxOutputA: output[centre]!,
      reachMm,
      alongXMm: Math.min(edge, rayLength(outline, 1, 0), rayLength(outline, -1, 0)),
      alongYMm: Math.min(edge, rayLength(outline, 0, 1), rayLength(outline, 0, -1)),
    };
  };
  const scaled = (l1: number, l2: number, m: number): Metrics =>
    measure(design, scaledGrid(grid, 1 + l1, 1 + l2, 1 + m));
  const end = (tolerance: Tolerance, sign: 1 | -1): Metrics => {
    const { enters } = tolerance;
    if (enters.kind === 'board') return measure(moved(design, tolerance.path, sign * enters.by), grid);
    if (enters.kind === 'gap') return measure(design, gridAtGap(inputs, sign * enters.by));
    const [l1, l2, m] =
      enters.kind === 'plate'
        ? plateShares(inputs.plates, tolerance.path)
        : [enters.kind === 'l1' ? enters.by : 0, enters.kind === 'l2' ? enters.by : 0, enters.by / 2];
    return scaled(sign * l1, sign * l2, sign * m);
  };
  const at = measure(design, grid);
  const { l1, l2, m } = inputs.numerical;
  const numerical = (['l1', 'l2', 'm'] as const).map((key): PairedChange => {
    const by = [key === 'l1' ? l1 : 0, key === 'l2' ? l2 : 0, key === 'm' ? m : 0] as const;
    return {
      name: `numerical error of ${key}`,
      path: `${NUMERICAL}${key}`,
      up: scaled(...by),
      down: at,
    };
  });
  return {
    at,
    changes: [
      ...tolerancesOf(design).map((tolerance) => ({
        name: tolerance.name,
        path: tolerance.path,
        up: end(tolerance, 1),
        down: end(tolerance, -1),
      })),
      ...numerical,
    ],
  };
}

function plateShares(plates: readonly PlateSensitivity[], path: string): [number, number, number] {
  const found = plates.find((entry) => entry.path === path);
  return found ? [found.l1, found.l2, found.m] : [0, 0, 0];
}

function gridAtGap({ design, model, grid }: ChangeInputs, by: number): OffsetGrid {
  const gap = design.placement.gapMm + Math.max(by * 1e3, -0.9 * design.placement.gapMm);
  return offsetGrid(designAt(design, 'gap', gap), model, grid.xMm.length, grid.xMm[grid.xMm.length - 1]!);
}

function scaledGrid(grid: OffsetGrid, l1: number, l2: number, m: number): OffsetGrid {
  return {
    ...grid,
    l1: grid.l1.map((value) => value * l1),
    l2: grid.l2.map((value) => value * l2),
    m: grid.m.map((value) => value * m),
  };
}
