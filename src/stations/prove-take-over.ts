import { html, nothing, type TemplateResult } from 'lit';
import type { Change } from '../analysis/prove/design-changes.ts';
import type { FitReport } from '../analysis/prove/fit-report.ts';
import { useFittedValues } from '../state/commands/use-fitted-values.ts';
import type { Session } from '../state/session.ts';
import { formatQuantity } from '../units/format.ts';
import { label } from './glossary.ts';

const shown = (value: number, unit: Change['unit']): string =>
  formatQuantity(value, unit, { space: '\u00a0', digits: 4, fixedUnit: true }).trim();

/** What the fit would write into the design, and the button that does it in one step. Keeps its line while there is none. */
export function proveTakeOver(session: Session, report: FitReport | null, fresh: boolean): TemplateResult {
  return html`<details class="use">
    <summary>${label('useFitted')}</summary>
    ${report === null ? html`<p class="soft">Comes with the fit.</p>` : changesOf(session, report, fresh)}
  </details>`;
}

function changesOf(session: Session, report: FitReport, fresh: boolean): TemplateResult {
  const { changes, left } = report.takeOver;
  if (changes.length === 0) return html`<p class="soft">The readings say next to nothing of the guessed values.</p>`;
  return html`<div class="sideways">
      <table class="follows">
        <thead>
          <tr>
            <td></td>
            <th scope="col">${label('valueNow')}</th>
            <th scope="col">${label('valueThen')}</th>
          </tr>
        </thead>
        <tbody>
          ${changes.map(
            ({ name, unit, from, to, wasComputed }) =>
              html`<tr>
                <td class="name">${name}</td>
                <td>${shown(from, unit)}${wasComputed ? html`<span class="soft">, computed</span>` : nothing}</td>
                <td>${shown(to, unit)}</td>
              </tr>`,
          )}
        </tbody>
      </table>
    </div>
    <p class="soft">
      ${left.length === 0 ? nothing : `${left.length} guessed ${left.length === 1 ? 'value stays' : 'values stay'} as they are: the readings say next to nothing of them. `}Tolerances
      stay too, because the readings remain in the design and would count twice. Errors of a single place stay with its
      readings.
    </p>
    <p class="tools">
      <button
        type="button"
        class="quiet"
        ?disabled=${!fresh}
        @click=${() => session.store.run(useFittedValues, { changes })}
      >
        Write ${changes.length === 1 ? 'this value' : `these ${changes.length} values`} into the design
      </button>
      <span class="soft">${fresh ? 'One step back undoes it.' : 'Of the readings before the last change.'}</span>
    </p>`;
}
