import { describe, expect, test, vi } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { Autosave } from '../../src/state/autosave.ts';
import { moveReceiver } from '../../src/state/commands/move-receiver.ts';
import { setCoil } from '../../src/state/commands/set-coil.ts';
import { DesignStore } from '../../src/state/store.ts';

function memory() {
  const texts = new Map<string, string>();
  return {
    texts,
    keeper: {
      read: async (name: string) => texts.get(name) ?? null,
      write: async (name: string, text: string) => {
        texts.set(name, text);
      },
    },
  };
}

function local() {
  const texts = new Map<string, string>();
  return {
    texts,
    local: {
      read: (name: string) => texts.get(name) ?? null,
      write: (name: string, text: string) => void texts.set(name, text),
    },
  };
}

test('a change is saved within a second and comes back on the next visit', async () => {
  vi.useFakeTimers();
  try {
    const place = memory();
    const store = new DesignStore(DEMO_DESIGN);
    const autosave = new Autosave(store, { keeper: place.keeper, local: local().local });
    const stop = autosave.start();
    store.run(moveReceiver, { xMm: 3, yMm: 4 });
    store.setDraft('placement.gapMm', { text: '3.x', fault: null }, 'gap');
    expect(place.texts.size).toBe(0);
    await vi.advanceTimersByTimeAsync(1000);
    expect(autosave.state.value.kind).toBe('saved');
    stop();

    const next = new DesignStore(DEMO_DESIGN);
    expect(await new Autosave(next, { keeper: place.keeper, local: local().local }).restore()).toBeNull();
    expect(next.snapshot.value).toEqual(store.snapshot.value);
    expect(next.undoLabel.value).toBeNull();
  } finally {
    vi.useRealTimers();
  }
});

test('a design with a fault in it comes back with the fault, and the figures with the last good one', async () => {
  const place = memory();
  const store = new DesignStore(DEMO_DESIGN);
  store.run(moveReceiver, { xMm: 7, yMm: 0 });
  store.run(setCoil, { side: 'transmitter', quantity: 'turns', value: -3 });
  await new Autosave(store, { keeper: place.keeper, local: local().local }).save();
  const next = new DesignStore(DEMO_DESIGN);
  await new Autosave(next, { keeper: place.keeper, local: local().local }).restore();
  expect(next.document.value.transmitter.coil.turns).toBe(-3);
  expect(next.faults.value[0].path).toBe('transmitter.coil.turns');
  expect(next.design.value.placement.offsetXMm).toBe(7);
});

test('of two copies the newer one wins', async () => {
  const place = memory();
  const rescue = local();
  const save = async (xMm: number, now: number, keeper: 'database' | 'local') => {
    const store = new DesignStore(DEMO_DESIGN);
    store.run(moveReceiver, { xMm, yMm: 0 });
    const failing = { read: place.keeper.read, write: async () => Promise.reject(new Error('blocked')) };
    await new Autosave(store, {
      keeper: keeper === 'database' ? place.keeper : failing,
      local: rescue.local,
      now: () => now,
    }).save();
  };
  await save(1, 1000, 'database');
  await save(2, 2000, 'local');
  const store = new DesignStore(DEMO_DESIGN);
  await new Autosave(store, { keeper: place.keeper, local: rescue.local }).restore();
  expect(store.design.value.placement.offsetXMm).toBe(2);
});

describe('when the browser', () => {
  const refuse = (name: string) => Promise.reject(Object.assign(new Error('no'), { name }));

  test('keeps nothing at all, a sentence says so and the design stays', async () => {
    const store = new DesignStore(DEMO_DESIGN);
    const autosave = new Autosave(store, {
      keeper: { read: () => refuse('SecurityError'), write: () => refuse('SecurityError') },
      local: {
        read: () => {
          throw new Error('denied');
        },
        write: () => {
          throw new Error('denied');
        },
      },
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
      keeper: { read: async () => null, write: () => Promise.reject(full) },
      local: {
        read: () => null,
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
      const place = memory();
      place.texts.set('session', text);
      const store = new DesignStore(DEMO_DESIGN);
      const told = await new Autosave(store, { keeper: place.keeper, local: local().local }).restore();
      expect(told).toMatch(/damaged/);
      expect(place.texts.get('session-damaged')).toBe(text);
      expect(store.document.value).toBe(DEMO_DESIGN);
    },
  );
});
