import type { ReadonlySignal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit';
import { customElement, query, state } from 'lit/decorators.js';
import { type DayCurve, dayCurve } from '../analysis/feed/day-curve.ts';
import { type DividerChange, dividerChange } from '../analysis/feed/divider.ts';
import { awayFlow, dockedFlow } from '../analysis/feed/docked-flow.ts';
import { dayBand, type FeedBands, feedBands } from '../analysis/feed/feed-bands.ts';
import { type FeedReport, feedReport } from '../analysis/feed/feed-report.ts';
import type { FlowNode } from '../analysis/feed/flow.ts';
import type { PoseAnswer } from '../analysis/types.ts';
import '../charts/energy-flow.ts';
import type { EnergyFlow, PartReadDetail } from '../charts/energy-flow.ts';
import { dayCsv, flowCsv } from '../charts/feed-csv.ts';
import '../charts/feed-day.ts';
import type { DayReadDetail, DockHoursDetail, FeedDay } from '../charts/feed-day.ts';
import type { Design, FeedbackDocument } from '../design/types.ts';
import '../parts/oc-answer.ts';
import '../parts/oc-choice.ts';
import type { ChoiceMadeDetail } from '../parts/oc-choice.ts';
import '../parts/oc-note.ts';
import { setValue } from '../state/commands/set-value.ts';
import type { Session } from '../state/session.ts';
import { dividerBody, wantedOf } from './feed-divider-figure.ts';
import { wattBands } from './feed-flow.ts';
import { feedStyle } from './feed-style.ts';
import { chainChoices, chainTable, loadsTable } from './feed-tables.ts';
import { feedAnswer, feedWhy } from './feed-words.ts';
import { figure } from './figure.ts';
import { label } from './glossary.ts';
import { StationElement } from './station-element.ts';
import { stationStyle } from './station-style.ts';

/** What the chain's figures rest on, worked out once for each answer. */
interface Worked {
  readonly design: Design;
  readonly pose: PoseAnswer;
  readonly report: FeedReport;
  readonly bands: FeedBands;
  readonly curve: DayCurve | null;
  readonly band: { readonly low: Float64Array; readonly high: Float64Array } | null;
}

/** Feed: whether the link carries the load, and what becomes of the watts. */
@customElement('oc-feed')
export class FeedStation extends StationElement {
  static override readonly styles = [stationStyle, feedStyle];

  @state() private _where: 'dock' | 'away' = 'dock';
  @state() private _flowReading: string | null = null;
  @state() private _dayReading: string | null = null;
  @query('oc-energy-flow') private _flow!: EnergyFlow | null;
  @query('oc-feed-day') private _day!: FeedDay | null;
  #worked: Worked | null = null;
  #feedback: { readonly path: string; readonly value: FeedbackDocument } | null = null;
  #change: DividerChange | null = null;

  protected watched({ store, answers, feed }: Session): readonly ReadonlySignal<unknown>[] {
    return [
      store.resolved,
      store.faults,
      store.snapshot,
      store.dragging,
      answers.pose,
      answers.poseFresh,
      answers.quick,
      feed.spread,
    ];
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.session?.feed.want(false);
  }

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    super.willUpdate(changed);
    const session = this.session;
    if (!session) return;
    session.answers.want({ mapSpanMm: null, sweeps: null });
    session.feed.want(true);
    this.#work(session);
  }

  #work(session: Session): void {
    const { design } = session.store.resolved.value;
    const pose = session.answers.pose.value;
    if (!pose) {
      this.#worked = null;
      return;
    }
    if (this.#worked?.design === design && this.#worked.pose === pose) return;
    const { margin, operatingPoint: point } = pose;
    const link = { maxOutputA: margin.maxOutputA, peaks: margin.peaks, point };
    const report = feedReport(design, link);
    const bands = feedBands(design, link, margin.maxOutputBand);
    const curve = report.dayInputs === null ? null : dayCurve(report.dayInputs);
    this.#worked = { design, pose, report, bands, curve, band: dayBand(design, link, margin.maxOutputBand) };
    this.#noteDivider(report);
  }

  /** Keeps what the last change of the divider did. */
  #noteDivider(report: FeedReport): void {
    const { boost, boostPath: path } = report.chain;
    const value = boost?.feedback ?? null;
    if (value === null) {
      this.#feedback = null;
      this.#change = null;
      return;
    }
    const before = this.#feedback;
    this.#feedback = { path, value };
    if (before === null || before.path !== path) this.#change = null;
    else if (JSON.stringify(before.value) !== JSON.stringify(value)) {
      this.#change = dividerChange(before.value, value, wantedOf(report) ?? report.boost?.outputV ?? 0);
    }
  }

  protected override render(): TemplateResult {
    const session = this.session;
    if (!session) return html``;
    const { store, answers, feed } = session;
    const { demand } = store.resolved.value;
    const worked = this.#worked;
    const sources = {
      demand,
      pose: answers.pose.value,
      quick: answers.quick.value,
      report: worked?.report ?? null,
      spread: feed.spread.value,
    };
    return html`<oc-answer .stretches=${feedAnswer(sources)} why=${feedWhy(sources)}></oc-answer>
      ${this.#flowFigure(session, worked)}
      <div class="lower">
        <div>
          <h2 class="plain">${label('askedLoads')}</h2>
          ${loadsTable(session, store.resolved.value.design, worked?.report ?? null, worked?.pose.margin.maxOutputBand ?? null)}
          ${worked ? chainTable(session, worked.report, worked.bands) : nothing}
        </div>
        ${worked ? this.#dayFigure(session, worked) : nothing} ${worked ? this.#dividerFigure(session, worked) : nothing}
      </div>`;
  }

  #flowFigure(session: Session, worked: Worked | null): TemplateResult {
    const away = this._where === 'away' && worked?.report.boost != null && worked.report.chain.cell !== null;
    const root = worked ? (away ? this.#awayRoot(worked) : this.#dockedRoot(session, worked)) : null;
    const bands = root ? wattBands(root, session.feed.spread.value, worked?.bands ?? null) : {};
    const heading = `${label('energyFlow')}, ${label(away ? 'offTheDock' : 'onTheDock')}`;
    return html`<div class="flow">
      ${figure(session, {
        title: label('energyFlow'),
        hint: 'its width is watts; point at it, or use the arrow keys',
        reading: this._flowReading,
        chart: () => this._flow,
        csv: root ? () => flowCsv(root, bands) : null,
        body: html`${worked?.report.boost && worked.report.chain.cell ? this.#whereChoice() : nothing}
          ${
            worked && away && root === null
              ? html`<p class="said bad">
                  The converter collapses: ${worked.report.boost?.askedBy} asks more than this cell can give through it.
                </p>`
              : html`<oc-energy-flow
                  .root=${root}
                  .bands=${bands}
                  heading=${heading}
                  ?stale=${worked !== null && !session.answers.poseFresh.value}
                  @part-read=${(event: CustomEvent<PartReadDetail | null>) => {
                    this._flowReading = event.detail?.text ?? null;
                  }}
                ></oc-energy-flow>`
          }`,
      })}
    </div>`;
  }

  #whereChoice(): TemplateResult {
    return html`<oc-choice
      class="above"
      label=${label('device')}
      .options=${[{ value: 'dock', label: label('onTheDock') }, { value: 'away', label: label('offTheDock') }]}
      .value=${this._where}
      @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) => {
        this._where = event.detail.value === 'away' ? 'away' : 'dock';
      }}
    ></oc-choice>`;
  }

  #dockedRoot(session: Session, worked: Worked): FlowNode {
    const { demand } = session.store.resolved.value;
    return dockedFlow(worked.design, demand.demandNames, worked.pose.operatingPoint);
  }

  #awayRoot({ report }: Worked): FlowNode | null {
    const { cell, boost, awayLoads } = report.chain;
    const load = awayLoads.find((entry) => entry.name === report.boost?.askedBy);
    return cell && load ? awayFlow(load, cell.voltageV, cell.resistanceOhm, boost) : null;
  }

  #dayFigure(session: Session, { report, curve, band }: Worked): TemplateResult {
    if (!curve) return html``;
    return html`<div>
      ${figure(session, {
        title: label('dayAndCell'),
        hint: 'drag the hours on the dock',
        reading: this._dayReading,
        chart: () => this._day,
        csv: () => dayCsv(curve, band),
        body: html`<oc-feed-day
          .curve=${curve}
          .band=${band}
          @dock-hours-changed=${(event: CustomEvent<DockHoursDetail>) => {
            const { hours, phase } = event.detail;
            const args = { path: 'demand.dock.hoursPerDay', value: hours, what: 'the hours on the dock' };
            session.store.run(setValue, args, phase);
          }}
          @day-read=${(event: CustomEvent<DayReadDetail | null>) => {
            this._dayReading = event.detail?.text ?? null;
          }}
        ></oc-feed-day>`,
      })}
      ${chainChoices(session, report)}
      ${
        report.chain.charger
          ? html`<oc-note
              >A lithium cell burns when it is charged too fast, too full, too cold or too warm. Its data sheet comes
              first; use a charger made for it, and a cell with its own protection.</oc-note
            >`
          : nothing
      }
    </div>`;
  }

  #dividerFigure(session: Session, { report }: Worked): TemplateResult {
    const { boost, boostPath } = report.chain;
    const feedback = boost?.feedback;
    if (!feedback) return html``;
    return html`<div>
      ${figure(session, {
        title: label('divider'),
        hint: 'type over any value',
        chart: () => this.renderRoot.querySelector<HTMLElement>('oc-feed-divider'),
        csv: null,
        body: dividerBody(session, feedback, `${boostPath}.feedback`, wantedOf(report), this.#change),
      })}
    </div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-feed': FeedStation;
  }
}
