import { insideRing, insideRings } from '../analysis/hold/ring-geometry.ts';
import type { HoldPlanData } from './hold-plan-frame.ts';
import { plain, withUnit } from './tick-text.ts';

/** What the plan says of a place for the device's centre, in one line. */
export function planReading(data: HoldPlanData, [xMm, yMm]: readonly [number, number]): string {
  const dx = xMm - data.restMm[0];
  const dy = yMm - data.restMm[1];
  const said = [data.safe.length > 0 ? (insideRings(data.safe, xMm, yMm) ? 'safe' : 'not safe') : null];
  if (data.playMm)
    said.push(
      Math.abs(dx) <= data.playMm.halfXMm && Math.abs(dy) <= data.playMm.halfYMm
        ? 'the recess lets it'
        : 'the recess does not let it',
    );
  if (data.captureMm) {
    const captured = insideRing(data.captureMm, dx, dy);
    const rests = data.restBandMm !== null && insideRing(data.restBandMm, dx, dy);
    said.push(rests ? 'may stay here' : captured ? 'slides home' : 'stays here');
  }
  return `x ${plain(xMm)}, y ${withUnit(yMm, 'mm')}: ${said.filter((words) => words !== null).join(', ')}`;
}
