import { describe, expect, test, vi } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { Autosave } from '../../src/state/autosave.ts';
import { moveReceiver } from '../../src/state/commands/move-receiver.ts';
import { setCoil } from '../../src/state/commands/set-coil.ts';
import { DesignStore } from '../../src/state/store.ts';
import { failingKeeper, memoryKeeper, memoryLocal } from '../support/memory-keeper.ts';

test('a change is saved within a second and comes back on the next visit', async () => {
  vi.useFakeTimers();
  try {
    const place = memoryKeeper();
    const store = new DesignStore(DEMO_DESIGN);
    const autosave = new Autosave(store, { keeper: place, local: memoryLocal() });
    const stop = autosave.start();
    store.run(moveReceiver, { xMm: 3, yMm: 4 });
    store.setDraft('placement.gapMm', { text: '3.x', fault: null }, 'gap');
    expect(place.texts.size).toBe(0);
    await vi.advanceTimersByTimeAsync(1000);
    expect(autosave.state.value.kind).toBe('saved');
    stop();

    const next = new DesignStore(DEMO_DESIGN);
    expect(await new Autosave(next, { keeper: place, local: memoryLocal() }).restore()).toBeNull();
    expect(next.snapshot.value).toEqual(store.snapshot.value);
    expect(next.undoLabel.value).toBeNull();
  } finally {
    vi.useRealTimers();
  }
});

test('a design with a fault in it comes back with the fault, and the figures with the last good one', async () => {
  const place = memoryKeeper();
  const store = new DesignStore(DEMO_DESIGN);
  store.run(moveReceiver, { xMm: 7, yMm: 0 });
  store.run(setCoil, { side: 'transmitter', quantity: 'turns', value: -3 });
  await new Autosave(store, { keeper: place, local: memoryLocal() }).save();
  const next = new DesignStore(DEMO_DESIGN);
  await new Autosave(next, { keeper: place, local: memoryLocal() }).restore();
  expect(next.document.value.transmitter.coil.turns).toBe(-3);
  expect(next.faults.value[0].path).toBe('transmitter.coil.turns');
  expect(next.design.value.placement.offsetXMm).toBe(7);
});

test('of two copies of one page the newer one wins, whatever the clock says', async () => {
  const place = memoryKeeper();
  const rescue = memoryLocal();
  let broken = false;
  const breaking = {
    ...place,
    exchange: (...args: Parameters<typeof place.exchange>) =>
      broken ? Promise.reject(new Error('blocked')) : place.exchange(...args),
  };
  let clock = Date.parse('2026-11-28T12:00:00Z');
  const store = new DesignStore(DEMO_DESIGN);
  const autosave = new Autosave(store, { keeper: breaking, local: rescue, now: () => clock });
  store.run(moveReceiver, { xMm: 1, yMm: 0 });
  await autosave.save();
  // The clock is set back by an hour, and then the database breaks.
  clock -= 3_600_000;
  broken = true;
  store.run(moveReceiver, { xMm: 2, yMm: 0 });
  await autosave.save();
  expect(autosave.state.value.kind).toBe('saved');
  const next = new DesignStore(DEMO_DESIGN);
  const second = new Autosave(next, { keeper: place, local: rescue, now: () => clock });
  expect(await second.restore()).toBeNull();
  expect(next.design.value.placement.offsetXMm).toBe(2);
  // It is in the database now, and nothing else is left to be asked about.
  expect(rescue.texts.size).toBe(0);
  expect([...place.texts.keys()]).toEqual(['session']);
});

test('with the clock set forwards and back again, later work still wins and no time is shown that is to come', async () => {
  const place = memoryKeeper();
  let clock = 5_000_000_000_000;
  const save = async (xMm: number): Promise<Date | null> => {
    const store = new DesignStore(DEMO_DESIGN);
    const autosave = new Autosave(store, { keeper: place, local: memoryLocal(), now: () => clock });
    await autosave.restore();
    const state = autosave.state.value;
    store.run(moveReceiver, { xMm, yMm: 0 });
    await autosave.save();
    expect(autosave.rival.value).toBeNull();
    return state.kind === 'saved' ? state.at : null;
  };
  await save(1);
  clock = 1_000_000_000_000;
  expect((await save(2))?.getTime()).toBe(clock);
  await save(3);
  const last = new DesignStore(DEMO_DESIGN);
  await new Autosave(last, { keeper: place, local: memoryLocal(), now: () => clock }).restore();
  expect(last.design.value.placement.offsetXMm).toBe(3);
});

test('a change made while a save is under way is saved after it, and rescued if the page closes before', async () => {
  const place = memoryKeeper();
  const rescue = memoryLocal();
  let letGo: (() => void) | null = null;
  const slow = {
    ...place,
    exchange: async (...args: Parameters<typeof place.exchange>) => {
      await new Promise<void>((resolve) => {
        letGo = resolve;
      });
      return place.exchange(...args);
    },
  };
  const target = new EventTarget();
  vi.stubGlobal('addEventListener', target.addEventListener.bind(target));
  vi.stubGlobal('removeEventListener', target.removeEventListener.bind(target));
  try {
    const store = new DesignStore(DEMO_DESIGN);
    const autosave = new Autosave(store, { keeper: slow, local: rescue, delayMs: 1 });
    const stop = autosave.start();
    store.run(moveReceiver, { xMm: 1, yMm: 0 });
    await vi.waitFor(() => expect(letGo).not.toBeNull());
    store.run(moveReceiver, { xMm: 2, yMm: 0 });
    target.dispatchEvent(new Event('pagehide'));
    // The page is gone: the write that was under way never ended.
    stop();
    const next = new DesignStore(DEMO_DESIGN);
    await new Autosave(next, { keeper: place, local: rescue }).restore();
    expect(next.design.value.placement.offsetXMm).toBe(2);
  } finally {
    vi.unstubAllGlobals();
  }
});

