import type { ReadonlySignal } from '@preact/signals-core';
import { html, type TemplateResult } from 'lit';
import { customElement, query, state } from 'lit/decorators.js';
import '../charts/line-chart.ts';
import '../charts/margin-map.ts';
import '../parts/oc-answer.ts';
import { mapCsv } from '../analysis/hold/exports/map-csv.ts';
import { sweepsCsv } from '../charts/csv.ts';
import type { LineChart, MarkerMovedDetail, ReadingMovedDetail } from '../charts/line-chart.ts';
import { marginDomain } from '../charts/line-chart-frame.ts';
import type { MarginMap } from '../charts/margin-map.ts';
import type { ReceiverMovedDetail, ReceiverTurnedDetail } from '../charts/margin-map-moves.ts';
import type { CrosshairDetail } from '../charts/margin-map-reading.ts';
import type { Sweeps } from '../state/answers.ts';
import { moveReceiver } from '../state/commands/move-receiver.ts';
import { setGap } from '../state/commands/set-gap.ts';
import { turnReceiver } from '../state/commands/turn-receiver.ts';
import type { Session } from '../state/session.ts';
import { hereText, placeAnswer, placeWhy } from './answer-line.ts';
import { figure } from './figure.ts';
import { label } from './labels.ts';
import { outlineOf } from './link-figures.ts';
import { placeCurves } from './place-curves.ts';
import { placeStyle } from './place-style.ts';
import { poseField } from './pose-fields.ts';
import { gapSweepEnd, mapSpan, offsetSweepEnd } from './ranges.ts';
import { sideFigure } from './side-figure.ts';
import { slideStyle } from './slide-style.ts';
import { StationElement } from './station-element.ts';
import { stationStyle } from './station-style.ts';
import { wordsOf } from './word.ts';

/** Width of the window from which down the two lines stand one under the other; as in the style below. */
const STACKED_PX = 460;

/** A pair, where the template checker would see a list. */
function span(from: number, to: number): [number, number] {
  return [from, to];
}

/** Place: how far off centre and how far apart. */
@customElement('oc-place')
export class PlaceStation extends StationElement {
  static override readonly styles = [stationStyle, slideStyle, placeStyle];

  @state() private _mapReading: CrosshairDetail | null = null;
  @state() private _gapReading: number | null = null;
  @state() private _offsetReading: number | null = null;
  @state() private _tallest = 520;
  /** The two lines stand one under the other, each with its own numbers. */
  @state() private _stacked = false;
  /** How far off centre the receiver was when the lines shown came. */
  #sweepsOff: { readonly of: Sweeps | null; readonly mm: number } = { of: null, mm: 0 };
  /** The gap's slider is in the hand, and whether it has moved there. */
  #slid: 'held' | 'moved' | null = null;
  @query('oc-margin-map') private _map!: MarginMap;
  @query('#against-gap') private _gapChart!: LineChart;
  @query('#against-offset') private _offsetChart!: LineChart;

  protected watched({ store, answers }: Session): readonly ReadonlySignal<unknown>[] {
    return [
      store.resolved,
      store.faults,
      store.snapshot,
      store.dragging,
      answers.pose,
      answers.quick,
      answers.map,
      answers.mapFresh,
      answers.sweeps,
    ];
  }

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener('resize', this.#onResize);
    this.#onResize();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    window.removeEventListener('resize', this.#onResize);
  }

