import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { addLayer } from '../../src/state/commands/add-layer.ts';
import { moveReceiver } from '../../src/state/commands/move-receiver.ts';
import { removeLayer } from '../../src/state/commands/remove-layer.ts';
import { setCoil } from '../../src/state/commands/set-coil.ts';
import { setGap } from '../../src/state/commands/set-gap.ts';
import { setLayer } from '../../src/state/commands/set-layer.ts';
import { setOutlineShape } from '../../src/state/commands/set-outline-shape.ts';
import { setValue } from '../../src/state/commands/set-value.ts';
import { turnReceiver } from '../../src/state/commands/turn-receiver.ts';
import { DesignStore } from '../../src/state/store.ts';

const fresh = (now?: () => number) => new DesignStore(DEMO_DESIGN, now);

/** Walks back to the beginning and forward again; the states on the way must be the same. */
function walked(store: DesignStore): void {
  const there = [store.snapshot.value];
  while (store.undoLabel.value !== null) {
    store.undo();
    there.unshift(store.snapshot.value);
  }
  const back = [store.snapshot.value];
  for (let i = 1; i < there.length; i++) {
    store.redo();
    back.push(store.snapshot.value);
  }
  for (const [i, state] of there.entries()) expect(back[i]).toBe(state);
}

describe('a drag', () => {
  test('begins from what stands when it first moves: text mended meanwhile stays mended', () => {
    const store = fresh();
    store.setDraft('placement.gapMm', { text: '3.x', fault: null }, 'gap');
    store.run(moveReceiver, { xMm: 0, yMm: 0 }, 'start');
    store.mend('placement.gapMm', 'gap', () => undefined);
    const before = store.snapshot.value;
    store.run(moveReceiver, { xMm: 2, yMm: 0 }, 'move');
    expect(store.dragging.value).toBe(true);
    store.run(moveReceiver, { xMm: 2, yMm: 0 }, 'end');
    expect(store.snapshot.value.drafts).toEqual({});
    store.undo();
    expect(store.snapshot.value).toBe(before);
  });

  test('keeps the text that is typed while it goes on', () => {
    const store = fresh();
    store.run(moveReceiver, { xMm: 0, yMm: 0 }, 'start');
    store.run(moveReceiver, { xMm: 2, yMm: 0 }, 'move');
    store.setDraft('placement.gapMm', { text: '3.x', fault: null }, 'gap');
    store.run(moveReceiver, { xMm: 4, yMm: 0 }, 'move');
    store.run(moveReceiver, { xMm: 5, yMm: 0 }, 'end');
    expect(store.snapshot.value.drafts['placement.gapMm']?.text).toBe('3.x');
    expect(store.design.value.placement.offsetXMm).toBe(5);
    expect(store.dragging.value).toBe(false);
    walked(store);
  });

  test('text typed between its start and its first move keeps its own step', () => {
    const store = fresh();
    store.run(moveReceiver, { xMm: 0, yMm: 0 }, 'start');
    store.setDraft('placement.gapMm', { text: '3.x', fault: null }, 'gap');
    store.run(moveReceiver, { xMm: 2, yMm: 0 }, 'end');
    expect(store.undoCount.value).toBe(2);
    expect(store.snapshot.value.drafts['placement.gapMm']?.text).toBe('3.x');
  });

  test('is one undo step, however many moves it had', () => {
    const store = fresh();
    store.run(moveReceiver, { xMm: 0, yMm: 0 }, 'start');
    expect(store.dragging.value).toBe(true);
    for (let i = 1; i <= 50; i += 1) store.run(moveReceiver, { xMm: i / 10, yMm: 0 }, 'move');
    store.run(moveReceiver, { xMm: 5, yMm: 1 }, 'end');
    expect(store.dragging.value).toBe(false);
    expect(store.design.value.placement.offsetXMm).toBe(5);
    expect(store.undoCount.value).toBe(1);
    store.undo();
    expect(store.document.value).toBe(DEMO_DESIGN);
  });

  test('there and back leaves no step', () => {
    const store = fresh();
    store.run(setGap, { gapMm: 5.9 }, 'start');
    store.run(setGap, { gapMm: 3 }, 'move');
    store.run(setGap, { gapMm: 5.9 }, 'end');
    expect(store.design.value.placement.gapMm).toBe(5.9);
    // The stated gap was taken out in favour of the stack, so the document differs in form only.
    expect(store.design.value.stack.map((layer) => layer.thicknessMm)).toEqual([4, 0.3, 1.2, 0.4]);
  });

  test('that is cancelled leaves the document and what could be redone', () => {
    const store = fresh();
    store.run(setValue, { path: 'title', value: 'Other', what: 'title' });
    store.undo();
    store.run(moveReceiver, { xMm: 0, yMm: 0 }, 'start');
    store.run(moveReceiver, { xMm: 4, yMm: 0 }, 'move');
    store.run(moveReceiver, { xMm: 0, yMm: 0 }, 'cancel');
    expect(store.document.value).toBe(DEMO_DESIGN);
    expect(store.redoLabel.value).toBe('Change title');
    expect(store.dragging.value).toBe(false);
  });

  test('moves are performed on the document from before: closing the gap and opening it again restores the layers', () => {
    const store = fresh();
    store.run(setGap, { gapMm: 5.9 }, 'start');
    for (const gapMm of [4, 2, 0.5, 0.1, 3, 8]) store.run(setGap, { gapMm }, 'move');
    store.run(setGap, { gapMm: 8 }, 'end');
    expect(store.design.value.stack.map((layer) => layer.thicknessMm)).toEqual([4, 0.3, 1.2, 2.5]);
    expect(store.design.value.placement.gapMm).toBeCloseTo(8, 9);
  });
});

