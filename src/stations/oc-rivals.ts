import type { ReadonlySignal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit';
import { customElement } from 'lit/decorators.js';
import { type Judged, type RivalsAnswer, verdictOf } from '../analysis/pair/verdict.ts';
import '../charts/rivals-chart.ts';
import type { RivalMeasure, RivalRow } from '../charts/rivals-chart.ts';
import { documentAsGiven } from '../design/resolve.ts';
import type { Design } from '../design/types.ts';
import { windSide } from '../design/wind.ts';
import '../parts/oc-progress.ts';
import { MOST_KEPT } from '../state/pair-answer.ts';
import type { Session } from '../state/session.ts';
import { figure } from './figure.ts';
import { label } from './glossary.ts';
import { outlineOf } from './link-figures.ts';
import './oc-rivals-board.ts';
import './oc-rivals-coil.ts';
import './oc-rivals-retune.ts';
import './oc-rivals-row.ts';
import './oc-rivals-search.ts';
import { question } from './question.ts';
import { rivalsStyle } from './rivals-style.ts';
import { rivalsCsv, rivalsTable } from './rivals-table.ts';
import { StationElement } from './station-element.ts';
import { stationStyle } from './station-style.ts';

const MEASURES: readonly RivalMeasure[] = [
  { name: label('couplingShort'), unit: '', digits: 3 },
  { name: label('largestCurrent'), unit: 'A', digits: 2 },
  { name: label('reach'), unit: 'mm', digits: 1 },
];

/** Pair, below its figures: the pair against fair rivals, then retuning and the search for something better. */
@customElement('oc-rivals')
export class Rivals extends StationElement {
  static override readonly styles = [stationStyle, rivalsStyle];

  protected watched({ pair, store }: Session): readonly ReadonlySignal<unknown>[] {
    return [pair.rivals, pair.rivalsFresh, pair.rivalsProgress, pair.rivalsFailure, pair.kept, store.resolved];
  }

  protected override render(): TemplateResult {
    const session = this.session;
    if (!session) return html``;
    const { pair } = session;
    const answer = pair.rivals.value;
    const progress = pair.rivalsProgress.value;
    const fresh = pair.rivalsFresh.value;
    return html`${question({
      id: 'rivals',
      term: 'rivals',
      answers: 'Whether other shapes of the same turns and conductor would do better than this pair.',
      body: html`<div class="act">
          <button type="button" class="do" @click=${() => pair.askRivals()}>
            ${answer && !fresh ? 'Compare again' : 'Compare with fair rivals'}
          </button>
          <button type="button" class="quiet" @click=${() => pair.keep(this.#name(session))}>
            Keep this design as a candidate
          </button>
          <oc-progress
            ?running=${progress !== null}
            .fraction=${progress?.fraction ?? null}
            stage=${progress?.stage ?? ''}
            @stop-requested=${() => pair.stopRivals()}
          ></oc-progress>
        </div>
        ${this.#kept(session)}
        ${pair.rivalsFailure.value === null ? nothing : html`<p role="alert">${pair.rivalsFailure.value}</p>`}
        <div aria-live="polite">${answer ? this.#verdict(answer, fresh) : nothing}</div>
        ${answer ? this.#figures(session, answer, fresh) : nothing}`,
      method:
        'Every rival’s series capacitors are matched to its own inductances, so that shape alone is compared. Each takes some seconds where ferrite or metal is in play.',
    })}
      <oc-rivals-row .session=${session}></oc-rivals-row>
      <oc-rivals-retune .session=${session}></oc-rivals-retune>
      <oc-rivals-search .session=${session}></oc-rivals-search>
      <oc-rivals-coil .session=${session}></oc-rivals-coil>
      <oc-rivals-board .session=${session}></oc-rivals-board>`;
  }

  #name(session: Session): string {
    const number = session.pair.kept.value.length + 1;
    return `${session.store.design.value.title || 'Candidate'} ${number}`;
  }

  #kept({ pair }: Session): TemplateResult | typeof nothing {
    const kept = pair.kept.value;
    if (kept.length === 0) return nothing;
    return html`<p class="act">
      <span class="soft">Kept, at most ${MOST_KEPT}:</span>
      ${kept.map(
        ({ name }, i) =>
          html`<span
            >${name}
            <button type="button" class="quiet" aria-label="Forget ${name}" @click=${() => pair.forget(i)}>
              forget
            </button></span
          >`,
      )}
    </p>`;
  }

  #verdict(answer: RivalsAnswer, fresh: boolean): TemplateResult {
    const [own, ...rivals] = answer.judged as [Judged, ...Judged[]];
    const verdict = verdictOf(own, rivals);
    const named = new Map(rivals.map((rival) => [rival.id, rival.name]));
    return html`<p class="verdict">
        ${verdict.answer} ${fresh ? nothing : html`<span class="small">Of the design before it was changed.</span>`}
      </p>
      <ul class="lines">
        ${verdict.lines.map(({ id, text }) => html`<li><b>${named.get(id)}</b>: ${text}</li>`)}
        ${answer.refused.map(({ name, reason }) => html`<li><b>${name}</b>: not judged. ${reason}</li>`)}
      </ul>`;
  }

  #figures(session: Session, answer: RivalsAnswer, fresh: boolean): TemplateResult {
    const rows = answer.judged.map(rowOf);
    const open = (judged: Judged): void => {
      const document = { ...documentAsGiven(judged.report.design), title: `${judged.name}` };
      session.store.take({ document, drafts: {} }, `Open ${judged.name}`);
    };
    return html`${figure(session, {
      title: label('rivalsFigure'),
      hint: 'bar: error band, 95 %',
      chart: () => this.renderRoot.querySelector('oc-rivals-chart'),
      csv: () => rivalsCsv(answer),
      body: html`<oc-rivals-chart .rows=${rows} .measures=${MEASURES} ?stale=${!fresh}></oc-rivals-chart>`,
    })}
    ${rivalsTable(answer, open)}`;
  }
}

/** One candidate as the chart takes it. */
function rowOf({ id, kind, name, report }: Judged): RivalRow {
  const rings = (side: 'transmitter' | 'receiver', design: Design): Float64Array[] => {
    const wound = windSide(design, side);
    if (!wound.ok) return [];
    const { outerMm, innerMm } = outlineOf(wound.winding);
    return [outerMm, innerMm];
  };
  const { link, margin, reachMm } = report;
  return {
    id,
    name,
    own: kind === 'own',
    transmitter: rings('transmitter', report.design),
    receiver: rings('receiver', report.design),
    values: [link.couplingBand, margin.maxOutputBand, reachMm],
  };
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-rivals': Rivals;
  }
}
