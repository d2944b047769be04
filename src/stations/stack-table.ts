import { html, type TemplateResult } from 'lit';
import type { Design } from '../design/types.ts';
import { addLayer } from '../state/commands/add-layer.ts';
import { removeLayer } from '../state/commands/remove-layer.ts';
import { setLayer } from '../state/commands/set-layer.ts';
import type { Session } from '../state/session.ts';
import { dimension, faultAt } from './dimension.ts';
import { label } from './labels.ts';

/** Thickness of a layer that has just been added, mm. */
const NEW_LAYER_MM = 0.5;

/** What the section does not show: tolerances, names, and layers to add or take out. Folded away until wanted. */
export function stackTable(session: Session, design: Design): TemplateResult {
  const { store } = session;
  // A name that the design refuses stays in its field; figures and labels have the last good one.
  const typed = store.document.value.stack ?? [];
  return html`<details class="layers" slot="beneath">
    <summary>${label('layersAndTolerances')}</summary>
    <table>
      <thead>
        <tr>
          <th scope="col">${label('layer')}</th>
          <th scope="col">${label('tolerance')}</th>
          <td></td>
        </tr>
      </thead>
      <tbody>
        ${design.stack.map(
          (layer, index) =>
            html`<tr>
              <td>
                <input
                  type="text"
                  maxlength="60"
                  aria-label=${`Name of ${layer.name}`}
                  aria-invalid=${faultAt(session, `stack[${index}].name`) === '' ? 'false' : 'true'}
                  .value=${typed[index]?.name ?? layer.name}
                  @change=${(event: Event) => {
                    const name = (event.target as HTMLInputElement).value.trim();
                    if (name === '') (event.target as HTMLInputElement).value = layer.name;
                    else store.run(setLayer, { index, name });
                  }}
                />
              </td>
              <td>
                ${dimension(session, {
                  term: 'tolerance',
                  of: layer.name,
                  caption: '±',
                  unit: 'mm',
                  path: `stack[${index}].toleranceMm`,
                  value: layer.toleranceMm,
                  min: 0,
                  commit: (toleranceMm) => store.run(setLayer, { index, toleranceMm }),
                })}
              </td>
              <td>
                <button
                  type="button"
                  class="quiet"
                  aria-label=${`Take ${layer.name} out`}
                  @click=${() => store.run(removeLayer, { index })}
                >
                  take out
                </button>
              </td>
            </tr>`,
        )}
      </tbody>
    </table>
    <button
      type="button"
      class="quiet"
      @click=${() => store.run(addLayer, { index: design.stack.length, name: 'new layer', thicknessMm: NEW_LAYER_MM })}
    >
      add a layer
    </button>
  </details>`;
}
