import { arrowStep, type DragPhase, followPointer, rounded } from './drag.ts';
import type { MapFrame } from './map-frame.ts';
import type { PlanPose } from './plan-pose.ts';

export interface ReceiverMovedDetail {
  readonly xMm: number;
  readonly yMm: number;
  readonly phase: DragPhase;
}

export interface ReceiverTurnedDetail {
  readonly yawDeg: number;
  readonly phase: DragPhase;
}

/** What moving the receiver takes from the map, and tells it. */
export interface MapGrip {
  readonly origin: () => Element;
  /** As it is now: it may change during a drag. */
  readonly frame: () => MapFrame;
  readonly pose: () => PlanPose;
  /** Before each move: whether more are to come. */
  readonly dragging: (goesOn: boolean) => void;
  readonly moved: (detail: ReceiverMovedDetail) => void;
  readonly turned: (detail: ReceiverTurnedDetail) => void;
}

/** Pull to the axes, px, while dragging without Shift. */
const SNAP = 6;

/** An angle from -180 to 180 degrees. */
function halfTurn(deg: number): number {
  return (((deg % 360) + 540) % 360) - 180;
}

const goesOn = (phase: DragPhase): boolean => phase === 'start' || phase === 'move';

/** Drags the ring that stands for the receiver's centre. */
export function dragRing(event: PointerEvent, grip: MapGrip): void {
  const from = grip.pose();
  let grab = { dx: 0, dy: 0 };
  followPointer(event, {
    origin: grip.origin(),
    moved: (x, y, phase, source) => {
      const frame = grip.frame();
      grip.dragging(goesOn(phase));
      if (phase === 'start') grab = { dx: frame.x(from.xMm) - x, dy: frame.y(from.yMm) - y };
      if (phase === 'start' || phase === 'cancel') {
        grip.moved({ xMm: from.xMm, yMm: from.yMm, phase });
        return;
      }
      const [xMm, yMm] = frame.toMm(x + grab.dx, y + grab.dy);
      const snap = source.shiftKey ? 0 : SNAP / frame.pxPerMm;
      const near = (value: number): number =>
        Math.abs(value) < snap ? 0 : rounded(value, source.shiftKey ? 0.01 : 0.1);
      grip.moved({ xMm: near(xMm), yMm: near(yMm), phase });
    },
  });
}

export function stepRing(event: KeyboardEvent, grip: MapGrip): void {
  const { xMm, yMm } = grip.pose();
  const step = event.key === 'Home' ? [-xMm, -yMm] : arrowStep(event, 0.5, 0.1, 5);
  if (!step) return;
  event.preventDefault();
  grip.moved({ xMm: rounded(xMm + step[0], 0.01), yMm: rounded(yMm + step[1], 0.01), phase: 'step' });
}

/** Drags the knob that turns the receiver about its own axis. */
export function dragTurn(event: PointerEvent, grip: MapGrip): void {
  const { xMm, yMm, yawDeg: from } = grip.pose();
  const direction = (x: number, y: number): number => {
    const frame = grip.frame();
    return (Math.atan2(frame.y(yMm) - y, x - frame.x(xMm)) * 180) / Math.PI;
  };
  let grab = 0;
  followPointer(event, {
    origin: grip.origin(),
    moved: (x, y, phase, source) => {
      grip.dragging(goesOn(phase));
      if (phase === 'start') grab = direction(x, y);
      const still = phase === 'start' || phase === 'cancel';
      const turned = halfTurn(from + direction(x, y) - grab);
      grip.turned({ yawDeg: still ? from : rounded(turned, source.shiftKey ? 0.1 : 1), phase });
    },
  });
}

export function stepTurn(event: KeyboardEvent, grip: MapGrip): void {
  const { yawDeg } = grip.pose();
  const step = event.key === 'Home' ? [0, -yawDeg] : arrowStep(event, 1, 0.1, 15);
  if (!step) return;
  event.preventDefault();
  grip.turned({ yawDeg: rounded(halfTurn(yawDeg + step[0] + step[1]), 0.1), phase: 'step' });
}
