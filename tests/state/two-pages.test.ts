import { expect, test, vi } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { Autosave } from '../../src/state/autosave.ts';
import { moveReceiver } from '../../src/state/commands/move-receiver.ts';
import { type KeptSession, readKept } from '../../src/state/kept-session.ts';
import { DesignStore } from '../../src/state/store.ts';
import { type MemoryKeeper, type MemoryLocal, memoryKeeper, memoryLocal } from '../support/memory-keeper.ts';

interface Page {
  readonly store: DesignStore;
  readonly autosave: Autosave;
  /** Moves the receiver and saves. */
  work(xMm: number): Promise<void>;
  x(): number;
}

interface Browser {
  readonly keeper: MemoryKeeper;
  readonly local: MemoryLocal;
  open(): Promise<Page>;
}

function browser(): Browser {
  const keeper = memoryKeeper();
  const local = memoryLocal();
  return {
    keeper,
    local,
    async open() {
      const store = new DesignStore(DEMO_DESIGN);
      const autosave = new Autosave(store, { keeper, local });
      await autosave.restore();
      return {
        store,
        autosave,
        work: async (xMm) => {
          store.run(moveReceiver, { xMm, yMm: 0 });
          await autosave.save();
        },
        x: () => store.design.value.placement.offsetXMm,
      };
    },
  };
}

function readSession(text: string | undefined): KeptSession {
  const found = readKept(text ?? null);
  if (found.kind !== 'session') throw new Error(found.kind);
  return found.session;
}

test('one page after the other needs no question', async () => {
  const files = browser();
  const first = await files.open();
  await first.work(1);
  const second = await files.open();
  expect(second.x()).toBe(1);
  await second.work(2);
  await second.work(3);
  expect(second.autosave.rival.value).toBeNull();
  expect((await files.open()).x()).toBe(3);
});

test('a page does not write over what another has saved meanwhile, and both are kept', async () => {
  const files = browser();
  const first = await files.open();
  await first.work(1);
  const second = await files.open();
  await second.work(2);
  // The first page knows nothing of it yet.
  await first.work(5);
  expect(first.autosave.rival.value?.document.placement?.offsetXMm).toBe(2);
  expect(first.autosave.state.value.kind).toBe('saved');
  expect(second.autosave.rival.value).toBeNull();
  // Both go on; each keeps its own.
  await second.work(3);
  await first.work(6);
  const next = await files.open();
  expect(next.x()).toBe(3);
  const [kept] = next.autosave.apart.found.value;
  expect(next.autosave.apart.found.value).toHaveLength(1);
  expect(kept?.why).toBe('page');
  expect(kept?.session?.document.placement?.offsetXMm).toBe(6);
});

test('keeping this one leaves the other to be had on the next visit', async () => {
  const files = browser();
  const first = await files.open();
  await first.work(1);
  const second = await files.open();
  await second.work(2);
  await first.work(5);
  await first.autosave.keepOwn();
  expect(first.autosave.rival.value).toBeNull();
  await first.work(7);
  const next = await files.open();
  expect(next.x()).toBe(7);
  expect(next.autosave.apart.found.value.map(({ session }) => session?.document.placement?.offsetXMm)).toEqual([2]);
  const [other] = next.autosave.apart.found.value;
  await next.autosave.open(other!);
  expect(next.x()).toBe(2);
  expect(next.autosave.apart.found.value).toEqual([]);
  next.store.undo();
  expect(next.x()).toBe(7);
  // And now the second page is the one that has not seen it.
  await second.work(9);
  expect(second.autosave.rival.value).not.toBeNull();
});

test('taking the other one is a step that undo takes back, and this one is kept as well', async () => {
  const files = browser();
  const first = await files.open();
  await first.work(1);
  const second = await files.open();
  await second.work(2);
  await first.work(5);
  // The other page went on before the answer came.
  await second.work(4);
  await first.autosave.takeRival();
  expect(first.x()).toBe(4);
  expect(first.autosave.rival.value).toBeNull();
  await first.work(8);
  expect(first.autosave.rival.value).toBeNull();
  first.store.undo();
  first.store.undo();
  expect(first.x()).toBe(5);
  const next = await files.open();
  expect(next.x()).toBe(8);
  expect(next.autosave.apart.found.value.map(({ session }) => session?.document.placement?.offsetXMm)).toEqual([5]);
});

