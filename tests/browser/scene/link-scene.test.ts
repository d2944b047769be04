import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { LinkScene } from '../../../src/scene/link-scene.ts';
import { paletteAt } from '../../../src/scene/palette.ts';
import type { DragDetail, HandleId, LinkSceneData, PickId, ReleaseDetail } from '../../../src/scene/types.ts';
import { webglAvailable } from '../../../src/scene/webgl-available.ts';
import { demoLink, rectangleWinding } from '../../scene/support/demo-link.ts';
import {
  click,
  drag,
  dress,
  expectAccessible,
  letGo,
  listenToConsole,
  middle,
  moveTo,
  press,
  pull,
  until,
  wheel,
} from './support/hand.ts';

const WIDTH = 560;
const HEIGHT = 360;

interface Held {
  readonly scene: LinkScene;
  readonly box: HTMLElement;
  data: LinkSceneData;
  readonly drags: DragDetail[];
  readonly releases: ReleaseDetail[];
  grabs: number;
}

let held: Held;
let noise: ReturnType<typeof listenToConsole>;

/** What a station does: answer each drag with new data. */
function answer({ change }: DragDetail): void {
  const { pose, transmitter, receiver } = held.data;
  const thick = transmitter.winding.halfThickness + receiver.winding.halfThickness;
  if (change.handle === 'offset') held.data = { ...held.data, pose: { ...pose, x: change.x, y: change.y } };
  else if (change.handle === 'gap') held.data = { ...held.data, pose: { ...pose, z: change.value + thick } };
  else if (change.handle === 'yaw' || change.handle === 'tiltX' || change.handle === 'tiltY')
    held.data = { ...held.data, pose: { ...pose, [change.handle]: change.value } };
  held.scene.update(held.data);
}

/** One view for the whole file: a new drawing context compiles its shaders anew, which is slow in software. */
function mount(): void {
  const box = document.createElement('div');
  box.style.cssText = `position:relative;width:${WIDTH}px;height:${HEIGHT}px`;
  document.body.append(box);
  const scene = new LinkScene();
  scene.mount(box);
  held = { scene, box, data: demoLink(), drags: [], releases: [], grabs: 0 };
  scene.on('grab', () => held.grabs++);
  scene.on('drag', (detail) => {
    held.drags.push(detail);
    answer(detail);
  });
  scene.on('release', (detail) => held.releases.push(detail));
}

/** Back to the start: demo data, the first view, nothing selected, nothing noted. */
function reset(): void {
  (document.activeElement as HTMLElement | null)?.blur();
  document.documentElement.dataset.theme = 'light';
  held.data = demoLink({ palette: paletteAt(document.documentElement) });
  held.scene.update(held.data);
  held.scene.select(null);
  held.scene.view('reset');
  // The cut turns in the step that passes its edge, the handles with it.
  held.scene.advance(5000);
  held.drags.length = 0;
  held.releases.length = 0;
  held.grabs = 0;
}

const root = (): ShadowRoot => held.box.firstElementChild!.shadowRoot!;
const canvas = (): HTMLCanvasElement => root().querySelector('canvas')!;
function handle(id: HandleId): HTMLElement {
  const element = root().querySelector<HTMLElement>(`[data-handle=${id}]`);
  if (element === null) throw new Error(`no handle ${id}`);
  return element;
}

/** The picture's pixels, read in the task that draws it. */
function pixels(): { readonly data: Uint8ClampedArray; readonly width: number; readonly height: number } {
  held.scene.advance(0);
  const copy = document.createElement('canvas');
  copy.width = canvas().width;
  copy.height = canvas().height;
  const pen = copy.getContext('2d')!;
  pen.drawImage(canvas(), 0, 0);
  return pen.getImageData(0, 0, copy.width, copy.height);
}

/** Pixels near a hue, among those that are opaque. */
function countNear(test: (r: number, g: number, b: number) => boolean): number {
  const { data } = pixels();
  let count = 0;
  for (let i = 0; i < data.length; i += 4)
    if (data[i + 3]! > 250 && test(data[i]!, data[i + 1]!, data[i + 2]!)) count++;
  return count;
}
const coppery = (r: number, g: number, b: number): boolean => r > 1.5 * g && g > 1.2 * b && r > 70;
const steely = (r: number, g: number, b: number): boolean => b > 1.5 * r && g > 1.4 * r && b > 50;

