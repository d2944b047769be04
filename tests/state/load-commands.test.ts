import { expect, test } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import type { DesignDocument } from '../../src/design/schema.ts';
import { addLoad } from '../../src/state/commands/add-load.ts';
import { removeLoad } from '../../src/state/commands/remove-load.ts';
import { renameLoad } from '../../src/state/commands/rename-load.ts';
import { setLoadKind } from '../../src/state/commands/set-load-kind.ts';
import { resolveDocument } from '../../src/state/resolved-design.ts';

/** The document, which must hold together, and its loads. */
function after(document: DesignDocument) {
  const resolution = resolveDocument(document);
  if (!resolution.ok) throw new Error(JSON.stringify(resolution.faults));
  return { loads: document.demand.loads, demand: resolution.resolved.demand };
}

test('a load is added under a name of its own', () => {
  const once = addLoad.perform(DEMO_DESIGN, {});
  const twice = addLoad.perform(once, {});
  expect(
    after(twice)
      .loads.slice(-2)
      .map((load) => load.name),
  ).toEqual(['load 5', 'load 6']);
  const taken = renameLoad.perform(once, { index: 4, name: 'load 6' });
  expect(after(addLoad.perform(taken, {})).loads.at(-1)?.name).toBe('load 7');
  expect(DEMO_DESIGN.demand.loads).toHaveLength(4);
});

test('taken out, it also runs beside nothing any more', () => {
  const { loads, demand } = after(removeLoad.perform(DEMO_DESIGN, { index: 2 }));
  expect(loads.map((load) => load.name)).toEqual(['idle', 'playing', 'start-up']);
  expect(loads[1]).not.toHaveProperty('alongside');
  expect(demand.demandA).toBeCloseTo(0.48, 12);
  expect(removeLoad.perform(DEMO_DESIGN, { index: 9 })).toBe(DEMO_DESIGN);
});

test('renamed, it stays beside what it ran beside', () => {
  const { loads, demand } = after(renameLoad.perform(DEMO_DESIGN, { index: 2, name: 'filling up' }));
  expect(loads[1].alongside).toEqual(['filling up']);
  expect(demand.demandNames).toEqual(['playing', 'filling up']);
  expect(renameLoad.perform(DEMO_DESIGN, { index: 2, name: 'charging' })).toBe(DEMO_DESIGN);
});

test('only a peak has a length, and no lasting load runs beside one', () => {
  const lasting = after(setLoadKind.perform(DEMO_DESIGN, { index: 3, kind: 'typical' }));
  expect(lasting.loads[3]).not.toHaveProperty('durationMs');
  expect(lasting.demand.demandA).toBeCloseTo(0.78, 12);
  const peak = after(setLoadKind.perform(DEMO_DESIGN, { index: 2, kind: 'peak' }));
  expect(peak.loads[1]).not.toHaveProperty('alongside');
  expect(setLoadKind.perform(DEMO_DESIGN, { index: 3, kind: 'peak' })).toBe(DEMO_DESIGN);
});
