import { describe, expect, test } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import type { Migration } from '../../src/design/migrations.ts';
import { DESIGN_VERSION } from '../../src/design/schema.ts';
import { Autosave } from '../../src/state/autosave.ts';
import { type KeptSession, keptText, newestOf, readKept, sameWork } from '../../src/state/kept-session.ts';
import { DesignStore } from '../../src/state/store.ts';
import { memoryKeeper, memoryLocal } from '../support/memory-keeper.ts';

const session = (more: Partial<KeptSession> = {}): KeptSession => ({
  document: DEMO_DESIGN,
  lastGood: DEMO_DESIGN,
  drafts: {},
  compare: null,
  savedAt: 1000,
  revision: 1000,
  parent: 999,
  writer: 'a',
  ...more,
});

describe('what was kept', () => {
  test('comes back as it was', () => {
    const kept = session({ drafts: { 'placement.gapMm': { text: '3 bananas', fault: null } }, compare: DEMO_DESIGN });
    expect(readKept(keptText(kept))).toEqual({ kind: 'session', session: kept });
    expect(readKept(null)).toEqual({ kind: 'nothing' });
  });

  test('by a program that did not count its saves comes back too', () => {
    const text = JSON.stringify({ kind: 'offcentre-session', savedAt: 77, document: DEMO_DESIGN, drafts: {} });
    expect(readKept(text)).toMatchObject({ kind: 'session', session: { revision: 77, parent: 76, savedAt: 77 } });
  });

  test('by an older version of the format is brought up to date, the faulty document and the one beside too', () => {
    const old = (gapCm: number) => ({ ...DEMO_DESIGN, version: 0, stack: [], placement: { gapCm } });
    const fromZero: Migration = {
      from: 0,
      change: (document) => ({
        ...document,
        placement: { gapMm: 10 * (document.placement as { gapCm: number }).gapCm },
      }),
    };
    const text = JSON.stringify({
      kind: 'offcentre-session',
      savedAt: 5,
      document: old(-0.3),
      lastGood: old(0.4),
      compare: old(0.5),
    });
    const found = readKept(text, [fromZero]);
    if (found.kind !== 'session') throw new Error(found.kind);
    expect(found.session.document).toMatchObject({ version: 1, placement: { gapMm: -3 } });
    expect(found.session.lastGood).toMatchObject({ version: 1, placement: { gapMm: 4 } });
    expect(found.session.compare).toMatchObject({ version: 1, placement: { gapMm: 5 } });
  });

  test('by a newer version is told from what is damaged, and its text stays whole', async () => {
    const text = keptText(session({ lastGood: { ...DEMO_DESIGN, version: DESIGN_VERSION + 1 } as never }));
    expect(readKept(text)).toEqual({ kind: 'newer', text });
    const keeper = memoryKeeper(new Map([['session', text]]));
    const store = new DesignStore(DEMO_DESIGN);
    const autosave = new Autosave(store, { keeper, local: memoryLocal() });
    expect(await autosave.restore()).toMatch(/newer version/);
    await autosave.save();
    // The page goes on with the example; what it could not read is offered as text.
    expect(autosave.apart.found.value).toMatchObject([{ why: 'newer', session: null, text }]);
    const again = new Autosave(new DesignStore(DEMO_DESIGN), { keeper, local: memoryLocal() });
    expect(await again.restore()).toBeNull();
    expect(again.apart.found.value.map((apart) => apart.text)).toEqual([text]);
  });

  const wrap = (more: object) =>
    JSON.stringify({ kind: 'offcentre-session', savedAt: 1, document: DEMO_DESIGN, ...more });
  test.each([
    ['not text of ours', '{"kind":"else"}'],
    ['cut short', keptText(session()).slice(0, 500)],
    ['a number', '5'],
    ['binary', '\u0000\u0001\ufffd'],
    ['without a design', wrap({ document: 5, lastGood: 5 })],
    ['without a coil', wrap({ document: { ...DEMO_DESIGN, receiver: {} }, lastGood: DEMO_DESIGN })],
    ['with a last good design that is not good', wrap({ lastGood: { ...DEMO_DESIGN, placement: { gapMm: -1 } } })],
  ])('and is damaged (%s) is refused whole', (_, text) => {
    expect(readKept(text)).toEqual({ kind: 'damaged', text });
  });

  test('with rubbish beside a good design loses the rubbish only', () => {
    const fault = { code: 'x', path: 'a', required: 'b', received: 'c' };
    const drafts = {
      good: { text: '3', fault: null },
      told: { text: '4', fault },
      bad: null,
      worse: { text: 5 },
      odd: { text: 'a', fault: {} },
    };
    const found = readKept(wrap({ drafts, compare: [1], revision: 'x', parent: null, writer: 7 }));
    if (found.kind !== 'session') throw new Error(found.kind);
    expect(Object.keys(found.session.drafts)).toEqual(['good', 'told']);
    expect(found.session).toMatchObject({ compare: null, revision: 1, writer: '' });
  });
});

describe('of several copies', () => {
  const made = (writer: string, revision: number, parent: number, gapMm: number) =>
    session({ writer, revision, parent, document: { ...DEMO_DESIGN, placement: { ...DEMO_DESIGN.placement, gapMm } } });

  test('the one that goes on from the common copy takes its place', () => {
    const common = made('a', 10, 9, 1);
    expect(newestOf(common, [made('a', 12, 10, 2)]).session?.revision).toBe(12);
    expect(newestOf(common, [made('b', 12, 10, 2), made('c', 13, 12, 3)])).toMatchObject({
      session: { revision: 13 },
      apart: [],
    });
    expect(newestOf(common, [made('a', 8, 7, 2)])).toMatchObject({ session: { revision: 10 }, apart: [] });
  });

  test('one whose page had not seen the common copy is kept apart, unless it holds the same', () => {
    const common = made('a', 10, 9, 1);
    const { session: chosen, apart } = newestOf(common, [made('b', 12, 5, 2)]);
    expect([chosen, apart.map(({ revision }) => revision)]).toEqual([common, [12]]);
    expect(newestOf(common, [made('b', 12, 5, 1)]).apart).toEqual([]);
    expect(sameWork(common, made('b', 12, 5, 1))).toBe(true);
  });

  test('without a common one the newest is taken', () => {
    expect(newestOf(null, [])).toEqual({ session: null, apart: [] });
    const { session: chosen, apart } = newestOf(null, [made('a', 5, 4, 1), made('b', 7, 3, 2)]);
    expect([chosen?.revision, apart.map(({ revision }) => revision)]).toEqual([7, [5]]);
  });
});
