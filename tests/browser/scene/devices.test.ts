import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { cdp, page } from 'vitest/browser';
import { LinkScene } from '../../../src/scene/link-scene.ts';
import { paletteAt } from '../../../src/scene/palette.ts';
import { demoLink } from '../../scene/support/demo-link.ts';
import { dress, listenToConsole, until } from './support/hand.ts';

type Send = (method: string, params: Readonly<Record<string, unknown>>) => Promise<unknown>;
const send: Send = (method, params) => (cdp() as unknown as { send: Send }).send(method, params);

let scene: LinkScene;
let box: HTMLElement;
let noise: ReturnType<typeof listenToConsole>;

beforeEach(async () => {
  await page.viewport(700, 500);
  noise = listenToConsole();
  dress('light');
  box = document.createElement('div');
  box.style.cssText = 'position:relative;width:400px;height:260px';
  document.body.append(box);
  scene = new LinkScene();
  scene.mount(box);
  scene.update(demoLink({ palette: paletteAt(document.documentElement) }));
  scene.advance(5000);
});

afterEach(async () => {
  await send('Emulation.setEmulatedMedia', { features: [] });
  scene.dispose();
  box.remove();
  noise.stop();
  expect(noise.said.filter((line) => !/GPU stall due to ReadPixels/.test(line))).toEqual([]);
});

const root = (): ShadowRoot => box.firstElementChild!.shadowRoot!;
const gap = (): { readonly x: number; readonly y: number } => scene.anchors().find((a) => a.id === 'gap')!;
const finger = (x: number, y: number, id = 0) => ({ x, y, id });
const touch = (type: string, ...touchPoints: readonly object[]): Promise<unknown> =>
  send('Input.dispatchTouchEvent', { type, touchPoints });

describe('fingers', () => {
  test('one finger across the picture turns it', async () => {
    const before = gap().x;
    await touch('touchStart', finger(60, 60));
    for (let i = 1; i <= 8; i++) await touch('touchMove', finger(60 + 12 * i, 60));
    await touch('touchEnd');
    scene.advance(5000);
    expect(Math.abs(gap().x - before)).toBeGreaterThan(8);
  });

  test('two fingers zoom', async () => {
    const width = (): number => {
      const at = (id: string) => scene.anchors().find((a) => a.id === id)!;
      return Math.hypot(at('gap').x - at('receiverOuterHeight').x, at('gap').y - at('receiverOuterHeight').y);
    };
    const before = width();
    await touch('touchStart', finger(180, 130, 0), finger(220, 130, 1));
    for (let i = 1; i <= 8; i++) await touch('touchMove', finger(180 - 5 * i, 130, 0), finger(220 + 5 * i, 130, 1));
    await touch('touchEnd');
    scene.advance(5000);
    expect(width() / before).toBeGreaterThan(1.6);
  });

  test('a handle is dragged by a finger', async () => {
    const values: number[] = [];
    scene.on('drag', ({ change }) => {
      if (change.handle === 'offset') values.push(change.x);
    });
    const ring = root().querySelector('[data-handle=offset]')!.getBoundingClientRect();
    const at = { x: ring.left + ring.width / 2, y: ring.top + ring.height / 2 };
    await touch('touchStart', finger(at.x, at.y));
    for (let i = 1; i <= 6; i++) await touch('touchMove', finger(at.x + 9 * i, at.y));
    await touch('touchEnd');
    expect(values.length).toBeGreaterThan(0);
    expect(values.at(-1)).toBeGreaterThan(0.002);
  });
});

describe('screens and settings', () => {
  test('with less motion wanted the view is there at once', async () => {
    await send('Emulation.setEmulatedMedia', { features: [{ name: 'prefers-reduced-motion', value: 'reduce' }] });
    await until(() => matchMedia('(prefers-reduced-motion: reduce)').matches);
    const before = gap().x;
    scene.orbit(0.4, 0);
    expect(scene.advance(1)).toBe(false);
    const there = gap().x;
    expect(Math.abs(there - before)).toBeGreaterThan(3);
    scene.advance(5000);
    expect(gap().x).toBeCloseTo(there, 9);
  });

  test('another size is another picture, with the numbers where they belong', async () => {
    const before = { ...gap() };
    box.style.width = '600px';
    await until(() => root().querySelector('canvas')!.width === Math.round(600 * Math.min(2, devicePixelRatio)));
    await until(() => Math.abs(gap().x - before.x) > 20);
    for (const anchor of scene.anchors().filter((a) => a.visible)) {
      expect(anchor.x).toBeGreaterThan(0);
      expect(anchor.x).toBeLessThan(600);
    }
  });

  test('nothing is styled inline by markup: a strict content security policy shows all of it', () => {
    expect(root().querySelector('style')).toBeNull();
    expect(root().adoptedStyleSheets).toHaveLength(1);
    expect(getComputedStyle(root().querySelector('.handle')!).position).toBe('absolute');
  });

  test('the palette of the page is read in either theme, and a change of it repaints without a rebuild', () => {
    const light = paletteAt(document.documentElement);
    document.documentElement.dataset.theme = 'dark';
    const dark = paletteAt(document.documentElement);
    expect([light.scheme, dark.scheme]).toEqual(['light', 'dark']);
    expect(light.copper).not.toBe(dark.copper);
    const { geometries, textures } = scene.counts();
    scene.update(demoLink({ palette: dark }));
    scene.advance(0);
    expect(scene.counts()).toMatchObject({ geometries, textures });
    expect((box.firstElementChild as HTMLElement).style.getPropertyValue('--scene-copper')).toBe(dark.copper);
  });
});
