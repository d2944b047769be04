import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { maxOutput } from '../../physics/circuit/max-output.ts';
import { wakingAt } from '../../physics/circuit/wake.ts';
import { chargesCell } from '../margin/pose-answer.ts';
import type { OffsetGrid } from './offset-grid.ts';

/** The circuit's answers over a run of grid points. */
export interface MapCircuit {
  readonly maxOutputA: Float64Array;
  /** Without thermal limits, for peaks; the same array where no peak is asked. */
  readonly peakOutputA: Float64Array;
  readonly wakes: Uint8Array;
}

/** Solves grid points `from` to `to`. */
export function mapCircuit(design: Design, grid: OffsetGrid, from: number, to: number): MapCircuit {
  const boards = boardsOf(design);
  const demand = demandOf(design);
  const charging = chargesCell(design, demand);
  const count = to - from;
  const maxOutputA = new Float64Array(count);
  const peakOutputA = demand.peaks.length > 0 ? new Float64Array(count) : maxOutputA;
  const wakes = new Uint8Array(count);
  for (let i = 0; i < count; i++) {
    const at = from + i;
    const link = { l1: grid.l1[at]!, l2: grid.l2[at]!, m: grid.m[at]!, r1: grid.r1, r2: grid.r2 };
    wakes[i] = wakingAt(link, boards, 'fast').wakes ? 1 : 0;
    maxOutputA[i] = maxOutput(link, boards, { tier: 'fast', charging }).current;
    if (peakOutputA !== maxOutputA)
      peakOutputA[i] = maxOutput(link, boards, { tier: 'fast', ignoreThermal: true }).current;
  }
  return { maxOutputA, peakOutputA, wakes };
}
