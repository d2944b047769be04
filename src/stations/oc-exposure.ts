import type { ReadonlySignal } from '@preact/signals-core';
import { css, html, type TemplateResult } from 'lit';
import { customElement } from 'lit/decorators.js';
import type { ExposureReport, LevelAnswer } from '../analysis/exposure/exposure-report.ts';
import {
  EXPOSURE_PROVISO,
  fluxWords,
  harmonicWords,
  levelName,
  metDistanceWords,
  roughWatts,
} from '../analysis/exposure/exposure-words.ts';
import '../parts/oc-note.ts';
import type { Session } from '../state/session.ts';
import { formatBand, formatQuantity } from '../units/format.ts';
import { pathField } from './feed-fields.ts';
import { feedStyle } from './feed-style.ts';
import { label } from './glossary.ts';
import { StationElement } from './station-element.ts';
import { stationStyle } from './station-style.ts';
import { valueTableStyle } from './value-table-style.ts';

const NBSP = '\u00a0';

/** The field around the link against published reference levels, and metal between the coils: for information. */
@customElement('oc-exposure')
export class Exposure extends StationElement {
  static override readonly styles = [
    stationStyle,
    valueTableStyle,
    feedStyle,
    css`
      :host {
        display: block;
        min-width: 0;
      }
      .both {
        display: grid;
        grid-template-columns: minmax(0, 1.5fr) minmax(0, 1fr);
        gap: 20px 40px;
        align-items: start;
      }
      p {
        margin: 0 0 8px;
        max-width: 70ch;
      }
      .soft {
        color: var(--soft);
        font-size: var(--size-small, 13px);
      }
      thead th:first-child {
        text-align: left;
        padding-left: 0;
      }
      table + p {
        margin-top: 8px;
      }
      td .band {
        white-space: nowrap;
      }
      oc-note {
        margin-top: 10px;
      }
      @media (max-width: 760px) {
        .both {
          grid-template-columns: minmax(0, 1fr);
        }
        th[scope='row'] {
          min-width: 0;
        }
      }
      /* Narrow: the publication above its numbers. The roles stay what they were, whatever is laid out as a grid. */
      @media (max-width: 560px) {
        .levels tr {
          display: grid;
          grid-template-columns: 1fr 1.5fr 1.5fr;
          border-bottom: 1px solid var(--rule);
          padding: 4px 0;
        }
        .levels th,
        .levels td {
          border: 0;
          padding-top: 0;
          padding-bottom: 1px;
        }
        .levels :is(th, td):nth-child(2) {
          padding-left: 0;
          text-align: left;
        }
        .levels .band {
          display: block;
        }
        .levels th:first-child {
          grid-column: 1 / -1;
          padding: 0;
        }
      }
    `,
  ];

  protected watched({ store, exposure }: Session): readonly ReadonlySignal<unknown>[] {
    return [store.resolved, store.faults, store.snapshot, exposure.report, exposure.failure];
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.session?.exposure.want(true);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.session?.exposure.want(false);
  }

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    super.willUpdate(changed);
    this.session?.exposure.want(true);
  }

  protected override render(): TemplateResult {
    const session = this.session;
    if (!session) return html``;
    const report = session.exposure.report.value;
    return html`<div class="both">
      <section>
        <h2 class="plain">${label('referenceLevel')}</h2>
        <p>
          ${label('exposureDistance')}
          ${pathField(session, {
            term: 'exposureDistance',
            unit: 'mm',
            path: 'demand.exposureDistanceMm',
            value: session.store.resolved.value.design.demand.exposureDistanceMm,
            what: 'the distance to a person',
          })}
        </p>
        ${this.#levels(session, report)}
      </section>
      <section>${this.#between(report)}</section>
    </div>`;
  }

  #levels(session: Session, report: ExposureReport | null | undefined): TemplateResult {
    if (report === undefined) {
      return html`<p class="soft" role="status">${session.exposure.failure.value ?? 'Working out the field …'}</p>`;
    }
    if (report === null) {
      return html`<p>No current flows here: the receiver does not wake. The transmitter’s short pings are not worked out.</p>`;
    }
    return html`<p>
        ${label('strayField')} at that distance: <b>${fluxWords(report, NBSP)}</b> rms, ${report.field};
        ${harmonicWords(report)}.
      </p>
      <table class="levels" role="table">
        <thead role="rowgroup">
          <tr role="row">
            <th scope="col" role="columnheader">${label('publication')}</th>
            <th scope="col" role="columnheader">${label('theLevel')}</th>
            <th scope="col" role="columnheader">${label('shareOfLevel')}</th>
            <th scope="col" role="columnheader">${label('metFrom')}</th>
          </tr>
        </thead>
        <tbody role="rowgroup">
          ${report.levels.map(
            (level) =>
              html`<tr role="row">
                <th scope="row" role="rowheader">${levelName(level)}<br /><span class="soft">${level.averaging}</span></th>
                <td role="cell">${formatQuantity(level.rmsT, 'T', { space: NBSP, digits: 2 })}</td>
                <td role="cell">
                  ${formatQuantity(100 * level.share.value, '%', { space: NBSP, digits: 2 })}
                  <span class="band">(${formatBand(100 * level.share.low, 100 * level.share.high, '%', { space: NBSP })})</span>
                </td>
                <td role="cell">${met(level)}</td>
              </tr>`,
          )}
        </tbody>
      </table>
      <p class="soft">${EXPOSURE_PROVISO}</p>`;
  }

  #between(report: ExposureReport | null | undefined): TemplateResult {
    return html`<h2 class="plain">${label('metalBetween')}</h2>
      ${
        report
          ? html`<table>
                <tbody>
                  ${report.between.objects.map(
                    ({ words, powerW }) =>
                      html`<tr>
                        <th scope="row">${words}</th>
                        <td>${roughWatts(powerW, NBSP)}</td>
                      </tr>`,
                  )}
                </tbody>
              </table>
              <p class="soft">
                An order of magnitude, from ${formatQuantity(report.between.peakT, 'T', { space: NBSP, digits: 2 })} peak
                half-way between the coils. Half a watt is enough to burn.
              </p>`
          : html``
      }
      <oc-note
        >A coin, key or foil between the coils can get hot enough to burn. Keep metal out, do not rely on the board to notice
        it, and test with a thermometer.</oc-note
      >
      <oc-note
        >The field can disturb implants such as pacemakers, defibrillators and pumps. Their makers commonly ask for at least
        15${NBSP}cm from a charger (common practice, no source); the implant’s own papers and the physician come
        first.</oc-note
      >`;
  }
}

/** A distance with its band, which may go under it. */
function met(level: LevelAnswer): TemplateResult {
  const [value, band] = metDistanceWords(level, NBSP).split(' (');
  return html`${value}${band === undefined ? '' : html` <span class="band">(${band}</span>`}`;
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-exposure': Exposure;
  }
}
