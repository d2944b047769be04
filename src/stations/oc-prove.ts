import type { ReadonlySignal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit';
import { customElement, query, state } from 'lit/decorators.js';
import { parseReadings, type RowFault, readingsCsv, rowFaultLine } from '../analysis/prove/readings-table.ts';
import '../charts/margin-map.ts';
import '../charts/prove-efficiency.ts';
import type { PointReadDetail, ProveEfficiency } from '../charts/prove-efficiency.ts';
import '../charts/prove-values.ts';
import type { ValueReadDetail } from '../charts/prove-values.ts';
import type { DesignDocument } from '../design/schema.ts';
import '../parts/oc-answer.ts';
import '../parts/oc-choice.ts';
import type { ChoiceMadeDetail } from '../parts/oc-choice.ts';
import '../parts/oc-progress.ts';
import { setValue } from '../state/commands/set-value.ts';
import type { Session } from '../state/session.ts';
import { pathField } from './feed-fields.ts';
import { figure } from './figure.ts';
import { label } from './glossary.ts';
import { efficiencyCsv, measuredPoints, modelCurves, valueBars, valuesCsv } from './prove-numbers.ts';
import './prove-readings.ts';
import type { ReadingEditedDetail } from './prove-readings.ts';
import { proveStyle } from './prove-style.ts';
import { proveTakeOver } from './prove-take-over.ts';
import { proveAnswer, proveBelow, proveFirst, provePrint, proveSuggestions, proveWhy } from './prove-words.ts';
import { StationElement } from './station-element.ts';
import { stationStyle } from './station-style.ts';

type Readings = NonNullable<DesignDocument['readings']>;

/** Values drawn as bars: as many as stand beside the efficiency picture. */
const BARS = 9;

/** Accuracies of the meters: key, what it is of, caption, unit, largest. */
const METERS = [
  ['voltagePercent', 'volts', 'volts ±', '%', 100],
  ['voltageCountsMv', 'volts, digits', '±', 'mV', 10000],
  ['currentPercent', 'amps', 'amps ±', '%', 100],
  ['currentCountsMa', 'amps, digits', '±', 'mA', 10000],
] as const;

/** Prove: bench readings beside the model, what they fix and what they do not. */
@customElement('oc-prove')
export class ProveStation extends StationElement {
  static override readonly styles = [stationStyle, proveStyle];

  @state() private _third: 'values' | 'map' = 'values';
  @state() private _all = false;
  @state() private _marked = -1;
  @state() private _pointReading: string | null = null;
  @state() private _valueReading: string | null = null;
  @state() private _faults: readonly RowFault[] = [];
  @query('oc-prove-efficiency') private _efficiency!: ProveEfficiency | null;
  @query('oc-prove-values, oc-margin-map') private _thirdChart!: HTMLElement | null;
  @query('textarea') private _text!: HTMLTextAreaElement | null;

  protected watched({ store, fit }: Session): readonly ReadonlySignal<unknown>[] {
    return [
      store.resolved,
      store.snapshot,
      store.faults,
      fit.report,
      fit.fresh,
      fit.progress,
      fit.failure,
      fit.robust,
      fit.held,
      fit.map,
      fit.mapProgress,
      fit.mapFailure,
    ];
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.session?.fit.want(false);
  }

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    super.willUpdate(changed);
    const session = this.session;
    if (!session) return;
    session.answers.want({ mapSpanMm: null, sweeps: null });
    session.fit.want(true);
  }

  protected override render(): TemplateResult {
    const session = this.session;
    if (!session) return html``;
    const { store, fit } = session;
    const { design } = store.resolved.value;
    const report = fit.report.value;
    const progress = fit.progress.value;
    return html`<oc-answer .stretches=${proveAnswer(report, design.readings.length, fit.failure.value)} why=${proveWhy(report, fit.fresh.value)}></oc-answer>
      <oc-progress
        ?running=${progress !== null}
        .fraction=${progress?.fraction ?? null}
        stage=${progress?.stage ?? ''}
        @stop-requested=${() => fit.stop()}
      ></oc-progress>
      ${fit.held.value ? html`<p><button type="button" class="quiet" @click=${() => fit.resume()}>Fit again</button></p>` : nothing}
      ${report ? proveSuggestions(report) : nothing}
      <div class="bench">${this.#bench(session)}</div>
      ${
        design.readings.length === 0
          ? proveFirst(session)
          : html`<div class="figs">${this.#efficiencyFigure(session)} ${this.#thirdFigure(session)}</div>`
      }
      ${report ? proveTakeOver(session, report, fit.fresh.value) : nothing}
      ${report ? proveBelow(session, report) : provePrint(session)}`;
  }

  #bench(session: Session): TemplateResult {
    const { store, fit } = session;
    const { design } = store.resolved.value;
    const report = fit.report.value;
    return html`${figure(session, {
      title: label('benchReadings'),
      hint: 'type over any number; paste rows of a spreadsheet into a cell',
      chart: () => null,
      csv: design.readings.length > 0 ? () => readingsCsv(design.readings) : null,
      body: html`<oc-prove-readings
          .readings=${design.readings}
          .results=${fit.fresh.value ? (report?.readings ?? []) : []}
          .meters=${design.meters}
          marked=${this._marked}
          @reading-edited=${(event: CustomEvent<ReadingEditedDetail>) => this.#edit(session, event.detail)}
          @reading-removed=${(event: CustomEvent<number>) => this.#remove(session, event.detail)}
          @readings-pasted=${(event: CustomEvent<string>) => this.#take(session, event.detail, true)}
        ></oc-prove-readings>`,
    })}
      <p class="tools">
        <button type="button" class="quiet" @click=${() => this.#add(session)}>Add a reading</button>
        <label>
          <input
            type="checkbox"
            .checked=${fit.robust.value}
            @change=${(event: Event) => fit.setRobust((event.target as HTMLInputElement).checked)}
          />
          ${label('outliersCountLess')}
        </label>
      </p>
      <p class="meters">
        <span>${label('meterAccuracy')}:</span>
        ${METERS.map(([key, of, caption, unit, max]) =>
          pathField(session, {
            term: 'meterAccuracy',
            of,
            what: 'the accuracy of the meters',
            caption,
            path: `meters.${key}`,
            unit,
            value: design.meters[key],
            min: 0,
            max,
          }),
        )}
      </p>
      <details class="paste">
        <summary>${label('pasteReadings')}</summary>
        <textarea
          aria-label="rows of a spreadsheet"
          placeholder="supply V, supply A, output V, output A, gap mm, x mm, y mm, frequency kHz, rectified V, receiver °C, transmitter °C, holds"
        ></textarea>
        <p class="tools">
          <button type="button" class="quiet" @click=${() => this.#take(session, this._text?.value ?? '', true)}>Add these rows</button>
          <button type="button" class="quiet" @click=${() => this.#take(session, this._text?.value ?? '', false)}>Replace all readings</button>
          <label class="quiet">
            <input type="file" accept=".csv,.tsv,.txt,text/csv" @change=${(event: Event) => void this.#import(session, event)} />
            <span>Import a CSV file</span>
          </label>
        </p>
      </details>
      ${
        this._faults.length === 0
          ? nothing
          : html`<ul class="bad" role="alert">
              ${this._faults.slice(0, 8).map((fault) => html`<li>${rowFaultLine(fault)}</li>`)}
              ${this._faults.length > 8 ? html`<li>and ${this._faults.length - 8} more</li>` : nothing}
            </ul>`
      }`;
  }

  #efficiencyFigure(session: Session): TemplateResult {
    const { design } = session.store.resolved.value;
    const { fit } = session;
    const report = fit.report.value;
    const curves = report ? modelCurves(report) : [];
    const points = measuredPoints(design, report);
    return figure(session, {
      title: label('efficiencyMeasured'),
      hint: 'point at a reading, or use the arrow keys',
      reading: this._pointReading,
      chart: () => this._efficiency,
      csv: points.length > 0 ? () => efficiencyCsv(curves, points) : null,
      body: html`<oc-prove-efficiency
        .curves=${curves}
        .points=${points}
        ?stale=${report !== null && !fit.fresh.value}
        @point-read=${(event: CustomEvent<PointReadDetail | null>) => {
          this._pointReading = event.detail?.text ?? null;
          this._marked = event.detail?.reading ?? -1;
        }}
      ></oc-prove-efficiency>`,
    });
  }

  #thirdFigure(session: Session): TemplateResult {
    const { fit } = session;
    const report = fit.report.value;
    if (!report) return html``;
    const choice = html`<oc-choice
      class="above"
      label=${label('thirdShown')}
      .options=${[{ value: 'values', label: label('valuesShort') }, { value: 'map', label: label('mapShort') }]}
      .value=${this._third}
      @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) => {
        this._third = event.detail.value === 'map' ? 'map' : 'values';
        if (this._third === 'map') fit.askMap();
      }}
    ></oc-choice>`;
    if (this._third === 'map') return this.#mapFigure(session, choice);
    const bars = valueBars(report, this._all ? report.parameters.length : BARS);
    return figure(session, {
      title: label('valuesFitted'),
      hint: 'frame: before; bar: after',
      reading: this._valueReading,
      chart: () => this._thirdChart,
      csv: () => valuesCsv(report),
      body: html`${choice}<oc-prove-values
          .bars=${bars}
          ?stale=${!fit.fresh.value}
          @value-read=${(event: CustomEvent<ValueReadDetail | null>) => {
            this._valueReading = event.detail?.text ?? null;
          }}
        ></oc-prove-values>
        <p class="tools">
          <button
            type="button"
            class="quiet"
            @click=${() => {
              this._all = !this._all;
            }}
          >
            ${this._all ? 'Show what moved most' : `Show all ${report.parameters.length} values`}
          </button>
        </p>`,
    });
  }

  #mapFigure(session: Session, choice: TemplateResult): TemplateResult {
    const { fit, store } = session;
    const map = fit.map.value;
    const progress = fit.mapProgress.value;
    const { offsetXMm: xMm, offsetYMm: yMm, yawDeg } = store.resolved.value.design.placement;
    const reach = map ? `reach ${map.reachMm.low.toFixed(1)} to ${map.reachMm.high.toFixed(1)} mm` : '';
    return figure(session, {
      title: label('fittedMap'),
      hint: map ? reach : (progress?.stage ?? ''),
      chart: () => this._thirdChart,
      csv: null,
      body: html`${choice}
        <oc-progress
          ?running=${progress !== null}
          .fraction=${progress?.fraction ?? null}
          stage=${progress?.stage ?? ''}
          @stop-requested=${() => fit.stopMap()}
        ></oc-progress>
        ${
          map
            ? html`<oc-margin-map still .map=${map} .pose=${{ xMm, yMm, yawDeg }} .tallest=${380}></oc-margin-map>`
            : progress
              ? nothing
              : html`<p class="soft">
                  ${fit.mapFailure.value ?? ''}
                  <button type="button" class="quiet" @click=${() => fit.askMap()}>Work the map out</button>
                </p>`
        }`,
    });
  }

  #put(session: Session, readings: Readings, what: string): void {
    session.store.run(setValue, { path: 'readings', value: readings, what });
  }

  #list(session: Session): Readings {
    return [...(session.store.document.value.readings ?? [])];
  }

  #edit(session: Session, { index, key, value }: ReadingEditedDetail): void {
    const list = this.#list(session);
    list[index] = { ...list[index], [key]: value };
    this.#put(session, list, `reading ${index + 1}`);
  }

  #remove(session: Session, index: number): void {
    this.#put(
      session,
      this.#list(session).filter((_, i) => i !== index),
      `reading ${index + 1}`,
    );
  }

  /** A new row begins where the last one stood: place and supply rarely change from one reading to the next. */
  #add(session: Session): void {
    const list = this.#list(session);
    const last = list[list.length - 1];
    const { design } = session.store.resolved.value;
    const row = last
      ? { supplyV: last.supplyV, gapMm: last.gapMm, offsetXMm: last.offsetXMm, offsetYMm: last.offsetYMm }
      : { supplyV: design.transmitter.drive.supplyV, gapMm: design.placement.gapMm, offsetXMm: 0, offsetYMm: 0 };
    this.#put(session, [...list, { ...row, supplyA: null, outputV: null, outputA: null }] as Readings, 'a new reading');
  }

  #take(session: Session, text: string, beside: boolean): void {
    const { readings, faults } = parseReadings(text);
    this._faults = faults;
    if (readings.length === 0) return;
    const list = beside ? this.#list(session) : [];
    this.#put(session, [...list, ...readings] as Readings, `${readings.length} pasted readings`);
  }

  async #import(session: Session, event: Event): Promise<void> {
    const input = event.target as HTMLInputElement;
    const file = input.files?.[0];
    if (file) this.#take(session, await file.text(), true);
    input.value = '';
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-prove': ProveStation;
  }
}
