import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { expect, test } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { differences } from '../../src/design/differences.ts';
import { STARTING_POINTS } from '../../src/design/starting-points.ts';
import type { Command, GesturePhase } from '../../src/state/command.ts';
import { addLayer } from '../../src/state/commands/add-layer.ts';
import { moveReceiver } from '../../src/state/commands/move-receiver.ts';
import { removeLayer } from '../../src/state/commands/remove-layer.ts';
import { type CoilQuantity, setCoil } from '../../src/state/commands/set-coil.ts';
import { setGap } from '../../src/state/commands/set-gap.ts';
import { setLayer } from '../../src/state/commands/set-layer.ts';
import { type EditableShape, setOutlineShape } from '../../src/state/commands/set-outline-shape.ts';
import { setValue } from '../../src/state/commands/set-value.ts';
import { takeOver } from '../../src/state/commands/take-over.ts';
import { turnReceiver } from '../../src/state/commands/turn-receiver.ts';
import { DesignStore } from '../../src/state/store.ts';

/**
 * Random edits, as many as OFFCENTRE_EDITS says (10000: about a minute), else a short run. Another OFFCENTRE_SEED is another
 * walk:
 *
 *     OFFCENTRE_EDITS=10000 npx vitest run --project unit tests/state/random-edits.test.ts
 */
const EDITS = Number(process.env.OFFCENTRE_EDITS ?? 800);
const SEED = Number(process.env.OFFCENTRE_SEED ?? 20260725);

/** Park and Miller's minimal standard generator, Comm. ACM 31 (1988) 1192; from memory. */
function randomFrom(seed: number): () => number {
  let state = (seed % 2147483646) + 1;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

const PATHS: readonly (readonly [string, readonly unknown[]])[] = [
  ['title', ['', 'One', 'Two', 'x'.repeat(300)]],
  ['transmitter.drive.supplyV', [5, 9, 12, -1, 'five', null]],
  ['transmitter.drive.seriesCapacitanceNf', [100, 400, 0]],
  ['receiver.pickup.seriesCapacitanceNf', [90, 120, 1e9]],
  ['receiver.metal', [null]],
  ['receiver.ferrite', [null]],
  ['transmitter.ferrite', [null]],
  ['demand.wantedMarginPercent', [0, 20, 50, -3]],
  ['stack', [[], undefined]],
  ['placement', [{}, undefined]],
];
const QUANTITIES: readonly CoilQuantity[] = [
  'outerDiameterMm',
  'innerDiameterMm',
  'outerWidthMm',
  'innerHeightMm',
  'turns',
];
const SHAPES: readonly EditableShape[] = ['circle', 'roundedRectangle', 'stadium'];

function walk(store: DesignStore, edits: number, random: () => number, tick: () => void): Record<string, number> {
  const done: Record<string, number> = {};
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)] as T;
  const between = (low: number, high: number): number => Number((low + (high - low) * random()).toFixed(2));
  const side = (): 'transmitter' | 'receiver' => pick(['transmitter', 'receiver'] as const);
  /** Once, by a run of keys, or by a drag that may be taken back. */
  const run = <A>(command: Command<A>, args: () => A): void => {
    const way = random();
    if (way < 0.4) store.run(command, args());
    else if (way < 0.6) for (let i = 0; i < 3; i++) store.run(command, args(), 'step');
    else {
      const first = args();
      store.run(command, first, 'start');
      for (let i = 0; i < 4; i++) store.run(command, args(), 'move');
      const last: GesturePhase = random() < 0.2 ? 'cancel' : 'end';
      store.run(command, first, last);
    }
  };
  const layers = (): number => store.document.value.stack?.length ?? 0;
  const actions: Readonly<Record<string, () => void>> = {
    move: () => run(moveReceiver, () => ({ xMm: between(-30, 30), yMm: between(-30, 30) })),
    turn: () => run(turnReceiver, () => pick([{ yawDeg: between(-180, 180) }, { tiltXDeg: between(-20, 20) }])),
    gap: () => run(setGap, () => ({ gapMm: between(0.3, 20) })),
    layer: () => run(setLayer, () => ({ index: Math.floor(random() * layers()), thicknessMm: between(0, 6) })),
    tolerance: () => store.run(setLayer, { index: 0, toleranceMm: between(-0.1, 1) }),
    add: () =>
      store.run(addLayer, { index: Math.floor(random() * 4), name: pick(['oak', 'felt']), thicknessMm: between(0, 3) }),
    remove: () => store.run(removeLayer, { index: Math.floor(random() * (layers() + 1)) }),
    resize: () => run(setCoil, () => ({ side: side(), quantity: pick(QUANTITIES), value: Math.round(between(1, 60)) })),
    reshape: () => store.run(setOutlineShape, { side: side(), shape: pick(SHAPES) }),
    type: () => {
      const [path, values] = pick(PATHS);
      store.run(setValue, { path, value: pick(values), what: path });
    },
    draft: () => {
      const path = pick(['placement.offsetXMm', 'transmitter.coil.turns', 'stack[0].thicknessMm']);
      const fault = { code: 'no-number', path, required: 'a number', received: '3 bananas' };
      const way = random();
      if (way < 0.5) store.setDraft(path, { text: `${between(0, 9)} bananas`, fault }, path);
      else if (way < 0.75) store.mend(path, path, () => undefined);
      else store.mend(path, path, () => store.run(moveReceiver, { xMm: between(-9, 9), yMm: 0 }));
    },
    replace: () => {
      if (random() < 0.15) store.take({ document: pick(STARTING_POINTS).document, drafts: {} }, 'Begin');
    },
    compare: () => store.setCompare(random() < 0.3 ? null : store.document.value),
    swap: () => store.swapCompare(),
    takeOver: () => {
      const from = store.compare.value;
      if (!from) return;
      const [first] = differences(store.document.value, from);
      if (first) store.run(takeOver, { path: first.path, from, words: first.words });
    },
    undo: () => {
      for (let i = Math.floor(random() * 4); i >= 0; i--) store.undo();
    },
    redo: () => {
      for (let i = Math.floor(random() * 3); i >= 0; i--) store.redo();
    },
    wait: tick,
  };
  const names = Object.keys(actions);
  for (let i = 0; i < edits; i++) {
    const name = pick(names);
    actions[name]?.();
    done[name] = (done[name] ?? 0) + 1;
    // What the page reads after every change.
    void store.faults.value.length;
    expect(store.design.value.placement.gapMm).toBeGreaterThan(0);
    expect(store.dragging.value).toBe(false);
  }
  return done;
}

