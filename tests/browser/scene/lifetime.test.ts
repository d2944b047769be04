import { PerspectiveCamera, Scene } from 'three';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { LinkScene } from '../../../src/scene/link-scene.ts';
import { LinkModel } from '../../../src/scene/objects/link-model.ts';
import { DARK_PALETTE, LIGHT_PALETTE } from '../../../src/scene/palette.ts';
import { Stage } from '../../../src/scene/stage.ts';
import type { LinkSceneData } from '../../../src/scene/types.ts';
import { circleWinding, demoLink, rectangleWinding } from '../../scene/support/demo-link.ts';
import { dress, listenToConsole, until } from './support/hand.ts';

let box: HTMLElement;
let noise: ReturnType<typeof listenToConsole>;

beforeEach(() => {
  noise = listenToConsole();
  dress('light');
  box = document.createElement('div');
  box.style.cssText = 'position:relative;width:120px;height:80px';
  document.body.append(box);
});

afterEach(() => {
  box.remove();
  noise.stop();
  expect(noise.said.filter((line) => !/GPU stall due to ReadPixels/.test(line))).toEqual([]);
});

/** Data that differ in everything that is built. */
function variant(i: number): LinkSceneData {
  const base = demoLink();
  const winding =
    i % 3 === 0 ? circleWinding(40 + (i % 5), 20, 8 + (i % 4)) : rectangleWinding(5 + (i % 3), 1 + (i % 2));
  return {
    ...base,
    receiver: {
      winding,
      ferrite: i % 2 ? base.receiver.ferrite : null,
      metal: i % 4 === 1 ? base.receiver.metal : null,
    },
    slabs: base.slabs.slice(0, i % 5),
    pose: { ...base.pose, x: (i % 7) * 1e-3, yaw: i / 10 },
    fieldLines: i % 6 === 5 ? [Float64Array.from([0, 0, 0, 0, 0, 0.01, 0.01, 0, 0.02])] : null,
    palette: i % 2 ? DARK_PALETTE : LIGHT_PALETTE,
    cutaway: i % 7 !== 6,
  };
}

describe('nothing is left behind', () => {
  test('the model, created, updated and disposed a hundred times on one renderer: counts return to zero', () => {
    const scene = new Scene();
    const camera = new PerspectiveCamera(20, 1.5, 1, 2000);
    camera.up.set(0, 0, 1);
    camera.position.set(120, -220, 160);
    camera.lookAt(0, 0, 0);
    const canvas = document.createElement('canvas');
    box.append(canvas);
    const stage = new Stage(canvas, scene, camera, {
      advance: () => false,
      sized: () => undefined,
      drawn: () => undefined,
      lost: () => undefined,
      restored: () => undefined,
    });
    stage.resize();
    // One model stays, unseen: with the last user of a shader its program goes too, and compiling it again is slow.
    const keeper = new LinkModel();
    scene.add(keeper);
    keeper.update({ ...variant(5), slabs: demoLink().slabs }, { quarter: 3, above: true });
    stage.draw();
    keeper.visible = false;
    const { geometries, textures } = stage.counts();
    for (let round = 0; round < 100; round++) {
      const model = new LinkModel();
      scene.add(model);
      model.update(variant(round), { quarter: round % 4, above: round % 2 === 0 });
      stage.draw();
      expect(stage.counts().geometries).toBeGreaterThan(geometries + 5);
      model.update(variant(round + 1), { quarter: 3, above: true });
      stage.draw();
      scene.remove(model);
      model.dispose();
      expect([stage.counts().geometries, stage.counts().textures], `round ${round}`).toEqual([geometries, textures]);
    }
    keeper.dispose();
    const left = stage.counts();
    expect([left.geometries, left.textures, left.programs]).toEqual([0, 0, 0]);
    stage.dispose();
  }, 120_000);

  test('more scenes than a browser keeps contexts: each is given back, with all its elements', () => {
    for (let round = 0; round < 18; round++) {
      const scene = new LinkScene();
      scene.mount(box);
      scene.update(variant(round));
      scene.advance(0);
      expect(scene.counts().geometries).toBeGreaterThan(5);
      const left = scene.dispose();
      expect([left.geometries, left.textures, left.programs], `round ${round}`).toEqual([0, 0, 0]);
      expect(box.childElementCount).toBe(0);
    }
  }, 120_000);

  test('a hundred updates of one scene keep as many geometries as are drawn', () => {
    const scene = new LinkScene();
    scene.mount(box);
    let most = 0;
    for (let i = 0; i < 100; i++) {
      scene.update(variant(i));
      scene.advance(0);
      most = Math.max(most, scene.counts().geometries);
    }
    // Two windings; four plates or three slabs of three geometries each at most; ground, shadow and field.
    expect(most).toBeLessThan(2 + 3 * 7 + 5 + 1);
    for (let i = 0; i < 3; i++) {
      scene.update(variant(0));
      scene.advance(0);
    }
    const again = scene.counts();
    scene.update(variant(0));
    scene.advance(0);
    expect(scene.counts().geometries).toBe(again.geometries);
    scene.dispose();
  }, 60_000);

  test('listeners go with the scene', () => {
    const scene = new LinkScene();
    scene.mount(box);
    let frames = 0;
    const off = scene.on('frame', () => frames++);
    scene.update(demoLink());
    scene.advance(0);
    expect(frames).toBeGreaterThan(0);
    off();
    const seen = frames;
    scene.advance(0);
    expect(frames).toBe(seen);
    scene.dispose();
    scene.requestRender();
    expect(scene.advance(10)).toBe(false);
    expect(scene.counts().geometries).toBe(0);
  });

  test('cannot be mounted twice', () => {
    const scene = new LinkScene();
    scene.mount(box);
    expect(() => scene.mount(box)).toThrow(/already mounted/);
    scene.dispose();
  });
});

