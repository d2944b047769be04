import { html, type TemplateResult } from 'lit';
import type { OperatingSpread, SpreadKey } from '../analysis/feed/operating-spread.ts';
import type { OffsetMap, PoseAnswer, Uncertain } from '../analysis/types.ts';
import { formatBand, formatQuantity } from '../units/format.ts';
import { label, type TermId } from './glossary.ts';

const BLANK = '–';
const percent = (value: number): string => `${value < -0.5 ? '\u2212' : ''}${Math.abs(Math.round(value))}\u00a0%`;

/** What the pair does where it lies, and how far it reaches: each number with what it may be. */
export function operatingNumbers(
  pose: PoseAnswer | null,
  map: OffsetMap | null,
  spread: OperatingSpread | null,
): TemplateResult {
  const given = (key: PointKey): string => (pose ? pointText(pose, spread, key) : BLANK);
  const rows: readonly (readonly [TermId, string])[] = [
    ['mostCurrent', pose ? current(pose) : BLANK],
    ['margin', pose ? marginText(pose) : BLANK],
    ['reach', map ? reachText(map) : BLANK],
    ['wakeReach', map ? `${map.wakeReachMm.toFixed(1)}\u00a0mm` : BLANK],
    ['supplyCurrent', given('supplyA')],
    ['frequency', given('frequencyHz')],
    ['efficiency', given('efficiency')],
    ['receiverHeat', given('receiverC')],
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

/** Of an operating point, printed with its band once it is known. */
type PointKey = Extract<SpreadKey, 'supplyA' | 'frequencyHz' | 'efficiency' | 'receiverC'>;

const POINT_TEXT: Readonly<Record<PointKey, (value: number) => string>> = Object.freeze({
  supplyA: (value) => formatQuantity(value, 'A', { digits: 3, fixedUnit: true }),
  frequencyHz: (value) => `${(value / 1e3).toFixed(0)}\u00a0kHz`,
  efficiency: (value) => percent(100 * Math.min(1, value)),
  receiverC: (value) => `${value.toFixed(0)}\u00a0°C`,
});

function pointText({ operatingPoint }: PoseAnswer, spread: OperatingSpread | null, key: PointKey): string {
  const value = operatingPoint[key];
  const text = POINT_TEXT[key];
  if (!spread) return text(value);
  const [low, high] = [Math.max(0, value - spread.less[key]), value + spread.more[key]];
  const number = (at: number): string => text(at).split('\u00a0')[0];
  return banded({ value, low, high }, text, `${number(low)}–${number(high)}`);
}
