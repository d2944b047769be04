/** What magnets make of a placement: the aid for the lottery. */
import type { HoldingAnswer } from './holding.ts';
import type { Aid } from './placements.ts';

/**
 * Placements within the capture offset of their direction slide to the rest band's edge; those inside the rest band and those
 * beyond capture stay where they were put. With pairs that centre the turn too, a captured device also turns back to the edge
 * of its resting turn.
 */
export function magnetSnap(answer: HoldingAnswer): Aid {
  const capture = answer.captureByDirectionMm;
  const rest = answer.restByDirectionMm;
  const n = capture.length;
  const turn = answer.restYaw;
  return ({ xMm, yMm, yaw }) => {
    for (let k = 0; k < xMm.length; k += 1) {
      const r = Math.hypot(xMm[k], yMm[k]);
      const at = ((Math.atan2(yMm[k], xMm[k]) / (2 * Math.PI) + 1) % 1) * n;
      const low = Math.floor(at) % n;
      const high = (low + 1) % n;
      // The smaller capture and the larger rest of the two neighbours: the careful choice.
      const reach = Math.min(capture[low], capture[high]);
      const stop = Math.max(rest[low], rest[high]);
      if (!(r <= reach)) continue;
      if (r > stop) {
        xMm[k] *= stop / r;
        yMm[k] *= stop / r;
      }
      if (turn !== null) yaw[k] = Math.max(-turn, Math.min(turn, yaw[k]));
    }
  };
}
