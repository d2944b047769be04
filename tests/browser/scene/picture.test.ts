import { describe, expect, test } from 'vitest';
import { paletteAt } from '../../../src/scene/palette.ts';
import { webglAvailable } from '../../../src/scene/webgl-available.ts';
import { rectangleWinding } from '../../scene/support/demo-link.ts';
import { expectAccessible, until } from './support/hand.ts';
import {
  canvas,
  coppery,
  countNear,
  HEIGHT,
  handle,
  held,
  pixels,
  root,
  steely,
  useView,
  WIDTH,
} from './support/view.ts';

useView();

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
