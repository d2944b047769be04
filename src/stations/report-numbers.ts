import { html, type TemplateResult } from 'lit';
import type { OffsetMap, PoseAnswer, Uncertain } from '../analysis/types.ts';
import { formatBand, formatQuantity } from '../units/format.ts';
import { label, type TermId } from './glossary.ts';

const BLANK = '–';
const percent = (value: number): string => `${value < -0.5 ? '\u2212' : ''}${Math.abs(Math.round(value))}\u00a0%`;

/** What the pair does where it lies, and how far it reaches: each number with what it may be. */
export function operatingNumbers(pose: PoseAnswer | null, map: OffsetMap | null): TemplateResult {
  const rows: readonly (readonly [TermId, string])[] = [
    ['mostCurrent', pose ? current(pose) : BLANK],
    ['margin', pose ? marginText(pose) : BLANK],
    ['reach', map ? reachText(map) : BLANK],
    ['wakeReach', map ? `${map.wakeReachMm.toFixed(1)}\u00a0mm` : BLANK],
    ['supplyCurrent', pose ? formatQuantity(pose.operatingPoint.supplyA, 'A') : BLANK],
    ['frequency', pose ? formatQuantity(pose.operatingPoint.frequencyHz, 'Hz') : BLANK],
    ['efficiency', pose ? percent(100 * pose.operatingPoint.efficiency) : BLANK],
    ['receiverHeat', pose ? `${pose.operatingPoint.receiverC.toFixed(0)}\u00a0°C` : BLANK],
  ];
  return html`<table class="operating">
    <caption>
      ${label('numbers')}, at ${pose ? formatQuantity(pose.margin.demandA, 'A', { digits: 2 }) : BLANK} asked
    </caption>
    <tbody>
      ${rows.map(
        ([term, text]) =>
          html`<tr>
            <th scope="row">${label(term)}</th>
            <td>${text}</td>
          </tr>`,
      )}
    </tbody>
  </table>`;
}

/** A number with what it may be; alone where that prints no other. */
function banded({ value, low, high }: Uncertain, text: (value: number) => string, range: string): string {
  const alone = text(low) === text(value) && text(high) === text(value);
  return alone ? text(value) : `${text(value)} (${range})`;
}

function current({ margin }: PoseAnswer): string {
  const { low, high } = margin.maxOutputBand;
  const ampere = (value: number): string => formatQuantity(value, 'A', { fixedUnit: true });
  return banded(margin.maxOutputBand, ampere, formatBand(low, high, 'A', { fixedUnit: true }));
}

function marginText({ margin }: PoseAnswer): string {
  const { low, high } = margin.marginBandPercent;
  return banded(margin.marginBandPercent, percent, `${percent(low)} to ${percent(high)}`);
}

function reachText({ reachMm }: OffsetMap): string {
  const mm = (value: number): string => `${value.toFixed(1)}\u00a0mm`;
  return banded(reachMm, mm, `${reachMm.low.toFixed(1)}–${reachMm.high.toFixed(1)}`);
}
