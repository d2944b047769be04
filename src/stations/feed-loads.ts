import { html, nothing, type TemplateResult } from 'lit';
import type { FeedReport, LoadRow } from '../analysis/feed/feed-report.ts';
import type { Uncertain } from '../analysis/types.ts';
import type { Design, LoadDocument } from '../design/types.ts';
import { removeLoad } from '../state/commands/remove-load.ts';
import { renameLoad } from '../state/commands/rename-load.ts';
import { setLoadKind } from '../state/commands/set-load-kind.ts';
import { setValue } from '../state/commands/set-value.ts';
import type { Session } from '../state/session.ts';
import { formatQuantity } from '../units/format.ts';
import { faultAt } from './dimension.ts';
import { pathField } from './feed-fields.ts';
import { label } from './glossary.ts';

const NBSP = '\u00a0';
const KINDS = ['idle', 'typical', 'peak', 'charging'] as const;

const signed = (value: number): string =>
  `${value > 0.5 ? '+' : value < -0.5 ? '\u2212' : ''}${Math.abs(Math.round(value))}`;

/** Margin of one load alone, with the band of the link's largest current. */
function marginCell(row: LoadRow, most: Uncertain): TemplateResult {
  if (!Number.isFinite(row.marginPercent) || row.marginPercent >= 999) return html`–`;
  // The peaks' largest current has the same relative band: the same tolerances make it.
  const at = (current: number): string => signed((100 + row.marginPercent) * (current / most.value) - 100);
  const [low, high] = [at(most.low), at(most.high)];
  return html`<span class=${row.marginPercent < 0 ? 'bad' : ''}>${signed(row.marginPercent)}${NBSP}%</span>${
    low === high || !(most.value > 0) ? nothing : html`<span class="band under">(${low} to ${high})</span>`
  }`;
}

/** Every load: what it takes, what that asks of the receiver, and how much of it the link has. */
export function loadsTable(
  session: Session,
  design: Design,
  report: FeedReport | null,
  most: Uncertain | null,
  editing: boolean,
): TemplateResult {
  const charging = report?.chain.chargerPath ?? '';
  return html`<table class="loads">
    <thead>
      <tr>
        <td></td>
        <th scope="col">${label('atTheLoad')}</th>
        <th scope="col">${label('atTheOutput')}</th>
        <th scope="col">${label('margin')}</th>
        <th scope="col">${label('hoursOfUse')}</th>
      </tr>
    </thead>
    <tbody>
      ${design.demand.loads.map((load, i) => {
        const row = report?.loads[i];
        const path = `demand.loads[${i}]`;
        const setByCharger = charging.startsWith(`${path}.through`);
        const lasts = load.kind !== 'peak' && load.kind !== 'charging';
        return html`<tr>
          <th scope="row" class="user">${load.name}</th>
          <td>
            ${pathField(session, {
              term: setByCharger ? 'chargeCurrent' : 'atTheLoad',
              of: load.name,
              unit: 'A',
              path: setByCharger ? `${charging}.setCurrentA` : `${path}.currentA`,
              value: setByCharger ? (report?.charge?.setA ?? load.currentA) : load.currentA,
              what: `the current of ${load.name}`,
            })}
          </td>
          <td>${row ? formatQuantity(row.outputA, 'A', { digits: 2, space: NBSP, fixedUnit: true }) : '–'}</td>
          <td>${row && most ? marginCell(row, most) : '–'}</td>
          <td>
            ${
              lasts
                ? pathField(session, {
                    term: 'hoursOfUse',
                    of: load.name,
                    unit: 'h',
                    path: `${path}.hoursPerDay`,
                    value: load.hoursPerDay,
                    what: `the hours of ${load.name}`,
                  })
                : load.kind === 'peak'
                  ? pathField(session, {
                      term: 'peak',
                      of: load.name,
                      unit: 'ms',
                      path: `${path}.durationMs`,
                      value: load.durationMs,
                      what: `the length of ${load.name}`,
                    })
                  : nothing
            }
          </td>
        </tr>
        ${editing ? editRow(session, design.demand.loads, i) : nothing}`;
      })}
    </tbody>
  </table>`;
}

/** What a load is called, what kind it is, what runs beside it; and the way out. */
function editRow(session: Session, loads: readonly LoadDocument[], index: number): TemplateResult {
  const load = loads[index] as LoadDocument;
  const beside = loads.filter((other) => other.kind !== 'peak' && other.name !== load.name);
  const together = (other: string, runs: boolean): void => {
    const value = runs ? [...load.alongside, other] : load.alongside.filter((name) => name !== other);
    session.store.run(setValue, {
      path: `demand.loads[${index}].alongside`,
      value,
      what: `what runs beside ${load.name}`,
    });
  };
  return html`<tr class="edit">
    <td colspan="5">
      <div>
        <input
          type="text"
          aria-label=${`Name of ${load.name}`}
          autocomplete="off"
          maxlength="60"
          aria-invalid=${faultAt(session, `demand.loads[${index}].name`) === '' ? 'false' : 'true'}
          .value=${session.store.document.value.demand.loads[index]?.name ?? load.name}
          @change=${(event: Event) => {
            const input = event.target as HTMLInputElement;
            const name = input.value.trim();
            if (name === '') input.value = load.name;
            else session.store.run(renameLoad, { index, name });
          }}
        />
        <select
          aria-label=${`Kind of ${load.name}`}
          @change=${(event: Event) => {
            const kind = (event.target as HTMLSelectElement).value as LoadDocument['kind'];
            session.store.run(setLoadKind, { index, kind });
          }}
        >
          ${KINDS.map((kind) => html`<option value=${kind} ?selected=${kind === load.kind}>${label(kind)}</option>`)}
        </select>
        ${
          loads.length > 1
            ? html`<button
                type="button"
                class="quiet"
                aria-label=${`Take out ${load.name}`}
                @click=${() => session.store.run(removeLoad, { index })}
              >
                take out
              </button>`
            : nothing
        }
      </div>
      ${
        beside.length > 0
          ? html`<div>
              <span>together with</span>
              ${beside.map(
                (other) =>
                  html`<label
                    ><input
                      type="checkbox"
                      .checked=${load.alongside.includes(other.name)}
                      @change=${(event: Event) => together(other.name, (event.target as HTMLInputElement).checked)}
                    />${other.name}</label
                  >`,
              )}
            </div>`
          : nothing
      }
    </td>
  </tr>`;
}
