import type { CameraRig } from './camera-rig.ts';

export interface ViewHooks {
  /** The rig's goal changed. */
  moved(): void;
  /** A press that did not turn the view. */
  clicked(x: number, y: number): void;
  /** The pointer rests over the picture (client pixels), or left it. */
  hovered(at: { readonly x: number; readonly y: number } | null): void;
}

const DEGREE = Math.PI / 180;
/** Turn for a drag across the picture's height, rad. */
const TURN_PER_HEIGHT = Math.PI;
const KEY_TURN = 15 * DEGREE;
const KEY_PAN = 0.06;
const KEY_ZOOM = 1.2;
/** Movement below which a press is a click, CSS pixels. */
const CLICK_SLOP = 4;
/** Least time between two looks at what lies under the pointer, ms. */
const HOVER_PAUSE = 40;

interface Touching {
  x: number;
  y: number;
}

/**
 * Pointer, wheel and keyboard of the view itself. Left drag turns, right or Shift drag moves, two fingers move and zoom;
 * the wheel zooms while the view has the focus (or with Ctrl), so that a page still scrolls under a passing pointer.
 */
export class ViewInput {
  readonly #canvas: HTMLCanvasElement;
  readonly #rig: CameraRig;
  readonly #hooks: ViewHooks;
  readonly #pointers = new Map<number, Touching>();
  #travel = 0;
  #pan = false;
  #lastHover = 0;

  constructor(canvas: HTMLCanvasElement, rig: CameraRig, hooks: ViewHooks) {
    this.#canvas = canvas;
    this.#rig = rig;
    this.#hooks = hooks;
  }

  enable(): void {
    const c = this.#canvas;
    c.addEventListener('pointerdown', this.#onDown);
    c.addEventListener('pointermove', this.#onMove);
    c.addEventListener('pointerup', this.#onUp);
    c.addEventListener('pointercancel', this.#onUp);
    c.addEventListener('pointerleave', this.#onLeave);
    c.addEventListener('wheel', this.#onWheel, { passive: false });
    c.addEventListener('keydown', this.#onKey);
    c.addEventListener('contextmenu', this.#onMenu);
  }

  disable(): void {
    const c = this.#canvas;
    c.removeEventListener('pointerdown', this.#onDown);
    c.removeEventListener('pointermove', this.#onMove);
    c.removeEventListener('pointerup', this.#onUp);
    c.removeEventListener('pointercancel', this.#onUp);
    c.removeEventListener('pointerleave', this.#onLeave);
    c.removeEventListener('wheel', this.#onWheel);
    c.removeEventListener('keydown', this.#onKey);
    c.removeEventListener('contextmenu', this.#onMenu);
  }

  readonly #onDown = (event: PointerEvent): void => {
    this.#canvas.setPointerCapture(event.pointerId);
    this.#pointers.set(event.pointerId, { x: event.clientX, y: event.clientY });
    if (this.#pointers.size === 1) {
      this.#travel = 0;
      this.#pan = event.button !== 0 || event.shiftKey;
    }
    this.#canvas.classList.add('turning');
  };

  readonly #onMove = (event: PointerEvent): void => {
    const known = this.#pointers.get(event.pointerId);
    if (known === undefined) {
      this.#hover(event);
      return;
    }
    const dx = event.clientX - known.x;
    const dy = event.clientY - known.y;
    const height = this.#canvas.clientHeight || 1;
    if (this.#pointers.size === 1) {
      this.#travel += Math.hypot(dx, dy);
      if (this.#travel >= CLICK_SLOP) {
        if (this.#pan) this.#rig.pan(-dx / height, dy / height);
        else this.#rig.orbit((-dx / height) * TURN_PER_HEIGHT, (dy / height) * TURN_PER_HEIGHT);
        this.#hooks.moved();
      }
    } else if (this.#pointers.size === 2) {
      const other = [...this.#pointers].find(([id]) => id !== event.pointerId)![1];
      const before = Math.hypot(known.x - other.x, known.y - other.y);
      const after = Math.hypot(event.clientX - other.x, event.clientY - other.y);
      if (before > 0 && after > 0) this.#rig.zoom(after / before);
      this.#rig.pan(-dx / 2 / height, dy / 2 / height);
      this.#travel = CLICK_SLOP;
      this.#hooks.moved();
    }
    known.x = event.clientX;
    known.y = event.clientY;
  };

  readonly #onUp = (event: PointerEvent): void => {
    const known = this.#pointers.delete(event.pointerId);
    if (this.#pointers.size > 0) return;
    this.#canvas.classList.remove('turning');
    if (known && event.type === 'pointerup' && event.button === 0 && this.#travel < CLICK_SLOP)
      this.#hooks.clicked(event.clientX, event.clientY);
  };

  readonly #onLeave = (): void => {
    if (this.#pointers.size === 0) this.#hooks.hovered(null);
  };

  #hover(event: PointerEvent): void {
    if (event.timeStamp - this.#lastHover < HOVER_PAUSE) return;
    this.#lastHover = event.timeStamp;
    this.#hooks.hovered({ x: event.clientX, y: event.clientY });
  }

  readonly #onWheel = (event: WheelEvent): void => {
    const root = this.#canvas.getRootNode() as ShadowRoot | Document;
    if (!event.ctrlKey && root.activeElement === null) return;
    event.preventDefault();
    const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : 1;
    this.#rig.zoom(Math.exp(-event.deltaY * lines * (event.ctrlKey ? 0.01 : 0.0015)));
    this.#hooks.moved();
  };

  readonly #onKey = (event: KeyboardEvent): void => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    if (!this.#key(event.key, event.shiftKey)) return;
    event.preventDefault();
    this.#hooks.moved();
  };

  #key(key: string, shift: boolean): boolean {
    const rig = this.#rig;
    switch (key) {
      case 'ArrowLeft':
      case 'ArrowRight': {
        const sign = key === 'ArrowRight' ? 1 : -1;
        if (shift) rig.pan(sign * KEY_PAN, 0);
        else rig.orbit(sign * KEY_TURN, 0);
        return true;
      }
      case 'ArrowUp':
      case 'ArrowDown': {
        const sign = key === 'ArrowUp' ? 1 : -1;
        if (shift) rig.pan(0, sign * KEY_PAN);
        else rig.orbit(0, sign * KEY_TURN);
        return true;
      }
      case '+':
      case '=':
        rig.zoom(KEY_ZOOM);
        return true;
      case '-':
      case '_':
        rig.zoom(1 / KEY_ZOOM);
        return true;
      case '0':
      case 'Home':
        rig.preset('reset');
        return true;
      case 't':
      case 'T':
        rig.preset('top');
        return true;
      case 's':
      case 'S':
        rig.preset('side');
        return true;
      default:
        return false;
    }
  }

  readonly #onMenu = (event: Event): void => event.preventDefault();
}
