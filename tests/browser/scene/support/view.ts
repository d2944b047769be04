import { afterAll, afterEach, beforeAll, beforeEach, expect } from 'vitest';
import { page } from 'vitest/browser';
import { LinkScene } from '../../../../src/scene/link-scene.ts';
import { paletteAt } from '../../../../src/scene/palette.ts';
import type { DragDetail, HandleId, LinkSceneData, ReleaseDetail } from '../../../../src/scene/types.ts';
import { demoLink } from '../../../scene/support/demo-link.ts';
import { dress, listenToConsole, moveTo, until } from './hand.ts';

export const WIDTH = 560;
export const HEIGHT = 360;

interface Held {
  readonly scene: LinkScene;
  readonly box: HTMLElement;
  data: LinkSceneData;
  readonly drags: DragDetail[];
  readonly releases: ReleaseDetail[];
  grabs: number;
}

export let held: Held;
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

export const root = (): ShadowRoot => held.box.firstElementChild!.shadowRoot!;
export const canvas = (): HTMLCanvasElement => root().querySelector('canvas')!;
export function handle(id: HandleId): HTMLElement {
  const element = root().querySelector<HTMLElement>(`[data-handle=${id}]`);
  if (element === null) throw new Error(`no handle ${id}`);
  return element;
}

/** The picture's pixels, read in the task that draws it. */
export function pixels(): { readonly data: Uint8ClampedArray; readonly width: number; readonly height: number } {
  held.scene.advance(0);
  const copy = document.createElement('canvas');
  copy.width = canvas().width;
  copy.height = canvas().height;
  const pen = copy.getContext('2d')!;
  pen.drawImage(canvas(), 0, 0);
  return pen.getImageData(0, 0, copy.width, copy.height);
}

/** Pixels near a hue, among those that are opaque. */
export function countNear(test: (r: number, g: number, b: number) => boolean): number {
  const { data } = pixels();
  let count = 0;
  for (let i = 0; i < data.length; i += 4)
    if (data[i + 3]! > 250 && test(data[i]!, data[i + 1]!, data[i + 2]!)) count++;
  return count;
}
export const coppery = (r: number, g: number, b: number): boolean => r > 1.5 * g && g > 1.2 * b && r > 70;
export const steely = (r: number, g: number, b: number): boolean => b > 1.5 * r && g > 1.4 * r && b > 50;

/** Hooks of a test file: one view for all its tests, brought back to the start before each. */
export function useView(): void {
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
}