beforeAll(async () => {
  await page.viewport(900, 640);
  dress('light');
  mount();
});
afterAll(() => {
  held.scene.dispose();
  held.box.remove();
});
beforeEach(async () => {
  noise = listenToConsole();
  await moveTo({ x: 880, y: 620 });
  held.box.style.width = `${WIDTH}px`;
  await until(() => canvas().width === WIDTH);
  reset();
});
afterEach(() => {
  noise.stop();
  expect(noise.said.filter((line) => !/GPU stall due to ReadPixels/.test(line))).toEqual([]);
});

describe('the picture', () => {
  test('WebGL is there, and the canvas shows copper, steel and plates on clear paper', () => {
    expect(webglAvailable()).toBe(true);
    expect(countNear(coppery)).toBeGreaterThan(1500);
    expect(countNear(steely)).toBeGreaterThan(1500);
    const { data, width } = pixels();
    expect(data[3]).toBe(0);
    expect(data[4 * (width - 1) + 3]).toBe(0);
  });

  test('copper goes with the transmitter, steel with the receiver', () => {
    const both = { copper: countNear(coppery), steel: countNear(steely) };
    // A far receiver leaves the picture: only copper remains.
    held.scene.update({ ...held.data, slabs: [], pose: { ...held.data.pose, x: 3 } });
    expect(countNear(steely)).toBeLessThan(both.steel / 20);
    expect(countNear(coppery)).toBeGreaterThan(both.copper);
  });

  test('without a cut the plates hide the receiver from above', () => {
    const cut = countNear(steely);
    held.scene.update({ ...held.data, cutaway: false });
    expect(countNear(steely)).toBeLessThan(cut / 2);
  });

  test('field lines come and go', () => {
    const before = held.scene.counts().geometries;
    const line = Float64Array.from({ length: 90 }, (_, i) =>
      i % 3 === 0 ? 0.03 * Math.cos(i / 30) : i % 3 === 2 ? 0.03 * Math.sin(i / 30) : 0,
    );
    held.scene.update({ ...held.data, fieldLines: [line] });
    held.scene.advance(0);
    expect(held.scene.counts().geometries).toBe(before + 1);
    held.scene.update({ ...held.data, fieldLines: null });
    held.scene.advance(0);
  });

  test('stays within its budget of triangles, and many turns do not break it', () => {
    held.scene.advance(0);
    expect(held.scene.counts().triangles).toBeLessThan(35_000);
    const winding = rectangleWinding(40, 2);
    held.scene.update({ ...held.data, receiver: { ...held.data.receiver, winding } });
    held.scene.advance(0);
    expect(held.scene.counts().triangles).toBeLessThan(60_000);
  });

  test('can be taken along as a PNG twice as fine', async () => {
    const blob = await held.scene.picture([{ id: 'gap', text: '5.9 mm' }], 2);
    expect(blob?.type).toBe('image/png');
    const image = await createImageBitmap(blob!);
    expect([image.width, image.height]).toEqual([2 * WIDTH, 2 * HEIGHT]);
    const pen = new OffscreenCanvas(image.width, image.height).getContext('2d')!;
    pen.drawImage(image, 0, 0);
    const corner = pen.getImageData(0, 0, 1, 1).data;
    expect([...corner]).toEqual([247, 244, 236, 255]);
  });
});

