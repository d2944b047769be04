import type { ReadonlySignal } from '@preact/signals-core';
import { css, html, nothing, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { HOUR_S } from '../analysis/feed/cell.ts';
import { chargeTime } from '../analysis/feed/charge-time.ts';
import type { DayCurve } from '../analysis/feed/day-curve.ts';
import type { FeedBands } from '../analysis/feed/feed-bands.ts';
import type { FeedReport } from '../analysis/feed/feed-report.ts';
import { type ChargeMapInputs, chargeTimeOverMap } from '../analysis/feed/load-sharing.ts';
import type { OffsetMap, PoseAnswer } from '../analysis/types.ts';
import { chargeCsv, dayCsv } from '../charts/feed-csv.ts';
import '../charts/feed-day.ts';
import type { DayReadDetail, DockHoursDetail } from '../charts/feed-day.ts';
import '../charts/feed-offset.ts';
import type { ChargeMapModel, OffsetReadDetail } from '../charts/feed-offset.ts';
import type { Design } from '../design/types.ts';
import '../parts/oc-choice.ts';
import type { ChoiceMadeDetail } from '../parts/oc-choice.ts';
import '../parts/oc-note.ts';
import { setValue } from '../state/commands/set-value.ts';
import type { Session } from '../state/session.ts';
import { feedStyle } from './feed-style.ts';
import { chainChoices } from './feed-tables.ts';
import { figure } from './figure.ts';
import { label } from './glossary.ts';
import { StationElement } from './station-element.ts';
import { stationStyle } from './station-style.ts';
import { valueTableStyle } from './value-table-style.ts';

/** What the chain's figures rest on, worked out once for each answer. */
export interface FeedWorked {
  readonly design: Design;
  readonly pose: PoseAnswer;
  readonly report: FeedReport;
  readonly bands: FeedBands;
  readonly curve: DayCurve | null;
  readonly band: { readonly low: Float64Array; readonly high: Float64Array } | null;
}

export interface SpanChosenDetail {
  readonly span: 'day' | 'offset';
}

/**
 * The day and the cell: its charge over a day, or how long charging takes wherever the device may lie.
 *
 * @fires span-chosen - {@link SpanChosenDetail}: the other of the two is wanted
 */
@customElement('oc-feed-cell')
export class FeedCell extends StationElement {
  static override readonly styles = [
    stationStyle,
    valueTableStyle,
    feedStyle,
    css`
      :host {
        min-width: 0;
      }
    `,
  ];

  @property({ attribute: false }) worked: FeedWorked | null = null;
  @property() span: 'day' | 'offset' = 'day';
  @state() private _reading: string | null = null;
  @query('oc-feed-day, oc-feed-offset') private _chart!: HTMLElement | null;
  #charged: { readonly map: OffsetMap; readonly inputs: ChargeMapInputs; readonly hours: Float64Array } | null = null;

  protected watched({ answers }: Session): readonly ReadonlySignal<unknown>[] {
    return [answers.map, answers.mapFresh, answers.progress];
  }

  protected override render(): TemplateResult {
    const { session, worked } = this;
    if (!session || !worked?.curve) return html``;
    const { report, curve, band } = worked;
    const day = this.span === 'day' || !report.charge;
    return html`${day ? this.#dayBody(session, report, curve, band) : this.#offsetFigure(session, worked)}
      ${chainChoices(session, report)}
      ${
        report.chain.charger
          ? html`<oc-note
              >A lithium cell burns when it is charged too fast, too full, too cold or too warm. Its data sheet comes
              first; use a charger made for it, and a cell with its own protection.</oc-note
            >`
          : nothing
      }`;
  }

  /** Charge time wherever the map reaches; null while there is none. */
  #chargeMap(session: Session, { report, design, bands }: FeedWorked): ChargeMapModel | null {
    const map = session.answers.map.value;
    if (!map || !report.charge) return null;
    const { map: inputs } = report.charge;
    if (this.#charged?.map !== map || this.#charged.inputs !== inputs) {
      this.#charged = { map, inputs, hours: chargeTimeOverMap(map.maxOutputA, inputs) };
    }
    const { offsetXMm: atXMm, offsetYMm: atYMm } = design.placement;
    const fullHours = chargeTime(inputs.cell, inputs.setA, 0, inputs.limit).totalS / HOUR_S;
    const fullBand = report.charge.shared ? null : bands.chargeHours;
    return { xMm: map.xMm, yMm: map.yMm, hours: this.#charged.hours, fullHours, fullBand, atXMm, atYMm };
  }

  #spanChoice(): TemplateResult {
    return html`<oc-choice
      class="above"
      label=${label('spanShown')}
      .options=${[{ value: 'day', label: label('aDay') }, { value: 'offset', label: label('overOffset') }]}
      .value=${this.span}
      @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) => {
        const detail: SpanChosenDetail = { span: event.detail.value === 'offset' ? 'offset' : 'day' };
        this._reading = null;
        this.dispatchEvent(new CustomEvent('span-chosen', { detail, bubbles: true, composed: true }));
      }}
    ></oc-choice>`;
  }

  #offsetFigure(session: Session, worked: FeedWorked): TemplateResult {
    const model = this.#chargeMap(session, worked);
    const { answers } = session;
    const progress = answers.progress.value;
    return figure(session, {
      title: label('chargeOverOffset'),
      hint: model ? 'point at it' : (progress?.stage ?? 'working out the map'),
      reading: this._reading,
      chart: () => this._chart,
      csv: model ? () => chargeCsv(model) : null,
      body: html`${this.#spanChoice()}<oc-feed-offset
          .model=${model}
          ?stale=${model !== null && !answers.mapFresh.value}
          @offset-read=${(event: CustomEvent<OffsetReadDetail | null>) => {
            this._reading = event.detail?.text ?? null;
          }}
        ></oc-feed-offset>`,
    });
  }

  #dayBody(session: Session, report: FeedReport, curve: DayCurve, band: FeedWorked['band']): TemplateResult {
    return html`
      ${figure(session, {
        title: label('dayAndCell'),
        hint: 'drag the hours on the dock',
        reading: this._reading,
        chart: () => this._chart,
        csv: () => dayCsv(curve, band),
        body: html`${report.charge ? this.#spanChoice() : nothing}<oc-feed-day
          .curve=${curve}
          .band=${band}
          @dock-hours-changed=${(event: CustomEvent<DockHoursDetail>) => {
            const { hours, phase } = event.detail;
            const args = { path: 'demand.dock.hoursPerDay', value: hours, what: 'the hours on the dock' };
            session.store.run(setValue, args, phase);
          }}
          @day-read=${(event: CustomEvent<DayReadDetail | null>) => {
            this._reading = event.detail?.text ?? null;
          }}
        ></oc-feed-day>`,
      })}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-feed-cell': FeedCell;
  }
}
