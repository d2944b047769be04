import { type Camera, type Scene, SRGBColorSpace, WebGLRenderer } from 'three';
import type { SceneCounts } from './types.ts';

export interface StageHooks {
  /** Moves what moves by the elapsed milliseconds; true while there is more to come. */
  advance(ms: number): boolean;
  /** The drawing area has this size now, in CSS pixels; never zero. */
  sized(width: number, height: number): void;
  /** A frame was drawn. */
  drawn(): void;
  lost(): void;
  /** The context is back and empty: everything must be made again before the next frame. */
  restored(): void;
}

/** Highest number of device pixels per CSS pixel drawn: beyond it nobody sees a difference, but everybody waits. */
const PIXEL_RATIO_MAX = 2;
/** A pause longer than this is not made up for in one step, ms. */
const STEP_MAX = 100;
/**
 * Where the browser draws by software, frames that follow each other within `COARSE_WITHIN` ms are drawn with
 * `COARSE_RATIO` pixels per CSS pixel, so that a drag stays fluent; `FINE_AFTER` ms later the picture is made sharp.
 */
const COARSE_WITHIN = 250;
const COARSE_RATIO = 0.6;
const FINE_AFTER = 180;

/** Canvas, renderer and loop: draws only what changed, and stops once all is still. */
export class Stage {
  readonly canvas: HTMLCanvasElement;
  readonly #renderer: WebGLRenderer;
  readonly #scene: Scene;
  readonly #camera: Camera;
  readonly #hooks: StageHooks;
  readonly #sizes: ResizeObserver;
  #ratioQuery: MediaQueryList | null = null;
  #frame = 0;
  #last = -1;
  #width = 0;
  #height = 0;
  #frames = 0;
  #lost = false;
  #dirty = true;
  #software = false;
  #coarse = false;
  #lastDrawn = -1e9;
  #sharpen: ReturnType<typeof setTimeout> | null = null;

