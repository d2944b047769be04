import { appendFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, inject, it } from 'vitest';
import { AIR_DESIGN, airLink, launchBrowser, type OpenedContext, openContext } from '../support/air-page.ts';
import { type Held, MemoryWatch } from '../support/memory-watch.ts';

/**
 * A long day at the page, time compressed: designs opened one after the other, edits, drags that end or are taken back,
 * stations, long work begun and stopped, undo and redo. OFFCENTRE_SOAK says how many rounds: 1000 are a day of eight hours (an
 * edit every three seconds and a half, a design or a station every half minute). Every test run makes a short one.
 *
 *     OFFCENTRE_SOAK=1000 OFFCENTRE_SOAK_LOG=soak.csv npx vitest run --project page tests/page/soak.test.ts
 */
const ROUNDS = Number(process.env.OFFCENTRE_SOAK ?? 16);
const SEED = Number(process.env.OFFCENTRE_SEED ?? 20260725);
const LOG = process.env.OFFCENTRE_SOAK_LOG;
const EDITS_A_ROUND = process.env.OFFCENTRE_SOAK ? 8 : 3;
/** Every so many rounds the answer is waited for; else the next design comes before it. */
const WAIT_EVERY = process.env.OFFCENTRE_SOAK ? 4 : 8;
const STATIONS = ['place', 'pair', 'feed', 'hold', 'prove', 'lessons', 'beside', 'report'];
/** Looked at after whole turns through the stations, so that one look is like the other. */
const SAMPLE_EVERY = STATIONS.length * Math.ceil(ROUNDS / 200);

