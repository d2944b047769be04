import { html, nothing, type TemplateResult } from 'lit';
import { limitName } from '../analysis/margin/state-sentence.ts';
import type { SupplyChoice, SupplyOption } from '../analysis/supply/supply-choice.ts';
import type { Uncertain } from '../analysis/types.ts';
import { formatBand, formatInBand } from '../units/format.ts';
import type { UnitName } from '../units/unit-table.ts';
import { label, type TermId } from './glossary.ts';

const NBSP = '\u00a0';
const STATES: Readonly<Record<string, string>> = Object.freeze({
  currentLimited: 'current limited',
});

function banded(value: Uncertain, unit: UnitName): TemplateResult {
  const least = 10 ** -2 * Math.max(Math.abs(value.value), 1e-6);
  return html`${formatInBand(value.value, value.low, value.high, unit, { space: NBSP, digits: unit === 'A' ? 3 : 2 })}
  ${
    value.high - value.low > least
      ? html`<span class="band">${formatBand(value.low, value.high, unit, { space: NBSP, fixedUnit: true })}</span>`
      : nothing
  }`;
}

const times = ({ value, low, high }: Uncertain, by: number): Uncertain => ({
  value: by * value,
  low: by * low,
  high: by * high,
});

function millimetres(value: Uncertain, beyond: boolean): TemplateResult {
  const text = (mm: number): string => mm.toFixed(1);
  if (beyond) return html`more than ${text(value.value)}${NBSP}mm`;
  return html`${text(value.value)}${NBSP}mm
  ${value.high - value.low >= 0.2 ? html`<span class="band">${text(value.low)}–${text(value.high)}${NBSP}mm</span>` : nothing}`;
}

type Cell = (option: SupplyOption) => unknown;

const celsius = (value: number): string => `${Math.round(value)}${NBSP}°C`;

const ROWS: readonly (readonly [TermId, Cell])[] = [
  ['mostGiven', ({ report }) => banded(report.maxOutputA, 'A')],
  ['limitedBy', ({ report }) => limitName(report.limitedBy)],
  [
    'inHand',
    ({ report: { marginPercent } }) =>
      marginPercent.value >= 999
        ? '–'
        : html`<span class=${marginPercent.value < 0 ? 'bad' : ''}>${banded(marginPercent, '%')}</span>`,
  ],
  ['efficiencyAsked', ({ report }) => banded(times(report.atDemand.efficiency, 100), '%')],
  ['receiverHeat', ({ report }) => banded(report.atDemand.receiverC, 'degC')],
  ['transmitterHeat', ({ report }) => celsius(report.atDemand.transmitterC)],
  [
    'safeOffCentre',
    ({ reach }) =>
      reach === null
        ? '…'
        : reach.innerLimitMm > 0
          ? html`only from ${reach.innerLimitMm.toFixed(1)}${NBSP}mm`
          : millimetres(reach.offsetMm, reach.offsetBeyond),
  ],
  ['holdsApart', ({ reach }) => (reach === null ? '…' : millimetres(reach.gap.holdMm, reach.gap.beyond))],
  ['wakesApart', ({ reach }) => (reach === null ? '…' : `${reach.gap.wakeMm.toFixed(1)}${NBSP}mm`)],
  ['lightLoad', ({ report: { atLightLoad } }) => STATES[atLightLoad.state] ?? atLightLoad.state],
];

/** A sentence whose numbers keep their units on the same line. */
export function unbroken(text: string): string {
  return text.replace(/(?<=\d) (?=[%°A-Zkm])/gu, NBSP);
}

/** Two to four supplies side by side: quantities in rows, supplies in columns, with a way to take one. */
export function supplyTable(choice: SupplyChoice, nowV: number, take: (supplyV: number) => void): TemplateResult {
  const mark = ({ report }: SupplyOption): string => (report.supplyV === choice.takeV ? 'taken' : '');
  return html`<table>
    <thead>
      <tr>
        <td></td>
        ${choice.options.map((option) => html`<th scope="col" class=${mark(option)}>${option.report.supplyV}${NBSP}V</th>`)}
      </tr>
    </thead>
    <tbody>
      ${ROWS.map(
        ([term, cell]) =>
          html`<tr>
            <th scope="row">${label(term)}</th>
            ${choice.options.map((option) => html`<td class=${mark(option)}>${cell(option)}</td>`)}
          </tr>`,
      )}
      <tr>
        <td></td>
        ${choice.options.map(
          ({ report }) =>
            html`<td>
              ${
                report.supplyV === nowV
                  ? html`<span class="band">in the design</span>`
                  : html`<button
                      type="button"
                      class="quiet"
                      aria-label=${`take it: ${report.supplyV} V`}
                      @click=${() => take(report.supplyV)}
                    >
                      take it
                    </button>`
              }
            </td>`,
        )}
      </tr>
    </tbody>
  </table>`;
}