  /** @throws Error where the browser gives no WebGL context. */
  constructor(canvas: HTMLCanvasElement, scene: Scene, camera: Camera, hooks: StageHooks) {
    this.canvas = canvas;
    this.#scene = scene;
    this.#camera = camera;
    this.#hooks = hooks;
    this.#renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true, powerPreference: 'low-power' });
    this.#renderer.outputColorSpace = SRGBColorSpace;
    this.#renderer.setClearAlpha(0);
    this.#software = drawnBySoftware(this.#renderer.getContext() as WebGL2RenderingContext);
    canvas.addEventListener('webglcontextlost', this.#onLost);
    canvas.addEventListener('webglcontextrestored', this.#onRestored);
    this.#sizes = new ResizeObserver(() => this.resize());
    this.#sizes.observe(canvas.parentElement ?? canvas);
    this.#watchRatio();
  }

  get lost(): boolean {
    return this.#lost;
  }

  get size(): { readonly width: number; readonly height: number } {
    return { width: this.#width, height: this.#height };
  }

  /** Still: nothing moving, nothing waiting to be drawn. */
  get still(): boolean {
    return this.#frame === 0 && this.#sharpen === null;
  }

  counts(): SceneCounts {
    const { memory, render, programs } = this.#renderer.info;
    return {
      geometries: memory.geometries,
      textures: memory.textures,
      programs: programs?.length ?? 0,
      triangles: render.triangles,
      drawCalls: render.calls,
      frames: this.#frames,
    };
  }

  requestRender(): void {
    this.#dirty = true;
    this.#schedule();
  }

  /** Only what lies over the picture changed. */
  requestOverlay(): void {
    this.#schedule();
  }

  #schedule(): void {
    if (this.#frame === 0 && !this.#lost && this.#width > 0) this.#frame = requestAnimationFrame(this.#step);
  }

  /** Lets time pass and draws at once: for tests and for taking pictures. */
  advance(ms: number): boolean {
    const moving = this.#hooks.advance(ms);
    this.#setCoarse(false);
    this.draw();
    return moving;
  }

  /** Draws now, where there is anything to draw on. */
  draw(): void {
    if (this.#lost || this.#width === 0) return;
    this.#dirty = false;
    this.#renderer.render(this.#scene, this.#camera);
    this.#frames++;
    this.#hooks.drawn();
  }

  resize(): void {
    const box = (this.canvas.parentElement ?? this.canvas).getBoundingClientRect();
    const width = Math.round(box.width);
    const height = Math.round(box.height);
    this.#width = width > 0 && height > 0 ? width : 0;
    this.#height = this.#width > 0 ? height : 0;
    if (this.#width === 0) {
      this.#rest();
      return;
    }
    this.#applySize();
    this.#hooks.sized(width, height);
    // Setting a size clears the canvas: draw before the browser shows it empty.
    this.draw();
    this.requestRender();
  }

  dispose(): void {
    this.#rest();
    this.#sizes.disconnect();
    this.#ratioQuery?.removeEventListener('change', this.#onRatio);
    this.canvas.removeEventListener('webglcontextlost', this.#onLost);
    this.canvas.removeEventListener('webglcontextrestored', this.#onRestored);
    this.#renderer.dispose();
    // Browsers keep only some sixteen contexts: give this one back now, not at the next garbage collection.
    if (!this.#lost) this.#renderer.forceContextLoss();
    this.#lost = true;
  }

  readonly #step = (now: number): void => {
    this.#frame = 0;
    const ms = this.#last < 0 ? 16 : Math.min(STEP_MAX, now - this.#last);
    const moving = this.#hooks.advance(ms);
    if (moving || this.#dirty) {
      const drawn = performance.now();
      this.#setCoarse(this.#software && drawn - this.#lastDrawn < COARSE_WITHIN);
      this.#lastDrawn = drawn;
      this.draw();
    } else if (this.#width > 0) this.#hooks.drawn();
    this.#last = moving ? now : -1;
    if (moving) this.requestRender();
  };

  readonly #onLost = (event: Event): void => {
    // Without this the browser never restores the context.
    event.preventDefault();
    this.#rest();
    this.#lost = true;
    this.#hooks.lost();
  };

  readonly #onRestored = (): void => {
    this.#lost = false;
    this.#hooks.restored();
    this.resize();
  };

  #rest(): void {
    cancelAnimationFrame(this.#frame);
    this.#frame = 0;
    if (this.#sharpen !== null) clearTimeout(this.#sharpen);
    this.#sharpen = null;
  }

  #applySize(): void {
    const ratio = Math.min(devicePixelRatio, PIXEL_RATIO_MAX);
    this.#renderer.setPixelRatio(this.#coarse ? Math.min(ratio, COARSE_RATIO) : ratio);
    this.#renderer.setSize(this.#width, this.#height, false);
  }

  /** Switches between fluent and sharp; after a coarse frame a sharp one follows by itself. */
  #setCoarse(coarse: boolean): void {
    if (this.#sharpen !== null) clearTimeout(this.#sharpen);
    this.#sharpen = coarse ? setTimeout(this.#onQuiet, FINE_AFTER) : null;
    if (coarse === this.#coarse) return;
    this.#coarse = coarse;
    this.#applySize();
  }

  readonly #onQuiet = (): void => {
    this.#setCoarse(false);
    this.draw();
  };

  #watchRatio(): void {
    this.#ratioQuery?.removeEventListener('change', this.#onRatio);
    this.#ratioQuery = matchMedia(`(resolution: ${devicePixelRatio}dppx)`);
    this.#ratioQuery.addEventListener('change', this.#onRatio);
  }

  readonly #onRatio = (): void => {
    this.#watchRatio();
    this.resize();
  };
}

/** Whether a context is drawn by the processor instead of a graphics card, as far as the browser tells. */
function drawnBySoftware(gl: WebGL2RenderingContext): boolean {
  let name = String(gl.getParameter(gl.RENDERER));
  if (name === 'WebKit WebGL') {
    const told = gl.getExtension('WEBGL_debug_renderer_info');
    if (told !== null) name = String(gl.getParameter(told.UNMASKED_RENDERER_WEBGL));
  }
  return /swiftshader|llvmpipe|softpipe|software|basic render/i.test(name);
}
