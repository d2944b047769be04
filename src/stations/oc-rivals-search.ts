import type { ReadonlySignal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import { conductorWidthMm, outerBox } from '../analysis/pair/outline-size.ts';
import { type FoundDesign, gainOf, type SearchAnswer } from '../analysis/pair/search-answer.ts';
import type { PrintedRules, SearchGoal } from '../analysis/pair/search-space.ts';
import '../charts/pareto-chart.ts';
import type { ParetoPoint, PointChosenDetail } from '../charts/pareto-chart.ts';
import { documentOf } from '../design/resolve.ts';
import type { CoilDocument, ConductorDocument, Design } from '../design/types.ts';
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
import { rivalsStyle } from './rivals-style.ts';
import { StationElement } from './station-element.ts';
import { stationStyle } from './station-style.ts';

const litz = (strands: number, bundleDiameterMm: number): ConductorDocument => ({
  kind: 'litz',
  strands,
  strandDiameterMm: 0.08,
  bundleDiameterMm,
});

/** Wires to choose from beside the coil's own: common sizes, no source. */
const WIRES: readonly ConductorDocument[] = [
  litz(30, 0.55),
  litz(60, 0.75),
  litz(105, 1.1),
  litz(180, 1.7),
  { kind: 'solid', diameterMm: 0.4, insulatedDiameterMm: 0.44 },
  { kind: 'solid', diameterMm: 0.7, insulatedDiameterMm: 0.76 },
];

const PRINTED: PrintedRules = {
  leastTraceMm: 0.15,
  leastSpaceMm: 0.15,
  copperMm: 0.07,
  mostLayers: 2,
  layerPitchMm: 0.8,
};

interface Asked {
  readonly side: 'transmitter' | 'receiver';
  readonly goal: SearchGoal;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly thicknessMm: number;
  readonly mostTurns: number;
  readonly kind: 'wire' | 'printed';
  readonly printed: PrintedRules;
}

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
    return [pair.search, pair.searchProgress, pair.searchFailure, pair.front, store.resolved];
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
    return html`<section aria-labelledby="search">
      <h2 id="search">${label('search')}</h2>
      <div aria-live="polite">${answer && !progress ? html`<p class="verdict">${searchSentence(answer)}</p>` : nothing}</div>
      ${this.#choices(design, asked)} ${this.#fields(asked)}
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
      ${front.length === 0 ? nothing : this.#found(session, front, answer)}
      <p class="soft">
        Trials take the field in air and carry over what ferrite and metal do to the present pair; the best are then solved
        directly, with their own. Outline, corner radius, opening, turns, layers, wire and series capacitor are free.
      </p>
    </section>`;
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
    const points = front.map((found): ParetoPoint => {
      const confirmed = answer?.confirmed.find(
        (entry) => JSON.stringify(entry.design[side]) === JSON.stringify(found.design[side]),
      );
      const direct = confirmed
        ? goal === 'current'
          ? confirmed.report.at.maxOutputA
          : confirmed.report.at.reachMm
        : null;
      return {
        gain: gainOf(goal, found.result),
        cost: found.result.lossW,
        name: `${gainText(goal, gainOf(goal, found.result))}, ${found.result.lossW.toFixed(2)} W: ${coilText(found.design[side].coil)}`,
        direct,
      };
    });
    const chosen = front[this._chosen];
    const now = answer?.ownResult ?? null;
    return html`${figure(session, {
      title: label('searchFigure'),
      hint: 'choose a point; the tick says what the direct solution gives',
      chart: () => this.renderRoot.querySelector('oc-pareto-chart'),
      csv: null,
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
  store.run(replaceDesign, { document: documentOf(design), label: 'Open what the search found' });
}

/** What there is now, as the space to search in. */
function startOf(design: Design, side: Asked['side'], goal: SearchGoal): Asked {
  const { coil } = design[side];
  const box = outerBox(coil);
  const height = coil.conductor.kind === 'trace' ? coil.conductor.thicknessMm : conductorWidthMm(coil);
  return {
    side,
    goal,
    widthMm: Number(box.widthMm.toFixed(2)),
    heightMm: Number(box.heightMm.toFixed(2)),
    thicknessMm: Number((height + (coil.layers - 1) * coil.layerPitchMm).toFixed(2)),
    mostTurns: Math.min(60, Math.ceil(1.7 * coil.turns)),
    kind: coil.conductor.kind === 'trace' ? 'printed' : 'wire',
    printed: PRINTED,
  };
}

function gainText(goal: SearchGoal, value: number): string {
  return goal === 'current' ? `${value.toFixed(2)} A` : `${value.toFixed(1)} mm of reach`;
}

/** A coil in a few words. */
function coilText({ outline, turns, layers, conductor }: CoilDocument): string {
  const size =
    outline.shape === 'circle'
      ? `⌀ ${outline.outerDiameterMm.toFixed(1)} mm`
      : outline.shape === 'path'
        ? 'free outline'
        : `${label(outline.shape)} ${outline.outerWidthMm.toFixed(1)} × ${outline.outerHeightMm.toFixed(1)} mm`;
  const wire =
    conductor.kind === 'litz'
      ? `${conductor.strands} × ${conductor.strandDiameterMm} mm litz`
      : conductor.kind === 'solid'
        ? `${conductor.diameterMm} mm wire`
        : `${conductor.widthMm.toFixed(2)} mm trace`;
  return `${size}, ${turns} turns in ${layers} ${layers === 1 ? 'layer' : 'layers'}, ${wire}`;
}

function searchSentence({ goal, own, confirmed, front, trials }: SearchAnswer): string {
  const best = confirmed[0];
  const tried = `${trials} coils tried.`;
  if (!best)
    return front.length === 0
      ? `Nothing in this space keeps the wanted margin. ${tried}`
      : `Nothing could be confirmed. ${tried}`;
  const of = (report: SearchAnswer['own']): number =>
    goal === 'reach'
      ? report.at.reachMm
      : goal === 'current'
        ? report.at.maxOutputA
        : report.operatingPoint.losses.transmitterCoil +
          report.operatingPoint.losses.receiverCoil +
          report.operatingPoint.losses.rectifier +
          report.operatingPoint.losses.regulator;
  const [before, after] = [of(own), of(best.report)];
  const unit = goal === 'reach' ? 'mm of reach' : goal === 'current' ? 'A' : 'W of loss';
  const digits = goal === 'reach' ? 1 : 2;
  const side =
    JSON.stringify(best.design.receiver) === JSON.stringify(own.design.receiver) ? 'transmitter' : 'receiver';
  const coil = coilText(best.design[side].coil);
  const better = goal === 'heat' ? after < before * 0.99 : after > before * 1.01;
  if (!better)
    return `Nothing in this space does better than the present coil (${before.toFixed(digits)} ${unit}). ${tried}`;
  const factor = side === 'receiver' ? best.design.receiver.pickup : best.design.transmitter.drive;
  return `${after.toFixed(digits)} ${unit} instead of ${before.toFixed(digits)}, solved directly: ${coil}, with ${Number(factor.seriesCapacitanceNf.toPrecision(3))} nF. ${tried}`;
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-rivals-search': RivalsSearch;
  }
}