test('where only local storage keeps anything, each visit goes on from the last and leaves one copy', async () => {
  const rescue = memoryLocal();
  const refused = failingKeeper(() => Promise.reject(new Error('blocked')));
  for (let visit = 1; visit <= 5; visit++) {
    const store = new DesignStore(DEMO_DESIGN);
    const autosave = new Autosave(store, { keeper: refused, local: rescue });
    expect(await autosave.restore()).toBeNull();
    expect(store.design.value.placement.offsetXMm).toBe(visit - 1);
    store.run(moveReceiver, { xMm: visit, yMm: 0 });
    await autosave.save();
    expect(autosave.state.value.kind).toBe('saved');
    expect(rescue.texts.size).toBe(1);
  }
});

describe('a database that is slow', () => {
  const kept = async () => {
    const place = memoryKeeper();
    const store = new DesignStore(DEMO_DESIGN);
    store.run(moveReceiver, { xMm: 6, yMm: 0 });
    await new Autosave(store, { keeper: place, local: memoryLocal() }).save();
    return place;
  };
  const begun = async () => {
    const place = await kept();
    let answer: () => void = () => undefined;
    const waiting = new Promise<void>((resolve) => {
      answer = resolve;
    });
    const slow = { ...place, read: (name: string) => waiting.then(() => place.read(name)) };
    const store = new DesignStore(DEMO_DESIGN);
    const autosave = new Autosave(store, { keeper: slow, local: memoryLocal(), patienceMs: 5 });
    expect(await autosave.restore()).toBeNull();
    expect(store.document.value).toBe(DEMO_DESIGN);
    return { place, store, autosave, answer };
  };

  test('is heard when it answers, where nothing was done meanwhile', async () => {
    const { store, autosave, answer } = await begun();
    answer();
    await vi.waitFor(() => expect(store.design.value.placement.offsetXMm).toBe(6));
    expect(autosave.state.value.kind).toBe('saved');
    expect(autosave.rival.value).toBeNull();
  });

  test('never makes one piece of work replace the other', async () => {
    const { place, store, autosave, answer } = await begun();
    store.run(moveReceiver, { xMm: 1, yMm: 0 });
    answer();
    await vi.waitFor(() => expect(autosave.rival.value?.document.placement?.offsetXMm).toBe(6));
    expect(store.design.value.placement.offsetXMm).toBe(1);
    await autosave.save();
    expect(JSON.parse(place.texts.get('session') ?? '').document.placement.offsetXMm).toBe(6);
    await autosave.keepOwn();
    expect(JSON.parse(place.texts.get('session') ?? '').document.placement.offsetXMm).toBe(1);
  });
});

describe('when the browser', () => {
  const refuse = (name: string) => Promise.reject(Object.assign(new Error('no'), { name }));
  const deny = (): never => {
    throw new Error('denied');
  };
  const denied = { list: deny, write: deny, remove: deny };

  test('keeps nothing at all, a sentence says so and the design stays', async () => {
    const store = new DesignStore(DEMO_DESIGN);
    const autosave = new Autosave(store, {
      keeper: failingKeeper(() => refuse('SecurityError')),
      local: denied,
    });
    expect(await autosave.restore()).toBeNull();
    await autosave.save();
    const state = autosave.state.value;
    expect(state.kind === 'failed' ? state.message : '').toMatch(/Save it as a file\.$/);
    expect(store.document.value).toBe(DEMO_DESIGN);
  });

  test('is full, the sentence says that', async () => {
    const store = new DesignStore(DEMO_DESIGN);
    const full = Object.assign(new Error('full'), { name: 'QuotaExceededError' });
    const autosave = new Autosave(store, {
      keeper: failingKeeper(() => Promise.reject(full)),
      local: {
        ...memoryLocal(),
        write: () => {
          throw full;
        },
      },
    });
    await autosave.save();
    const state = autosave.state.value;
    expect(state.kind === 'failed' ? state.message : '').toMatch(/no room left/);
  });

  test.each(['{"kind":"offcentre-session"', '{"kind":"else"}', 'null', '[]'])(
    'has kept something damaged (%s), it is set aside and told',
    async (text) => {
      const place = memoryKeeper();
      place.texts.set('session', text);
      const store = new DesignStore(DEMO_DESIGN);
      const told = await new Autosave(store, { keeper: place, local: memoryLocal() }).restore();
      expect(told).toMatch(/damaged/);
      expect([...place.texts].filter(([name]) => name.startsWith('session-damaged-')).map(([, kept]) => kept)).toEqual([
        text,
      ]);
      expect(store.document.value).toBe(DEMO_DESIGN);
    },
  );
});