test('key presses close together are one step, a pause starts another', () => {
  let time = 0;
  const store = fresh(() => time);
  for (let i = 1; i <= 4; i += 1) {
    time += 100;
    store.run(moveReceiver, { xMm: i / 2, yMm: 0 }, 'step');
  }
  expect(store.undoCount.value).toBe(1);
  time += 5000;
  store.run(moveReceiver, { xMm: 3, yMm: 0 }, 'step');
  expect(store.undoCount.value).toBe(2);
  store.undo();
  expect(store.design.value.placement.offsetXMm).toBe(2);
  store.undo();
  expect(store.document.value).toBe(DEMO_DESIGN);
});

describe('a wrong value', () => {
  test('stays in the document, its fault is told as on the command line, the figures keep the last good design', () => {
    const store = fresh();
    store.run(setCoil, { side: 'receiver', quantity: 'turns', value: 400 });
    expect(store.document.value.receiver.coil.turns).toBe(400);
    expect(store.faults.value.length).toBeGreaterThan(0);
    expect(store.faults.value[0].path).toMatch(/^receiver\.coil/);
    expect(store.design.value.receiver.coil.turns).toBe(14);
    store.run(setCoil, { side: 'receiver', quantity: 'turns', value: 12 });
    expect(store.faults.value).toEqual([]);
    expect(store.design.value.receiver.coil.turns).toBe(12);
  });

  test('that is no number is kept as typed', () => {
    const store = fresh();
    const fault = { code: 'not-a-number', path: 'placement.gapMm', required: 'a length', received: '"3.x"' };
    store.setDraft('placement.gapMm', { text: '3.x', fault }, 'gap');
    expect(store.snapshot.value.drafts['placement.gapMm'].text).toBe('3.x');
    expect(store.faults.value).toEqual([fault]);
    expect(store.design.value.placement.gapMm).toBe(5.9);
    store.undo();
    expect(store.snapshot.value.drafts).toEqual({});
    store.redo();
    expect(store.snapshot.value.drafts['placement.gapMm'].text).toBe('3.x');
  });
});

