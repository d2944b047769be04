import { moved, sameValue, settle, stepped } from './handles/change.ts';
import { type DragRule, dragCoordinate, type Ray } from './handles/drag-rule.ts';
import type { HandleId, HandleValue, LinkSceneData, LinkSceneEvents } from './types.ts';

export interface HandleHooks {
  /** Present value and rule of a handle; null where it is not on offer. */
  look(id: HandleId): { readonly value: HandleValue; readonly rule: DragRule } | null;
  /** Line of sight through a point of the page, in the rules' frame. */
  ray(clientX: number, clientY: number): Ray;
  limits(): LinkSceneData['limits'];
  tell<K extends 'grab' | 'drag' | 'release'>(name: K, detail: LinkSceneEvents[K]): void;
  /** A handle came under the pointer, got the focus or was let go. */
  attend(id: HandleId | null): void;
}

interface Hold {
  readonly id: HandleId;
  readonly start: HandleValue;
  readonly pointer: number | null;
  readonly rule: DragRule;
  readonly from: readonly [number, number];
  last: HandleValue;
  lastX: number;
  lastY: number;
}

/** Grabbing, dragging and stepping of handles, by pointer and by keyboard. */
export class HandleInput {
  readonly #hooks: HandleHooks;
  #hold: Hold | null = null;

  constructor(hooks: HandleHooks) {
    this.#hooks = hooks;
  }

  get held(): HandleId | null {
    return this.#hold?.id ?? null;
  }

  /** Adds the listeners of one handle's element; they go with the element. */
  attach(id: HandleId, element: HTMLElement): void {
    element.addEventListener('pointerdown', (event) => this.#onDown(id, element, event));
    element.addEventListener('pointermove', (event) => this.#onMove(event));
    element.addEventListener('pointerup', (event) => this.#onUp(event));
    element.addEventListener('pointercancel', (event) => this.#onUp(event));
    element.addEventListener('pointerenter', () => this.#hooks.attend(id));
    element.addEventListener('pointerleave', () => this.#hooks.attend(null));
    element.addEventListener('focus', () => this.#hooks.attend(id));
    element.addEventListener('blur', () => {
      if (this.#hold?.pointer === null) this.#end(false);
      this.#hooks.attend(null);
    });
    element.addEventListener('keydown', (event) => this.#onKey(id, event));
    element.addEventListener('keyup', (event) => {
      if (this.#hold?.pointer !== null) this.#again(event);
      else if (event.key !== 'Shift') this.#end(false);
    });
  }

  /** Lets go without a word: the handle's element is gone. */
  drop(): void {
    if (this.#hold !== null) this.#end(false);
  }

  #onDown(id: HandleId, element: HTMLElement, event: PointerEvent): void {
    if (event.button !== 0 || this.#hold !== null) return;
    const now = this.#hooks.look(id);
    if (now === null) return;
    const from = dragCoordinate(now.rule, this.#hooks.ray(event.clientX, event.clientY));
    if (from === null) return;
    element.setPointerCapture(event.pointerId);
    element.focus({ preventScroll: true });
    event.preventDefault();
    const { value: start, rule } = now;
    this.#hold = {
      id,
      start,
      rule,
      from,
      pointer: event.pointerId,
      last: start,
      lastX: event.clientX,
      lastY: event.clientY,
    };
    this.#hooks.tell('grab', { handle: id });
    this.#hooks.attend(id);
  }

  #onMove(event: PointerEvent): void {
    const hold = this.#hold;
    if (hold === null || hold.pointer !== event.pointerId) return;
    hold.lastX = event.clientX;
    hold.lastY = event.clientY;
    this.#follow(hold, event.shiftKey || event.altKey);
  }

  /** Shift or Alt pressed or let go without moving: the value goes on or off its mark at once. */
  #again(event: KeyboardEvent): void {
    const hold = this.#hold;
    if (hold !== null && (event.key === 'Shift' || event.key === 'Alt'))
      this.#follow(hold, event.shiftKey || event.altKey);
  }

  #follow(hold: Hold, free: boolean): void {
    const to = dragCoordinate(hold.rule, this.#hooks.ray(hold.lastX, hold.lastY));
    if (to === null) return;
    // Until the pointer has really moved the value stays what it was, on a mark or not.
    if (sameValue(hold.last, hold.start) && to[0] === hold.from[0] && to[1] === hold.from[1]) return;
    this.#change(hold, settle(moved(hold.start, hold.from, to), free, this.#hooks.limits()), !free, 'pointer');
  }

  #change(hold: Hold, value: HandleValue, snapped: boolean, by: 'pointer' | 'keyboard'): void {
    if (sameValue(value, hold.last)) return;
    hold.last = value;
    this.#hooks.tell('drag', { change: value, snapped, by });
  }

  #onUp(event: PointerEvent): void {
    if (this.#hold?.pointer === event.pointerId) this.#end(false);
  }

  #onKey(id: HandleId, event: KeyboardEvent): void {
    const hold = this.#hold;
    if (hold !== null && hold.pointer !== null) {
      if (event.key === 'Escape') {
        event.preventDefault();
        event.stopPropagation();
        this.#change(hold, hold.start, true, 'keyboard');
        this.#end(true);
      } else this.#again(event);
      return;
    }
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const now = this.#hooks.look(id);
    const value = now === null ? null : stepped(now.value, event, this.#hooks.limits());
    if (now === null || value === null) return;
    event.preventDefault();
    let keyed = hold;
    if (keyed === null) {
      keyed = {
        id,
        start: now.value,
        rule: now.rule,
        from: [0, 0],
        pointer: null,
        last: now.value,
        lastX: 0,
        lastY: 0,
      };
      this.#hold = keyed;
      this.#hooks.tell('grab', { handle: id });
    }
    this.#change(keyed, value, !event.shiftKey, 'keyboard');
  }

  #end(cancelled: boolean): void {
    const hold = this.#hold;
    if (hold === null) return;
    this.#hold = null;
    this.#hooks.tell('release', { handle: hold.id, cancelled });
    this.#hooks.attend(hold.id);
  }
}
