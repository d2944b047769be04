import { html, nothing, type TemplateResult } from 'lit';
import type { HoldReport } from '../analysis/hold/hold-report.ts';
import type { MagnetReport } from '../analysis/hold/magnet-report.ts';
import type { CheckedRecess } from '../analysis/hold/recess-report.ts';
import { endsAtOnce } from '../analysis/hold/recess-words.ts';
import { allowedWords, checkWords } from '../analysis/hold/region-words.ts';
import type { Uncertain } from '../analysis/types.ts';
import { formatQuantity } from '../units/format.ts';
import { label } from './glossary.ts';
import { mm, newton } from './hold-words.ts';

const NBSP = '\u00a0';
const percent = (value: number, digits = 1) => `${value.toFixed(digits).replace('-', '\u2212')}${NBSP}%`;

/** ` (none–9.0 mm)` where the margins' band is known. */
function clearanceRange({ clearanceBandMm: band }: CheckedRecess): string {
  if (!band) return '';
  const end = (value: number | null) => (value === null ? 'none' : value.toFixed(1));
  return ` (${end(band.low)}\u2060–\u2060${end(band.high)}${NBSP}mm)`;
}

function recessLine(name: string, wanted: number, recess: CheckedRecess): TemplateResult {
  const { clearanceMm, directPercent, worst, band } = recess;
  if (clearanceMm === null) return html`<li>${name}: <b>none</b>, ${percent(worst.marginPercent)} at its tightest</li>`;
  const margin = directPercent ?? worst.marginPercent;
  return html`<li>
    ${name}: <b>${mm(clearanceMm, 2)}</b>${clearanceRange(recess)}, ${percent(margin, 2)} at the ${worst.name}${
      band ? html` (the model’s band ${percent(band.low, 0)} to ${percent(band.high, 0)})` : nothing
    }${endsAtOnce(recess, wanted)}
  </li>`;
}

/** `(3.1–4.2 mm)` where a band is known. */
function bandOf(reach: Uncertain | null): string {
  if (!reach || !(reach.high > reach.low)) return '';
  return ` (${reach.low.toFixed(1)}\u2060–\u2060${mm(reach.high)})`;
}

function stackLines({ stack, region, regionNotes, safeHere, safeHereReachMm }: HoldReport): TemplateResult {
  const { limits, thickness, worstKeepsMargin, rssKeepsMargin } = stack;
  const verdict = (keeps: boolean | null) =>
    keeps === null ? '' : keeps ? ': keeps the margin' : ': does not keep the margin';
  return html`${
    limits
      ? limits.intervals.map(
          ({ fromMm, toMm }) => html`<li>margin kept from <b>${mm(fromMm)}</b> to <b>${mm(toMm)}</b></li>`,
        )
      : nothing
  }
  ${
    thickness
      ? html`<li>
            all tolerances at their ends: ${mm(thickness.worst.thinnestMm)} to
            ${mm(thickness.worst.thickestMm)}${verdict(worstKeepsMargin)}
          </li>
          <li>
            as root of squares: ${mm(thickness.rss.thinnestMm)} to ${mm(thickness.rss.thickestMm)}${verdict(rssKeepsMargin)}
          </li>`
      : nothing
  }
  ${
    safeHere
      ? html`<li>safe within <b>${mm(safeHere.reachMm)}</b>${bandOf(safeHereReachMm)} of home at this gap</li>`
      : nothing
  }
  ${
    region
      ? html`<li>
            within <b>${mm(region.worst.reachMm)}</b>${bandOf(region.reachMm)} at the worst ${allowedWords(region)}
          </li>
          ${region.check ? html`<li>${checkWords(region.check)}</li>` : nothing}
          <li>
            ${(region.volumeMm3 / 1e3).toFixed(1)}${NBSP}cm³ safe over all gaps${region.cutOff ? ' at least' : ''}, level and not
            turned
          </li>`
      : nothing
  }
  ${regionNotes.map((note) => html`<li>${note}</li>`)}`;
}

function magnetLines(magnets: MagnetReport): TemplateResult {
  const { holding, spread, heating, saturation, flux } = magnets;
  const worst = [flux.dock, flux.device].reduce((most, plate) => Math.max(most, plate?.peakT ?? 0), 0);
  return html`<li>
      pull at home <b>${newton(holding.pullN)}</b> (${spread.pullN.low.toFixed(1)}\u2060–\u2060${newton(spread.pullN.high)}), lifted off with ${newton(Math.max(0, holding.pullOffN))}; friction
      ${newton(holding.frictionN)}
    </li>
    <li>
      strongest sideways in its weakest direction ${newton(holding.strongestRestoringN)} at
      ${mm(holding.strongestAtMm)}
    </li>
    <li>
      ${
        holding.restYaw === null
          ? 'friction keeps any turn'
          : html`turns back to within ${((holding.restYaw * 180) / Math.PI).toFixed(1)}°`
      }
    </li>
    <li>
      let snap together a pair meets with <b>${newton(magnets.contactPerPairN)}</b>
      (${magnets.contactPressureKPa.toFixed(0)}${NBSP}kPa): the most a finger or the cell’s case should see; from
      ${magnets.pinchFromN}${NBSP}N it pinches (common practice)
    </li>
    ${
      magnets.ferriteShare !== 0
        ? html`<li>
            ${percent(100 * magnets.ferriteShare)} of the pull comes from the ferrite; it carries up to
            ${formatQuantity(worst, 'T', { space: NBSP, digits: 2 })}
          </li>`
        : nothing
    }
    ${saturation ? html`<li>${saturation.sentence}</li>` : nothing}
    ${
      heating
        ? html`<li>
            heat in one magnet about ${formatQuantity(heating.powerW, 'W', { space: NBSP, digits: 1 })} in the coils’
            ${formatQuantity(heating.peakT, 'T', { space: NBSP, digits: 2 })}: an order of magnitude; feel it after ten
            minutes of charging
          </li>`
        : nothing
    }
    ${magnets.notes.map((note) => html`<li>${note}</li>`)}`;
}

/** What the magnets do, in a list. */
export function magnetNumbers(magnets: MagnetReport): TemplateResult {
  return html`<section class="list">
    <h3>${label('magnetNumbers')}</h3>
    <ul>
      ${magnetLines(magnets)}
    </ul>
  </section>`;
}

/** What stands behind recess and stack, in lists. */
export function holdNumbers(report: HoldReport): TemplateResult {
  const { recess } = report;
  return html`<section class="list">
      <h3>${label('sizeOfRecess')}</h3>
      <ul>
        ${recessLine('all tolerances at their ends', recess.wantedMarginPercent, recess.recommended)}
        ${recessLine('as root of squares', recess.wantedMarginPercent, recess.recommendedRss)}
        ${
          recess.asDesigned
            ? html`<li>
                yours, <b>${mm(recess.asDesigned.clearanceMm, 2)}</b>:
                ${percent(recess.asDesigned.worst.marginPercent)} at the ${recess.asDesigned.worst.name}
              </li>`
            : nothing
        }
        ${recess.notes.map((note) => html`<li>${note}</li>`)}
      </ul>
    </section>
    <section class="list">
      <h3>${label('stackLimits')}</h3>
      <ul>
        ${stackLines(report)}
      </ul>
    </section>`;
}