describe('text that was refused', () => {
  const refused = (store: DesignStore, path = 'placement.gapMm') =>
    store.setDraft(path, { text: '3.x', fault: { code: 'x', path, required: 'a', received: 'b' } }, 'gap');

  test('is mended by one step, and undo brings it back', () => {
    const store = fresh();
    refused(store);
    const typed = store.snapshot.value;
    store.mend('placement.gapMm', 'gap', () => store.run(setGap, { gapMm: 3 }));
    expect(store.undoCount.value).toBe(2);
    expect(store.undoLabel.value).toBe('Change the gap');
    expect(store.faults.value).toEqual([]);
    store.undo();
    expect(store.snapshot.value).toBe(typed);
    walked(store);
  });

  test('is cleared by a step of its own where the number stays', () => {
    const store = fresh();
    refused(store, 'placement.offsetXMm');
    store.mend('placement.offsetXMm', 'offset', () => store.run(moveReceiver, { xMm: 0, yMm: 0 }));
    expect(store.snapshot.value.drafts).toEqual({});
    expect(store.undoLabel.value).toBe('Clear offset');
    walked(store);
  });

  test('mended, taken back twice and done again: each way back is the way there', () => {
    const store = fresh();
    refused(store, 'title');
    store.mend('title', 'title', () => undefined);
    store.run(turnReceiver, { yawDeg: 5 });
    for (let i = 0; i < 3; i++) store.undo();
    for (let i = 0; i < 3; i++) store.redo();
    walked(store);
  });

  test('goes where its number is set otherwise, and where its place goes', () => {
    const store = fresh();
    refused(store, 'placement.offsetXMm');
    refused(store, 'stack[0].thicknessMm');
    refused(store, 'receiver.coil.turns');
    store.run(moveReceiver, { xMm: 4, yMm: 0 });
    expect(Object.keys(store.snapshot.value.drafts)).toEqual(['stack[0].thicknessMm', 'receiver.coil.turns']);
    store.run(removeLayer, { index: 0 });
    expect(Object.keys(store.snapshot.value.drafts)).toEqual(['receiver.coil.turns']);
    store.take({ document: { ...DEMO_DESIGN, title: 'Another' }, drafts: {} }, 'Open another.json');
    expect(store.faults.value).toEqual([]);
    for (let i = 0; i < 3; i++) store.undo();
    expect(Object.keys(store.snapshot.value.drafts)).toHaveLength(3);
  });
});

test('what changes nothing leaves no step: a number typed again, keys there and back, a layer put back', () => {
  const store = fresh();
  store.run(moveReceiver, { xMm: 0, yMm: 0 });
  for (const xMm of [1, 2, 1, 0]) store.run(moveReceiver, { xMm, yMm: 0 }, 'step');
  store.run(moveReceiver, { xMm: 0, yMm: 0 }, 'start');
  for (const xMm of [4, 0]) store.run(moveReceiver, { xMm, yMm: 0 }, 'move');
  store.run(moveReceiver, { xMm: 0, yMm: 0 }, 'end');
  expect(store.undoCount.value).toBe(0);
  expect(store.document.value).toBe(DEMO_DESIGN);
});

test('two designs side by side change places, and back by undo', () => {
  const store = fresh();
  store.setCompare(store.document.value);
  store.run(setValue, { path: 'title', value: 'Second', what: 'title' });
  store.swapCompare();
  expect(store.document.value.title).toBe(DEMO_DESIGN.title);
  expect(store.compare.value?.title).toBe('Second');
  store.undo();
  expect(store.document.value.title).toBe('Second');
});

/** Any edit the page can make, with values good and bad. */
const anyEdit = fc.oneof(
  fc.record({ kind: fc.constant('move' as const), x: fc.double({ min: -40, max: 40, noNaN: true }) }),
  fc.record({ kind: fc.constant('gap' as const), x: fc.double({ min: 0.1, max: 30, noNaN: true }) }),
  fc.record({ kind: fc.constant('layer' as const), x: fc.double({ min: 0, max: 9, noNaN: true }) }),
  fc.record({ kind: fc.constant('turns' as const), x: fc.integer({ min: -2, max: 60 }) }),
  fc.record({ kind: fc.constant('yaw' as const), x: fc.integer({ min: -180, max: 180 }) }),
  fc.record({ kind: fc.constant('add' as const), x: fc.integer({ min: 0, max: 4 }) }),
  fc.record({ kind: fc.constant('remove' as const), x: fc.integer({ min: 0, max: 4 }) }),
  fc.record({ kind: fc.constant('shape' as const), x: fc.integer({ min: 0, max: 2 }) }),
  fc.record({ kind: fc.constant('drag' as const), x: fc.double({ min: -20, max: 20, noNaN: true }) }),
  fc.record({ kind: fc.constant('type' as const), x: fc.integer() }),
  fc.record({ kind: fc.constant('mend' as const), x: fc.integer({ min: -180, max: 180 }) }),
  fc.record({ kind: fc.constant('undo' as const), x: fc.integer() }),
  fc.record({ kind: fc.constant('redo' as const), x: fc.integer() }),
);

