import type { ReadonlySignal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit';
import { customElement, query, state } from 'lit/decorators.js';
import '../charts/margin-map.ts';
import '../charts/prove-efficiency.ts';
import type { PointReadDetail, ProveEfficiency } from '../charts/prove-efficiency.ts';
import '../charts/prove-values.ts';
import type { ValueReadDetail } from '../charts/prove-values.ts';
import '../parts/oc-answer.ts';
import '../parts/oc-choice.ts';
import type { ChoiceMadeDetail } from '../parts/oc-choice.ts';
import '../parts/oc-progress.ts';
import type { Session } from '../state/session.ts';
import { figure } from './figure.ts';
import { label } from './glossary.ts';
import { efficiencyCsv, measuredPoints, modelCurves, valueBars, valuesCsv } from './prove-numbers.ts';
import './oc-prove-bench.ts';
import { proveStyle } from './prove-style.ts';
import { proveTakeOver } from './prove-take-over.ts';
import { proveAnswer, proveBelow, proveFirst, provePrint, proveSuggestions, proveWhy } from './prove-words.ts';
import { StationElement } from './station-element.ts';
import { stationStyle } from './station-style.ts';

/** Values drawn as bars: as many as stand beside the efficiency picture. */
const BARS = 9;

/** Prove: bench readings beside the model, what they fix and what they do not. */
@customElement('oc-prove')
export class ProveStation extends StationElement {
  static override readonly styles = [stationStyle, proveStyle];

  @state() private _third: 'values' | 'map' = 'values';
  @state() private _all = false;
  @state() private _marked = -1;
  @state() private _pointReading: string | null = null;
  @state() private _valueReading: string | null = null;
  @query('oc-prove-efficiency') private _efficiency!: ProveEfficiency | null;
  @query('oc-prove-values, oc-margin-map') private _thirdChart!: HTMLElement | null;

  protected watched({ store, fit }: Session): readonly ReadonlySignal<unknown>[] {
    return [
      store.resolved,
      fit.report,
      fit.fresh,
      fit.progress,
      fit.failure,
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
    const count = design.readings.length;
    const held = fit.held.value;
    return html`<oc-answer .stretches=${proveAnswer(report, count, fit.failure.value, held)} why=${proveWhy(report, fit.fresh.value)}></oc-answer>
      <div class="run">
        <oc-progress
          ?running=${progress !== null}
          .fraction=${progress?.fraction ?? null}
          stage=${progress?.stage ?? ''}
          @stop-requested=${() => fit.stop()}
        ></oc-progress>
        ${held ? html`<button type="button" class="quiet" @click=${() => fit.resume()}>Fit again</button>` : nothing}
      </div>
      <oc-prove-bench .session=${session} marked=${this._marked}></oc-prove-bench>
      ${
        count === 0
          ? html`${proveFirst(session)} ${provePrint(session)}`
          : html`${report ? proveSuggestions(report) : nothing}
              <div class="figs">${this.#efficiencyFigure(session)} ${this.#thirdFigure(session)}</div>
              ${proveTakeOver(session, report, fit.fresh.value)} ${proveBelow(session, report)}`
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
    const bars = report ? valueBars(report, this._all ? report.parameters.length : BARS) : [];
    return figure(session, {
      title: label('valuesFitted'),
      hint: 'frame: before; bar: after',
      reading: this._valueReading,
      chart: () => this._thirdChart,
      csv: report ? () => valuesCsv(report) : null,
      body: html`${choice}<oc-prove-values
          .bars=${bars}
          .rows=${BARS}
          ?stale=${report !== null && !fit.fresh.value}
          @value-read=${(event: CustomEvent<ValueReadDetail | null>) => {
            this._valueReading = event.detail?.text ?? null;
          }}
        ></oc-prove-values>
        <p class="tools">
          <button
            type="button"
            class="quiet"
            ?disabled=${report === null}
            @click=${() => {
              this._all = !this._all;
            }}
          >
            ${this._all ? 'Show what moved most' : `Show all ${report?.parameters.length ?? ''} values`}
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
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-prove': ProveStation;
  }
}
