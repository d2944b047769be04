import { demandOf } from '../../design/demand.ts';
import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { batchMaxOutput, maxOutputBatch } from '../../physics/circuit/batch-max-output.ts';
import { batchWake } from '../../physics/circuit/batch-wake.ts';
import { chargesCell } from '../margin/pose-answer.ts';
import type { OffsetGrid } from './offset-grid.ts';

/** The circuit's answers over a run of grid points, by first harmonic. */
export interface MapCircuit {
  readonly maxOutputA: Float64Array;
  /** Without thermal limits, for peaks. */
  readonly peakOutputA: Float64Array;
  /** Rectified voltage at the ping, V. */
  readonly wakeV: Float64Array;
}

/** Solves grid points `from` to `to`. */
export function mapCircuit(design: Design, grid: OffsetGrid, from: number, to: number): MapCircuit {
  const boards = boardsOf(design);
  const demand = demandOf(design);
  const batch = {
    l1: grid.l1.subarray(from, to),
    l2: grid.l2.subarray(from, to),
    m: grid.m.subarray(from, to),
    r1: grid.r1.subarray(4 * from, 4 * to),
    r2: grid.r2.subarray(4 * from, 4 * to),
  };
  const count = to - from;
  const charging = chargesCell(design, demand);
  const most = batchMaxOutput(batch, boards, maxOutputBatch(count), { charging }).current;
  const peak =
    demand.peaks.length === 0
      ? most.slice()
      : batchMaxOutput(batch, boards, maxOutputBatch(count), { ignoreThermal: true }).current;
  return { maxOutputA: most, peakOutputA: peak, wakeV: batchWake(batch, boards, new Float64Array(count)) };
}
