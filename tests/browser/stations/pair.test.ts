import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { page } from 'vitest/browser';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
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
const design = () => mounted.session.store.design.value;
const soon = (check: () => void) => vi.waitFor(check, { timeout: 20_000 });

afterEach(() => {
  mounted.unmount();
  vi.restoreAllMocks();
}, 60_000);

describe('with the 3-D view', () => {
  beforeEach(async () => {
    await page.viewport(920, 640);
    mounted = await mountApp({ station: 'pair' });
    await answered(mounted);
    await soon(() => expect(deepAll(mounted.app, '.handle[data-handle]').length).toBeGreaterThan(5));
  }, 60_000);

  test('says what the pair can do, and shows its numbers', () => {
    expect(answerText(mounted.app)).toMatch(/^Couples at k 0\.\d{3} \(0\.\d{3}–0\.\d{3}\): at best \d+ % gets across/);
    const rows = deepAll<HTMLTableRowElement>(mounted.app, '.numbers tbody tr').map((row) =>
      [...row.cells].map((cell) => (cell.textContent ?? '').replace(/\s+/g, ' ').trim()),
    );
    expect(rows).toHaveLength(6);
    expect(rows[0]).toEqual(['Self-inductance', '9.20 ± 0.05 µH', '13.10 ± 0.08 µH']);
  });

  test('a handle stepped from the keyboard changes the design, as one undo step', async () => {
    const before = design().placement.gapMm;
    await press(deep(mounted.app, '[data-handle="gap"]'), 'ArrowUp');
    expect(design().placement.gapMm).toBeGreaterThan(before);
    expect(mounted.session.store.dragging.value).toBe(false);
    expect(mounted.session.store.undoLabel.value).toBe('Change the gap');
    mounted.session.store.undo();
    expect(design().placement.gapMm).toBe(before);
  });

  test('a number beside a handle can be typed; one that cannot be wound stays with the reason', async () => {
    const field = () => deep(mounted.app, 'oc-dimension[data-anchor="transmitterOuter"]');
    await type(field(), '4.6 cm');
    await soon(() => expect(design().transmitter.coil.outline).toMatchObject({ outerDiameterMm: 46 }));
    await type(field(), '30 mm');
    await soon(() => expect(mounted.session.store.faults.value.length).toBeGreaterThan(0));
    await settled(document);
    expect(mounted.session.store.faults.value[0].path).toMatch(/^transmitter\.coil/);
    expect(design().transmitter.coil.outline).toMatchObject({ outerDiameterMm: 46 });
    expect(deep<HTMLInputElement>(field(), 'input').value).toMatch(/^30/);
  });

  test('a lost drawing context leaves plan, sizes and side view, and the picture comes back', async () => {
    const canvas = deep<HTMLCanvasElement>(mounted.app, 'canvas');
    const context = canvas.getContext('webgl2')?.getExtension('WEBGL_lose_context');
    context?.loseContext();
    await soon(() =>
      expect(deepAll(mounted.app, 'oc-margin-map')[0]?.getBoundingClientRect().width).toBeGreaterThan(200),
    );
    await soon(() => expect(deepAll(mounted.app, '.sizes oc-dimension').length).toBeGreaterThan(8));
    expect(deep(mounted.app, '.plan .told').textContent).toMatch(/took the 3-D drawing away; this plan stands in/);
    await type(deep(mounted.app, '.sizes oc-dimension[label="Turns, receiver"]'), '12');
    await soon(() => expect(design().receiver.coil.turns).toBe(12));
    context?.restoreContext();
    await soon(() => expect(deepAll(mounted.app, '.sizes')).toEqual([]));
    await soon(() => expect(deepAll(mounted.app, '.handle[data-handle]').length).toBeGreaterThan(5));
  });

  test('a word says what it means, with its formula, from the keyboard', async () => {
    const word = deep(mounted.app, '.numbers oc-word');
    const help = word.shadowRoot?.querySelector('[popover]') as HTMLElement;
    word.shadowRoot?.querySelector('button')?.click();
    await settled(document);
    expect(help.matches(':popover-open')).toBe(true);
    expect(help.textContent).toContain('u = L di/dt');
    const box = help.getBoundingClientRect();
    expect(box.left).toBeGreaterThanOrEqual(0);
    expect(box.right).toBeLessThanOrEqual(innerWidth);
    expect(box.bottom).toBeLessThanOrEqual(innerHeight);
    help.hidePopover();
  });

  test('the shape changes without losing the rest', async () => {
    const turns = design().transmitter.coil.turns;
    const choice = deep(mounted.app, 'oc-choice[label="Transmitter"], oc-choice');
    deep<HTMLInputElement>(choice, 'input[value="stadium"]').click();
    await settled(document);
    expect(design().transmitter.coil.outline.shape).toBe('stadium');
    expect(design().transmitter.coil.turns).toBe(turns);
    mounted.session.store.undo();
    expect(design().transmitter.coil.outline).toMatchObject({ shape: 'circle', outerDiameterMm: 44 });
  });
});

