import { guideStrokes, type Project, type Stroke } from './guide-strokes.ts';
import { sameValue } from './handles/change.ts';
import type { HandlePlace } from './handles/place.ts';
import { handleName, valueNumber, valueText } from './handles/words.ts';
import { OVERLAY_STYLE } from './overlay-style.ts';
import type { Anchor, HandleId, HandleValue, LinkSceneData, ScenePalette, Side } from './types.ts';

/** What is pointed at, focused or held, as far as it decides what is shown. */
export interface Attention {
  /** Coil whose shape handles are offered. */
  readonly side: Side | null;
  /** Coil whose numbers are all shown. */
  readonly selected: Side | null;
  readonly held: HandleId | null;
  /** Under the pointer or focused. */
  readonly handle: HandleId | null;
}

export interface OverlayFrame {
  readonly places: readonly HandlePlace[];
  /** Whether each place's handle can be used from here, in the same order. */
  readonly usable: readonly boolean[];
  readonly project: Project;
  readonly width: number;
  readonly height: number;
  readonly attention: Attention;
  readonly faults: readonly HandleId[];
}

type Tone = Side | 'ink';
interface ToneStroke extends Stroke {
  readonly tone: Tone;
}

const KEYS =
  'Arrow keys turn the view, with Shift they move it. Plus and minus zoom. 0 resets, T looks from the top, S from the side. Tab goes to the handles.';

const SVG = 'http://www.w3.org/2000/svg';

/** Handles, lines and canvas as elements in a shadow root. Draws what it is told; decides nothing. */
export class Overlay {
  readonly host = document.createElement('div');
  readonly canvas = document.createElement('canvas');
  readonly handles = new Map<HandleId, HTMLElement>();
  readonly #layer = document.createElement('div');
  readonly #svg = document.createElementNS(SVG, 'svg');
  readonly #paths: SVGPathElement[] = [];
  readonly #values = new Map<HandleId, HandleValue>();
  #order = '';
  #strokes: readonly ToneStroke[] = [];
  #anchors: readonly Anchor[] = [];

