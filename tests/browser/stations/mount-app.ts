import '../../../src/main.css';
import { expect, vi } from 'vitest';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import type { DesignDocument } from '../../../src/design/schema.ts';
import { Session } from '../../../src/state/session.ts';
import type { App } from '../../../src/stations/oc-app.ts';
import '../../../src/stations/oc-app.ts';
// What the page loads when somebody first types: here at once, so that no test waits for it.
import '../../../src/units/parse.ts';
import { createFakeEngine, type FakeEngine } from '../../support/fake-engine.ts';
import { memoryKeeper, memoryLocal } from '../../support/memory-keeper.ts';

export interface MountedApp {
  readonly app: App;
  readonly session: Session;
  readonly engine: FakeEngine;
  /** Element of the station on show. */
  readonly station: () => HTMLElement;
  readonly unmount: () => void;
}

export interface MountOptions {
  readonly station?: string;
  readonly start?: DesignDocument;
  readonly delayMs?: number;
}

/** The page with invented numbers, nothing kept between tests. */
export async function mountApp(options: MountOptions = {}): Promise<MountedApp> {
  const { station = 'place', start = DEMO_DESIGN, delayMs = 0 } = options;
  history.replaceState(null, '', `#${station}`);
  const engine = createFakeEngine({ delayMs });
  const session = new Session({
    start,
    engine,
    autosave: {
      keeper: memoryKeeper(),
      local: memoryLocal(),
    },
  });
  const app = document.createElement('oc-app');
  app.session = session;
  document.body.append(app);
  await session.open('');
  const found = (): HTMLElement | null => app.shadowRoot?.querySelector('main > *') ?? null;
  await vi.waitFor(() => expect(found()?.localName).toBe(`oc-${station}`), { timeout: 20_000 });
  return {
    app,
    session,
    engine,
    station: () => found() as HTMLElement,
    unmount: () => {
      session.close();
      app.remove();
    },
  };
}

/** First element that matches, looking through shadow roots. */
export function deep<T extends Element = HTMLElement>(root: ParentNode, selector: string): T {
  const [first] = deepAll<T>(root, selector);
  if (!first) throw new Error(`nothing matches ${selector}`);
  return first;
}

/** All elements that match, looking through shadow roots, in document order. */
export function deepAll<T extends Element = HTMLElement>(root: ParentNode, selector: string): T[] {
  const found: T[] = [];
  const walk = (node: ParentNode): void => {
    for (const element of node.querySelectorAll('*')) {
      if (element.matches(selector)) found.push(element as T);
      if (element.shadowRoot) walk(element.shadowRoot);
    }
  };
  if (root instanceof Element && root.shadowRoot) walk(root.shadowRoot);
  walk(root);
  return found;
}

/** The answer line as one sentence with plain spaces; empty before the first answer. */
export function answerText(root: ParentNode): string {
  const line = deepAll(root, 'oc-answer')[0]?.shadowRoot?.querySelector('h1') ?? deepAll(root, '.answer')[0];
  return (line?.textContent ?? '')
    .replace(/\u00a0/g, ' ')
    .replace(/\u2060/g, '')
    .trim();
}

/** Waits until the engine's answers of the station are there. */
export async function answered(mounted: MountedApp): Promise<void> {
  await vi.waitFor(
    () => {
      expect(mounted.session.answers.pose.value).not.toBeNull();
      expect(mounted.session.answers.busy.value).toBe(false);
      expect(answerText(mounted.app)).not.toMatch(/^$|^Working out/);
    },
    { timeout: 20_000 },
  );
  await settled(mounted.app);
}

/** Waits for pending renders, two frames deep. */
export async function settled(root: ParentNode): Promise<void> {
  void root;
  for (let i = 0; i < 3; i += 1) await new Promise((resolve) => requestAnimationFrame(resolve));
}

/** Presses, moves in steps and lets go, as a hand would, in px relative to where the pointer went down. */
export async function drag(
  target: Element,
  by: readonly [number, number],
  options: { readonly steps?: number; readonly release?: boolean } = {},
): Promise<void> {
  const { steps = 6, release = true } = options;
  const box = target.getBoundingClientRect();
  const x = box.left + box.width / 2;
  const y = box.top + box.height / 2;
  const send = (type: string, dx: number, dy: number): void => {
    target.dispatchEvent(
      new PointerEvent(type, {
        bubbles: true,
        composed: true,
        cancelable: true,
        pointerId: 1,
        pointerType: 'mouse',
        isPrimary: true,
        button: 0,
        buttons: type === 'pointerup' ? 0 : 1,
        clientX: x + dx,
        clientY: y + dy,
      }),
    );
  };
  send('pointerdown', 0, 0);
  for (let i = 1; i <= steps; i += 1) {
    send('pointermove', (by[0] * i) / steps, (by[1] * i) / steps);
    await new Promise((resolve) => requestAnimationFrame(resolve));
  }
  if (release) send('pointerup', by[0], by[1]);
  await settled(document);
}

/** Sends one key to an element. */
export async function press(target: Element, key: string, more: KeyboardEventInit = {}): Promise<void> {
  target.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, composed: true, cancelable: true, ...more }));
  target.dispatchEvent(new KeyboardEvent('keyup', { key, bubbles: true, composed: true, ...more }));
  await settled(document);
}

/** Types into a number field and commits it. */
export async function type(field: Element, text: string): Promise<void> {
  const input = field.shadowRoot?.querySelector('input');
  if (!input) throw new Error('no field');
  input.focus();
  input.value = text;
  input.dispatchEvent(new Event('input', { bubbles: true, composed: true }));
  await press(input, 'Enter');
}
