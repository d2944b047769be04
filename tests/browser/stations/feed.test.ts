import axe from 'axe-core';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { page } from 'vitest/browser';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import type { DesignDocument } from '../../../src/design/schema.ts';
import { replaceDesign } from '../../../src/state/commands/replace-design.ts';
import { chooseTheme } from '../../../src/stations/theme.ts';
import {
  answered,
  answerText,
  deep,
  deepAll,
  drag,
  type MountedApp,
  mountApp,
  press,
  settled,
  type,
} from './mount-app.ts';

let mounted: MountedApp;
let complaints: unknown[][];

beforeEach(async () => {
  complaints = [];
  for (const name of ['error', 'warn'] as const) {
    vi.spyOn(console, name).mockImplementation((...words: unknown[]) => {
      if (!String(words[0]).includes('Lit is in dev mode')) complaints.push(words);
    });
  }
  await page.viewport(1440, 900);
  mounted = await mountApp({ station: 'feed' });
  await answered(mounted);
});

afterEach(() => {
  mounted.unmount();
  vi.restoreAllMocks();
  chooseTheme('system');
  expect(complaints).toEqual([]);
});

/** The units library arrives when somebody first types. */
const soon = (check: () => void) => vi.waitFor(check, { timeout: 15_000 });
const design = () => mounted.session.store.design.value;
const flow = () => deep(mounted.app, 'oc-energy-flow').shadowRoot as ShadowRoot;
const plain = (text: string | null | undefined): string => (text ?? '').replace(/\u00a0/g, ' ').replace(/\u2060/g, '');
const caption = (heading: string) =>
  plain(deep(mounted.app, `oc-figure[heading="${heading}"]`).shadowRoot?.querySelector('.hint.reading')?.textContent);
const flowTexts = () => [...flow().querySelectorAll('text')].map((text) => plain(text.textContent));
const open = async (document_: DesignDocument): Promise<void> => {
  mounted.session.store.run(replaceDesign, { document: document_, label: 'another' });
  await settled(document);
  await answered(mounted);
};

test('answers in one sentence, with what is in hand, the peak and the heat', () => {
  expect(answerText(mounted.app)).toMatch(
    /^The link carries playing and charging, 0\.78 A, with \d+ % \(\d+–\d+\) in hand; the start-up peak of 0\.75 A for 2 ms with \d+ %; the receiver runs at 41 °C \(\d+–\d+\)\.$/,
  );
});

test('says plainly when it does not carry the load, and what would carry the peak', async () => {
  const placement = { ...DEMO_DESIGN.placement, offsetXMm: 14 };
  const loads = DEMO_DESIGN.demand.loads.map((load) =>
    load.name === 'start-up' ? { ...load, currentA: 0.9, durationMs: 500 } : load,
  );
  await open({ ...DEMO_DESIGN, placement, demand: { ...DEMO_DESIGN.demand, loads } });
  const said = answerText(mounted.app);
  expect(said).toMatch(/^The link does not carry playing and charging, 0\.78 A: 0\.\d+ A at most/);
  expect(said).toMatch(/the start-up peak of 0\.90 A for 500 ms lacks 0\.\d+ A/);
  expect(said).toMatch(/absurd|no capacitor carries it/);
});