test('after any edits, undo walks back to the start exactly (400 edits, seed 20251)', () => {
  fc.assert(
    fc.property(fc.array(anyEdit, { minLength: 20, maxLength: 40 }), (edits) => {
      const store = fresh();
      for (const { kind, x } of edits) {
        if (kind === 'move') store.run(moveReceiver, { xMm: x, yMm: -x });
        else if (kind === 'gap') store.run(setGap, { gapMm: x });
        else if (kind === 'layer') store.run(setLayer, { index: 1, thicknessMm: x });
        else if (kind === 'turns') store.run(setCoil, { side: 'transmitter', quantity: 'turns', value: x });
        else if (kind === 'yaw') store.run(turnReceiver, { yawDeg: x });
        else if (kind === 'add') store.run(addLayer, { index: x, name: 'card', thicknessMm: 0.5 });
        else if (kind === 'remove') store.run(removeLayer, { index: x });
        else if (kind === 'shape') {
          const shape = (['circle', 'roundedRectangle', 'stadium'] as const)[x];
          store.run(setOutlineShape, { side: 'receiver', shape });
        } else if (kind === 'drag') {
          store.run(moveReceiver, { xMm: 0, yMm: 0 }, 'start');
          store.run(moveReceiver, { xMm: x, yMm: 0 }, 'move');
          store.run(moveReceiver, { xMm: x / 2, yMm: 0 }, 'end');
        } else if (kind === 'type') store.setDraft('title', { text: `${x}`, fault: null }, 'title');
        else if (kind === 'mend') store.mend('title', 'title', () => store.run(turnReceiver, { yawDeg: x }));
        else if (kind === 'undo') store.undo();
        else store.redo();
      }
      const end = store.snapshot.value;
      const steps = store.undoCount.value;
      for (let i = 0; i < steps; i += 1) store.undo();
      expect(store.snapshot.value.document).toBe(DEMO_DESIGN);
      expect(store.snapshot.value.drafts).toEqual({});
      expect(store.undoLabel.value).toBeNull();
      for (let i = 0; i < steps; i += 1) store.redo();
      expect(store.snapshot.value).toBe(end);
      walked(store);
    }),
    { seed: 20251, numRuns: 15 },
  );
});

test('a run of key presses ends where text is typed', () => {
  const store = fresh(() => 0);
  store.run(moveReceiver, { xMm: 1, yMm: 0 }, 'step');
  store.setDraft('placement.gapMm', { text: '3.x', fault: null }, 'gap');
  store.run(moveReceiver, { xMm: 2, yMm: 0 }, 'step');
  expect(store.undoCount.value).toBe(3);
});

test('a drag that goes on while another design is opened does not touch that design', () => {
  const store = fresh();
  store.run(moveReceiver, { xMm: 0, yMm: 0 }, 'start');
  store.run(moveReceiver, { xMm: 3, yMm: 0 }, 'move');
  const other = { ...DEMO_DESIGN, title: 'Another' };
  store.take({ document: other, drafts: {} }, 'Open another');
  store.run(moveReceiver, { xMm: 5, yMm: 0 }, 'move');
  store.run(moveReceiver, { xMm: 6, yMm: 0 }, 'end');
  expect(store.document.value).toBe(other);
  expect(store.dragging.value).toBe(false);
  // The next one is a drag like any other.
  store.run(moveReceiver, { xMm: 0, yMm: 0 }, 'start');
  store.run(moveReceiver, { xMm: 2, yMm: 0 }, 'end');
  expect(store.design.value.placement.offsetXMm).toBe(2);
});
