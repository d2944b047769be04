import { Raycaster, Scene } from 'three';
import { Attending, sideOf } from './attending.ts';
import { CameraRig } from './camera-rig.ts';
import { HandleInput } from './handle-input.ts';
import { handlePlaces } from './handles/handle-places.ts';
import { facingOf, type HandlePlace } from './handles/place.ts';
import { usablePlaces } from './handles/usable.ts';
import { Listeners } from './listeners.ts';
import { LinkModel, UNITS_PER_METRE } from './objects/link-model.ts';
import { type Outlook, turnedOutlook } from './outlook.ts';
import { Overlay } from './overlay.ts';
import { drawPicture, drawPictureSvg, type PictureInput, type PictureLabel } from './picture.ts';
import { corners } from './stack-levels.ts';
import { Stage } from './stage.ts';
import type {
  Anchor,
  HandleId,
  LinkSceneData,
  LinkSceneEvents,
  PickId,
  SceneCounts,
  SceneView,
  Side,
} from './types.ts';
import { scale } from './vectors.ts';
import { ViewCamera } from './view-camera.ts';
import { ViewInput } from './view-input.ts';

/**
 * The 3-D view: both windings turn by turn, their plates and the layers between, with handles to take hold of.
 * Data goes down by `update`, intent comes up as events; the view never changes a value by itself, so whoever listens to
 * `drag` answers with another `update`. Nothing is drawn unless something changed.
 *
 * Keyboard: with the focus on the picture the arrows turn it, Shift and arrows move it, + and - zoom, 0 or Home resets,
 * T looks from the top, S from the side. Each handle is a slider of its own: arrows step to the next whole millimetre or
 * 5 degrees, with Shift a tenth of that, Page Up and Page Down five times, Home brings offset and angles back to zero,
 * Escape takes a drag back.
 */
export class LinkScene {
  readonly #overlay = new Overlay();
  readonly #scene = new Scene();
  readonly #rig = new CameraRig();
  readonly #camera = new ViewCamera(this.#rig, this.#overlay.canvas);
  readonly #input: ViewInput;
  readonly #handles: HandleInput;
  readonly #listeners = new Listeners<LinkSceneEvents>();
  readonly #attending = new Attending();
  readonly #calm = matchMedia('(prefers-reduced-motion: reduce)');
  #model = new LinkModel();
  #stage: Stage | null = null;
  #data: LinkSceneData | null = null;
  #places: readonly HandlePlace[] = [];
  #outlook: Outlook = { quarter: 3, above: true };