describe('the energy flow', () => {
  test('its widths are its watts: what comes in is what goes out', () => {
    const stretch = (id: number) => flow().querySelectorAll<SVGPathElement>('path.stretch')[id].getBBox();
    const supply = stretch(0);
    const height = supply.height;
    // 96 px for the whole supply; the regulator passes on 3.9 of 5.02 W.
    expect(height).toBeCloseTo(96, 0);
    const losses = [...flow().querySelectorAll('path.loss')];
    expect(losses).toHaveLength(9);
    expect(flowTexts()).toEqual(expect.arrayContaining(['5.02 W', '2.40 W', '1.11 W', 'playing', 'into the cell']));
  });

  test('a pointer reads a part with its band and the place of its heat', async () => {
    const bridge = [...flow().querySelectorAll('path.loss')][1];
    bridge.dispatchEvent(new PointerEvent('pointerenter', { pointerType: 'mouse' }));
    await settled(document);
    expect(caption('Where the watts go')).toMatch(
      /^bridge 0\.05 W \(0\.04–0\.07\), 1\.0 %: heat in the switches on the transmitter board$/,
    );
    expect(bridge.classList.contains('marked')).toBe(true);
    flow().querySelector('.frame')?.dispatchEvent(new PointerEvent('pointerleave'));
    await settled(document);
    expect(caption('Where the watts go')).toBe('');
  });

  test('arrow keys walk through it and say each part', async () => {
    const reader = flow().querySelector('.reading') as SVGElement;
    await press(reader, 'ArrowRight');
    expect(caption('Where the watts go')).toMatch(/^supply 5\.02 W/);
    await press(reader, 'ArrowRight');
    expect(plain(flow().querySelector('[aria-live]')?.textContent)).toMatch(
      /^cable and connectors .*: heat in the supply lead/,
    );
    await press(reader, 'End');
    expect(caption('Where the watts go')).toMatch(/^into the cell 1\.11 W/);
    expect(plain(reader.getAttribute('aria-valuetext'))).toMatch(/^into the cell 1\.11 W/);
  });

  test('off the dock it begins with the cell and ends in the largest load', async () => {
    const choice = deepAll<HTMLInputElement>(mounted.app, 'input[value="away"]')[0];
    choice.click();
    await settled(document);
    expect(flowTexts()).toEqual(expect.arrayContaining(['cell', 'boost converter', 'playing', '2.40 W']));
  });

  test('a converter that collapses is said, not drawn', async () => {
    const text = JSON.stringify(DEMO_DESIGN).replace('"capacityAh":1.8', '"capacityAh":1.8,"resistanceOhm":2');
    await open(JSON.parse(text));
    deepAll<HTMLInputElement>(mounted.app, 'input[value="away"]')[0].click();
    await settled(document);
    expect(deepAll(mounted.app, 'oc-energy-flow')).toHaveLength(0);
    expect(deep(mounted.app, '.said.bad').textContent).toContain('The converter collapses: playing');
  });
});

