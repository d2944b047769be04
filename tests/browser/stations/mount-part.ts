import '../../../src/main.css';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { Session } from '../../../src/state/session.ts';
import { createFakeEngine, type FakeEngine } from '../../support/fake-engine.ts';
import { memoryKeeper, memoryLocal } from '../../support/memory-keeper.ts';

/** A part of a station on an empty page, with a session of its own over the invented engine. */
export interface MountedPart<K extends keyof HTMLElementTagNameMap> {
  readonly element: HTMLElementTagNameMap[K];
  readonly session: Session;
  readonly engine: FakeEngine;
  unmount(): void;
}

export async function mountPart<K extends 'oc-rivals' | 'oc-rivals-trace' | 'oc-lessons'>(
  tag: K,
): Promise<MountedPart<K>> {
  const engine = createFakeEngine();
  const session = new Session({
    start: DEMO_DESIGN,
    engine,
    autosave: {
      keeper: memoryKeeper(),
      local: memoryLocal(),
    },
  });
  const main = document.createElement('main');
  const heading = document.createElement('h1');
  heading.textContent = 'A part of a station';
  const element = document.createElement(tag);
  (element as unknown as { session: Session }).session = session;
  main.append(heading, element);
  document.body.append(main);
  await settled();
  return {
    element,
    session,
    engine,
    unmount() {
      main.remove();
      session.close();
    },
  };
}

/** Some turns of the event loop and of rendering. */
export async function settled(): Promise<void> {
  for (let i = 0; i < 4; i++) await new Promise((resolve) => setTimeout(resolve, 15));
}
