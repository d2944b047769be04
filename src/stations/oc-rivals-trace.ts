import type { ReadonlySignal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import {
  sizeErrorOf,
  type Trace,
  tracedOutline,
  withTrace,
  withTraceTolerance,
} from '../analysis/pair/trace-outline.ts';
import type { CoilReading } from '../analysis/pair/unknown-coil.ts';
import '../charts/trace-board.ts';
import type { TraceBoard, TraceChangedDetail } from '../charts/trace-board.ts';
import { documentAsGiven } from '../design/resolve.ts';
import type { Design } from '../design/types.ts';
import { windSide } from '../design/wind.ts';
import { type FaultDetail, faultLine, InputError } from '../numerics/errors.ts';
import { replaceDesign } from '../state/commands/replace-design.ts';
import type { Session } from '../state/session.ts';
import { readPicture, type TracePicture } from '../state/trace-work.ts';
import { label } from './glossary.ts';
import { rivalsStyle } from './rivals-style.ts';
import { StationElement } from './station-element.ts';
import { stationStyle } from './station-style.ts';
import { traceChoices, traceFields } from './trace-fields.ts';
import { type TraceState, traceResult } from './trace-result.ts';
import { traceStyle } from './trace-style.ts';

/** An outline traced over a photograph of the coil. The picture stays in this page. */
@customElement('oc-rivals-trace')
export class RivalsTrace extends StationElement {
  static override readonly styles = [stationStyle, rivalsStyle, traceStyle];

  @property() side: 'transmitter' | 'receiver' = 'receiver';
  @state() private _fault = '';
  @state() private _over = false;
  @state() private _reading = false;
  @state() private _magnification = 1;
  @query('#picture') private _file!: HTMLInputElement;
  @query('oc-trace-board') private _board!: TraceBoard | null;
  #state: TraceState | null = null;
  #url = '';
  #urlOf: TracePicture | null = null;

  protected watched({ store, trace, pair }: Session): readonly ReadonlySignal<unknown>[] {
    const { picture, marks, past, known, widthMm, heightMm, scaleMm, scaleErrorMm, half, along, pitchMm } = trace;
    const { coilSizes, coilSizesFailure } = pair;
    return [
      coilSizes,
      coilSizesFailure,
      store.resolved,
      picture,
      marks,
      past,
      known,
      widthMm,
      heightMm,
      scaleMm,
      scaleErrorMm,
      half,
      along,
      pitchMm,
    ];
  }

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    super.willUpdate(changed);
    if (this.session) this.#state = this.#work(this.session);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#revoke();
  }

  #revoke(): void {
    if (this.#url !== '') URL.revokeObjectURL(this.#url);
    this.#url = '';
    this.#urlOf = null;
  }

  /** Address of the picture on show; the one before is given back. */
  #address(picture: TracePicture): string {
    if (this.#urlOf !== picture) {
      this.#revoke();
      this.#url = URL.createObjectURL(picture.blob);
      this.#urlOf = picture;
    }
    return this.#url;
  }

  protected override render(): TemplateResult {
    const session = this.session;
    if (!session) return html``;
    const picture = session.trace.picture.value;
    return html`${this.#opening(session, picture)}
    <p class="wrong" role="alert" ?hidden=${this._fault === ''}>${this._fault}</p>
    ${picture ? this.#table(session, picture) : nothing}`;
  }

  #opening(session: Session, picture: TracePicture | null): TemplateResult {
    return html`<div
      class="drop ${this._over ? 'over' : ''}"
      @dragover=${(event: DragEvent) => {
        event.preventDefault();
        this._over = true;
      }}
      @dragleave=${() => {
        this._over = false;
      }}
      @drop=${(event: DragEvent) => {
        // The page takes a dropped file for a design, unless somebody has prevented it.
        event.preventDefault();
        this._over = false;
        const file = event.dataTransfer?.files[0];
        if (file) void this.#open(session, file);
      }}
    >
      <p>
        Lay a ruler beside the winding, as high as the winding, and take the picture from straight above and from far; or lay a
        rectangle of known sides there, a card or a ruled square: then it may be taken aslant. What lies 2 mm too low reads
        1 % wrong from 200 mm.
      </p>
      <p class="act">
        <button type="button" class=${picture ? 'quiet' : 'do'} ?disabled=${this._reading} @click=${() => this._file.click()}>
          ${picture ? 'Open another picture' : 'Open a picture'}
        </button>
        <span class="soft">
          ${
            picture
              ? `${picture.name}, ${picture.width} × ${picture.height} px. It stays in this page and goes with it.`
              : 'or drop it here: PNG or JPEG. It is not uploaded and not kept.'
          }
        </span>
      </p>
      <input
        id="picture"
        type="file"
        accept="image/png,image/jpeg"
        tabindex="-1"
        aria-label=${label('tracePicture')}
        @change=${(event: Event) => {
          const input = event.target as HTMLInputElement;
          const file = input.files?.[0];
          // The same file may be chosen again.
          input.value = '';
          if (file) void this.#open(session, file);
        }}
      />
    </div>`;
  }

  async #open({ trace }: Session, file: File): Promise<void> {
    this._reading = true;
    try {
      trace.open(await readPicture(file));
      this._fault = '';
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      // What was on the table stays there.
      this._fault = faultText(error.faults);
    } finally {
      this._reading = false;
    }
  }

  #table(session: Session, picture: TracePicture): TemplateResult {
    const { trace } = session;
    const marks = trace.marks.value;
    const selected = marks.selected >= 0;
    const rectangle = trace.known.value === 'rectangle';
    return html`<div class="choices">${traceChoices(session, this._magnification, (value) => {
      this._magnification = value;
    })}</div>
      <div class="fields">${traceFields(session, this.#pitchMm(session))}</div>
      <p class="soft">
        ${
          rectangle
            ? `Put 1 to 4 on the corners clockwise, the width between 1 and 2; where corners are rounded, on the place where
              the sides would meet. Then tap`
            : 'Put the two ends on marks of the ruler, then tap'
        } along the centre line of the outermost turn. Arrow keys move the
        chosen mark (Shift: finely); on a point Enter adds one behind it, Delete removes it, Page Up and Page Down go to its
        neighbours.
      </p>
      <oc-trace-board
        src=${this.#address(picture)}
        .size=${[picture.width, picture.height] as const}
        .marks=${marks}
        ?half=${trace.half.value}
        magnification=${this._magnification}
        ?rectangle=${rectangle}
        scale-text="${rectangle ? trace.widthMm.value : trace.scaleMm.value} mm"
        side-text="${trace.heightMm.value} mm"
        @trace-changed=${(event: CustomEvent<TraceChangedDetail>) => trace.change(event.detail.marks, event.detail.step)}
      ></oc-trace-board>
      <p class="act tools">
        <button type="button" class="quiet" @click=${() => this._board?.addPoint()}>Add a point</button>
        <button type="button" class="quiet" ?disabled=${!selected} @click=${() => this._board?.removePoint()}>
          Remove the chosen point
        </button>
        <button type="button" class="quiet" ?disabled=${trace.past.value.length === 0} @click=${() => trace.takeBack()}>
          Take the last step back
        </button>
        <button
          type="button"
          class="quiet"
          ?disabled=${marks.points.length === 0}
          @click=${() => trace.change({ ...marks, points: [], selected: -1 }, 'clear')}
        >
          Remove all points
        </button>
      </p>
      <div aria-live="polite">${traceResult(session, this.side, this.#state, (design, reading) => this.#take(session, design, reading))}</div>`;
  }

  /** What was stated, or the pitch of the coil there is. */
  #pitchMm({ store, trace }: Session): number {
    if (trace.pitchMm.value !== null) return trace.pitchMm.value;
    const { design } = store.resolved.value;
    const wound = windSide(design, this.side);
    const pitch = wound.ok
      ? 1e3 * Math.min(wound.winding.pitchX, wound.winding.pitchY) * design[this.side].coil.filars
      : 0;
    return pitch > 0 ? Number(pitch.toFixed(3)) : 1;
  }

  #trace({ trace }: Session): Trace {
    const { points, from, to, corners } = trace.marks.value;
    const errorMm = trace.scaleErrorMm.value;
    return {
      points,
      scale:
        trace.known.value === 'rectangle'
          ? { corners, widthMm: trace.widthMm.value, heightMm: trace.heightMm.value, errorMm }
          : { from, to, lengthMm: trace.scaleMm.value, errorMm },
      pointingPx: this._board?.pointingPx ?? 1,
      half: trace.half.value,
      along: trace.along.value,
    };
  }

  /** What the marks give, and the question about its inductance; null while there are too few points. */
  #work(session: Session): TraceState | null {
    if (session.trace.picture.value === null || session.trace.marks.value.points.length < 3) return null;
    try {
      const traced = tracedOutline(this.#trace(session));
      const made = withTrace(session.store.resolved.value.design, this.side, traced, this.#pitchMm(session));
      if (!made.ok) return { traced, fault: `It cannot be wound so. ${faultText(made.faults)}`, design: null, key: '' };
      const key = session.pair.askCoilSizes({
        kind: 'trace',
        coil: made.design[this.side].coil,
        sizeError: sizeErrorOf(traced),
        missingArea: traced.missingArea,
      });
      return { traced, fault: '', design: made.design, key };
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      return { traced: null, fault: faultText(error.faults), design: null, key: '' };
    }
  }

  #take({ store }: Session, design: Design, { inductanceTolerancePercent }: CoilReading): void {
    const tolerated = withTraceTolerance(design, this.side, inductanceTolerancePercent);
    store.run(replaceDesign, { document: documentAsGiven(tolerated), label: 'Take over the traced outline' });
  }
}

/** The faults as a paragraph; their paths are those of the design file. */
function faultText(faults: readonly FaultDetail[]): string {
  return faults.map((fault) => faultLine(fault)).join(' ');
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-rivals-trace': RivalsTrace;
  }
}
