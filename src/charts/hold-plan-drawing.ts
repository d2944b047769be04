import { nothing, type SVGTemplateResult, svg } from 'lit';
import { type HoldPlanData, outlinePoints, type PlanFrame } from './hold-plan-frame.ts';
import { moved, polylinePath } from './svg-path.ts';

const ringPaths = (rings: readonly Float64Array[], frame: PlanFrame): string =>
  rings.map((ring) => polylinePath(ring, frame, true)).join('');

/** Everything of the plan that is not a handle or a label. */
export function drawPlan(data: HoldPlanData, frame: PlanFrame): SVGTemplateResult {
  const { plot } = frame;
  const [restX, restY] = data.restMm;
  const yaw = (data.yawDeg * Math.PI) / 180;
  const about = (points: Float64Array): string => polylinePath(moved(points, 0, restX, restY), frame, true);
  const device = outlinePoints(data.device, restX, restY, yaw);
  const { playMm, magnets, placements, began } = data;
  return svg`<clipPath id="plan"><rect x=${plot.x} y=${plot.y} width=${plot.width} height=${plot.height}></rect></clipPath>
    <g clip-path="url(#plan)">
      <path class="device" d=${polylinePath(device, frame, true)}></path>
      <path class="safe" fill-rule="evenodd" d=${ringPaths(data.safe, frame)}></path>
      <path class="outline transmitter" d=${polylinePath(data.transmitterMm, frame, true)}></path>
      <path class="outline receiver" d=${polylinePath(moved(data.receiverMm, yaw, restX, restY), frame, true)}></path>
      <path class="worst" d=${ringPaths(data.safeAtWorst, frame)}></path>
      ${
        data.pocket
          ? svg`<path class="pocket" d=${polylinePath(outlinePoints(data.pocket, restX, restY, yaw), frame, true)}></path>`
          : nothing
      }
      ${placements && began ? tails(placements, began, data, frame) : nothing}
      ${placements ? dots(placements, data, frame) : nothing}
      ${data.restBandMm && data.restBandMm.length > 0 ? svg`<path class="rest" d=${about(data.restBandMm)}></path>` : nothing}
      ${data.captureMm ? svg`<path class="capture" d=${about(data.captureMm)}></path>` : nothing}
      ${
        playMm
          ? svg`<path class="play" d=${about(
              Float64Array.of(
                -playMm.halfXMm,
                -playMm.halfYMm,
                playMm.halfXMm,
                -playMm.halfYMm,
                playMm.halfXMm,
                playMm.halfYMm,
                -playMm.halfXMm,
                playMm.halfYMm,
              ),
            )}></path>`
          : nothing
      }
      ${
        magnets
          ? magnets.positionsMm.map(([mx, my]) => {
              const x = restX + mx * Math.cos(yaw) - my * Math.sin(yaw);
              const y = restY + mx * Math.sin(yaw) + my * Math.cos(yaw);
              return svg`<circle class="magnet" cx=${frame.x(x)} cy=${frame.y(y)} r=${magnets.radiusMm * frame.pxPerMm}></circle>`;
            })
          : nothing
      }
      <path class="centre-mark" d=${`M${frame.x(0) - 6},${frame.y(0)}h12M${frame.x(0)},${frame.y(0) - 6}v12`}></path>
    </g>`;
}

/** Where it works a dot, where not a cross: told apart by shape as well. */
function dots(
  placements: NonNullable<HoldPlanData['placements']>,
  { restMm }: HoldPlanData,
  frame: PlanFrame,
): SVGTemplateResult {
  const radius = frame.narrow ? 1.5 : 1.9;
  let good = '';
  let bad = '';
  for (let k = 0; k < placements.xMm.length; k += 1) {
    const x = Math.round(100 * frame.x(placements.xMm[k] + restMm[0])) / 100;
    const y = Math.round(100 * frame.y(placements.yMm[k] + restMm[1])) / 100;
    if (placements.works[k] === 1)
      good += `M${x - radius},${y}a${radius},${radius} 0 1 0 ${2 * radius},0a${radius},${radius} 0 1 0 ${-2 * radius},0`;
    else bad += `M${x - 3},${y - 3}l6,6M${x - 3},${y + 3}l6,-6`;
  }
  return svg`<path class="dot" d=${good}></path><path class="miss" d=${bad}></path>`;
}

/** How far the aid took each placement. */
function tails(
  to: NonNullable<HoldPlanData['placements']>,
  from: NonNullable<HoldPlanData['began']>,
  { restMm }: HoldPlanData,
  frame: PlanFrame,
): SVGTemplateResult {
  let d = '';
  for (let k = 0; k < Math.min(to.xMm.length, from.xMm.length); k += 1) {
    if (Math.hypot(to.xMm[k] - from.xMm[k], to.yMm[k] - from.yMm[k]) * frame.pxPerMm < 3) continue;
    const at = (x: number, y: number) => `${frame.x(x + restMm[0]).toFixed(1)},${frame.y(y + restMm[1]).toFixed(1)}`;
    d += `M${at(from.xMm[k], from.yMm[k])}L${at(to.xMm[k], to.yMm[k])}`;
  }
  return svg`<path class="tail" d=${d}></path>`;
}
