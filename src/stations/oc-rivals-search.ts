import type { ReadonlySignal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { type FoundDesign, gainOf, type SearchAnswer } from '../analysis/pair/search-answer.ts';
import type { PrintedRules, SearchGoal } from '../analysis/pair/search-space.ts';
import '../charts/pareto-chart.ts';
import type { PointChosenDetail } from '../charts/pareto-chart.ts';
import { documentAsGiven } from '../design/resolve.ts';
import type { Design } from '../design/types.ts';
import type { ValueCommittedDetail } from '../parts/number-entry.ts';
import '../parts/oc-choice.ts';
import type { ChoiceMadeDetail } from '../parts/oc-choice.ts';
import '../parts/oc-progress.ts';
import '../parts/oc-unit-field.ts';
import { replaceDesign } from '../state/commands/replace-design.ts';
import type { Session } from '../state/session.ts';
import type { UnitName } from '../units/unit-table.ts';
import { figure } from './figure.ts';
import { label, type TermId } from './glossary.ts';
import { question } from './question.ts';
import { rivalsStyle } from './rivals-style.ts';
import { type Asked, startOf, WIRES } from './search-asked.ts';
import { frontCsv, frontPoints, gainText, searchSentence } from './search-words.ts';
import { StationElement } from './station-element.ts';
import { stationStyle } from './station-style.ts';

const GOALS: readonly { readonly value: SearchGoal; readonly label: string }[] = [
  { value: 'reach', label: label('reach') },
  { value: 'current', label: label('goalCurrent') },
  { value: 'heat', label: label('goalCool') },
];

/** What would reach further: a search within the space there is. */
@customElement('oc-rivals-search')
export class RivalsSearch extends StationElement {
  static override readonly styles = [stationStyle, rivalsStyle];

  @state() private _asked: Asked | null = null;
  @state() private _chosen = -1;
  /** What the front on show was asked with. */
  #shown: Pick<Asked, 'side' | 'goal'> = { side: 'receiver', goal: 'reach' };

  protected watched({ pair, store }: Session): readonly ReadonlySignal<unknown>[] {
    return [pair.search, pair.searchFresh, pair.searchProgress, pair.searchFailure, pair.front, store.resolved];
  }

  protected override render(): TemplateResult {
    const session = this.session;
    if (!session) return html``;
    const { pair, store } = session;
    const { design } = store.resolved.value;
    const asked = this._asked ?? startOf(design, 'receiver', 'reach');
    const progress = pair.searchProgress.value;
    const answer = pair.search.value;
    const front = answer && !progress ? answer.front : pair.front.value;
    return question({
      id: 'search',
      term: 'search',
      answers: 'Which coil that fits your space would reach further, give more current or stay cooler.',
      body: html`${this.#choices(design, asked)} ${this.#fields(asked)}
      <div class="act">
        <button type="button" class="do" @click=${() => this.#start(session, asked)}>Search</button>
        <oc-progress
          ?running=${progress !== null}
          .fraction=${progress?.fraction ?? null}
          stage=${progress?.stage ?? ''}
          stop-label="Stop and keep what was found"
          @stop-requested=${() => pair.stopSearch()}
        ></oc-progress>
      </div>
      ${pair.searchFailure.value === null ? nothing : html`<p role="alert">${pair.searchFailure.value}</p>`}
      <div aria-live="polite">${
        answer && !progress
          ? html`<p class="verdict">
              ${searchSentence(answer)}
              ${pair.searchFresh.value ? nothing : html`<span class="small">Of the design before it was changed.</span>`}
            </p>`
          : nothing
      }</div>
      ${front.length === 0 ? nothing : this.#found(session, front, answer)}`,
      method:
        'Trials take the field in air and carry over what ferrite and metal do to the present pair; the best are then solved directly, with their own. Outline, corner radius, opening, turns, layers, wire and series capacitor are free.',
    });
  }

  #set(change: Partial<Asked>, asked: Asked): void {
    this._asked = { ...asked, ...change };
  }

  #choices(design: Design, asked: Asked): TemplateResult {
    return html`<div class="choices">
      <oc-choice
        label=${label('whichCoil')}
        .options=${[
          { value: 'receiver', label: label('receiver') },
          { value: 'transmitter', label: label('transmitter') },
        ]}
        .value=${asked.side}
        @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) => {
          this._asked = startOf(design, event.detail.value as Asked['side'], asked.goal);
        }}
      ></oc-choice>
      <oc-choice
        label=${label('goal')}
        .options=${GOALS}
        .value=${asked.goal}
        @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) => this.#set({ goal: event.detail.value as SearchGoal }, asked)}
      ></oc-choice>
      <oc-choice
        label=${label('conductorKind')}
        .options=${[{ value: 'wire', label: label('wound') }, { value: 'printed', label: label('printedCoil') }]}
        .value=${asked.kind}
        @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) =>
          this.#set({ kind: event.detail.value as Asked['kind'] }, asked)}
      ></oc-choice>
    </div>`;
  }

  #fields(asked: Asked): TemplateResult {
    const field = (
      term: TermId,
      unit: UnitName,
      value: number,
      range: readonly [number, number],
      change: (value: number) => Partial<Asked>,
    ): TemplateResult => html`<oc-unit-field
      label=${label(term)}
      unit=${unit}
      .value=${value}
      .min=${range[0]}
      .max=${range[1]}
      @value-committed=${(event: CustomEvent<ValueCommittedDetail>) => this.#set(change(event.detail.value), asked)}
    ></oc-unit-field>`;
    const rules = (change: Partial<PrintedRules>): Partial<Asked> => ({ printed: { ...asked.printed, ...change } });
    return html`<div class="fields">
      ${field('footprintWidth', 'mm', asked.widthMm, [5, 500], (widthMm) => ({ widthMm }))}
      ${field('footprintHeight', 'mm', asked.heightMm, [5, 500], (heightMm) => ({ heightMm }))}
      ${field('mostTurns', 'turns', asked.mostTurns, [2, 80], (value) => ({ mostTurns: Math.round(value) }))}
      ${
        asked.kind === 'wire'
          ? field('windingThickness', 'mm', asked.thicknessMm, [0.1, 50], (thicknessMm) => ({ thicknessMm }))
          : html`${field('leastTrace', 'mm', asked.printed.leastTraceMm, [0.05, 5], (leastTraceMm) => rules({ leastTraceMm }))}
            ${field('leastSpace', 'mm', asked.printed.leastSpaceMm, [0.05, 5], (leastSpaceMm) => rules({ leastSpaceMm }))}
            ${field('copperLayers', 'count', asked.printed.mostLayers, [1, 8], (value) => rules({ mostLayers: Math.round(value) }))}`
      }
    </div>`;
  }

  #start(session: Session, asked: Asked): void {
    const { design } = session.store.resolved.value;
    const own = design[asked.side].coil.conductor;
    this._chosen = -1;
    this.#shown = asked;
    session.pair.askSearch({
      side: asked.side,
      goal: asked.goal,
      footprintMm: { width: asked.widthMm, height: asked.heightMm },
      thicknessMm: asked.thicknessMm,
      wires: own.kind === 'trace' ? WIRES : [own, ...WIRES],
      shapes: ['circle', 'roundedRectangle', 'stadium'],
      mostTurns: asked.mostTurns,
      printed: asked.kind === 'printed' ? asked.printed : null,
      seed: 1,
      generations: 18,
    });
  }

  #found(session: Session, front: readonly FoundDesign[], answer: SearchAnswer | null): TemplateResult {
    const { side, goal } = this.#shown;
    const points = frontPoints(front, side, goal, answer);
    const chosen = front[this._chosen];
    const now = answer?.ownResult ?? null;
    return html`${figure(session, {
      title: label('searchFigure'),
      hint: 'choose a point; the tick says what the direct solution gives',
      chart: () => this.renderRoot.querySelector('oc-pareto-chart'),
      csv: () => frontCsv(front, side, goal, answer),
      body: html`<oc-pareto-chart
        .points=${points}
        .own=${now ? { gain: gainOf(goal, now), cost: now.lossW } : null}
        .chosen=${this._chosen}
        gainName=${goal === 'current' ? label('largestCurrent') : label('reach')}
        gainUnit=${goal === 'current' ? 'A' : 'mm'}
        costName="loss at the demand"
        costUnit="W"
        @point-chosen=${(event: CustomEvent<PointChosenDetail>) => {
          this._chosen = event.detail.index;
        }}
      ></oc-pareto-chart>`,
    })}
    ${
      chosen
        ? html`<p role="status">
            ${points[this._chosen]?.name}${
              points[this._chosen]?.direct === null
                ? ' (a quick value, not confirmed)'
                : `; solved directly ${gainText(goal, points[this._chosen]?.direct ?? 0)}`
            }.
            <button type="button" class="quiet" @click=${() => openFound(session, chosen)}>Open this design</button>
          </p>`
        : nothing
    }`;
  }
}

function openFound({ store }: Session, { design }: FoundDesign): void {
  store.run(replaceDesign, { document: documentAsGiven(design), label: 'Open what the search found' });
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-rivals-search': RivalsSearch;
  }
}