  readonly #onResize = (): void => {
    this._tallest = Math.round(Math.min(Math.max(window.innerHeight - 400, 300), 620));
    this._stacked = window.innerWidth <= STACKED_PX;
  };

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    super.willUpdate(changed);
    const session = this.session;
    if (!session || session.store.dragging.peek()) return;
    const resolved = session.store.resolved.peek();
    session.answers.want({
      mapSpanMm: mapSpan(resolved),
      sweeps: { gapToMm: gapSweepEnd(resolved.design.placement.gapMm), offsetToMm: offsetSweepEnd(resolved) },
    });
  }

  protected override render(): TemplateResult {
    const session = this.session;
    if (!session) return html``;
    const { store, answers } = session;
    const resolved = store.resolved.value;
    const { design, demand } = resolved;
    const pose = answers.pose.value;
    const quick = answers.quick.value;
    const map = answers.map.value;
    const sweeps = answers.sweeps.value;
    const sources = {
      design,
      demand,
      map,
      pose,
      quick,
      gapCentred: sweeps ? (sweeps.gapCentred ?? sweeps.gapHere) : null,
    };
    const { offsetXMm: xMm, offsetYMm: yMm, yawDeg, gapMm } = design.placement;
    const here = hereText(pose, quick);
    return html`
      <oc-answer .stretches=${placeAnswer(sources)} why=${placeWhy(sources)}>${wordsOf('margin', 'reach')}</oc-answer>
      <div class="figs">
        ${figure(session, {
          title: label('marginOverOffset'),
          hint: 'drag the ring',
          reading: this._mapReading ? this._map.reading(this._mapReading) : null,
          chart: () => this._map,
          csv: map ? () => mapCsv(map) : null,
          body: html`<oc-margin-map
              .map=${map}
              .pose=${{ xMm, yMm, yawDeg }}
              .transmitter=${outlineOf(resolved.transmitter)}
              .receiver=${outlineOf(resolved.receiver)}
              .peaks=${demand.peaks}
              .hereText=${here}
              .tallest=${this._tallest}
              .crosshair=${this._offsetReading === null ? null : { xMm: this._offsetReading, yMm }}
              ?stale=${map !== null && !answers.mapFresh.value}
              @receiver-moved=${(event: CustomEvent<ReceiverMovedDetail>) => {
                const { phase, ...to } = event.detail;
                store.run(moveReceiver, to, phase);
              }}
              @receiver-turned=${(event: CustomEvent<ReceiverTurnedDetail>) => {
                store.run(turnReceiver, { yawDeg: event.detail.yawDeg }, event.detail.phase);
              }}
              @crosshair-moved=${(event: CustomEvent<CrosshairDetail | null>) => {
                this._mapReading = event.detail;
              }}
            >
              ${poseField(session, design, 'offsetX', { slot: 'offset-x', caption: 'x' })}
              ${poseField(session, design, 'offsetY', { slot: 'offset-y', caption: 'y' })}
              ${poseField(session, design, 'yaw', { slot: 'yaw' })}
            </oc-margin-map>
            ${this.#gapSlider(session, gapMm)}`,
        })}
        <div class="right">
          ${sideFigure(session, this.renderRoot, this._gapReading)}
          ${this.#lines(session)}
        </div>
      </div>
    `;
  }

  #gapSlider(session: Session, gapMm: number): TemplateResult {
    const end = gapSweepEnd(gapMm);
    const run = (event: Event, phase: 'move' | 'end' | 'cancel' | 'step'): void => {
      session.store.run(setGap, { gapMm: Number((event.target as HTMLInputElement).value) }, phase);
    };
    const release = (event: Event): void => {
      // The slider rounds what it shows: only touched, it says nothing.
      if (this.#slid) run(event, this.#slid === 'moved' ? 'end' : 'cancel');
      this.#slid = null;
    };
    return html`<div class="slide">
      <label for="gap">${label('gap')}</label>
      <input
        id="gap"
        type="range"
        min="0.1"
        max=${end}
        step="0.1"
        .value=${String(gapMm)}
        aria-valuetext=${`${gapMm} mm`}
        @pointerdown=${(event: PointerEvent) => {
          if (event.button !== 0) return;
          this.#slid = 'held';
          session.store.run(setGap, { gapMm }, 'start');
        }}
        @input=${(event: Event) => {
          if (this.#slid) this.#slid = 'moved';
          run(event, this.#slid ? 'move' : 'step');
        }}
        @change=${release}
        @pointerup=${release}
        @pointercancel=${release}
      />
      <output for="gap">${gapMm.toFixed(1)} mm</output>
    </div>`;
  }

  #lines(session: Session): TemplateResult {
    const { store, answers } = session;
    const { design } = store.resolved.value;
    const { offsetXMm, offsetYMm, gapMm } = design.placement;
    const sweeps = answers.sweeps.value;
    // The lines keep their name while the receiver is dragged on: they are of where it was when they came.
    if (sweeps !== this.#sweepsOff.of) this.#sweepsOff = { of: sweeps, mm: Math.hypot(offsetXMm, offsetYMm) };
    const off = this.#sweepsOff.mm;
    const { gapCurves, offsetCurves } = placeCurves(sweeps, off);
    const yDomain = marginDomain([...gapCurves, ...offsetCurves].map((c) => c.y));
    const wanted = design.demand.wantedMarginPercent;
    const offsetEnd = offsetSweepEnd(store.resolved.value);
    const shared = { yDomain, wanted };
    return html`<div class="lines">
      ${figure(session, {
        title: label('marginAgainstGap'),
        hint: '',
        reading: this._gapReading !== null && this._gapChart ? this._gapChart.readingText(this._gapReading) : null,
        chart: () => this._gapChart,
        csv: sweeps
          ? () =>
              sweepsCsv([
                { name: 'here', sweep: sweeps.gapHere },
                ...(sweeps.gapCentred ? [{ name: 'centred', sweep: sweeps.gapCentred }] : []),
              ])
          : null,
        body: html`<oc-line-chart
          id="against-gap"
          .curves=${gapCurves}
          .xDomain=${span(0, gapSweepEnd(gapMm))}
          .yDomain=${shared.yDomain}
          .height=${Math.max(200, this._tallest - 240)}
          xName=${label('gap')}
          .wanted=${shared.wanted}
          .marker=${gapMm}
          .markerLimits=${span(Math.min(0.1, gapMm), gapSweepEnd(gapMm))}
          ?stale=${store.dragging.value}
          @marker-moved=${(event: CustomEvent<MarkerMovedDetail>) => {
            store.run(setGap, { gapMm: event.detail.value }, event.detail.phase);
          }}
          @reading-moved=${(event: CustomEvent<ReadingMovedDetail | null>) => {
            this._gapReading = event.detail?.value ?? null;
          }}
        ></oc-line-chart>`,
      })}
      ${figure(session, {
        title: label('marginAgainstOffset'),
        hint: '',
        reading:
          this._offsetReading !== null && this._offsetChart ? this._offsetChart.readingText(this._offsetReading) : null,
        chart: () => this._offsetChart,
        csv: sweeps
          ? () =>
              sweepsCsv([
                { name: 'along x', sweep: sweeps.alongX },
                { name: 'along y', sweep: sweeps.alongY },
              ])
          : null,
        body: html`<oc-line-chart
          id="against-offset"
          .curves=${offsetCurves}
          .xDomain=${span(-offsetEnd, offsetEnd)}
          .yDomain=${shared.yDomain}
          .height=${Math.max(200, this._tallest - 240)}
          .yTicks=${this._stacked}
          xName=${label('offset')}
          .wanted=${shared.wanted}
          .marker=${offsetXMm}
          .markerLimits=${span(-offsetEnd, offsetEnd)}
          .reading=${this._mapReading?.xMm ?? null}
          ?stale=${store.dragging.value}
          @marker-moved=${(event: CustomEvent<MarkerMovedDetail>) => {
            store.run(moveReceiver, { xMm: event.detail.value, yMm: offsetYMm }, event.detail.phase);
          }}
          @reading-moved=${(event: CustomEvent<ReadingMovedDetail | null>) => {
            this._offsetReading = event.detail?.value ?? null;
          }}
        ></oc-line-chart>`,
      })}
    </div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-place': PlaceStation;
  }
}
