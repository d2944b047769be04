import type { ReadonlySignal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit';
import { customElement, query, state } from 'lit/decorators.js';
import type { Sensitivity } from '../analysis/sensitivity/sensitivity.ts';
import '../charts/ranked-bars.ts';
import type { BarReadDetail, RankedBar, RankedBars } from '../charts/ranked-bars.ts';
import { sensitivityCsv } from '../charts/supply-csv.ts';
import '../parts/oc-choice.ts';
import type { ChoiceMadeDetail } from '../parts/oc-choice.ts';
import '../parts/oc-progress.ts';
import type { Session } from '../state/session.ts';
import { figure } from './figure.ts';
import { label } from './glossary.ts';
import { StationElement } from './station-element.ts';
import { stationStyle } from './station-style.ts';
import { supplyStyle } from './supply-style.ts';
import { unbroken } from './supply-table.ts';
import { valueTableStyle } from './value-table-style.ts';

/** Rows in the picture; what comes after moves next to nothing. */
const SHOWN = 10;
type By = 'tolerance' | 'percent';

/** What moves the margin most at this pose, as ranked bars. Works out its answer while it is on show. */
@customElement('oc-sensitivity')
export class SensitivityView extends StationElement {
  static override readonly styles = [stationStyle, valueTableStyle, supplyStyle];

  @state() private _by: By = 'tolerance';
  @state() private _reading: string | null = null;
  @query('oc-ranked-bars') private _bars!: RankedBars | null;

  protected watched({ sensitivity }: Session): readonly ReadonlySignal<unknown>[] {
    return [sensitivity.ranking, sensitivity.fresh, sensitivity.progress, sensitivity.failure];
  }

  override disconnectedCallback(): void {
    this.session?.sensitivity.want(false);
    super.disconnectedCallback();
  }

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    super.willUpdate(changed);
    if (this.isConnected) this.session?.sensitivity.want(true);
  }

  protected override render(): TemplateResult {
    const session = this.session;
    if (!session) return html``;
    const { sensitivity } = session;
    const ranking = sensitivity.ranking.value;
    const progress = sensitivity.progress.value;
    const failure = sensitivity.failure.value;
    return html`
      <p aria-live="polite">${ranking ? unbroken(ranking.sentence) : 'Working out what moves the margin …'}</p>
      ${failure === null ? nothing : html`<p class="failed">${failure}</p>`}
      <oc-progress
        ?running=${progress !== null}
        .fraction=${progress?.fraction ?? null}
        stage=${progress?.stage ?? ''}
        @stop-requested=${() => sensitivity.stop()}
      ></oc-progress>
      ${figure(session, {
        title: label('movesTheMargin'),
        hint: 'in percent of the largest current',
        reading: this._reading,
        chart: () => this._bars,
        csv: ranking ? () => sensitivityCsv(ranking) : null,
        body: html`<oc-choice
            label=${label('tolerance')}
            .options=${[
              { value: 'tolerance', label: label('whatIsKnown') },
              { value: 'percent', label: label('perPercent') },
            ]}
            .value=${this._by}
            @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) => {
              this._by = event.detail.value === 'percent' ? 'percent' : 'tolerance';
              this._reading = null;
            }}
          ></oc-choice>
          <oc-ranked-bars
            .bars=${ranking ? barsOf(ranking, this._by) : []}
            of="the largest current"
            .collapse=${ranking && this._by === 'tolerance' ? collapseOf(ranking) : Number.NaN}
            ?stale=${ranking !== null && !sensitivity.fresh.value}
            @bar-read=${(event: CustomEvent<BarReadDetail | null>) => {
              this._reading = event.detail?.text ?? null;
            }}
          ></oc-ranked-bars>`,
      })}
      ${
        this._by === 'tolerance' && ranking
          ? html`<div class="legend">
              <span><i class="more"></i>${label('moreOfIt')}</span><span><i></i>${label('lessOfIt')}</span>
            </div>`
          : nothing
      }
      ${
        ranking && ranking.still.length > 0
          ? html`<p class="soft">Moves nothing here: ${ranking.still.join(', ')}.</p>`
          : nothing
      }
    `;
  }
}

/** Change of the current at which the demand is no longer met, percent. */
function collapseOf({ maxOutputA, demandA }: Sensitivity): number {
  return maxOutputA > 0 ? 100 * (demandA / maxOutputA - 1) : Number.NaN;
}

function barsOf({ rows }: Sensitivity, by: By): RankedBar[] {
  if (by === 'tolerance')
    return rows
      .filter(({ tolerance, up, down }) => tolerance !== null && (up !== 0 || down !== 0))
      .slice(0, SHOWN)
      .map(({ name, tolerance, up, down }) => ({ name, note: tolerance ?? '', more: 100 * up, less: 100 * down }));
  return rows
    .filter(({ perPercent }) => Number.isFinite(perPercent) && perPercent !== 0)
    .toSorted((a, b) => Math.abs(b.perPercent) - Math.abs(a.perPercent))
    .slice(0, SHOWN)
    .map(({ name, perPercent }) => ({ name, note: '1\u00a0% more', more: 100 * perPercent, less: 0 }));
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-sensitivity': SensitivityView;
  }
}
