import axe from 'axe-core';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { page } from 'vitest/browser';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { GLOSSARY } from '../../../src/stations/glossary.ts';
import { chooseTheme } from '../../../src/stations/theme.ts';
import { answerText, deep, deepAll, type MountedApp, mountApp, press, settled } from './mount-app.ts';

let mounted: MountedApp | null = null;

afterEach(() => {
  mounted?.unmount();
  mounted = null;
  chooseTheme('system');
}, 60_000);

async function proved(start = DEMO_DESIGN): Promise<MountedApp> {
  mounted = await mountApp({ station: 'prove', start });
  const { session, app } = mounted;
  if ((start.readings ?? []).length > 0)
    await vi.waitFor(() => expect(session.fit.fresh.value).toBe(true), { timeout: 20_000 });
  await settled(app);
  return mounted;
}

const cells = (of: MountedApp, name: string): HTMLInputElement =>
  deep<HTMLInputElement>(of.app, `input[aria-label="${name}"]`);

async function typeInto(input: HTMLInputElement, text: string): Promise<void> {
  input.value = text;
  input.dispatchEvent(new Event('change', { bubbles: true }));
  await settled(document);
}

describe('the Prove station', () => {
  test('answers first, with readings, efficiency and values beneath', async () => {
    const at = await proved();
    expect(answerText(at.app)).toMatch(
      /^The readings agree with the model, and the reach narrows from 0–11 mm to 3\.1–4\.4 mm\.$/,
    );
    expect(deepAll(deep(at.app, 'oc-prove-readings'), 'tbody th[scope=row]')).toHaveLength(
      DEMO_DESIGN.readings?.length ?? 0,
    );
    expect(deepAll(at.app, 'circle.point').length).toBeGreaterThan(8);
    expect(deepAll(at.app, 'path.collapsed').length).toBe(3);
    expect(deepAll(at.app, 'rect.prior').length).toBeGreaterThan(5);
    expect(deepAll(at.app, 'li').some((e) => /Read the operating frequency/.test(e.textContent ?? ''))).toBe(true);
  });

  test('keeps its shape while the fit is on its way, and says how much of it there is', async () => {
    await page.viewport(1440, 900);
    mounted = await mountApp({ station: 'prove', delayMs: 1500 });
    const { app, session } = mounted;
    await settled(app);
    await document.fonts.ready;
    const parts = '.run, .scroll, oc-figure, .use, h3, .print';
    const places = () =>
      [...deepAll(app, parts), ...deepAll(deep(app, 'oc-prove-readings'), 'th')].map((e) => {
        const { x, y, width, height } = e.getBoundingClientRect();
        return `${e.localName}.${e.className}: ${Math.round(x)} ${Math.round(y)} ${Math.round(width)} ${Math.round(height)}`;
      });
    expect(answerText(app)).toMatch(/^Laying 14 readings beside the model …$/);
    const before = places();
    await vi.waitFor(() => expect(session.fit.fresh.value).toBe(true), { timeout: 20_000 });
    await settled(app);
    expect(before.length).toBeGreaterThan(20);
    expect(places()).toEqual(before);
  });

  test('a fit that is stopped says so, and goes on when asked', async () => {
    mounted = await mountApp({ station: 'prove', delayMs: 1500 });
    const { app, session } = mounted;
    await vi.waitFor(() => expect(session.fit.running.value).toBe(true));
    await settled(app);
    const stop = deepAll<HTMLButtonElement>(app, 'button').find((b) => b.textContent?.trim() === 'Stop');
    stop?.click();
    await settled(app);
    expect(answerText(app)).toBe('Stopped before the 14 readings were laid beside the model.');
    deepAll<HTMLButtonElement>(app, 'button')
      .find((b) => b.textContent?.trim() === 'Fit again')
      ?.click();
    await vi.waitFor(() => expect(session.fit.fresh.value).toBe(true), { timeout: 20_000 });
  });

  test('where the model does not explain the readings, it says so first and what may be the cause', async () => {
    const [first, ...others] = DEMO_DESIGN.readings ?? [];
    const at = await proved({ ...DEMO_DESIGN, readings: [{ ...first, outputA: 4 }, ...others] });
    expect(answerText(at.app)).toMatch(
      /^The model does not explain these readings: they are 7\.2 times as far off as they should be\. Do not build on its reach/,
    );
    expect(deepAll(at.app, 'ul.bad li').map((e) => e.textContent)).toEqual(['No single cause explains the pattern.']);
  });

  test('a cell is edited in place, with a decimal comma, and can be undone', async () => {
    const at = await proved();
    await typeInto(cells(at, 'supply current, reading 2'), '0,444');
    expect(at.session.store.design.value.readings[1].supplyA).toBe(0.444);
    await vi.waitFor(() => expect(at.engine.asked.fit).toBe(2));
    at.session.store.undo();
    expect(at.session.store.design.value.readings[1].supplyA).toBe(0.402);
    await settled(document);
    await typeInto(cells(at, 'supply current, reading 2'), '0,4020');
    expect(cells(at, 'supply current, reading 2').value).toBe('0.402');
    expect(at.session.store.undoLabel.value).toBeNull();
  });

  test('what cannot be read stays in the cell and is told; nothing changes', async () => {
    const at = await proved();
    const before = at.session.store.document.value;
    await typeInto(cells(at, 'gap, reading 1'), 'near');
    expect(at.session.store.document.value).toBe(before);
    expect(cells(at, 'gap, reading 1').value).toBe('near');
    expect(cells(at, 'gap, reading 1').getAttribute('aria-invalid')).toBe('true');
    expect(deep(at.app, 'tr.said').textContent).toMatch(/gap: must be a number from 0\.05 to 1000 mm; received "near"/);
  });

  test('what cannot be read in a cell is a step: kept with the design, undone, gone with its row or its design', async () => {
    const at = await proved();
    const { store } = at.session;
    await typeInto(cells(at, 'gap, reading 2'), 'near');
    expect(store.faults.value.map(({ path }) => path)).toEqual(['readings[1].gapMm']);
    // The row above goes: the text stays with no other reading.
    deepAll<HTMLButtonElement>(at.app, 'button')
      .find((b) => b.getAttribute('aria-label') === 'remove reading 1')
      ?.click();
    await settled(document);
    expect(cells(at, 'gap, reading 2').value).toBe(String(store.design.value.readings[1].gapMm));
    expect(deepAll(at.app, 'tr.said').map((e) => e.textContent)).not.toContainEqual(expect.stringContaining('near'));
    store.undo();
    await settled(document);
    expect(cells(at, 'gap, reading 2').value).toBe('near');
    store.take({ document: { ...DEMO_DESIGN, title: 'Another' }, drafts: {} }, 'Open another');
    await settled(document);
    expect(cells(at, 'gap, reading 2').value).toBe('5.9');
    store.undo();
    store.undo();
    await settled(document);
    expect(cells(at, 'gap, reading 2').value).toBe('5.9');
    expect(store.undoLabel.value).toBeNull();
    // And mended by a number in one step.
    await typeInto(cells(at, 'gap, reading 2'), 'far');
    await typeInto(cells(at, 'gap, reading 2'), '6,5');
    expect(store.faults.value).toEqual([]);
    expect(store.design.value.readings[1].gapMm).toBe(6.5);
    store.undo();
    await settled(document);
    expect(cells(at, 'gap, reading 2').value).toBe('far');
  });

  test('what was wrong with a paste is not said of the readings of another design', async () => {
    const at = await proved();
    const data = new DataTransfer();
    data.setData('text', '5\toops\t5\t0,4\t7');
    deep(at.app, '.scroll').dispatchEvent(
      new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true, composed: true }),
    );
    await settled(document);
    expect(deepAll(at.app, 'ul.bad[role=alert]')).toHaveLength(1);
    at.session.store.take({ document: { ...DEMO_DESIGN, readings: [{ supplyV: 5 }] }, drafts: {} }, 'Open another');
    await settled(document);
    expect(deepAll(at.app, 'ul.bad[role=alert]')).toEqual([]);
  });

  test('rows pasted into a cell become readings; a faulty row is told by number and column', async () => {
    const at = await proved();
    const count = at.session.store.design.value.readings.length;
    const data = new DataTransfer();
    data.setData('text', '5\t0,5\t5\t0,4\t7\n5\toops\t5\t0,4\t7');
    deep(at.app, '.scroll').dispatchEvent(
      new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true, composed: true }),
    );
    await settled(document);
    const { readings } = at.session.store.design.value;
    expect(readings).toHaveLength(count + 1);
    expect(readings[count]).toMatchObject({ supplyV: 5, supplyA: 0.5, outputA: 0.4, gapMm: 7 });
    expect(deep(at.app, '[role=alert]').textContent).toMatch(
      /row 2, supply current: must be a number from 0 to 100 A; received "oops"/,
    );
  });

  test('readings are added, unticked and removed', async () => {
    const at = await proved();
    const count = at.session.store.design.value.readings.length;
    const add = deepAll<HTMLButtonElement>(at.app, 'button').find((b) => b.textContent?.trim() === 'Add a reading');
    add?.click();
    await settled(document);
    expect(at.session.store.design.value.readings).toHaveLength(count + 1);
    cells(at, 'in regulation, reading 1').click();
    await settled(document);
    expect(at.session.store.design.value.readings[0].regulated).toBe(false);
    deep<HTMLButtonElement>(at.app, 'button[aria-label="remove reading 1"]').click();
    await settled(document);
    expect(at.session.store.design.value.readings).toHaveLength(count);
  });

  test('the points are read from the keyboard, and their row is marked', async () => {
    const at = await proved();
    const handle = deep(deep(at.app, 'oc-prove-efficiency'), '.handle');
    handle.focus();
    await press(handle, 'Home');
    expect(handle.getAttribute('aria-valuetext')).toMatch(/^reading 1: 0\.1/);
    await settled(document);
    expect(deepAll(at.app, 'tr.read')).toHaveLength(1);
  });

  test('the fitted values are shown before they go over into the design, and one step back undoes it', async () => {
    const at = await proved();
    const before = JSON.stringify(at.session.store.document.value);
    const use = deep<HTMLDetailsElement>(at.app, 'details.use');
    deep<HTMLElement>(use, 'summary').click();
    await settled(document);
    const rows = deepAll(use, 'tbody tr').map((row) => (row.textContent ?? '').replace(/\s+/g, ' ').trim());
    expect(rows).toHaveLength(3);
    expect(rows[0]).toMatch(/^transmitter series capacitor 400\.0 nF 389\.2 nF$/);
    expect(rows[1]).toMatch(/^transmitter inductance 6\.300 .H, computed 6\.410 .H$/);
    expect(use.textContent).toMatch(/2 guessed values stay as they are/);
    deep<HTMLButtonElement>(use, 'button').click();
    await settled(document);
    const { transmitter, receiver } = at.session.store.document.value;
    expect(transmitter.drive.seriesCapacitanceNf).toBe(389.2);
    expect(transmitter.coil.inductanceUh).toBe(6.41);
    expect(receiver.couplingFactor).toBe(1.012);
    at.session.store.undo();
    expect(JSON.stringify(at.session.store.document.value)).toBe(before);
  });

  test('the map after the fit comes on request', async () => {
    const at = await proved();
    at.session.fit.askMap();
    await vi.waitFor(() => expect(at.session.fit.map.value).not.toBeNull());
    expect(at.engine.asked.fitMap).toBe(1);
  });

  test('without readings it says what to bring', async () => {
    const at = await proved({ ...DEMO_DESIGN, readings: [] });
    expect(answerText(at.app)).toMatch(/No readings yet\./);
    expect(at.engine.asked.fit).toBe(0);
    const first = deep(at.app, '.first').textContent ?? '';
    expect(first).toMatch(/at 5\.9\u00a0mm gap, centred/);
    expect(first).toMatch(/Raise the load until the output collapses/);
    expect(deepAll(at.app, 'oc-prove-efficiency')).toHaveLength(0);
  });
});

