import { BatchLink, type LinkBatch } from './batch-link.ts';
import { WAKE_LOAD_A } from './board-model.ts';
import { requiredExcess } from './first-harmonic-kernel.ts';
import type { Boards } from './types.ts';

/**
 * Rectified voltage at the ping frequency under a milliampere, per pose, first harmonic: compare with the board's wake voltage.
 *
 * @param out V, `[poses]`, filled and returned; 0 where the rectifier is not reached.
 * Accuracy: the light-load first harmonic can be 30 % low; correct with `correctionAt(...).wakeRatio`.
 */
export function batchWake(
  batch: LinkBatch,
  boards: Boards,
  out: Float64Array,
  from = 0,
  to = batch.m.length,
): Float64Array {
  const solver = new BatchLink(boards);
  const { drive, pickup, thermal } = boards;
  const p = solver.setting;
  for (let i = from; i < to; i++) {
    solver.load(batch, i, thermal.ambient, thermal.ambient);
    solver.aim(drive.pingFrequency);
    // The drive needed rises with the voltage: shrink a bracket by Illinois steps.
    let low = solver.drop;
    let atLow = requiredExcess(p, low, WAKE_LOAD_A, solver.result);
    if (!(atLow < 0)) {
      out[i] = 0;
      continue;
    }
    let high = Math.max(2 * pickup.wakeV, 2 * low);
    let atHigh = requiredExcess(p, high, WAKE_LOAD_A, solver.result);
    while (atHigh < 0 && high < 1e6) {
      low = high;
      atLow = atHigh;
      high *= 2;
      atHigh = requiredExcess(p, high, WAKE_LOAD_A, solver.result);
    }
    let side = 0;
    let x = high;
    for (let k = 0; k < 60; k++) {
      x = (low * atHigh - high * atLow) / (atHigh - atLow);
      const at = requiredExcess(p, x, WAKE_LOAD_A, solver.result);
      if ((at < 1e-9 && at > -1e-9) || high - low < 1e-9 * high) break;
      if (at < 0) {
        low = x;
        atLow = at;
        if (side === -1) atHigh /= 2;
        side = -1;
      } else {
        high = x;
        atHigh = at;
        if (side === 1) atLow /= 2;
        side = 1;
      }
    }
    out[i] = Math.max(0, x - solver.drop);
  }
  return out;
}