describe('without WebGL', () => {
  beforeEach(async () => {
    await page.viewport(920, 800);
    // The element asks once in a page's life; here it is told that there is none.
    mounted = await mountApp({ station: 'pair' });
    const view = deep<HTMLElement & { flat: boolean }>(mounted.app, 'oc-link-view');
    view.flat = true;
    view.dispatchEvent(new CustomEvent('view-changed', { detail: { drawn: false }, bubbles: true, composed: true }));
    await answered(mounted);
  }, 60_000);

  test('the drawn plan is there, fully usable', async () => {
    const plan = deep(mounted.app, 'oc-margin-map');
    expect(plan.getBoundingClientRect().width).toBeGreaterThan(200);
    await drag(plan.shadowRoot?.querySelector('.ring') as SVGElement, [40, 0]);
    expect(design().placement.offsetXMm).toBeGreaterThan(1);
    const sizes = deepAll(mounted.app, '.sizes oc-dimension').map((field) => field.getAttribute('label'));
    expect(sizes).toContain('Outer diameter, transmitter');
    expect(sizes).toContain('Outer width, receiver');
    await type(deep(mounted.app, '.sizes oc-dimension[label="Turns, receiver"]'), '12');
    await soon(() => expect(design().receiver.coil.turns).toBe(12));
  });
});

test('on a telephone every handle on offer is under the finger, wherever the receiver lies', async () => {
  await page.viewport(390, 844);
  mounted = await mountApp({ station: 'pair' });
  await answered(mounted);
  await soon(() => expect(deepAll(mounted.app, '.handle[data-handle]').length).toBeGreaterThan(5));
  for (const placement of [
    { offsetXMm: 0 },
    { offsetXMm: 8.7, offsetYMm: 10.4 },
    { offsetXMm: -6, offsetYMm: 4, yawDeg: 40, tiltXDeg: 5 },
  ]) {
    mounted.session.store.take({ document: { ...DEMO_DESIGN, placement }, drafts: {} }, 'Another place');
    await answered(mounted);
    await soon(() => {
      const covered = deepAll(mounted.app, '.handle[data-handle]:not(.aside, .gone)').flatMap((handle) => {
        const box = handle.getBoundingClientRect();
        const [x, y] = [box.left + box.width / 2, box.top + box.height / 2];
        let at = document.elementFromPoint(x, y);
        for (let deeper = at; deeper !== null; deeper = at?.shadowRoot?.elementFromPoint(x, y) ?? null) {
          if (deeper === at && at?.shadowRoot?.elementFromPoint(x, y) === at) break;
          at = deeper;
          if (!at.shadowRoot) break;
        }
        return at instanceof HTMLElement && at.dataset.handle
          ? []
          : [`${handle.dataset.handle} under ${at?.localName}`];
      });
      expect(covered).toEqual([]);
    });
  }
});