describe('drawing only what changed', () => {
  test('drawn by software, quick frames are coarse and the last one is sharp again', async () => {
    const widths = new Set<number>();
    held.scene.on('frame', () => widths.add(canvas().width));
    for (let i = 0; i < 8; i++) {
      held.scene.orbit(0.02, 0);
      await new Promise((resolve) => requestAnimationFrame(resolve));
    }
    await until(() => widths.size > 1);
    await until(() => held.scene.still);
    expect(canvas().width).toBe(WIDTH);
  });

  test('what only concerns the handles draws no picture', async () => {
    await until(() => held.scene.still);
    const before = held.scene.counts().frames;
    held.scene.select('receiver');
    await until(() => held.scene.anchors().some((a) => a.id === 'receiverInnerWidth' && a.visible));
    expect(held.scene.counts().frames).toBe(before);
  });

  test('the loop stops once all is still, and starts again for a change', async () => {
    await until(() => held.scene.still);
    const before = held.scene.counts().frames;
    await new Promise((resolve) => setTimeout(resolve, 150));
    expect(held.scene.counts().frames).toBe(before);
    held.scene.zoom(1.2);
    await until(() => held.scene.counts().frames > before);
    await until(() => held.scene.still);
  });

  test('moving the receiver builds no geometry', () => {
    held.scene.advance(0);
    const before = held.scene.counts();
    const seen: object[] = [];
    for (let i = 0; i < 20; i++) {
      held.scene.update({
        ...held.data,
        pose: { ...held.data.pose, x: i * 1e-3, z: held.data.pose.z + i * 1e-4, yaw: i / 50 },
      });
      held.scene.advance(0);
      seen.push(held.scene.counts());
    }
    expect(held.scene.counts().geometries).toBe(before.geometries);
    expect(held.scene.counts().textures).toBe(before.textures);
    expect(seen).toHaveLength(20);
  });

  test('an element without a size is waited for', async () => {
    held.box.style.width = '0';
    await until(() => held.scene.still);
    const before = held.scene.counts().frames;
    held.scene.requestRender();
    held.scene.advance(16);
    expect(held.scene.counts().frames).toBe(before);
    held.box.style.width = '300px';
    await until(() => held.scene.counts().frames > before);
    await until(() => canvas().width === 300);
  });
});

describe('handles by pointer', () => {
  test('the centre ring moves the receiver in the plane, on whole millimetres', async () => {
    const from = middle(handle('offset'));
    await drag(from, { x: from.x + 70, y: from.y + 10 });
    expect(held.grabs).toBe(1);
    expect(held.drags.length).toBeGreaterThan(1);
    expect(held.releases).toEqual([{ handle: 'offset', cancelled: false }]);
    const { x, y } = held.data.pose;
    expect(x).toBeGreaterThan(0.004);
    expect(Math.abs(x * 1e3 - Math.round(x * 1e3))).toBeLessThan(1e-9);
    expect(Math.abs(y * 1e3 - Math.round(y * 1e3))).toBeLessThan(1e-9);
    expect(held.drags.every((d) => d.snapped && d.by === 'pointer')).toBe(true);
    // The ring follows the hand to within half a snap.
    held.scene.advance(0);
    const now = middle(handle('offset'));
    expect(Math.hypot(now.x - from.x - 70, now.y - from.y - 10)).toBeLessThan(12);
  });

  test('with Shift it goes anywhere, to a hundredth of a millimetre', async () => {
    const from = middle(handle('offset'));
    await drag(from, { x: from.x + 33, y: from.y - 5 }, { shift: true });
    const { x, y } = held.data.pose;
    expect(held.drags.every((d) => !d.snapped)).toBe(true);
    expect(Math.abs(x * 1e5 - Math.round(x * 1e5))).toBeLessThan(1e-6);
    expect(Math.abs(x * 1e3 - Math.round(x * 1e3)) + Math.abs(y * 1e3 - Math.round(y * 1e3))).toBeGreaterThan(0.01);
    held.scene.advance(0);
    const now = middle(handle('offset'));
    expect(Math.hypot(now.x - from.x - 33, now.y - from.y + 5)).toBeLessThan(1);
  });

  test('gap, yaw and tilt follow their own directions', async () => {
    const gap = middle(handle('gap'));
    await drag(gap, { x: gap.x, y: gap.y - 40 });
    const gaps = held.drags.map((d) => (d.change.handle === 'gap' ? d.change.value : Number.NaN));
    expect(gaps.at(-1)).toBeGreaterThan(0.008);
    held.scene.advance(0);
    const yaw = middle(handle('yaw'));
    await drag(yaw, { x: yaw.x + 60, y: yaw.y + 12 });
    expect(held.data.pose.yaw).toBeGreaterThan(0.1);
    expect((held.data.pose.yaw * 36) / Math.PI).toBeCloseTo(Math.round((held.data.pose.yaw * 36) / Math.PI), 9);
    held.scene.advance(0);
    const tilt = middle(handle('tiltY'));
    await drag(tilt, { x: tilt.x, y: tilt.y - 40 });
    // The handle on the left lifts -x: a positive tilt about y.
    expect(held.data.pose.tiltY).toBeGreaterThan(0.05);
    held.scene.advance(0);
    const other = middle(handle('tiltX'));
    await drag(other, { x: other.x, y: other.y - 40 });
    expect(held.data.pose.tiltX).toBeGreaterThan(0.05);
  });

  test('the outer diameter is pulled at the edge; both edges move, so the value changes twice as fast', async () => {
    const from = middle(handle('transmitterOuter'));
    await drag(from, { x: from.x, y: from.y + 30 });
    const last = held.drags.at(-1)!.change;
    expect(last.handle).toBe('transmitterOuter');
    expect(last.handle === 'transmitterOuter' && last.value).toBeGreaterThan(0.05);
  });

  test('Escape takes a drag back', async () => {
    const from = middle(handle('offset'));
    await moveTo(from);
    await press(from);
    await pull({ x: from.x + 60, y: from.y });
    expect(held.data.pose.x).not.toBe(0);
    await userEvent.keyboard('{Escape}');
    expect(held.data.pose.x).toBe(0);
    expect(held.releases).toEqual([{ handle: 'offset', cancelled: true }]);
    await pull({ x: from.x + 90, y: from.y });
    expect(held.data.pose.x).toBe(0);
    await letGo(from);
    expect(held.releases).toHaveLength(1);
  });

  test('a press without a move changes nothing, on a mark or not', async () => {
    held.data = { ...held.data, pose: { ...held.data.pose, x: 0.00314 } };
    held.scene.update(held.data);
    held.scene.advance(0);
    const from = middle(handle('offset'));
    await moveTo(from);
    await press(from);
    await letGo(from);
    expect(held.drags).toEqual([]);
    expect(held.releases).toHaveLength(1);
  });

  test('bounds hold', async () => {
    held.scene.update({ ...held.data, limits: { gap: { max: 0.0073 } } });
    held.scene.advance(0);
    held.data = { ...held.data, limits: { gap: { max: 0.0073 } } };
    const gap = middle(handle('gap'));
    await drag(gap, { x: gap.x, y: gap.y - 90 });
    const last = held.drags.at(-1)!.change;
    expect(last).toEqual({ handle: 'gap', value: 0.0073 });
  });
});