describe('a lost context', () => {
  const contextOf = (): WEBGL_lose_context => {
    const canvas = box.firstElementChild!.shadowRoot!.querySelector('canvas')!;
    return canvas.getContext('webgl2')!.getExtension('WEBGL_lose_context')!;
  };
  const opaque = (): number => {
    const canvas = box.firstElementChild!.shadowRoot!.querySelector('canvas')!;
    const copy = document.createElement('canvas');
    copy.width = canvas.width;
    copy.height = canvas.height;
    const pen = copy.getContext('2d')!;
    pen.drawImage(canvas, 0, 0);
    const { data } = pen.getImageData(0, 0, copy.width, copy.height);
    let count = 0;
    for (let i = 3; i < data.length; i += 4) if (data[i]! > 250) count++;
    return count;
  };

  test('is told, and everything is built again when it comes back', async () => {
    const scene = new LinkScene();
    const told: string[] = [];
    scene.on('lost', () => told.push('lost'));
    scene.on('restored', () => told.push('restored'));
    scene.mount(box);
    scene.update(demoLink());
    scene.advance(0);
    const before = opaque();
    const count = scene.counts().geometries;
    expect(before).toBeGreaterThan(900);
    const context = contextOf();
    context.loseContext();
    await until(() => told.length === 1);
    expect(scene.lost).toBe(true);
    // Data that come meanwhile are kept.
    scene.update({ ...demoLink(), cutaway: false });
    scene.advance(16);
    context.restoreContext();
    await until(() => told.length === 2);
    expect(told).toEqual(['lost', 'restored']);
    expect(scene.lost).toBe(false);
    scene.update(demoLink());
    scene.advance(0);
    expect(Math.abs(opaque() - before)).toBeLessThan(0.02 * before);
    expect(scene.counts().geometries).toBe(count);
    const left = scene.dispose();
    expect([left.geometries, left.textures]).toEqual([0, 0]);
  });

  test('while lost, it can be disposed', async () => {
    const scene = new LinkScene();
    let lost = false;
    scene.on('lost', () => {
      lost = true;
    });
    scene.mount(box);
    scene.update(demoLink());
    scene.advance(0);
    contextOf().loseContext();
    await until(() => lost);
    scene.dispose();
    expect(box.childElementCount).toBe(0);
  });
});