describe('what is asked', () => {
  const row = (name: string) =>
    deepAll(mounted.app, '.loads tr').find((tr) => tr.querySelector('th')?.textContent === name) as HTMLElement;

  test('a current typed over changes the demand, and undo takes it back', async () => {
    const field = row('playing').querySelector('oc-dimension') as HTMLElement;
    await type(field, '520 mA');
    await soon(() => expect(mounted.session.store.resolved.value.demand.demandA).toBeCloseTo(0.82, 9));
    mounted.session.store.undo();
    expect(mounted.session.store.resolved.value.demand.demandA).toBeCloseTo(0.78, 9);
  });

  test('the list is changed: a load added, named, put beside another, taken out', async () => {
    const button = (words: string) =>
      deepAll<HTMLButtonElement>(mounted.app, '.edits button, .edit button').find(
        (b) => b.textContent?.includes(words) || b.getAttribute('aria-label') === words,
      ) as HTMLButtonElement;
    const change = async (selector: string, value: string | boolean): Promise<void> => {
      const field = deep<HTMLInputElement>(mounted.app, selector);
      if (typeof value === 'boolean') field.checked = value;
      else field.value = value;
      field.dispatchEvent(new Event('change', { bubbles: true }));
      await settled(document);
    };
    const loads = () => mounted.session.store.design.value.demand.loads;
    button('Change the list').click();
    await settled(document);
    expect(await findings()).toEqual([]);
    button('Add a load').click();
    await settled(document);
    await change('input[aria-label="Name of load 5"]', 'lamp');
    await change('select[aria-label="Kind of lamp"]', 'idle');
    expect(loads()[4]).toMatchObject({ name: 'lamp', kind: 'idle', currentA: 0.1 });
    const boxes = deepAll<HTMLLabelElement>(mounted.app, '.edit label').filter((l) => l.textContent?.trim() === 'lamp');
    const box = boxes[1].querySelector('input') as HTMLInputElement;
    box.click();
    await settled(document);
    expect(loads()[1].alongside).toEqual(['charging', 'lamp']);
    expect(mounted.session.store.resolved.value.demand.demandA).toBeCloseTo(0.88, 9);
    await change('input[aria-label="Name of lamp"]', '  ');
    expect(loads()[4].name).toBe('lamp');
    button('Take out lamp').click();
    await settled(document);
    expect(loads().map((load) => load.name)).toEqual(['idle', 'playing', 'charging', 'start-up']);
    for (let i = 0; i < 5; i += 1) mounted.session.store.undo();
    expect(mounted.session.store.document.value).toEqual(DEMO_DESIGN);
    await page.viewport(320, 800);
    await new Promise((resolve) => setTimeout(resolve, 100));
    await settled(document);
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(320);
  });

  test('the charging current is the charger’s, and what it does to the charge time is seen at once', async () => {
    const time = () =>
      deepAll(mounted.app, '.chain tr').find((tr) => tr.textContent?.includes('Charge time'))?.textContent ?? '';
    const before = time();
    await type(row('charging').querySelector('oc-dimension') as HTMLElement, '0.15');
    await soon(() => expect(time()).not.toBe(before));
    expect(mounted.session.store.resolved.value.demand.demandA).toBeCloseTo(0.63, 9);
  });

  test('numbers of the chain have units and bands', () => {
    const said = Object.fromEntries(
      deepAll(mounted.app, '.chain tr').map((tr) => [
        tr.querySelector('th')?.textContent ?? '',
        (tr.querySelector('td')?.textContent ?? '').replace(/[\s\u2060]+/g, ' ').trim(),
      ]),
    );
    expect(said['Charge time']).toMatch(/^\d\.\d h \(\d\.\d ?– ?\d\.\d\)$/);
    expect(said.Standby).toMatch(/^\d+ days \(\d+ ?– ?\d+\)$/);
    expect(said['Converter collapses at']).toMatch(/^20 W \(\d+ ?– ?\d+\)$/);
    expect(said['Peak from a capacitor']).toMatch(
      /^bulky: 3\.7 mF \(\d[\d.]* ?– ?\d[\d.]* mF\), empty, it takes up to 100 A at first/,
    );
    expect(said['Empty dock']).toMatch(/^0\.10 W, 880 Wh a year$/);
  });
});

describe('the day and the cell', () => {
  const chart = () => deep(mounted.app, 'oc-feed-day').shadowRoot as ShadowRoot;
  const handle = () => chart().querySelector('.marker') as SVGElement;

  test('the hours on the dock are dragged, stepped and undone', async () => {
    await drag(handle(), [60, 0]);
    const dragged = design().demand.dock.hoursPerDay;
    expect(dragged).toBeLessThan(9);
    await press(handle(), 'ArrowUp');
    expect(design().demand.dock.hoursPerDay).toBeCloseTo(dragged + 0.25, 9);
    mounted.session.store.undo();
    mounted.session.store.undo();
    expect(design().demand.dock.hoursPerDay).toBe(9);
  });

  test('a change of the day alone asks the engine nothing', async () => {
    const before = { ...mounted.engine.asked };
    await press(handle(), 'ArrowUp');
    await answered(mounted);
    expect(mounted.engine.asked).toEqual(before);
  });

  test('arrow keys read the curve', async () => {
    const reader = chart().querySelector('.reading') as SVGElement;
    for (let i = 0; i < 6; i += 1) await press(reader, 'ArrowRight');
    expect(caption('The day and the cell')).toMatch(/^After 3 h, off: cell at \d+ \(\d+–\d+\) %$/);
  });

  test('the charge time is shown over the offset map', async () => {
    deepAll<HTMLInputElement>(mounted.app, 'input[value="offset"]')[0].click();
    await soon(() => expect(mounted.session.answers.mapFresh.value).toBe(true));
    await soon(() => expect(mounted.session.answers.busy.value).toBe(false));
    await settled(document);
    const map = deep(mounted.app, 'oc-feed-offset').shadowRoot as ShadowRoot;
    expect(map.querySelectorAll('path.step').length).toBeGreaterThanOrEqual(4);
    const reader = map.querySelector('.reading') as SVGElement;
    await press(reader, 'ArrowRight');
    expect(caption('Charge time over offset')).toMatch(/^x 1, y 0 mm: charged in 6\.\d h$/);
    for (let i = 0; i < 4; i += 1) await press(reader, 'PageUp');
    expect(caption('Charge time over offset')).toMatch(/charged in|gets nothing/);
  });

  test('the switch’s side is chosen', async () => {
    deepAll<HTMLInputElement>(mounted.app, 'input[value="before"]')[0].click();
    await settled(document);
    expect(design().demand.away.through[0].switchBefore).toBe(true);
  });
});