describe('handles by keyboard', () => {
  test('Tab visits the picture and every handle, each a slider with a name and a value', async () => {
    held.box.insertAdjacentHTML('beforebegin', '<button id="before">before</button>');
    document.getElementById('before')!.focus();
    await userEvent.tab();
    expect(root().activeElement).toBe(canvas());
    const names: string[] = [];
    for (let i = 0; i < 14; i++) {
      await userEvent.tab();
      const at = root().activeElement as HTMLElement;
      names.push(`${at.getAttribute('aria-label')}: ${at.getAttribute('aria-valuetext')}`);
      expect(at.getAttribute('role')).toBe('slider');
    }
    expect(names).toEqual([
      'Offset: x 0 mm, y 0 mm',
      'Gap: 5.9 mm',
      'Yaw: 0°',
      'Tilt about x: 0°',
      'Tilt about y: 0°',
      'Transmitter outer diameter: 44 mm',
      'Transmitter inner diameter: 20.5 mm',
      'Transmitter turns: 10',
      'Receiver outer width: 46 mm',
      'Receiver outer height: 33 mm',
      'Receiver inner width: 28 mm',
      'Receiver inner height: 15 mm',
      'Receiver corner radius: 10 mm',
      'Receiver turns: 14',
    ]);
    document.getElementById('before')!.remove();
  });

  test('arrows move the receiver by marks; one grab and one release for each key', async () => {
    held.scene.focusHandle('offset');
    await userEvent.keyboard('{ArrowRight}{ArrowRight}{ArrowUp}');
    expect(held.data.pose.x).toBe(0.002);
    expect(held.data.pose.y).toBe(0.001);
    expect(held.grabs).toBe(3);
    expect(held.releases).toHaveLength(3);
    expect(handle('offset').getAttribute('aria-valuetext')).toBe('x 2 mm, y 1 mm');
    await userEvent.keyboard('{Home}');
    expect([held.data.pose.x, held.data.pose.y]).toEqual([0, 0]);
    held.scene.focusHandle('yaw');
    await userEvent.keyboard('{ArrowUp}{Shift>}{ArrowUp}{/Shift}');
    expect((held.data.pose.yaw * 180) / Math.PI).toBeCloseTo(5.5, 9);
  });

  test('a key held down is one grab with many steps', async () => {
    held.scene.focusHandle('gap');
    await userEvent.keyboard('{ArrowUp>5}');
    expect(held.grabs).toBe(1);
    expect(held.releases).toHaveLength(0);
    await userEvent.keyboard('{/ArrowUp}');
    expect(held.releases).toHaveLength(1);
    expect(held.drags.length).toBe(5);
  });

  test('the focus stays on its handle while the data changes under it', async () => {
    held.scene.focusHandle('gap');
    for (let i = 0; i < 5; i++) {
      await userEvent.keyboard('{ArrowUp}');
      held.scene.advance(16);
      expect(root().activeElement).toBe(handle('gap'));
    }
  });

  test('a shape handle shows itself once it has the focus', async () => {
    expect(getComputedStyle(handle('receiverInnerWidth')).opacity).toBe('0');
    held.scene.focusHandle('receiverInnerWidth');
    held.scene.advance(16);
    await until(() => getComputedStyle(handle('receiverInnerWidth')).opacity === '1');
    expect(held.scene.anchors().find((a) => a.id === 'receiverInnerWidth')?.visible).toBe(true);
  });
});