test(`${EDITS} random edits (seed ${SEED}) leave no error, and undo walks back to the start exactly`, () => {
  let clock = 0;
  const store = new DesignStore(DEMO_DESIGN, () => clock);
  const start = store.snapshot.value;
  const done = walk(store, EDITS, randomFrom(SEED), () => {
    clock += 5000;
  });
  expect(Object.keys(done).length).toBe(18);
  const end = store.snapshot.value;
  const text = JSON.stringify(end);
  const there = [end];
  while (store.undoLabel.value !== null) {
    store.undo();
    there.push(store.snapshot.value);
  }
  const steps = there.length - 1;
  expect(steps).toBeGreaterThan(EDITS / 10);
  expect(store.snapshot.value).toBe(start);
  expect(store.document.value).toBe(DEMO_DESIGN);
  expect(store.faults.value).toEqual([]);
  // Forwards through the same states: a step begins where the one before it ended.
  let strange = 0;
  for (let i = steps - 1; i >= 0; i--) {
    store.redo();
    if (store.snapshot.value !== there[i]) strange++;
  }
  expect(strange).toBe(0);
  while (store.redoLabel.value !== null) store.redo();
  while (store.undoLabel.value !== null) store.undo();
  expect(store.snapshot.value).toBe(start);
  expect(JSON.stringify(end)).toBe(text);
});

test('a session that is over gives its memory back', () => {
  setFlagsFromString('--expose_gc');
  const collect = runInNewContext('gc') as () => void;
  const used = (): number => {
    collect();
    return process.memoryUsage().heapUsed;
  };
  const session = (seed: number): void => {
    walk(new DesignStore(DEMO_DESIGN), Math.min(EDITS, 400), randomFrom(seed), () => undefined);
  };
  // Caches of bounded size fill in the first rounds.
  session(1);
  session(2);
  const before = used();
  for (let seed = 3; seed < 6; seed++) session(seed);
  // What one session of this length holds is several MB; three of them would show.
  expect(used() - before).toBeLessThan(4e6);
});
