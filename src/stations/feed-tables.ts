import { html, nothing, type TemplateResult } from 'lit';
import '../parts/oc-choice.ts';
import type { FeedBands, FeedNumbers } from '../analysis/feed/feed-bands.ts';
import type { FeedReport, PeakReport } from '../analysis/feed/feed-report.ts';
import type { Uncertain } from '../analysis/types.ts';
import type { Design } from '../design/types.ts';
import type { ChoiceMadeDetail } from '../parts/oc-choice.ts';
import { setValue } from '../state/commands/set-value.ts';
import type { Session } from '../state/session.ts';
import { formatBand, formatQuantity } from '../units/format.ts';
import type { UnitName } from '../units/unit-table.ts';
import { pathField } from './feed-fields.ts';
import { label, type TermId } from './glossary.ts';

const NBSP = '\u00a0';
const RANGE = '\u2060\u2013\u2060';

/** A value with its band to the same digits: `6.9 h (6.3–7.6)`. */
function withBand(
  value: number,
  band: { readonly low: number; readonly high: number } | null,
  unit: UnitName,
  digits = 2,
): TemplateResult {
  if (!Number.isFinite(value)) return html`${Number.isNaN(value) ? '–' : 'never'}`;
  const text = formatQuantity(value, unit, { digits, space: NBSP, fixedUnit: true });
  const decimals = /\.(\d+)/.exec(text)?.[1].length ?? 0;
  // Everything but a temperature ends at nothing.
  const least = unit === 'degC' ? Number.NEGATIVE_INFINITY : 0;
  const low = Math.max(least, band?.low ?? value).toFixed(decimals);
  const high = (band?.high ?? value).toFixed(decimals);
  return html`${text}${low === high ? nothing : html` <span class="band">(${low}${RANGE}${high})</span>`}`;
}

/** Numbers of cell, charger, converter and dock, as far as the design has them. */
export function chainTable(session: Session, report: FeedReport, bands: FeedBands | null): TemplateResult {
  const { chain, charge, day, standby, boost } = report;
  const band = (key: keyof FeedNumbers) => bands?.[key] ?? null;
  const row = (term: TermId, body: unknown): TemplateResult =>
    html`<tr>
      <th scope="row">${label(term)}</th>
      <td>${body}</td>
    </tr>`;
  return html`<table class="chain">
    <tbody>
      ${
        chain.cell
          ? row(
              'capacity',
              html`${pathField(session, {
                term: 'capacity',
                unit: 'Ah',
                path: `${chain.cellPath}.capacityAh`,
                value: chain.cell.capacityAh,
                what: 'the capacity',
              })}, ${withBand(report.cellWh ?? Number.NaN, band('cellWh'), 'Wh')}`,
            )
          : nothing
      }
      ${
        charge
          ? row(
              'chargeTime',
              html`${withBand(charge.time.totalS / 3600, band('chargeHours'), 'h')}${
                charge.shared ? html` <span class="bad">slowed by the loads</span>` : nothing
              }${
                charge.time.foldedS > 60
                  ? html` <span class="bad">${hours(charge.time.foldedS / 3600)} of it held back by the charger’s heat</span>`
                  : nothing
              }`,
            )
          : nothing
      }
      ${
        charge
          ? row(
              'chargerHeat',
              html`${withBand(charge.point.heatW, band('chargerW'), 'W')},
              ${withBand(charge.point.temperatureC, band('chargerC'), 'degC')}`,
            )
          : nothing
      }
      ${day && charge ? row('madeUp', withBand(day.neededHours, band('neededHours'), 'h')) : nothing}
      ${day ? row('runtime', withBand(Math.min(...day.uses.map((use) => use.runtimeH)), band('runtimeHours'), 'h')) : nothing}
      ${standby ? row('standby', days(standby.asBuilt.days, band('standbyDays'))) : nothing}
      ${
        standby && boost
          ? row(
              chain.boost?.switchBefore ? 'switchAfter' : 'switchBefore',
              chain.boost?.switchBefore
                ? days(standby.after.days, band('standbyDaysAfter'))
                : days(standby.before.days, band('standbyDaysBefore')),
            )
          : nothing
      }
      ${boost && chain.cell ? row('collapsePower', withBand(boost.collapseW, band('collapseW'), 'W')) : nothing}
      ${report.peaks.map((peak, i) => row('peakCapacitor', peakText(peak, i === 0 ? band('peakF') : null)))}
      ${row(
        'emptyDock',
        html`${withBand(report.emptyDockW, band('emptyDockW'), 'W')},
          ${formatQuantity(report.emptyDockWh, 'Wh', { digits: 2, space: NBSP })} a year`,
      )}
    </tbody>
  </table>`;
}