describe('the view', () => {
  const at = (): { x: number; y: number } => {
    const box = canvas().getBoundingClientRect();
    return { x: box.left + 30, y: box.top + 30 };
  };
  const anchorX = (): number => held.scene.anchors().find((a) => a.id === 'gap')!.x;

  test('a drag on the paper turns it', async () => {
    const before = anchorX();
    await drag(at(), { x: at().x + 80, y: at().y });
    held.scene.advance(5000);
    expect(Math.abs(anchorX() - before)).toBeGreaterThan(10);
    expect(held.drags).toEqual([]);
  });

  test('a right drag moves it', async () => {
    const before = held.scene.anchors().find((a) => a.id === 'gap')!;
    await drag(at(), { x: at().x + 50, y: at().y + 20 }, { button: 'right' }, 10);
    held.scene.advance(5000);
    const after = held.scene.anchors().find((a) => a.id === 'gap')!;
    expect(after.x - before.x).toBeCloseTo(50, -1);
    expect(after.y - before.y).toBeCloseTo(20, -1);
  });

  test('the wheel leaves the page alone until the view has the focus', async () => {
    const before = anchorX();
    await moveTo(at());
    await wheel(at(), -200);
    held.scene.advance(5000);
    expect(anchorX()).toBeCloseTo(before, 6);
    canvas().focus();
    await wheel(at(), -200);
    await until(() => {
      held.scene.advance(5000);
      return anchorX() > before + 10;
    });
  });

  test('by keyboard: arrows turn, Shift moves, plus zooms, T and S look along the axes, 0 resets', async () => {
    canvas().focus();
    const reset = anchorX();
    const steps: [string, boolean][] = [
      ['{ArrowLeft}', true],
      ['0', false],
      ['{Shift>}{ArrowUp}{/Shift}', true],
      ['{Home}', false],
      ['{+}', true],
      ['{-}', false],
    ];
    for (const [keys, moves] of steps) {
      await userEvent.keyboard(keys);
      held.scene.advance(5000);
      const gap = held.scene.anchors().find((a) => a.id === 'gap')!;
      if (!moves) expect(gap.x, keys).toBeCloseTo(reset, 3);
    }
    await userEvent.keyboard('t');
    held.scene.advance(5000);
    const outer = held.scene.anchors().find((a) => a.id === 'receiverOuterWidth')!;
    const height = held.scene.anchors().find((a) => a.id === 'receiverOuterHeight')!;
    expect(outer.towardX).toBeCloseTo(1, 6);
    expect(height.towardY).toBeCloseTo(1, 6);
    expect(held.scene.anchors().find((a) => a.id === 'gap')!.visible).toBe(false);
    await userEvent.keyboard('s');
    held.scene.advance(5000);
    const side = held.scene.anchors().find((a) => a.id === 'gap')!;
    expect(side.visible).toBe(true);
    expect(side.towardX).toBeCloseTo(1, 6);
    expect(held.drags).toEqual([]);
  });

  test('the cut turns towards the viewer', async () => {
    for (let i = 0; i < 4; i++) {
      held.scene.advance(5000);
      expect(countNear(steely), `quarter ${i}`).toBeGreaterThan(1200);
      held.scene.orbit(Math.PI / 2, 0);
    }
  });

  test('from below the receiver is whole and the transmitter cut', () => {
    held.scene.orbit(0, (-75 * Math.PI) / 180);
    held.scene.advance(5000);
    expect(countNear(coppery)).toBeGreaterThan(1000);
  });

  test('picking returns ids', () => {
    const { left, top } = canvas().getBoundingClientRect();
    const under = (id: string): PickId | null => {
      const anchor = held.scene.anchors().find((a) => a.id === id)!;
      return held.scene.pick(left + anchor.x - 4 * anchor.towardX, top + anchor.y - 4 * anchor.towardY);
    };
    expect(under('transmitterOuter')).toMatchObject({ kind: 'winding', side: 'transmitter' });
    expect(under('receiverOuterWidth')).toMatchObject({ kind: 'winding', side: 'receiver' });
    expect(held.scene.pick(left + WIDTH / 2, top + HEIGHT * 0.38)).toMatchObject({ kind: 'metal', side: 'receiver' });
    expect(held.scene.pick(left + 3, top + 3)).toBeNull();
  });

  test('a click on a coil shows all its numbers, a click on the paper none', async () => {
    const picked: unknown[] = [];
    held.scene.on('select', (side) => picked.push(side));
    const shown = (): string[] =>
      held.scene
        .anchors()
        .filter((a) => a.visible)
        .map((a) => a.id);
    expect(shown().sort()).toEqual(['gap', 'receiverOuterHeight', 'receiverOuterWidth', 'transmitterOuter']);
    const { left, top } = canvas().getBoundingClientRect();
    const anchor = held.scene.anchors().find((a) => a.id === 'transmitterOuter')!;
    await click({ x: left + anchor.x - 24 * anchor.towardX, y: top + anchor.y - 24 * anchor.towardY });
    held.scene.advance(16);
    expect(picked).toEqual(['transmitter']);
    expect(shown()).toContain('transmitterInner');
    expect(shown()).toContain('transmitterTurns');
    await click(at());
    held.scene.advance(16);
    expect(picked).toEqual(['transmitter', null]);
    expect(shown()).not.toContain('transmitterInner');
  });

  test('hovering a coil tells what it is and offers its handles', async () => {
    const told: (PickId | null)[] = [];
    held.scene.on('hover', (pick) => told.push(pick));
    const { left, top } = canvas().getBoundingClientRect();
    const anchor = held.scene.anchors().find((a) => a.id === 'transmitterOuter')!;
    await moveTo({ x: left + 5, y: top + 5 });
    await new Promise((resolve) => setTimeout(resolve, 60));
    await moveTo({ x: left + anchor.x - 24 * anchor.towardX, y: top + anchor.y - 24 * anchor.towardY });
    await until(() => told.length > 0);
    expect(told.at(-1)).toMatchObject({ kind: 'winding', side: 'transmitter' });
    held.scene.advance(16);
    expect(handle('transmitterInner').classList.contains('aside')).toBe(false);
    expect(handle('receiverInnerWidth').classList.contains('aside')).toBe(true);
  });
});

