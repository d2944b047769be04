import type { ReadonlySignal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit';
import { customElement, query, state } from 'lit/decorators.js';
import { perMillimetre } from '../analysis/hold/clearance-words.ts';
import { forcesCsv, lotteryCsv, placementsCsv } from '../analysis/hold/exports/hold-csv.ts';
import type { AidName } from '../analysis/hold/lottery-report.ts';
import { usualMagnets, usualRecess } from '../analysis/hold/usual-holding.ts';
import '../charts/hold-forces.ts';
import type { HoldForces } from '../charts/hold-forces.ts';
import '../charts/hold-lottery.ts';
import type { HoldLottery } from '../charts/hold-lottery.ts';
import '../charts/hold-plan.ts';
import type { HoldPlan } from '../charts/hold-plan.ts';
import type { PlanZoom } from '../charts/hold-plan-frame.ts';
import type { ClearanceMovedDetail, MagnetMovedDetail } from '../charts/hold-plan-moves.ts';
import type { ReadingMovedDetail } from '../charts/line-chart.ts';
import type { DesignDocument } from '../design/schema.ts';
import type { Design } from '../design/types.ts';
import '../parts/oc-answer.ts';
import '../parts/oc-choice.ts';
import type { ChoiceMadeDetail } from '../parts/oc-choice.ts';
import '../parts/oc-note.ts';
import '../parts/oc-progress.ts';
import { moveMagnet } from '../state/commands/move-magnet.ts';
import { setHolding } from '../state/commands/set-holding.ts';
import { setValue } from '../state/commands/set-value.ts';
import type { Session } from '../state/session.ts';
import { figure } from './figure.ts';
import { label } from './glossary.ts';
import { forceFields, planFields, recessFields } from './hold-fields.ts';
import { forceCurves, lotteryCurve, lotteryRows, planData } from './hold-figures.ts';
import { holdFileButtons } from './hold-files.ts';
import { magnetCautions, magnetChoices, magnetSection } from './hold-magnets.ts';
import { holdNumbers, magnetNumbers } from './hold-numbers.ts';
import { holdStyle } from './hold-style.ts';
import { aidOf, holdAnswer, holdWhy } from './hold-words.ts';
import './oc-hold-placing.ts';
import { mapSpan } from './ranges.ts';
import { StationElement } from './station-element.ts';
import { stationStyle } from './station-style.ts';

type Holding = NonNullable<DesignDocument['holding']>;

const AIDS: readonly AidName[] = ['nothing', 'recess', 'magnets', 'both'];
const AID_LABELS = { nothing: 'heldByNothing', recess: 'recess', magnets: 'magnetPairs', both: 'bothAids' } as const;

/** Hold: what keeps the device where it works. */
@customElement('oc-hold')
export class HoldStation extends StationElement {
  static override readonly styles = [stationStyle, holdStyle];

  @state() private _zoom: PlanZoom = 'device';
  @state() private _axis: 'x' | 'y' = 'x';
  @state() private _planReading: string | null = null;
  @state() private _forceReading: number | null = null;
  @state() private _lotteryReading: number | null = null;
  @state() private _tallest = 460;
  @query('oc-hold-plan') private _plan!: HoldPlan;
  @query('oc-hold-forces') private _forces!: HoldForces;
  @query('oc-hold-lottery') private _lottery!: HoldLottery;
  /** What was taken away by a choice, so that choosing again brings it back. */
  #recess: Holding['recess'] = null;
  #magnets: Holding['magnets'] = null;

  protected watched({ store, answers, hold }: Session): readonly ReadonlySignal<unknown>[] {
    return [
      store.resolved,
      store.faults,
      store.snapshot,
      store.dragging,
      answers.map,
      hold.report,
      hold.fresh,
      hold.whole,
      hold.running,
      hold.progress,
      hold.failure,
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
    this.session?.hold.want(false);
  }

  readonly #onResize = (): void => {
    this._tallest = Math.round(Math.min(Math.max(window.innerHeight - 430, 280), 560));
  };

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    super.willUpdate(changed);
    const session = this.session;
    if (!session || !this.isConnected) return;
    session.hold.want(true);
    if (session.store.dragging.peek()) return;
    session.answers.want({ mapSpanMm: mapSpan(session.store.resolved.peek()), sweeps: null });
  }

  protected override render(): TemplateResult {
    const session = this.session;
    if (!session) return html``;
    const { store, hold } = session;
    const resolved = store.resolved.value;
    const { design } = resolved;
    const report = hold.report.value;
    const aid = aidOf(design.holding);
    return html`<oc-answer
        .stretches=${holdAnswer(report, aid, session.answers.map.value)}
        why=${holdWhy(report, aid, hold.whole.value)}
      ></oc-answer>
      <div class="choices">
        <oc-choice
          label=${label('heldBy')}
          .options=${AIDS.map((value) => ({ value, label: label(AID_LABELS[value]) }))}
          .value=${aid}
          @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) =>
            this.#choose(session, design, event.detail.value as AidName)}
        ></oc-choice>
        ${this.#work(session)}
      </div>
      <div class="figs ${design.holding.magnets ? '' : 'bare'}">
        <div class="plan">${this.#planFigure(session)} ${recessFields(session, design)}</div>
        <div class="lottery">${this.#lotteryFigure(session)}</div>
        <div class="forces">
          ${this.#forceFigure(session)} ${magnetCautions(session)}
          ${report?.magnets ? magnetNumbers(report.magnets) : nothing}
        </div>
      </div>
      <div class="numbers">
        ${report ? holdNumbers(report) : nothing} ${holdFileButtons(session, session.answers.map.value, report)}
      </div>`;
  }

  /** How far the report has come; what was stopped can be taken up again. */
  #work({ hold }: Session): TemplateResult {
    const progress = hold.progress.value;
    if (hold.failure.value !== null) return html`<oc-note>${hold.failure.value}</oc-note>`;
    if (!hold.running.value && !hold.whole.value && hold.report.value)
      return html`<button type="button" class="quiet" @click=${() => hold.resume()}>work out the rest</button>`;
    return html`<oc-progress
      ?running=${hold.running.value}
      .fraction=${progress?.fraction ?? null}
      stage=${progress?.stage ?? 'what holds it'}
      @stop-requested=${() => hold.stop()}
    ></oc-progress>`;
  }

  #choose(session: Session, design: Design, aid: AidName): void {
    const { store } = session;
    const now = store.document.peek().holding;
    if (now?.recess) this.#recess = now.recess;
    if (now?.magnets) this.#magnets = now.magnets;
    const recess = aid === 'recess' || aid === 'both';
    const magnets = aid === 'magnets' || aid === 'both';
    store.run(setHolding, {
      recess: recess ? (this.#recess ?? usualRecess(design)) : null,
      magnets: magnets ? (this.#magnets ?? usualMagnets(design)) : null,
    });
  }

  readonly #turnAxis = (axis: 'x' | 'y'): void => {
    this._axis = axis;
  };

  #planFigure(session: Session): TemplateResult {
    const { store, answers, hold } = session;
    const resolved = store.resolved.value;
    const { design } = resolved;
    const report = hold.report.value;
    const aid = aidOf(design.holding);
    const hint = { nothing: '', recess: 'drag the wall', magnets: 'drag a magnet', both: 'drag the wall or a magnet' };
    return figure(session, {
      title: label('holdPlan'),
      hint: this._zoom === 'device' ? hint[aid] : '',
      reading: this._planReading,
      chart: () => this._plan,
      csv: report ? () => placementsCsv(report) : null,
      body: html`<oc-hold-plan
          .data=${planData(resolved, report, answers.map.value, aid)}
          .zoom=${this._zoom}
          .tallest=${this._tallest}
          ?stale=${report !== null && !hold.fresh.value}
          @clearance-moved=${(event: CustomEvent<ClearanceMovedDetail>) => {
            const { clearanceMm, phase } = event.detail;
            const args = { path: 'holding.recess.clearanceMm', value: clearanceMm, what: 'clearance' };
            store.run(setValue, args, phase);
          }}
          @magnet-moved=${(event: CustomEvent<MagnetMovedDetail>) => {
            const { phase, ...to } = event.detail;
            store.run(moveMagnet, to, phase);
          }}
          @plan-read=${(event: CustomEvent<string | null>) => {
            this._planReading = event.detail;
          }}
        >
          ${planFields(session, design)}
        </oc-hold-plan>
        <div class="beneath">
          <oc-choice
            label=${label('look')}
            .options=${[{ value: 'device', label: label('wholeDevice') }, { value: 'middle', label: label('closeUp') }]}
            .value=${this._zoom}
            @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) => {
              this._zoom = event.detail.value as PlanZoom;
            }}
          ></oc-choice>
        </div>`,
    });
  }

  #forceFigure(session: Session): TemplateResult {
    const { store, hold } = session;
    const { design } = store.resolved.value;
    const report = hold.report.value;
    const { magnets } = design.holding;
    return figure(session, {
      title: label('forcesOverOffset'),
      hint: '',
      reading: this._forceReading !== null && this._forces ? this._forces.readingText(this._forceReading) : null,
      chart: () => this._forces,
      csv: report ? () => forcesCsv(report) : null,
      body: html`<oc-hold-forces
          .curves=${forceCurves(design, report, this._axis)}
          .axis=${this._axis}
          .height=${Math.max(170, Math.round(this._tallest * 0.44))}
          ?stale=${report !== null && !hold.fresh.value}
          @reading-moved=${(event: CustomEvent<ReadingMovedDetail | null>) => {
            this._forceReading = event.detail?.value ?? null;
          }}
        ></oc-hold-forces>
        ${magnets ? magnetChoices(session, magnets, this._axis, this.#turnAxis) : nothing}
        <div class="pair">${magnets ? magnetSection(session, design, magnets) : nothing} ${forceFields(session, design)}</div>`,
    });
  }

  #lotteryFigure(session: Session): TemplateResult {
    const { store, hold } = session;
    const { design } = store.resolved.value;
    const report = hold.report.value;
    const aid = aidOf(design.holding);
    return html`${figure(session, {
      title: label('lottery'),
      hint: report ? `${Math.round(100 * report.lottery.confidence)} % interval` : '',
      reading: this._lotteryReading !== null && this._lottery ? this._lottery.readingText(this._lotteryReading) : null,
      chart: () => this._lottery,
      csv: report ? () => lotteryCsv(report) : null,
      body: html`<oc-hold-lottery
        .rows=${lotteryRows(report, aid)}
        .curve=${lotteryCurve(report)}
        ?stale=${report !== null && !hold.fresh.value}
        @reading-moved=${(event: CustomEvent<ReadingMovedDetail | null>) => {
          this._lotteryReading = event.detail?.value ?? null;
        }}
      ></oc-hold-lottery>`,
    })}
    ${report ? html`<p class="said">${perMillimetre(report.lottery)} The interval is the drawing’s; the model’s own band stands with the recess. ${report.lottery.turnNote ?? ''}</p>` : nothing}
    <oc-hold-placing .session=${session}></oc-hold-placing>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-hold': HoldStation;
  }
}
