import axe from 'axe-core';
import { expect } from 'vitest';
import { cdp } from 'vitest/browser';
import pageStyle from '../../../../src/main.css?inline';

/** Real pointer events through the browser's own input, at client coordinates of the test page. */

interface Point {
  readonly x: number;
  readonly y: number;
}
interface Pressed {
  readonly shift?: boolean;
  readonly alt?: boolean;
  readonly button?: 'left' | 'right' | 'middle';
}

type Send = (method: string, params: Readonly<Record<string, unknown>>) => Promise<unknown>;

const BUTTONS = { left: 1, right: 2, middle: 4 } as const;
const modifiers = (p: Pressed): number => (p.alt ? 1 : 0) + (p.shift ? 8 : 0);

async function mouse(type: string, at: Point, pressed: Pressed, down: boolean): Promise<void> {
  const frame = window.frameElement?.getBoundingClientRect() ?? { left: 0, top: 0 };
  const button = pressed.button ?? 'left';
  const session = cdp() as unknown as { send: Send };
  await session.send('Input.dispatchMouseEvent', {
    type,
    x: frame.left + at.x,
    y: frame.top + at.y,
    button: type === 'mouseMoved' && !down ? 'none' : button,
    buttons: down ? BUTTONS[button] : 0,
    clickCount: type === 'mouseMoved' ? 0 : 1,
    modifiers: modifiers(pressed),
  });
}

export const moveTo = (at: Point, pressed: Pressed = {}): Promise<void> => mouse('mouseMoved', at, pressed, false);
export const press = (at: Point, pressed: Pressed = {}): Promise<void> => mouse('mousePressed', at, pressed, true);
export const pull = (at: Point, pressed: Pressed = {}): Promise<void> => mouse('mouseMoved', at, pressed, true);
export const letGo = (at: Point, pressed: Pressed = {}): Promise<void> => mouse('mouseReleased', at, pressed, false);

export async function click(at: Point, pressed: Pressed = {}): Promise<void> {
  await moveTo(at);
  await press(at, pressed);
  await letGo(at, pressed);
}

/** Press, move in steps, let go. */
export async function drag(from: Point, to: Point, pressed: Pressed = {}, steps = 6): Promise<void> {
  await moveTo(from);
  await press(from, pressed);
  for (let i = 1; i <= steps; i++)
    await pull({ x: from.x + ((to.x - from.x) * i) / steps, y: from.y + ((to.y - from.y) * i) / steps }, pressed);
  await letGo(to, pressed);
}

export async function wheel(at: Point, deltaY: number, ctrl = false): Promise<void> {
  const session = cdp() as unknown as { send: Send };
  await session.send('Input.dispatchMouseEvent', {
    type: 'mouseWheel',
    x: at.x,
    y: at.y,
    deltaX: 0,
    deltaY,
    modifiers: ctrl ? 2 : 0,
  });
}

/** The middle of an element, client pixels. */
export function middle(element: Element): Point {
  const box = element.getBoundingClientRect();
  return { x: box.left + box.width / 2, y: box.top + box.height / 2 };
}

/** The page's own tokens and fonts, in one theme, on an empty page with a heading and a language. */
export function dress(theme: 'light' | 'dark'): void {
  document.documentElement.lang = 'en';
  document.documentElement.dataset.theme = theme;
  document.title = 'Test';
  document.body.innerHTML = '';
  document.body.style.cssText = 'margin:0;background:var(--paper);color:var(--ink);font-family:var(--font-text)';
  if (document.querySelector('style[data-page]') === null) {
    const style = document.createElement('style');
    style.dataset.page = '';
    style.textContent = pageStyle;
    document.head.append(style);
  }
}

/** Fails with what axe has found. Page-level rules that a bare test page cannot meet are left to the page's own tests. */
export async function expectAccessible(context: Element): Promise<void> {
  const { violations } = await axe.run(context, {
    rules: {
      region: { enabled: false },
      'page-has-heading-one': { enabled: false },
      'landmark-one-main': { enabled: false },
    },
  });
  expect(violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.html).join(' | ')}`)).toEqual([]);
}

/** Until something holds, or fails after a while. */
export async function until(what: () => boolean, ms = 5000): Promise<void> {
  const end = performance.now() + ms;
  while (!what()) {
    if (performance.now() > end) throw new Error(`did not happen within ${ms} ms: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
}

/** Collects console warnings and errors; an unexpected one fails the test. */
export function listenToConsole(): { readonly said: string[]; stop(): void } {
  const said: string[] = [];
  const { warn, error } = console;
  console.warn = (...args: unknown[]) => {
    said.push(args.map(String).join(' '));
  };
  console.error = (...args: unknown[]) => {
    said.push(args.map(String).join(' '));
  };
  return {
    said,
    stop() {
      console.warn = warn;
      console.error = error;
    },
  };
}