test('every label is in the glossary', async () => {
  const at = await proved();
  const known = new Set(Object.values(GLOSSARY).map((term) => term.label.toLowerCase()));
  const labels = deepAll(at.station(), 'h2, h3, th[scope=col], th[scope=row], summary')
    .map((e) =>
      (e.textContent ?? '')
        .replace(/\s+/g, ' ')
        .replace(/ \d[\d.]* V$/, '')
        .trim()
        .toLowerCase(),
    )
    .filter((text) => text !== '' && !/^\d+$/.test(text));
  expect(labels.length).toBeGreaterThan(20);
  expect(labels.filter((text) => !known.has(text))).toEqual([]);
});

describe.each(['light', 'dark'] as const)('axe finds nothing, %s', (ground) => {
  test.each([1440, 390])('at %i px', async (width) => {
    await page.viewport(width, width === 390 ? 844 : 900);
    chooseTheme(ground);
    await proved();
    const { violations } = await axe.run(document.body, {
      // The page's own frame is looked at in axe.test.ts.
      rules: { region: { enabled: false } },
      runOnly: { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] },
    });
    expect(
      violations.flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.target.flat().join(' ')} ${n.failureSummary ?? ''}`)),
    ).toEqual([]);
  });
});

test('nothing scrolls sideways at 320 px', async () => {
  await page.viewport(320, 700);
  await proved();
  expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(320);
});
