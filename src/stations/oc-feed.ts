import type { ReadonlySignal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit';
import { customElement, query, state } from 'lit/decorators.js';
import { chainOf } from '../analysis/feed/chain-of.ts';
import { dayCurve } from '../analysis/feed/day-curve.ts';
import { type DividerChange, dividerChange } from '../analysis/feed/divider.ts';
import { awayFlow, dockedFlow } from '../analysis/feed/docked-flow.ts';
import { dayBand, feedBands } from '../analysis/feed/feed-bands.ts';
import { type FeedReport, feedReport } from '../analysis/feed/feed-report.ts';
import type { FlowNode } from '../analysis/feed/flow.ts';
import '../charts/energy-flow.ts';
import type { EnergyFlow, PartReadDetail } from '../charts/energy-flow.ts';
import { flowCsv } from '../charts/feed-csv.ts';
import type { FeedbackDocument } from '../design/types.ts';
import '../parts/oc-answer.ts';
import '../parts/oc-choice.ts';
import type { ChoiceMadeDetail } from '../parts/oc-choice.ts';
import { addLoad } from '../state/commands/add-load.ts';
import type { Session } from '../state/session.ts';
import './oc-exposure.ts';
import './oc-feed-cell.ts';
import { dividerBody, wantedOf } from './feed-divider-figure.ts';
import { wattBands } from './feed-flow.ts';
import { loadsTable } from './feed-loads.ts';
import { feedStyle } from './feed-style.ts';
import { chainAdds, chainTable } from './feed-tables.ts';
import { feedAnswer, feedWhy } from './feed-words.ts';
import { figure } from './figure.ts';
import { label } from './glossary.ts';
import type { FeedWorked, SpanChosenDetail } from './oc-feed-cell.ts';
import { mapSpan } from './ranges.ts';
import { slideStyle } from './slide-style.ts';
import { valueTableStyle } from './value-table-style.ts';
import './oc-sensitivity.ts';
import './oc-supply-choice.ts';
import { StationElement } from './station-element.ts';
import { stationStyle } from './station-style.ts';
import { operatingNotes } from './supply-notes.ts';
import { wordsOf } from './word.ts';

/** Whether the design names what feeds its loads off the dock: known before anything is worked out. */
function offDock({ store }: Session): boolean {
  const { boost, cell } = chainOf(store.resolved.value.design);
  return boost !== null && cell !== null;
}

/** Feed: whether the link carries the load, and what becomes of the watts. */
@customElement('oc-feed')
export class FeedStation extends StationElement {
  static override readonly styles = [stationStyle, valueTableStyle, slideStyle, feedStyle];

  @state() private _where: 'dock' | 'away' = 'dock';
  @state() private _beneath: 'chain' | 'supply' | 'field' = 'chain';
  @state() private _editing = false;
  @state() private _span: 'day' | 'offset' = 'day';
  @state() private _flowReading: string | null = null;
  @query('oc-energy-flow') private _flow!: EnergyFlow | null;
  #worked: FeedWorked | null = null;
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
      answers.map,
      answers.mapFresh,
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
    // The map is worth its time only where somebody looks at it.
    const mapSpanMm =
      this._beneath === 'chain' && this._span === 'offset' ? mapSpan(session.store.resolved.value) : null;
    session.answers.want({ mapSpanMm, sweeps: null });
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
    const { demand, design } = store.resolved.value;
    const worked = this.#worked;
    const sources = {
      demand,
      pose: answers.pose.value,
      quick: answers.quick.value,
      report: worked?.report ?? null,
      spread: feed.spread.value,
      ambientC: design.demand.ambientC,
    };
    return html`<oc-answer .stretches=${feedAnswer(sources)} why=${feedWhy(sources)}
        >${wordsOf('margin', 'peak')}</oc-answer
      >
      ${this.#flowFigure(session, worked)}
      <div class="notes">${operatingNotes(answers.pose.value)}</div>
      ${this.#beneathChoice()}
      ${this.#lower(session, worked)}`;
  }

  #chain(session: Session, worked: FeedWorked | null): TemplateResult {
    return html`<div class="lower">
        <div>
          <h2 class="plain">${label('askedLoads')}</h2>
          ${loadsTable(
            session,
            session.store.resolved.value.design,
            worked?.report ?? null,
            worked?.pose.margin.maxOutputBand ?? null,
            this._editing,
          )}
          <p class="edits">
            <button
              type="button"
              class="quiet"
              aria-pressed=${this._editing ? 'true' : 'false'}
              @click=${() => {
                this._editing = !this._editing;
              }}
            >
              ${this._editing ? 'Done' : 'Change the list'}
            </button>
            ${
              this._editing
                ? html`<button type="button" class="quiet" @click=${() => session.store.run(addLoad, {})}>
                    Add a load
                  </button>`
                : nothing
            }
          </p>
          ${worked ? chainTable(session, worked.report, worked.bands) : nothing}
          ${worked ? chainAdds(session, worked.design, worked.report) : nothing}
        </div>
        ${
          worked?.curve
            ? html`<oc-feed-cell
                .session=${session}
                .worked=${worked}
                .span=${this._span}
                @span-chosen=${(event: CustomEvent<SpanChosenDetail>) => {
                  this._span = event.detail.span;
                }}
              ></oc-feed-cell>`
            : nothing
        } ${worked ? this.#dividerFigure(session, worked) : nothing}
      </div>`;
  }

  #lower(session: Session, worked: FeedWorked | null): TemplateResult {
    if (this._beneath === 'supply') return this.#supply(session);
    if (this._beneath === 'field') return html`<oc-exposure .session=${session}></oc-exposure>`;
    return this.#chain(session, worked);
  }

  #supply(session: Session): TemplateResult {
    return html`<div class="lower two">
      <oc-supply-choice .session=${session}></oc-supply-choice>
      <oc-sensitivity .session=${session}></oc-sensitivity>
    </div>`;
  }

  #beneathChoice(): TemplateResult {
    return html`<oc-choice
      class="above parts"
      label=${label('beneathShown')}
      .options=${[
        { value: 'chain', label: label('theChain') },
        { value: 'supply', label: label('supplyAndMargin') },
        { value: 'field', label: label('fieldAndSafety') },
      ]}
      .value=${this._beneath}
      @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) => {
        const { value } = event.detail;
        this._beneath = value === 'supply' || value === 'field' ? value : 'chain';
      }}
    ></oc-choice>`;
  }

  #flowFigure(session: Session, worked: FeedWorked | null): TemplateResult {
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
        body: html`${offDock(session) ? this.#whereChoice() : nothing}
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
      label=${label('flowShown')}
      .options=${[{ value: 'dock', label: label('onTheDock') }, { value: 'away', label: label('offTheDock') }]}
      .value=${this._where}
      @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) => {
        this._where = event.detail.value === 'away' ? 'away' : 'dock';
      }}
    ></oc-choice>`;
  }

  #dockedRoot(session: Session, worked: FeedWorked): FlowNode {
    const { demand } = session.store.resolved.value;
    return dockedFlow(worked.design, demand.demandNames, worked.pose.operatingPoint);
  }

  #awayRoot({ report }: FeedWorked): FlowNode | null {
    const { cell, boost, awayLoads } = report.chain;
    const load = awayLoads.find((entry) => entry.name === report.boost?.askedBy);
    return cell && load ? awayFlow(load, cell.voltageV, cell.resistanceOhm, boost) : null;
  }

  #dividerFigure(session: Session, { report }: FeedWorked): TemplateResult {
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
