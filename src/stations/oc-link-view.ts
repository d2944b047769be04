import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { Anchors } from '../parts/oc-anchors.ts';
import type { LinkScene } from '../scene/link-scene.ts';
import type { DragDetail, GrabDetail, LinkSceneData, ReleaseDetail, SceneCounts, SceneView } from '../scene/types.ts';
import { webglAvailable } from '../scene/webgl-available.ts';

let webgl: boolean | null = null;

const WHY_PLAN = Object.freeze({
  lost: 'The browser took the 3-D drawing away; this plan stands in until it gives it back.',
  none: 'This browser draws nothing in 3-D; this plan stands in.',
});

/** Asked once: each question costs a drawing context. */
function hasWebgl(): boolean {
  webgl ??= webglAvailable();
  return webgl;
}

/**
 * The 3-D view as an element. Loads the drawing library when it is first shown; where there is no WebGL, or the browser takes
 * the context away, what stands in the `plan` slot is shown instead.
 *
 * @slot - an `oc-anchors` with the numbers that stand beside the handles
 * @slot plan - the drawn plan, for when there is no 3-D view
 * @fires handle-grabbed, handle-dragged, handle-released - the scene's `grab`, `drag`, `release`
 * @fires view-changed - `{ drawn: boolean }`: whether the 3-D view is shown
 */
@customElement('oc-link-view')
export class LinkView extends LitElement {
  static override readonly styles = css`
    :host {
      display: block;
      position: relative;
      height: var(--view-height, 480px);
    }
    .stage {
      position: absolute;
      inset: 0;
    }
    .hidden {
      visibility: hidden;
    }
    :host([plan]) {
      height: auto;
    }
    .told {
      margin: 0 0 6px;
      font-size: var(--size-small, 13px);
    }
  `;

  @property({ attribute: false }) data: LinkSceneData | null = null;
  /** Show the plan even where there is WebGL. */
  @property({ type: Boolean }) flat = false;
  @state() private _state: 'loading' | 'drawn' | 'lost' | 'none' = 'loading';
  @query('.stage') private _stage!: HTMLElement | null;
  #scene: LinkScene | null = null;
  #turn = 0;

  /** Whether the 3-D view is what is shown. */
  get drawn(): boolean {
    return this._state === 'drawn' && !this.flat;
  }

  /** A picture in space is there, or on its way. */
  get #pictured(): boolean {
    return this.drawn || (this._state === 'loading' && !this.flat);
  }

  override connectedCallback(): void {
    super.connectedCallback();
    if (this.flat || !hasWebgl()) this.#become('none');
    else void this.#load();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#turn += 1;
    this.#scene?.dispose();
    this.#scene = null;
    this._state = 'loading';
  }

  async #load(): Promise<void> {
    this.#turn += 1;
    const turn = this.#turn;
    try {
      const { LinkScene } = await import('../scene/link-scene.ts');
      await this.updateComplete;
      // Gone, or begun anew, while the library was on its way.
      if (turn !== this.#turn || !this._stage) return;
      const scene = new LinkScene();
      scene.on('grab', (detail) => this.#tell<GrabDetail>('handle-grabbed', detail));
      scene.on('drag', (detail) => this.#tell<DragDetail>('handle-dragged', detail));
      scene.on('release', (detail) => this.#tell<ReleaseDetail>('handle-released', detail));
      scene.on('frame', () => {
        for (const child of this.children) if (child instanceof Anchors) child.place(scene.anchors());
      });
      scene.on('lost', () => this.#become('lost'));
      scene.on('restored', () => this.#become('drawn'));
      // Data first: the picture is right from its first frame on.
      if (this.data) scene.update(this.data);
      scene.mount(this._stage);
      this.#scene = scene;
      this.#become('drawn');
    } catch {
      this.#become('none');
    }
  }

  #become(next: 'drawn' | 'lost' | 'none'): void {
    this._state = next;
    this.#tell('view-changed', { drawn: this.drawn });
  }

  #tell<T>(name: string, detail: T): void {
    this.dispatchEvent(new CustomEvent<T>(name, { detail, bubbles: true, composed: true }));
  }

  /** Looks from the front, the top or the side. */
  view(name: SceneView): void {
    this.#scene?.view(name);
  }

  /** What the drawing holds on the graphics card; null while there is none. */
  counts(): SceneCounts | null {
    return this.#scene?.counts() ?? null;
  }

  /** The picture as PNG; null while there is none. */
  async picture(labels: Parameters<LinkScene['picture']>[0]): Promise<Blob | null> {
    return (await this.#scene?.picture(labels)) ?? null;
  }

  /** The picture as SVG; null while there is none. */
  pictureSvg(title: string, labels: Parameters<LinkScene['picture']>[0]): string | null {
    return this.#scene?.pictureSvg(title, labels) ?? null;
  }

  protected override updated(changed: PropertyValues<this>): void {
    // The plan is as high as it is; a picture in space as high as it is given.
    this.toggleAttribute('plan', !this.#pictured);
    if (changed.has('data') && this.data) this.#scene?.update(this.data);
  }

  /** Why there is a plan where a picture in space should be. */
  #why(): TemplateResult | typeof nothing {
    if (this.flat) return nothing;
    return html`<p class="told" role="status">${WHY_PLAN[this._state === 'lost' ? 'lost' : 'none']}</p>`;
  }

  protected override render(): TemplateResult {
    const shown = this.#pictured;
    return html`<div class="stage ${shown ? '' : 'hidden'}">
        </div>
      ${shown ? html`<slot></slot>` : nothing}
      ${shown ? nothing : html`<div class="plan">${this.#why()}<slot name="plan"></slot></div>`}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-link-view': LinkView;
  }
}
