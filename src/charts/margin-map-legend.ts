import { html, nothing, type TemplateResult } from 'lit';
import type { OffsetMap } from '../analysis/types.ts';
import type { MarginShapes } from './margin-shapes.ts';
import { signedPercent, withUnit } from './tick-text.ts';

/** The lines of a narrow map with their names, beneath it. */
export function mapLegend(map: OffsetMap | null, shapes: MarginShapes | null): TemplateResult {
  if (!map || !shapes) return html`<ul class="legend"></ul>`;
  const entry = (kind: string, words: string): TemplateResult =>
    html`<li>
      <svg width="26" height="12" aria-hidden="true"><path class=${kind} d="M1,6H25"></path></svg>${words}
    </li>`;
  return html`<ul class="legend">
    ${entry('zero', `${withUnit(map.demandA, 'A', 2)} just held`)}
    ${map.wantedMarginPercent > 0 ? entry('wanted', `${signedPercent(map.wantedMarginPercent)} wanted`) : nothing}
    ${shapes.peaks.map((peak) => entry('peak', `${peak.name}, ${withUnit(peak.currentA, 'A', 2)}`))}
    ${shapes.wake.length > 0 ? entry('wake', 'wakes inside') : nothing}
  </ul>`;
}