describe('the divider', () => {
  const field = (slot: string) => deep(mounted.app, `oc-dimension[slot="${slot}"]`);
  const add = (name: string) =>
    deepAll<HTMLButtonElement>(mounted.app, '.adds button').find(
      (b) => b.getAttribute('aria-label') === name,
    ) as HTMLButtonElement;
  const status = () => deep(mounted.app, '[role="status"].said').textContent ?? '';
  const boostV = () => design().demand.away.through[0].outputV;

  test('a value typed over moves the output; the wrong way is said in plain words', async () => {
    await type(field('top-resistor'), '120k');
    await soon(() => expect(boostV()).toBeCloseTo(5.4, 9));
    await settled(document);
    expect(status()).toMatch(
      /^That raised the output from 5\.00 V to 5\.40 V\. The loads want 5\.00 V: the wrong way\./,
    );
  });

  test('a parallel resistor below raises the output, and why is said; the button mends it', async () => {
    add('Put in across, Bottom leg').click();
    await settled(document);
    expect(boostV()).toBeGreaterThan(5);
    expect(status()).toContain('A parallel resistor always makes its leg smaller');
    const mend = deepAll<HTMLButtonElement>(mounted.app, 'p.said button')[0];
    mend.click();
    await settled(document);
    expect(boostV()).toBeCloseTo(5, 1);
    mounted.session.store.undo();
    mounted.session.store.undo();
    expect(boostV()).toBeCloseTo(5, 9);
  });

  test('a trimmer gets a slider and a range', async () => {
    add('Put in trimmer, Top leg').click();
    await settled(document);
    const slider = deep<HTMLInputElement>(mounted.app, '#trimmer-top');
    const before = boostV();
    slider.value = '0.9';
    slider.dispatchEvent(new Event('input', { bubbles: true }));
    await settled(document);
    expect(boostV()).toBeGreaterThan(before);
    expect(deep(mounted.app, 'oc-feed-divider').shadowRoot?.querySelector('.travel')).not.toBeNull();
    add('Take out trimmer, Top leg').click();
    await settled(document);
    expect(boostV()).toBeCloseTo(5, 9);
  });

  test('what is out of range stays in the field with its fault', async () => {
    await type(field('bottom-resistor'), '0');
    await soon(() => expect(mounted.session.store.faults.value).toHaveLength(1));
    expect(mounted.session.store.faults.value[0].path).toBe('demand.away.through[0].feedback.bottom.resistorKohm');
    mounted.session.store.undo();
  });
});

test('supplies and sensitivity stand in place of the chain', async () => {
  deepAll<HTMLInputElement>(mounted.app, 'input[value="supply"]')[0].click();
  await settled(document);
  expect(deepAll(mounted.app, 'oc-supply-choice, oc-sensitivity')).toHaveLength(2);
  expect(deepAll(mounted.app, 'oc-feed-day')).toHaveLength(0);
  await soon(() => expect(mounted.session.supply.choice.value).not.toBeNull());
  await settled(document);
  expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(1440);
});