  constructor() {
    const root = this.host.attachShadow({ mode: 'open' });
    // A constructed sheet: a <style> element would be refused where the page allows no inline styles.
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(OVERLAY_STYLE);
    root.adoptedStyleSheets = [sheet];
    const keys = document.createElement('span');
    keys.id = 'keys';
    keys.className = 'spoken';
    keys.textContent = KEYS;
    this.canvas.tabIndex = 0;
    this.canvas.setAttribute('role', 'application');
    this.canvas.setAttribute('aria-describedby', 'keys');
    this.#svg.setAttribute('aria-hidden', 'true');
    this.#layer.setAttribute('role', 'group');
    this.#layer.setAttribute('aria-label', 'Handles');
    // The canvas fades out at its edges, so the sign of its focus is an element of its own.
    const ring = document.createElement('div');
    ring.className = 'ring';
    root.append(this.canvas, this.#svg, this.#layer, ring, keys);
  }

  get anchors(): readonly Anchor[] {
    return this.#anchors;
  }

  get strokes(): readonly ToneStroke[] {
    return this.#strokes;
  }

  /** The handle that has the focus. */
  get focused(): HandleId | null {
    const active = this.host.shadowRoot?.activeElement;
    return active instanceof HTMLElement ? ((active.dataset.handle as HandleId | undefined) ?? null) : null;
  }

  palette(palette: ScenePalette): void {
    for (const name of ['paper', 'sheet', 'ink', 'copper', 'steel', 'bad'] as const)
      this.host.style.setProperty(`--scene-${name}`, palette[name]);
  }

  describe(data: LinkSceneData): void {
    this.canvas.setAttribute('aria-label', data.description ?? '3-D view of both coils');
  }

  /** Makes and removes handle elements so that there is one for each place. New ones are given to `added`. */
  sync(
    places: readonly HandlePlace[],
    names: LinkSceneData['handleNames'],
    added: (id: HandleId, element: HTMLElement) => void,
  ): void {
    const wanted = new Set(places.map((p) => p.id));
    for (const [id, element] of this.handles)
      if (!wanted.has(id)) {
        element.remove();
        this.handles.delete(id);
        this.#values.delete(id);
      }
    // Moving an element in the page takes its focus away: put them in order only when there are others than before.
    const order = places.map((p) => p.id).join(' ');
    const reorder = order !== this.#order;
    this.#order = order;
    for (const place of places) {
      let element = this.handles.get(place.id);
      if (element === undefined) {
        element = document.createElement('div');
        element.setAttribute('role', 'slider');
        element.tabIndex = 0;
        element.dataset.handle = place.id;
        element.className = `handle ${place.side}`;
        this.handles.set(place.id, element);
        added(place.id, element);
      }
      element.setAttribute('aria-label', names?.[place.id] ?? handleName(place.id));
      this.#speak(element, place);
      if (reorder) this.#layer.append(element);
    }
  }

  render(frame: OverlayFrame): void {
    const { places, usable, project, attention } = frame;
    const strokes: ToneStroke[] = [];
    const anchors: Anchor[] = [];
    places.forEach((place, i) => {
      const element = this.handles.get(place.id)!;
      const held = attention.held === place.id;
      const emphasised = held || (attention.held === null && attention.handle === place.id);
      const offered = place.offered === 'rest' || attention.side === place.side || emphasised;
      const knob = project(place.at);
      const gone = !(usable[i]! && knob.seen) && !held;
      element.style.transform = `translate(${knob.x.toFixed(1)}px, ${knob.y.toFixed(1)}px)`;
      element.classList.toggle('held', held);
      element.classList.toggle('aside', !offered);
      element.classList.toggle('gone', gone);
      element.classList.toggle('offset', place.id === 'offset');
      element.classList.toggle('refused', frame.faults.includes(place.id));
      const tone: Tone = place.id === 'gap' ? 'ink' : place.side;
      for (const guide of place.guides)
        if (!gone && (emphasised || guide.when === 'rest'))
          for (const stroke of guideStrokes(guide, project)) strokes.push({ ...stroke, tone });
      for (const label of place.labels) {
        const at = project(label.at);
        const toward = project([
          label.at[0] + label.toward[0] * 1e-3,
          label.at[1] + label.toward[1] * 1e-3,
          label.at[2] + label.toward[2] * 1e-3,
        ]);
        const dx = toward.x - at.x;
        const dy = toward.y - at.y;
        const l = Math.hypot(dx, dy);
        const shown = label.when === 'rest' || emphasised || attention.selected === place.side;
        const inside = at.x >= 0 && at.y >= 0 && at.x <= frame.width && at.y <= frame.height;
        anchors.push({
          id: label.id,
          x: at.x,
          y: at.y,
          visible: shown && !gone && at.seen && inside,
          towardX: l > 1e-6 ? dx / l : 0,
          towardY: l > 1e-6 ? dy / l : -1,
          knob: offered && !gone ? { x: knob.x, y: knob.y } : null,
        });
      }
    });
    this.#strokes = strokes;
    this.#anchors = anchors;
    this.#draw(frame);
  }

  #speak(element: HTMLElement, place: HandlePlace): void {
    const old = this.#values.get(place.id);
    if (old !== undefined && sameValue(old, place.value)) return;
    this.#values.set(place.id, place.value);
    element.setAttribute('aria-valuenow', String(valueNumber(place.value)));
    element.setAttribute('aria-valuetext', valueText(place.value));
  }

  /** One path for each stroke and one paper-coloured halo under all of them, reused from frame to frame. */
  #draw({ width, height }: OverlayFrame): void {
    this.#svg.setAttribute('viewBox', `0 0 ${width} ${height}`);
    const halo = this.#strokes
      .filter((s) => s.dash === '')
      .map((s) => s.d)
      .join('');
    this.#put(0, { d: halo, width: 3.4, dash: '', opacity: 0.55, filled: false }, 'var(--scene-paper)');
    this.#strokes.forEach((stroke, i) => {
      this.#put(i + 1, stroke, `var(--scene-${TONES[stroke.tone]})`);
    });
    while (this.#paths.length > this.#strokes.length + 1) this.#paths.pop()!.remove();
  }

  #put(i: number, stroke: Stroke, colour: string): void {
    let path = this.#paths[i];
    if (path === undefined) {
      path = document.createElementNS(SVG, 'path');
      this.#paths[i] = path;
      this.#svg.append(path);
    }
    path.setAttribute('d', stroke.d);
    path.setAttribute('opacity', String(stroke.opacity));
    path.setAttribute('stroke-width', String(stroke.width));
    path.setAttribute('stroke-dasharray', stroke.dash);
    path.style.stroke = stroke.filled ? 'none' : colour;
    path.style.fill = stroke.filled ? colour : 'none';
  }
}

/** Palette entry of each tone. */
export const TONES = { transmitter: 'copper', receiver: 'steel', ink: 'ink' } as const;
