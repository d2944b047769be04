import type { HoldPlanData, PlanFrame, PlanZoom } from './hold-plan-frame.ts';
import type { Box } from './place-labels.ts';
import { withUnit } from './tick-text.ts';

/** Room that a number needs beside the wall's handle, px. */
const NUMBER = 84;

/** Clearance of the pocket as drawn, mm. */
export function clearanceOf({ pocket, device }: HoldPlanData): number {
  return pocket ? pocket.halfWidthMm - device.halfWidthMm : 0;
}

/** The handle on the pocket's right wall and the place of its number, px; null without a pocket or close up. */
export function wallPlace(
  { pocket, restMm, yawDeg }: HoldPlanData,
  frame: PlanFrame,
  zoom: PlanZoom,
): { readonly x: number; readonly y: number; readonly slotX: number } | null {
  if (!pocket || zoom !== 'device') return null;
  const { plot } = frame;
  const yaw = (yawDeg * Math.PI) / 180;
  const at = pocket.halfWidthMm;
  const up = -0.45 * pocket.halfHeightMm;
  const x = frame.x(restMm[0] + at * Math.cos(yaw) - up * Math.sin(yaw));
  const y = frame.y(restMm[1] + at * Math.sin(yaw) + up * Math.cos(yaw));
  const right = x + NUMBER < plot.x + plot.width;
  return { x, y, slotX: right ? x + 14 : x - NUMBER + 2 };
}

/** Centres of the magnets, px. */
export function magnetPlaces({ magnets, restMm, yawDeg }: HoldPlanData, frame: PlanFrame): [number, number][] {
  const yaw = (yawDeg * Math.PI) / 180;
  return (magnets?.positionsMm ?? []).map(([mx, my]) => [
    frame.x(restMm[0] + mx * Math.cos(yaw) - my * Math.sin(yaw)),
    frame.y(restMm[1] + mx * Math.sin(yaw) + my * Math.cos(yaw)),
  ]);
}

/** Place of the magnets' diameter: under the first one, inside the plot; null without magnets or close up. */
export function magnetField(
  data: HoldPlanData,
  frame: PlanFrame,
  zoom: PlanZoom,
): { readonly x: number; readonly y: number } | null {
  const [first] = magnetPlaces(data, frame);
  if (!first || zoom !== 'device') return null;
  const { plot, pxPerMm } = frame;
  const radius = (data.magnets?.radiusMm ?? 0) * pxPerMm;
  const x = Math.min(Math.max(first[0], plot.x + 40), plot.x + plot.width - 40);
  const below = first[1] + radius + 15;
  return { x, y: below < plot.y + plot.height - 12 ? below : first[1] - radius - 15 };
}

/** What labels must not cover: handles and numbers. */
export function planObstacles(data: HoldPlanData, frame: PlanFrame, zoom: PlanZoom): Box[] {
  const around = (x: number, y: number, half: number): Box => ({
    x: x - half,
    y: y - half,
    width: 2 * half,
    height: 2 * half,
  });
  const boxes: Box[] = [];
  const wall = wallPlace(data, frame, zoom);
  if (wall) boxes.push(around(wall.x, wall.y, 13), { x: wall.slotX - 4, y: wall.y - 12, width: 70, height: 24 });
  for (const [x, y] of magnetPlaces(data, frame)) boxes.push(around(x, y, 12));
  const field = magnetField(data, frame, zoom);
  if (field) boxes.push({ x: field.x - 32, y: field.y - 12, width: 64, height: 24 });
  return boxes;
}

/** The plan in words. */
export function planDescription(data: HoldPlanData | null): string {
  if (!data) return 'Plan of what holds the device: not computed yet.';
  const parts = ['Plan of what holds the device'];
  if (data.playMm)
    parts.push(
      `the recess lets its centre go ${withUnit(data.playMm.halfXMm, 'mm')} along x and ${withUnit(data.playMm.halfYMm, 'mm')} along y`,
    );
  if (data.magnets) parts.push(`${data.magnets.positionsMm.length} pairs of magnets`);
  if (data.placements) {
    const works = data.placements.works.reduce((sum, one) => sum + one, 0);
    parts.push(`${works} of ${data.placements.works.length} casual placements drawn work`);
  }
  return `${parts.join('; ')}.`;
}
