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

/** A press that moved no further than this is a touch, px: it changes nothing, whatever marks the value would go to. */
const STILL = 1;

/** The gesture that goes on: there is one at a time, since two would undo each other's steps. */
let following: { readonly target: Element; readonly leave: () => void } | null = null;

/**
 * Follows one pointer from `down` until it is released, wherever it goes; Escape takes the change back, and a press that did
 * not move ends as one taken back. Where what was pressed leaves the page, the change stands as it was then. Another
 * finger's press meanwhile is nothing.
 */
export function followPointer(down: PointerEvent, handlers: DragHandlers): void {
  if (down.button !== 0) return;
  if (following?.target.isConnected) return;
  following?.leave();
  const target = down.currentTarget as Element;
  const place = (event: PointerEvent): [number, number] => {
    const box = handlers.origin.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  };
  const first = place(down);
  let last = down;
  let lastPlace = first;
  let moved = false;
  const listening = new AbortController();
  const stop = (): void => {
    listening.abort();
    following = null;
  };
  const cancel = (event: PointerEvent | KeyboardEvent): void => {
    stop();
    handlers.moved(...first, 'cancel', event);
  };
  const leave = (): void => {
    stop();
    if (moved) handlers.moved(...lastPlace, 'end', last);
    else handlers.moved(...first, 'cancel', down);
  };
  const listen = (on: EventTarget, names: readonly string[], heard: (event: PointerEvent) => void): void => {
    for (const name of names)
      on.addEventListener(
        name,
        (event) => {
          if ((event as PointerEvent).pointerId !== down.pointerId) return;
          if (target.isConnected) heard(event as PointerEvent);
          else leave();
        },
        { capture: true, signal: listening.signal },
      );
  };
  down.preventDefault();
  try {
    target.setPointerCapture(down.pointerId);
  } catch {
    // A synthetic pointer cannot be captured.
  }
  if (target instanceof SVGElement || target instanceof HTMLElement) target.focus({ preventScroll: true });
  following = { target, leave };
  listen(window, ['pointermove'], (event) => {
    moved ||= Math.hypot(event.clientX - down.clientX, event.clientY - down.clientY) > STILL;
    if (!moved) return;
    last = event;
    lastPlace = place(event);
    handlers.moved(...lastPlace, 'move', event);
  });
  listen(window, ['pointerup'], (event) => {
    if (!moved) cancel(event);
    else {
      stop();
      handlers.moved(...place(event), 'end', event);
    }
  });
  // The capture of what left the page is lost on the document, else on the element itself.
  listen(window, ['pointercancel', 'lostpointercapture'], cancel);
  window.addEventListener(
    'keydown',
    (event) => {
      if (event.key !== 'Escape') return;
      event.preventDefault();
      event.stopPropagation();
      cancel(event);
      if (target.hasPointerCapture?.(down.pointerId)) target.releasePointerCapture(down.pointerId);
    },
    { capture: true, signal: listening.signal },
  );
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
