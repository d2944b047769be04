import { arrowStep, type DragPhase, followPointer, rounded } from './drag.ts';
import type { HoldPlanData } from './hold-plan-frame.ts';
import { clearanceOf } from './hold-plan-places.ts';

export interface ClearanceMovedDetail {
  readonly clearanceMm: number;
  readonly phase: DragPhase;
}

export interface MagnetMovedDetail {
  readonly index: number;
  readonly xMm: number;
  readonly yMm: number;
  readonly phase: DragPhase;
}

/** What moving the wall or a magnet takes from the plan, and tells it. */
export interface PlanGrip {
  readonly origin: () => Element;
  readonly pxPerMm: () => number;
  readonly clearance: (detail: ClearanceMovedDetail) => void;
  readonly magnet: (detail: MagnetMovedDetail) => void;
}

/**
 * Follows the pointer from where it was pressed: offsets in mm on the screen, still at the start and after a cancel. Measured on
 * the screen, because what stands above the plan may change its height meanwhile.
 */
function follow(
  event: PointerEvent,
  grip: PlanGrip,
  moved: (rightMm: number, upMm: number, phase: DragPhase, fine: boolean, still: boolean) => void,
): void {
  let from: readonly [number, number] = [0, 0];
  followPointer(event, {
    origin: grip.origin(),
    moved: (_x, _y, phase, source) => {
      const [x, y] = source instanceof PointerEvent ? [source.clientX, source.clientY] : from;
      if (phase === 'start') from = [x, y];
      const still = phase === 'start' || phase === 'cancel';
      moved((x - from[0]) / grip.pxPerMm(), (from[1] - y) / grip.pxPerMm(), phase, source.shiftKey, still);
    },
  });
}

/** Drags the pocket's right wall. */
export function dragWall(event: PointerEvent, data: HoldPlanData, grip: PlanGrip): void {
  const from = clearanceOf(data);
  follow(event, grip, (right, _up, phase, fine, still) => {
    const clearanceMm = still ? from : Math.max(0, rounded(from + right, fine ? 0.01 : 0.05));
    grip.clearance({ clearanceMm, phase });
  });
}

export function stepWall(event: KeyboardEvent, data: HoldPlanData, grip: PlanGrip): void {
  const step = arrowStep(event, 0.05, 0.01, 0.5);
  if (!step) return;
  event.preventDefault();
  grip.clearance({ clearanceMm: Math.max(0, rounded(clearanceOf(data) + step[0] + step[1], 0.01)), phase: 'step' });
}

/** Drags a magnet; its place is in the device's own directions. */
export function dragMagnet(event: PointerEvent, index: number, data: HoldPlanData, grip: PlanGrip): void {
  const held = data.magnets?.positionsMm[index];
  if (!held) return;
  const yaw = (data.yawDeg * Math.PI) / 180;
  follow(event, grip, (right, up, phase, fine, still) => {
    const step = fine ? 0.1 : 0.5;
    const xMm = still ? held[0] : rounded(held[0] + right * Math.cos(yaw) + up * Math.sin(yaw), step);
    const yMm = still ? held[1] : rounded(held[1] - right * Math.sin(yaw) + up * Math.cos(yaw), step);
    grip.magnet({ index, xMm, yMm, phase });
  });
}

export function stepMagnet(event: KeyboardEvent, index: number, data: HoldPlanData, grip: PlanGrip): void {
  const step = arrowStep(event, 0.5, 0.1, 5);
  const held = data.magnets?.positionsMm[index];
  if (!step || !held) return;
  event.preventDefault();
  grip.magnet({
    index,
    xMm: rounded(held[0] + step[0], 0.1),
    yMm: rounded(held[1] + step[1], 0.1),
    phase: 'step',
  });
}
