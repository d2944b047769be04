import { type HoldPlanData, outlinePoints, type PlanFrame } from './hold-plan-frame.ts';
import type { LabelRequest } from './place-labels.ts';

export interface PlanLabel extends LabelRequest {
  readonly text: string;
  readonly kind: string;
}

/** Names of the lines on the plan, most important first, each with the places it may stand. */
export function planLabels(data: HoldPlanData, frame: PlanFrame, width: (text: string) => number): PlanLabel[] {
  const labels: PlanLabel[] = [];
  const [restX, restY] = data.restMm;
  const yaw = (data.yawDeg * Math.PI) / 180;
  const add = (id: string, text: string, candidates: number[]): void => {
    if (candidates.length > 0) labels.push({ id, kind: id, text, width: width(text) + 6, height: 17, candidates });
  };
  /** Places just outside a ring, all round, beginning at an angle in degrees. */
  const around = (ring: Float64Array, text: string, startDeg: number, out = 10): number[] => {
    const half = width(text) / 2;
    let sumX = 0;
    let sumY = 0;
    const count = ring.length / 2;
    for (let k = 0; k < ring.length; k += 2) {
      sumX += ring[k];
      sumY += ring[k + 1];
    }
    const cx = sumX / count;
    const cy = sumY / count;
    const candidates: number[] = [];
    for (let turn = 0; turn < 24; turn += 1) {
      const angle = ((startDeg + 15 * (turn % 2 === 0 ? turn / 2 : -(turn + 1) / 2)) * Math.PI) / 180;
      let far = 0;
      for (let k = 0; k < ring.length; k += 2)
        far = Math.max(far, (ring[k] - cx) * Math.cos(angle) + (ring[k + 1] - cy) * Math.sin(angle));
      candidates.push(
        frame.x(cx + far * Math.cos(angle)) + (half + out) * Math.cos(angle),
        frame.y(cy + far * Math.sin(angle)) - (9 + out) * Math.sin(angle),
      );
    }
    return candidates;
  };
  const placed = (points: Float64Array) => points.map((v, k) => v + (k % 2 === 0 ? restX : restY));
  const [safe] = data.safe;
  if (safe) add('safe', 'safe', around(safe, 'safe', 90));
  if (data.captureMm) add('capture', 'capture', around(placed(data.captureMm), 'capture', 45));
  if (data.restBandMm && data.restBandMm.length > 0)
    add('rest', 'rest band', around(placed(data.restBandMm), 'rest band', -60));
  const { playMm } = data;
  if (playMm) {
    const { halfXMm: x, halfYMm: y } = playMm;
    add('play', 'play', around(placed(Float64Array.of(-x, -y, x, -y, x, y, -x, y)), 'play', 200));
  }
  const [worst] = data.safeAtWorst;
  if (worst) add('worst', 'safe at the worst gap', around(worst, 'safe at the worst gap', -90));
  // The parts' names along their own upper or lower edge.
  const along = (ring: Float64Array, text: string, inside: 1 | -1): number[] => {
    const half = width(text) / 2 + 4;
    let [left, right, low, high] = [Infinity, -Infinity, Infinity, -Infinity];
    for (let k = 0; k < ring.length; k += 2) {
      left = Math.min(left, frame.x(ring[k]));
      right = Math.max(right, frame.x(ring[k]));
      low = Math.min(low, frame.y(ring[k + 1]));
      high = Math.max(high, frame.y(ring[k + 1]));
    }
    const candidates: number[] = [];
    for (const share of [0.22, 0.78, 0.36, 0.64, 0.5])
      for (const [edge, sign] of [
        [low, 1],
        [high, -1],
      ] as const)
        candidates.push(
          Math.min(Math.max(left + share * (right - left), left + half), right - half),
          edge + sign * inside * 12,
        );
    return candidates;
  };
  const device = outlinePoints(data.device, restX, restY, yaw);
  add('receiver-device', 'device', along(device, 'device', 1));
  if (data.pocket) add('pocket-name', 'recess', along(outlinePoints(data.pocket, restX, restY, yaw), 'recess', -1));
  add('transmitter', 'transmitter', around(data.transmitterMm, 'transmitter', 130, 4));
  add('receiver', 'receiver', along(placed(data.receiverMm), 'receiver', 1));
  return labels;
}
