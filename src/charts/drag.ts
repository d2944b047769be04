/**
 * Where a change stands within one gesture. `start`, `move` and `end` come from a pointer, `cancel` from Escape or a lost
 * pointer (the value then is the one from before), `step` from a key.
 */
export type DragPhase = 'start' | 'move' | 'end' | 'cancel' | 'step';

export interface DragHandlers {
  /** Called for every pointer event of the gesture, with the position in px relative to `origin`. */
  readonly moved: (x: number, y: number, phase: DragPhase, event: PointerEvent | KeyboardEvent) => void;
  /** Element whose top left corner is the origin of positions. */
  readonly origin: Element;
}

/**
 * Follows one pointer from `down` until it is released. Listens on the pressed element with pointer capture, so that the
 * pointer may leave the drawing; Escape takes the change back.
 */
export function followPointer(down: PointerEvent, handlers: DragHandlers): void {
  if (down.button !== 0) return;
  const target = down.currentTarget as Element;
  const place = (event: PointerEvent): [number, number] => {
    const box = handlers.origin.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  };
  const first = place(down);
  let ended = false;
  const stop = (): void => {
    ended = true;
    target.removeEventListener('pointermove', onMove as EventListener);
    target.removeEventListener('pointerup', onUp as EventListener);
    target.removeEventListener('pointercancel', onCancel as EventListener);
    target.removeEventListener('lostpointercapture', onCancel as EventListener);
    window.removeEventListener('keydown', onKey, true);
  };
  const onMove = (event: PointerEvent): void => {
    if (event.pointerId !== down.pointerId) return;
    handlers.moved(...place(event), 'move', event);
  };
  const onUp = (event: PointerEvent): void => {
    if (event.pointerId !== down.pointerId || ended) return;
    stop();
    handlers.moved(...place(event), 'end', event);
  };
  const onCancel = (event: PointerEvent): void => {
    if (event.pointerId !== down.pointerId || ended) return;
    stop();
    handlers.moved(...first, 'cancel', event);
  };
  const onKey = (event: KeyboardEvent): void => {
    if (event.key !== 'Escape' || ended) return;
    event.preventDefault();
    event.stopPropagation();
    stop();
    target.releasePointerCapture?.(down.pointerId);
    handlers.moved(...first, 'cancel', event);
  };
  down.preventDefault();
  try {
    target.setPointerCapture(down.pointerId);
  } catch {
    // A synthetic pointer cannot be captured; the gesture then ends when it leaves the element.
  }
  if (target instanceof SVGElement || target instanceof HTMLElement) target.focus({ preventScroll: true });
  target.addEventListener('pointermove', onMove as EventListener);
  target.addEventListener('pointerup', onUp as EventListener);
  target.addEventListener('pointercancel', onCancel as EventListener);
  target.addEventListener('lostpointercapture', onCancel as EventListener);
  window.addEventListener('keydown', onKey, true);
  handlers.moved(...first, 'start', down);
}

/** Steps of the arrow keys: [along x, along y], y up; null for other keys. Shift is the fine step, Page keys the coarse. */
export function arrowStep(event: KeyboardEvent, step: number, fine: number, coarse: number): [number, number] | null {
  if (event.altKey || event.ctrlKey || event.metaKey) return null;
  const size = event.shiftKey ? fine : step;
  switch (event.key) {
    case 'ArrowLeft':
      return [-size, 0];
    case 'ArrowRight':
      return [size, 0];
    case 'ArrowUp':
      return [0, size];
    case 'ArrowDown':
      return [0, -size];
    case 'PageUp':
      return [0, coarse];
    case 'PageDown':
      return [0, -coarse];
    default:
      return null;
  }
}

/** `value` rounded to a multiple of `step`, without the digits a binary fraction adds. */
export function rounded(value: number, step: number): number {
  return Number((Math.round(value / step) * step).toFixed(6)) + 0;
}