test('charger, cell and converter can be put in, and undone', async () => {
  const { away: _away, dock: _dock, ...demand } = DEMO_DESIGN.demand;
  const loads = demand.loads.map(({ through: _through, ...load }) => load);
  await open({ ...DEMO_DESIGN, demand: { ...demand, loads } });
  const button = (words: string) =>
    deepAll<HTMLButtonElement>(mounted.app, 'p.said button').find((b) => b.textContent?.includes(words));
  expect(deepAll(mounted.app, 'oc-feed-day')).toHaveLength(0);
  button('a charger and a cell')?.click();
  await settled(document);
  await answered(mounted);
  expect(deepAll(mounted.app, 'oc-feed-day')).toHaveLength(1);
  expect(mounted.session.store.resolved.value.demand.demandA).toBeCloseTo(0.78, 9);
  button('a boost converter')?.click();
  await settled(document);
  await answered(mounted);
  expect(design().demand.away.through[0].outputV).toBeCloseTo(5, 9);
  expect(deepAll(mounted.app, 'oc-feed-divider')).toHaveLength(1);
  mounted.session.store.undo();
  mounted.session.store.undo();
  expect(design().demand.away.through).toEqual([]);
});

test('a design without a chain shows what it has', async () => {
  const { away: _away, dock: _dock, ...demand } = DEMO_DESIGN.demand;
  await open({ ...DEMO_DESIGN, demand: { ...demand, loads: [{ name: 'lamp', currentA: 0.4 }] } });
  expect(answerText(mounted.app)).toMatch(/^The link carries lamp, 0\.40 A/);
  expect(deepAll(mounted.app, 'oc-feed-day, oc-feed-divider')).toHaveLength(0);
  expect(flowTexts()).toEqual(expect.arrayContaining(['lamp', '2.00 W']));
});

async function findings(): Promise<string[]> {
  // The station by itself: what stands around it has tests of its own.
  const results = await axe.run(
    { fromShadowDom: ['oc-app', 'oc-feed'] },
    {
      runOnly: { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] },
    },
  );
  expect(results.passes.length).toBeGreaterThan(15);
  return results.violations.flatMap((violation) =>
    violation.nodes.map((node) => `${violation.id}: ${node.target.flat().join(' ')} ${node.failureSummary ?? ''}`),
  );
}

test.each(['light', 'dark'] as const)('axe finds nothing, %s', async (ground) => {
  chooseTheme(ground);
  await settled(document);
  expect(await findings()).toEqual([]);
  deepAll<HTMLInputElement>(mounted.app, 'input[value="offset"]')[0].click();
  await soon(() => expect(mounted.session.answers.mapFresh.value).toBe(true));
  await settled(document);
  expect(await findings()).toEqual([]);
});

test.each([1440, 1000, 820, 390, 320])(
  'no label runs over another, nothing out of the page at %i px',
  async (width) => {
    await page.viewport(width, 800);
    await settled(document);
    await new Promise((resolve) => setTimeout(resolve, 100));
    await settled(document);
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
    const boxes = [...flow().querySelectorAll('text')].map((text) => ({
      words: text.textContent ?? '',
      box: text.getBoundingClientRect(),
    }));
    expect(boxes.length).toBeGreaterThan(10);
    boxes.forEach((a, i) => {
      expect(a.box.right, a.words).toBeLessThanOrEqual(width);
      expect(a.box.left, a.words).toBeGreaterThanOrEqual(0);
      for (const b of boxes.slice(i + 1)) {
        const apart =
          a.box.right <= b.box.left + 0.5 ||
          b.box.right <= a.box.left + 0.5 ||
          a.box.bottom <= b.box.top + 4 ||
          b.box.bottom <= a.box.top + 4;
        expect(apart, `"${a.words}" and "${b.words}" at ${width} px`).toBe(true);
      }
    });
  },
);

test.each([1440, 390])('at %i px what the chain says stands with whole names', async (width) => {
  await page.viewport(width, 844);
  await settled(document);
  const names = deepAll<HTMLElement>(mounted.app, '.chain th');
  expect(names.length).toBeGreaterThan(4);
  for (const name of names) {
    const words = document.createRange();
    words.selectNodeContents(name);
    expect(words.getClientRects().length, name.textContent ?? '').toBe(1);
  }
});
