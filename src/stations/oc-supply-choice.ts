import type { ReadonlySignal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit';
import { customElement, query, state } from 'lit/decorators.js';
import type { SupplyChoice } from '../analysis/supply/supply-choice.ts';
import type { EfficiencyCurve, LoadReadDetail, SupplyCurves } from '../charts/supply-curves.ts';
import '../charts/supply-curves.ts';
import { supplyCsv } from '../charts/supply-csv.ts';
import type { ValueCommittedDetail } from '../parts/number-entry.ts';
import '../parts/oc-note.ts';
import '../parts/oc-progress.ts';
import '../parts/oc-unit-field.ts';
import { setValue } from '../state/commands/set-value.ts';
import type { Session } from '../state/session.ts';
import { figure } from './figure.ts';
import { label } from './glossary.ts';
import { StationElement } from './station-element.ts';
import { stationStyle } from './station-style.ts';
import { supplyStyle } from './supply-style.ts';
import { supplyTable, unbroken } from './supply-table.ts';
import { valueTableStyle } from './value-table-style.ts';

const LEAST = 2;
const MOST = 4;
/** Voltages offered when one is added. */
const OFFERED_V = [5, 9, 12, 15, 20, 7];

/** Which supply voltage to take: two to four side by side, with a verdict. Works out its answer while it is on show. */
@customElement('oc-supply-choice')
export class SupplyChoiceView extends StationElement {
  static override readonly styles = [stationStyle, valueTableStyle, supplyStyle];

  @state() private _reading: string | null = null;
  @query('oc-supply-curves') private _curves!: SupplyCurves | null;

  protected watched({ store, supply }: Session): readonly ReadonlySignal<unknown>[] {
    return [store.resolved, supply.choice, supply.fresh, supply.progress, supply.failure, supply.suppliesV];
  }

  override disconnectedCallback(): void {
    this.session?.supply.want(false);
    super.disconnectedCallback();
  }

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    super.willUpdate(changed);
    if (this.isConnected) this.session?.supply.want(true);
  }

  protected override render(): TemplateResult {
    const session = this.session;
    if (!session) return html``;
    const { supply } = session;
    const choice = supply.choice.value;
    const progress = supply.progress.value;
    const failure = supply.failure.value;
    return html`
      <p aria-live="polite">${choice ? unbroken(choice.sentence) : 'Working out what each supply does …'}</p>
      ${failure === null ? nothing : html`<p class="failed">${failure}</p>`}
      <oc-progress
        ?running=${progress !== null}
        .fraction=${progress?.fraction ?? null}
        stage=${progress?.stage ?? ''}
        @stop-requested=${() => supply.stop()}
      ></oc-progress>
      ${figure(session, {
        title: label('efficiencyAgainstLoad'),
        hint: 'ends where regulation does; thin: overfed or hot',
        reading: this._reading,
        chart: () => this._curves,
        csv: choice ? () => supplyCsv(choice) : null,
        body: html`<oc-supply-curves
          .curves=${choice ? curvesOf(choice) : []}
          .demandA=${choice?.demandA ?? 0}
          ?stale=${choice !== null && !supply.fresh.value && progress === null}
          @load-read=${(event: CustomEvent<LoadReadDetail | null>) => {
            this._reading = event.detail?.text ?? null;
          }}
        ></oc-supply-curves>`,
      })}
      ${choice ? this.#beneath(session, choice) : nothing} ${this.#fields(session)}
    `;
  }

  #beneath(session: Session, choice: SupplyChoice): TemplateResult {
    const high = choice.options.filter(({ report }) => report.atDemand.highVoltage).map(({ report }) => report.supplyV);
    const now = session.store.resolved.value.design.transmitter.drive.supplyV;
    const take = (supplyV: number): void => {
      session.store.run(setValue, { path: 'transmitter.drive.supplyV', value: supplyV, what: 'the supply voltage' });
    };
    return html`<div class="scroll">${supplyTable(choice, now, take)}</div>
      <ul>
        ${choice.others.map((line) => html`<li>${unbroken(line)}</li>`)}
      </ul>
      ${
        high.length > 0
          ? html`<oc-note
              >At ${high.join(' and ')} V a series capacitor or coil carries more than 50 V peak. Do not touch it in
              operation; choose parts rated well above it.</oc-note
            >`
          : nothing
      }`;
  }

  #fields({ supply }: Session): TemplateResult {
    const volts = supply.suppliesV.value;
    const put = (list: readonly number[]): void => {
      const different = [...new Set(list)];
      if (different.length >= LEAST) supply.compare(different.slice(0, MOST));
    };
    const next = OFFERED_V.find((offered) => !volts.includes(offered));
    return html`<div class="fields">
      ${volts.map(
        (value, i) =>
          html`<oc-unit-field
            label=${`${label('supply')} ${i + 1}`}
            unit="V"
            .value=${value}
            .min=${0.5}
            .max=${60}
            @value-committed=${(event: CustomEvent<ValueCommittedDetail>) =>
              put(volts.map((old, k) => (k === i ? event.detail.value : old)))}
          ></oc-unit-field>`,
      )}
      ${
        volts.length < MOST && next !== undefined
          ? html`<button type="button" class="quiet" @click=${() => put([...volts, next])}>Compare ${next} V too</button>`
          : nothing
      }
      ${
        volts.length > LEAST
          ? html`<button type="button" class="quiet" @click=${() => put(volts.slice(0, -1))}>
              Leave out ${volts.at(-1)} V
            </button>`
          : nothing
      }
    </div>`;
  }
}

function curvesOf(choice: SupplyChoice): EfficiencyCurve[] {
  return choice.options.map(({ curve, report }) => ({
    label: `${report.supplyV}\u00a0V`,
    loadA: curve.loadA,
    efficiency: curve.efficiency,
    well: Uint8Array.from(curve.states, (at) => (at === 'regulated' ? 1 : 0)),
    taken: report.supplyV === choice.takeV,
  }));
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-supply-choice': SupplyChoiceView;
  }
}