describe('for everybody', () => {
  test('axe finds nothing, in light and dark', async () => {
    await expectAccessible(document.body);
    document.documentElement.dataset.theme = 'dark';
    held.scene.update({ ...held.data, palette: paletteAt(document.documentElement) });
    held.scene.advance(0);
    await expectAccessible(document.body);
  });

  test('the picture has a description and tells its keys', () => {
    held.scene.update({ ...held.data, description: 'Audio guide on its shelf' });
    expect(canvas().getAttribute('aria-label')).toBe('Audio guide on its shelf');
    const help = root().getElementById(canvas().getAttribute('aria-describedby')!);
    expect(help!.textContent).toContain('Arrow keys turn the view');
  });

  test('a refused value shows on its handle', () => {
    held.scene.update({ ...held.data, faults: ['transmitterInner'] });
    held.scene.advance(0);
    expect(handle('transmitterInner').classList.contains('refused')).toBe(true);
    expect(handle('transmitterOuter').classList.contains('refused')).toBe(false);
  });

  test('handles come and go with the outline', () => {
    expect(root().querySelector('[data-handle=receiverCornerRadius]')).not.toBeNull();
    held.scene.update({ ...held.data, receiver: { ...held.data.receiver, winding: held.data.transmitter.winding } });
    held.scene.advance(0);
    expect(root().querySelector('[data-handle=receiverCornerRadius]')).toBeNull();
    expect(handle('receiverOuter').getAttribute('aria-valuetext')).toBe('44 mm');
  });
});