  constructor() {
    this.#scene.add(this.#model);
    this.#input = new ViewInput(this.#overlay.canvas, this.#rig, {
      moved: () => this.requestRender(),
      clicked: (x, y) => this.select(sideOf(this.pick(x, y))),
      hovered: (at) => this.#point(at === null ? null : this.pick(at.x, at.y)),
    });
    this.#handles = new HandleInput({
      look: (id) => this.#places.find((p) => p.id === id) ?? null,
      ray: (x, y) => this.#camera.ray(x, y),
      limits: () => this.#data?.limits,
      tell: (name, detail) => this.#listeners.tell(name, detail),
      attend: (id) => {
        this.#attending.handle = id ?? this.#overlay.focused;
        this.#stage?.requestOverlay();
      },
    });
  }

  /**
   * Puts the view into an element, which should be positioned and have a size; the view fills it.
   * @throws Error where there is no WebGL; ask `webglAvailable()` first.
   */
  mount(container: HTMLElement): void {
    if (this.#stage !== null) throw new Error('LinkScene.mount: already mounted.');
    container.append(this.#overlay.host);
    try {
      this.#stage = new Stage(this.#overlay.canvas, this.#scene, this.#camera.camera, {
        advance: (ms) => this.#advance(ms),
        sized: (width, height) => this.#sized(width, height),
        drawn: () => this.#drawn(),
        lost: () => {
          this.#handles.drop();
          this.#listeners.tell('lost', undefined);
        },
        restored: () => this.#restored(),
      });
    } catch (error) {
      this.#overlay.host.remove();
      throw error;
    }
    this.#input.enable();
    this.#stage.resize();
  }

  /** Shows this data. Only what differs from the last is rebuilt: a new pose moves, a new winding object is built anew. */
  update(data: LinkSceneData): void {
    this.#data = data;
    this.#overlay.palette(data.palette);
    this.#overlay.describe(data);
    this.#model.update(data, this.#outlook);
    this.#place();
    const seen = [...corners(data), ...this.#places.map((place) => place.at)];
    this.#rig.subject(seen.map((p) => scale(p, UNITS_PER_METRE)));
    this.requestRender();
  }

  /** @returns a function that removes the listener. */
  on<K extends keyof LinkSceneEvents>(name: K, listener: (detail: LinkSceneEvents[K]) => void): () => void {
    return this.#listeners.on(name, listener);
  }

  view(name: SceneView): void {
    this.#rig.preset(name);
    this.requestRender();
  }

  /** Turns the view, rad. */
  orbit(right: number, up: number): void {
    this.#rig.orbit(right, up);
    this.requestRender();
  }

  /** Moves the view, in picture heights. */
  pan(right: number, up: number): void {
    this.#rig.pan(right, up);
    this.requestRender();
  }

  /** Nearer by a factor above 1. */
  zoom(factor: number): void {
    this.#rig.zoom(factor);
    this.requestRender();
  }

  /** Shows all numbers and handles of one coil, as a click on it does; null: of none. */
  select(side: Side | null): void {
    if (!this.#attending.select(side)) return;
    this.#listeners.tell('select', side);
    this.#stage?.requestOverlay();
  }

  /** Puts the focus on a handle's slider. Returns false where it is not on offer. */
  focusHandle(id: HandleId): boolean {
    const element = this.#overlay.handles.get(id);
    element?.focus();
    return element !== undefined;
  }

  /** Where the numbers stand, as of the last frame. */
  anchors(): readonly Anchor[] {
    return this.#overlay.anchors;
  }

  /** What lies under a point of the page; handles are elements of their own and do not appear here. */
  pick(clientX: number, clientY: number): PickId | null {
    const at = this.#camera.normalised(clientX, clientY);
    if (at === null) return null;
    const caster = new Raycaster();
    this.#camera.place();
    this.#scene.updateMatrixWorld();
    caster.setFromCamera(at, this.#camera.camera);
    return this.#model.pick(caster);
  }

  requestRender(): void {
    this.#stage?.requestRender();
  }

  /** Lets time pass and draws at once, without waiting for the screen. True while the view is still moving. */
  advance(ms: number): boolean {
    return this.#stage?.advance(ms) ?? false;
  }

  /** True when nothing moves and nothing waits to be drawn. */
  get still(): boolean {
    return this.#stage?.still ?? true;
  }

  get lost(): boolean {
    return this.#stage?.lost ?? false;
  }

  counts(): SceneCounts {
    return this.#stage?.counts() ?? { geometries: 0, textures: 0, programs: 0, triangles: 0, drawCalls: 0, frames: 0 };
  }

  /** The picture as PNG, with its lines and the given numbers; null where there is nothing to take a picture of. */
  async picture(labels: readonly PictureLabel[] = [], pixelRatio = 2): Promise<Blob | null> {
    const input = this.#pictureInput(labels, pixelRatio);
    return input === null ? null : drawPicture(input);
  }

  /** The picture as SVG, its lines as lines and the given numbers as text; null as for `picture`. */
  pictureSvg(title: string, labels: readonly PictureLabel[] = [], pixelRatio = 2): string | null {
    const input = this.#pictureInput(labels, pixelRatio);
    return input === null ? null : drawPictureSvg(input, title);
  }

  #pictureInput(labels: readonly PictureLabel[], pixelRatio: number): PictureInput | null {
    const stage = this.#stage;
    if (stage === null || this.#data === null || stage.lost || stage.size.width === 0) return null;
    return {
      stage,
      strokes: this.#overlay.strokes,
      anchors: this.#overlay.anchors,
      palette: this.#data.palette,
      labels,
      pixelRatio,
    };
  }

  /** Takes everything off the page and off the graphics card. The object is done with. Returns the last counts. */
  dispose(): SceneCounts {
    this.#handles.drop();
    this.#input.disable();
    this.#scene.clear();
    this.#model.dispose();
    const counts = this.counts();
    this.#stage?.dispose();
    this.#stage = null;
    this.#overlay.host.remove();
    this.#listeners.clear();
    return counts;
  }

  #point(pick: PickId | null): void {
    if (!this.#attending.point(pick)) return;
    this.#listeners.tell('hover', pick);
    this.#stage?.requestOverlay();
  }

  #advance(ms: number): boolean {
    // Asked each time: the answer is there before the event that tells of its change.
    this.#rig.instant = this.#calm.matches;
    const moving = this.#rig.advance(ms);
    this.#camera.place();
    this.#turnCut();
    return moving;
  }

  /** Turns the cut towards the viewer; not while a handle is held, which must not jump away. */
  #turnCut(): void {
    if (this.#data === null || this.#handles.held !== null) return;
    const { azimuth, elevation } = this.#rig.state;
    const outlook = turnedOutlook(this.#outlook, azimuth, elevation);
    if (outlook !== this.#outlook) {
      this.#outlook = outlook;
      this.#model.update(this.#data, outlook);
    }
    this.#place();
  }

  /** Puts the handles where the data and the viewer want them. */
  #place(): void {
    if (this.#data === null) return;
    this.#places = handlePlaces(this.#data, facingOf(this.#rig.state.azimuth, this.#outlook.quarter));
    this.#overlay.sync(this.#places, this.#data.handleNames, (id, element) => this.#handles.attach(id, element));
  }

  #sized(width: number, height: number): void {
    this.#camera.aspect(width / height);
    this.#advance(0);
  }

  #drawn(): void {
    const stage = this.#stage;
    if (this.#data === null || stage === null) return;
    const { width, height } = stage.size;
    const project = this.#camera.projection(width, height);
    const attention = this.#attending.shown(this.#places, this.#handles.held);
    this.#overlay.render({
      places: this.#places,
      usable: usablePlaces(this.#places, this.#camera.sight, project, attention.held ?? attention.handle),
      project,
      width,
      height,
      faults: this.#data.faults ?? [],
      attention,
    });
    this.#listeners.tell('frame', undefined);
  }

  #restored(): void {
    this.#model.removeFromParent();
    this.#model.dispose();
    this.#model = new LinkModel();
    this.#scene.add(this.#model);
    if (this.#data !== null) this.#model.update(this.#data, this.#outlook);
    this.#listeners.tell('restored', undefined);
  }
}