test('what was kept apart is not offered where it is what is shown, as when a page was closed while it tidied up', async () => {
  const files = browser();
  const first = await files.open();
  await first.work(1);
  await first.autosave.apart.putSession('page', readSession(files.keeper.texts.get('session')));
  expect((await files.open()).autosave.apart.found.value).toEqual([]);
  await first.work(2);
  expect((await files.open()).autosave.apart.found.value).toHaveLength(1);
});

test('two pages that come to the same need no question', async () => {
  const files = browser();
  const first = await files.open();
  await first.work(1);
  const second = await files.open();
  await second.work(2);
  await first.work(2);
  expect(first.autosave.rival.value).toBeNull();
});

test('a page that was closed before its last change reached the database, while another saved: both are kept', async () => {
  const files = browser();
  const first = await files.open();
  await first.work(1);
  const second = await files.open();
  const third = await files.open();
  await second.work(2);
  // What the third page had written on closing.
  third.store.run(moveReceiver, { xMm: 9, yMm: 0 });
  const broken = { ...files.keeper, exchange: () => Promise.reject(new Error('closing')) };
  const closing = new Autosave(third.store, { keeper: broken, local: files.local });
  await closing.save();
  expect(files.local.texts.size).toBe(1);
  const next = await files.open();
  expect(next.x()).toBe(2);
  expect(next.autosave.apart.found.value.map(({ session }) => session?.document.placement?.offsetXMm)).toEqual([9]);
  expect(files.local.texts.size).toBe(0);
});

test('what was there before something from outside is kept apart once that is changed, and not before', async () => {
  const files = browser();
  const first = await files.open();
  await first.work(1);
  const second = await files.open();
  second.autosave.setAside();
  second.store.take({ document: DEMO_DESIGN, drafts: {} }, 'Open the link');
  // Looked at only: the next visit shows what there was.
  expect((await files.open()).x()).toBe(1);
  await second.work(3);
  const next = await files.open();
  expect(next.x()).toBe(3);
  expect(next.autosave.apart.found.value).toMatchObject([{ why: 'link' }]);
  await next.autosave.open(next.autosave.apart.found.value[0]!);
  expect(next.x()).toBe(1);
});

test('and also where the page is closed before that was saved', async () => {
  const files = browser();
  await (await files.open()).work(1);
  const target = new EventTarget();
  vi.stubGlobal('addEventListener', target.addEventListener.bind(target));
  vi.stubGlobal('removeEventListener', target.removeEventListener.bind(target));
  try {
    const second = await files.open();
    const stop = second.autosave.start();
    second.autosave.setAside();
    second.store.run(moveReceiver, { xMm: 7, yMm: 0 });
    target.dispatchEvent(new Event('pagehide'));
    stop();
  } finally {
    vi.unstubAllGlobals();
  }
  const next = await files.open();
  expect(next.x()).toBe(7);
  expect(next.autosave.apart.found.value.map(({ session }) => session?.document.placement?.offsetXMm)).toEqual([1]);
});

test('of twenty-five that were never answered the twenty newest stay', async () => {
  const files = browser();
  for (let i = 0; i < 25; i++) {
    const page = await files.open();
    page.autosave.setAside();
    await page.work(i + 1);
  }
  const next = await files.open();
  const kept = next.autosave.apart.found.value.map(({ session }) => session?.document.placement?.offsetXMm);
  // The last design is on the table; what the first page found was the example.
  expect(kept).toEqual(Array.from({ length: 20 }, (_, i) => 24 - i));
  await next.autosave.apart.remove(next.autosave.apart.found.value[0]!);
  expect((await files.open()).autosave.apart.found.value).toHaveLength(19);
});
