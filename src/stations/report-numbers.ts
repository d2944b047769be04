import { html, type TemplateResult } from 'lit';
import type { OffsetMap, PoseAnswer } from '../analysis/types.ts';
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

function current({ margin }: PoseAnswer): string {
  const { value, low, high } = margin.maxOutputBand;
  const range = formatBand(low, high, 'A', { fixedUnit: true });
  return `${formatQuantity(value, 'A', { fixedUnit: true })} (${range})`;
}

function marginText({ margin }: PoseAnswer): string {
  const { value, low, high } = margin.marginBandPercent;
  return `${percent(value)} (${percent(low)} to ${percent(high)})`;
}

function reachText({ reachMm }: OffsetMap): string {
  const { value, low, high } = reachMm;
  return `${value.toFixed(1)}\u00a0mm (${low.toFixed(1)}–${high.toFixed(1)})`;
}