const hours = (value: number): string => `${value.toFixed(1)}${NBSP}h`;

function days(value: number, band: { readonly low: number; readonly high: number } | null): TemplateResult {
  if (!Number.isFinite(value)) return html`no drain`;
  const round = (at: number): string => String(Number(Math.max(0, at).toPrecision(2)));
  const range = band ? html` <span class="band">(${round(band.low)}${RANGE}${round(band.high)})</span>` : nothing;
  return html`${round(value)}${NBSP}days${range}`;
}

function peakText(peak: PeakReport, band: Uncertain | null): TemplateResult {
  const { capacitanceF, verdict } = peak.alone;
  if (verdict === 'none') return html`none needed`;
  if (verdict === 'impossible') return html`<span class="bad">none: its own resistance breaks the dip</span>`;
  const size = formatQuantity(capacitanceF, 'F', { digits: 2, space: NBSP });
  const { firstA, fillS } = peak.aloneInrush;
  const inrush = Number.isFinite(firstA)
    ? `empty, it takes up to ${formatQuantity(firstA, 'A', { digits: 2, space: NBSP })} at first`
    : 'empty, it is a short circuit';
  const filling = Number.isFinite(fillS) ? `, ${formatQuantity(fillS, 's', { digits: 2, space: NBSP })} to fill` : '';
  const word = verdict === 'ordinary' ? '' : `${verdict}: `;
  const range = band ? ` (${formatBand(band.low, band.high, 'F', { space: NBSP })})` : '';
  return html`<span class=${verdict === 'absurd' ? 'bad' : ''}>${word}${size}</span
    ><span class="band">${range}, ${inrush}${filling}</span>`;
}

/** What can be put behind the receiver where the design names nothing. */
export function chainAdds(session: Session, design: Design, report: FeedReport): TemplateResult {
  const { chain } = report;
  const at = design.demand.loads.findIndex((load) => load.kind === 'charging' && load.through.length === 0);
  const put = (path: string, value: unknown, what: string): void => session.store.run(setValue, { path, value, what });
  const volts = design.demand.loads[0]?.atV ?? 5;
  // From the reference up to what the loads take: 15 kilohm below, the rest above.
  const topKohm = Number((15 * Math.max(0.1, volts / 0.6 - 1)).toPrecision(4));
  return html`${
    chain.cell === null && at >= 0
      ? html`<p class="said">
          <button
            type="button"
            class="quiet"
            @click=${() =>
              put(
                `demand.loads[${at}].through`,
                [
                  { kind: 'charger', setCurrentA: design.demand.loads[at]?.currentA },
                  { kind: 'cell', capacityAh: 2 },
                ],
                'the charger and the cell',
              )}
          >
            Put in a charger and a cell
          </button>
        </p>`
      : nothing
  }${
    chain.boost === null && chain.cell !== null
      ? html`<p class="said">
          <button
            type="button"
            class="quiet"
            @click=${() =>
              put(
                'demand.away.through',
                [{ kind: 'boost', feedback: { top: { resistorKohm: topKohm }, bottom: { resistorKohm: 15 } } }],
                'the boost converter',
              )}
          >
            Put in a boost converter
          </button>
        </p>`
      : nothing
  }`;
}

/** How the chain is built: kind of charger, side of the switch. */
export function chainChoices(session: Session, report: FeedReport): TemplateResult {
  const { charger, boost, chargerPath, boostPath } = report.chain;
  const choose = (path: string, value: unknown, what: string): void =>
    session.store.run(setValue, { path, value, what });
  return html`<div class="choices">
    ${
      charger
        ? html`<oc-choice
            label=${label('charger')}
            .options=${(['linear', 'switching'] as const).map((value) => ({ value, label: label(value) }))}
            .value=${charger.topology}
            @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) =>
              choose(`${chargerPath}.topology`, event.detail.value, 'the charger')}
          ></oc-choice>`
        : nothing
    }
    ${
      boost
        ? html`<oc-choice
            label=${label('switchSide')}
            .options=${[
              { value: 'before', label: label('beforeConverter') },
              { value: 'after', label: label('afterConverter') },
            ]}
            .value=${boost.switchBefore ? 'before' : 'after'}
            @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) =>
              choose(`${boostPath}.switchBefore`, event.detail.value === 'before', 'the switch')}
          ></oc-choice>`
        : nothing
    }
  </div>`;
}