/** Park and Miller's minimal standard generator, Comm. ACM 31 (1988) 1192; from memory. */
function randomFrom(seed: number): () => number {
  let state = (seed % 2147483646) + 1;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

interface Turns {
  readonly document: unknown;
  readonly edits: readonly {
    readonly what: 'gap' | 'move' | 'turns' | 'beside';
    readonly a: number;
    readonly b: number;
  }[];
  readonly station: string;
  readonly stop: boolean;
  readonly wait: boolean;
}

/** One round of the day, all of it in the page. */
async function liveThrough(page: Page, turns: Turns): Promise<void> {
  await page.evaluate(async ({ document: design, edits, station, stop, wait }) => {
    type Value<T> = { readonly value: T };
    type Doc = Record<string, Record<string, unknown>>;
    interface Store {
      run(command: unknown, args: unknown, phase?: string): void;
      undo(): void;
      redo(): void;
      setCompare(document: unknown): void;
      readonly document: Value<Doc>;
    }
    interface Session {
      readonly store: Store;
      readonly answers: { stop(): void; readonly poseFresh: Value<boolean>; readonly failure: Value<string | null> };
    }
    const { store, answers } = (document.querySelector('oc-app') as unknown as { session: Session }).session;
    const frame = (): Promise<unknown> => new Promise((resolve) => requestAnimationFrame(resolve));
    const edit = (name: string, perform: (doc: Doc) => Doc, phase?: string): void =>
      store.run({ name, label: () => name, perform }, {}, phase);
    edit('switch', () => design as Doc);
    location.hash = `#${station}`;
    for (const { what, a, b } of edits) {
      const placement = (more: object) => (doc: Doc) => ({ ...doc, placement: { ...doc.placement, ...more } }) as Doc;
      if (what === 'gap') edit('gap', placement({ gapMm: 2 + 8 * a }));
      else if (what === 'beside') store.setCompare(a < 0.5 ? null : store.document.value);
      else if (what === 'turns') {
        const coil = store.document.value.receiver?.coil as object;
        const turned = { ...coil, turns: 4 + Math.floor(4 * a) };
        edit('turns', (doc) => ({ ...doc, receiver: { ...doc.receiver, coil: turned } }));
      } else {
        // A drag of five steps, one in four taken back.
        for (const phase of ['start', 'move', 'move', 'move', b < 0.25 ? 'cancel' : 'end']) {
          edit('move', placement({ offsetXMm: 12 * a - 6, offsetYMm: 12 * b - 6 }), phase);
          await frame();
        }
      }
      await frame();
    }
    for (let i = 0; i < 3; i++) store.undo();
    for (let i = 0; i < 2; i++) store.redo();
    if (stop) answers.stop();
    if (wait) {
      edit('gap', (doc) => ({ ...doc, placement: { ...doc.placement, gapMm: 3 } }));
      for (let i = 0; i < 600 && !answers.poseFresh.value; i++) await new Promise((resolve) => setTimeout(resolve, 50));
      if (!answers.poseFresh.value) throw new Error(`no answer: ${answers.failure.value}`);
    }
    await frame();
  }, turns);
}

/** All rests and nothing waits to be undone: what is held now is held for good. */
async function settle(page: Page): Promise<void> {
  await page.evaluate(async () => {
    location.hash = '#pair';
    const { session } = document.querySelector('oc-app') as unknown as {
      session: {
        store: {
          restore(snapshot: unknown, compare: null): void;
          readonly snapshot: { readonly value: { readonly document: unknown } };
        };
        answers: { readonly busy: { readonly value: boolean }; readonly poseFresh: { readonly value: boolean } };
      };
    };
    const { store, answers } = session;
    store.restore({ document: store.snapshot.value.document, drafts: {} }, null);
    for (let i = 0; i < 1200 && (answers.busy.value || !answers.poseFresh.value); i++)
      await new Promise((resolve) => setTimeout(resolve, 50));
  });
  await page.locator('canvas').first().waitFor({ timeout: 60_000 });
}

/** What the 3-D drawing of Pair holds. */
function drawn(page: Page): Promise<{ geometries: number; textures: number; programs: number } | null> {
  return page.evaluate(() => {
    type View = HTMLElement & { counts(): { geometries: number; textures: number; programs: number } | null };
    const pair = document.querySelector('oc-app')?.shadowRoot?.querySelector('oc-pair');
    return pair?.shadowRoot?.querySelector<View>('oc-link-view')?.counts() ?? null;
  });
}

/** One line: what, how many, then in bytes and counts what is held. */
function log(what: string, count: number, held: Held, view: unknown): void {
  if (!LOG) return;
  const workers = (['heap', 'buffers'] as const).map((key) => sum(held.workers.map((worker) => worker[key])));
  const line = [what, count, held.heap, held.buffers, ...workers, held.workers.length, held.listeners, held.nodes];
  appendFileSync(LOG, `${new Date().toISOString()},${line.join(',')},${JSON.stringify(view)}\n`);
}

const sum = (numbers: readonly number[]): number => numbers.reduce((all, one) => all + one, 0);

/** How many designs are opened one after the other; every test run opens a few. */
const SWITCHES = process.env.OFFCENTRE_SOAK ? 1000 : 24;

describe('a long day', () => {
  let browser: Browser;
  let opened: OpenedContext;
  let page: Page;
  beforeAll(async () => {
    browser = await launchBrowser();
  });
  afterAll(() => browser.close());
  beforeEach(async () => {
    opened = await openContext(browser);
    page = await opened.context.newPage();
    await page.goto(`${inject('pageUrl')}${await airLink()}`);
    await page.locator('oc-answer h1').first().waitFor();
  });
  afterEach(() => opened.close());

  it(
    `${ROUNDS} rounds of ${EDITS_A_ROUND} edits (seed ${SEED}) leave no error and hold no more at the end than in the middle`,
    async () => {
      const watch = await MemoryWatch.of(page);
      const random = randomFrom(SEED);
      const kinds = ['gap', 'move', 'turns', 'move', 'beside'] as const;
      const turnsOf = (round: number): Turns => ({
        document: {
          ...AIR_DESIGN,
          title: `Round ${round}`,
          notes: 'n'.repeat(2000),
          placement: { gapMm: 2 + Number((6 * random()).toFixed(2)) },
        },
        edits: Array.from({ length: EDITS_A_ROUND }, () => ({
          what: kinds[Math.floor(random() * kinds.length)]!,
          a: random(),
          b: random(),
        })),
        station: STATIONS[round % STATIONS.length]!,
        stop: random() < 0.5,
        wait: (round + 1) % WAIT_EVERY === 0,
      });
      const samples: Held[] = [];
      for (let round = 0; round < ROUNDS; round++) {
        await liveThrough(page, turnsOf(round));
        if ((round + 1) % SAMPLE_EVERY > 0) continue;
        await settle(page);
        const held = await watch.held();
        samples.push(held);
        log('rounds', round + 1, held, await drawn(page));
      }
      expect(opened.complaints).toEqual([]);
      // Every part has been seen and every cache has begun to fill by the middle; from there on nothing may pile up.
      const half = samples.slice(Math.floor(samples.length / 2) - 1);
      const [first, last] = [half[0]!, half.at(-1)!];
      const rounds = ROUNDS / 2;
      expect(last.heap - first.heap, 'heap of the page').toBeLessThan(3e6 + 2000 * rounds);
      // In a long run the last maps of Hold fill their cache: 240 of them, 29 MB when full, and no more.
      expect(last.buffers - first.buffers, 'buffers of the page').toBeLessThan(ROUNDS > 100 ? 32e6 : 4e6);
      // A station more or less is a hundred listeners and two thousand nodes; one station left behind in each round would be several times that.
      expect(last.listeners - first.listeners, 'listeners').toBeLessThan(200);
      expect(last.nodes - first.nodes, 'nodes').toBeLessThan(4000);
      expect(last.workers.length).toBe(first.workers.length);
      for (const key of ['heap', 'buffers'] as const) {
        const growth = sum(last.workers.map((w) => w[key])) - sum(first.workers.map((w) => w[key]));
        expect(growth, `${key} of the workers`).toBeLessThan(8e6);
      }
      const view = await drawn(page);
      expect(view?.geometries).toBeLessThan(30);
      expect(view?.textures).toBeLessThan(10);
    },
    Math.max(300_000, 10_000 * ROUNDS),
  );

  it(
    `${SWITCHES} designs opened one after the other (seed ${SEED}) leave nothing behind`,
    async () => {
      const watch = await MemoryWatch.of(page);
      const random = randomFrom(SEED);
      const { receiver } = AIR_DESIGN;
      const half: Held[] = [];
      for (let i = 1; i <= SWITCHES; i++) {
        // Other turns and another gap: windings, link and answers are all new.
        const turns = 4 + Math.floor(8 * random());
        const gapMm = 2 + Number((6 * random()).toFixed(2));
        const design = {
          ...AIR_DESIGN,
          title: `Design ${i}`,
          notes: 'n'.repeat(20_000),
          placement: { gapMm },
          receiver: { ...receiver, coil: { ...receiver.coil, turns } },
        };
        const station = STATIONS[Math.floor(i / 6) % STATIONS.length]!;
        await liveThrough(page, { document: design, edits: [], station, stop: false, wait: false });
        if (i % (SWITCHES / 2) > 0) continue;
        await settle(page);
        half.push(await watch.held());
        log('switches', i, half.at(-1)!, await drawn(page));
      }
      const [first, last] = half as [Held, Held];
      // Half of the designs weigh 20 kB each in text alone; none of them may stay.
      expect(last.heap - first.heap, 'heap of the page').toBeLessThan(2e6 + 4000 * (SWITCHES / 2));
      expect(last.listeners - first.listeners, 'listeners').toBeLessThan(200);
      expect(last.nodes - first.nodes, 'nodes').toBeLessThan(4000);
      expect(opened.complaints).toEqual([]);
    },
    Math.max(300_000, 2000 * SWITCHES),
  );
});
