import type { ReadonlySignal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit';
import { customElement } from 'lit/decorators.js';
import type { RetuneAnswer, Tuning } from '../analysis/pair/retune.ts';
import type { PartChoice } from '../analysis/pair/standard-values.ts';
import '../parts/oc-note.ts';
import '../parts/oc-progress.ts';
import { replaceDesign } from '../state/commands/replace-design.ts';
import { withPath } from '../state/commands/set-value.ts';
import type { Session } from '../state/session.ts';
import { label } from './glossary.ts';
import { question } from './question.ts';
import { rivalsStyle } from './rivals-style.ts';
import { StationElement } from './station-element.ts';
import { stationStyle } from './station-style.ts';

const nanofarads = (value: number): string => `${Number(value.toPrecision(3))}\u00a0nF`;
const partText = ({ values }: PartChoice): string => values.map((value) => nanofarads(value)).join(' + ');

/** Series capacitors for the coils as placed. */
@customElement('oc-rivals-retune')
export class RivalsRetune extends StationElement {
  static override readonly styles = [stationStyle, rivalsStyle];

  protected watched({ pair }: Session): readonly ReadonlySignal<unknown>[] {
    return [pair.retune, pair.retuneFresh, pair.retuning, pair.retuneFailure];
  }

  protected override render(): TemplateResult {
    const session = this.session;
    if (!session) return html``;
    const { pair } = session;
    const answer = pair.retune.value;
    const fresh = pair.retuneFresh.value;
    return question({
      id: 'retune',
      term: 'retune',
      answers: 'Which series capacitors draw the most from these coils where they are, in parts that can be bought.',
      body: html`<div class="act">
        <button type="button" class="do" @click=${() => pair.askRetune()}>Tune for this place</button>
        <oc-progress ?running=${pair.retuning.value} stage="tuning" @stop-requested=${() => pair.stopRetune()}></oc-progress>
      </div>
      ${pair.retuneFailure.value === null ? nothing : html`<p role="alert">${pair.retuneFailure.value}</p>`}
      <div aria-live="polite">
        ${
          answer
            ? html`<p class="verdict">
              ${retuneSentence(answer)}
              ${fresh ? nothing : html`<span class="small">Of the design before it was changed.</span>`}
            </p>`
            : nothing
        }
      </div>
      ${answer ? this.#table(session, answer) : nothing}`,
      method:
        'Capacitors are tried that resonate from above the frequency window to below it, each at both ends of its tolerance, and judged by the worse end. By first harmonic, at this place of the receiver alone.',
    });
  }

  #table(session: Session, answer: RetuneAnswer): TemplateResult {
    const rows: readonly (readonly [string, Tuning])[] = [
      ['as it is', answer.now],
      ['receiver retuned', answer.receiver],
      ['both retuned', answer.both],
      ...answer.receiverParts.map(({ series, part, tuning }) => [`${partText(part)} (${series})`, tuning] as const),
    ];
    return html`<div class="wide" tabindex="0" role="region" aria-label="Tunings">
        <table>
          <thead>
            <tr>
              <th scope="col">${label('tuning')}</th>
              <th scope="col">${label('seriesCapacitors')}</th>
              <th scope="col">${label('resonances')}</th>
              <th scope="col">${label('currentEnds')}</th>
            </tr>
          </thead>
          <tbody>
            ${rows.map(
              ([name, tuning], i) =>
                html`<tr>
                  <th scope="row">
                    ${name}
                    ${
                      i === 0
                        ? nothing
                        : html`<button
                            type="button"
                            class="quiet small"
                            aria-label="Take ${name}"
                            @click=${() => take(session, tuning)}
                          >
                            take
                          </button>`
                    }
                  </th>
                  <td class="nums" data-name=${label('seriesCapacitors')}>
                    ${nanofarads(tuning.transmitterNf)}, ${nanofarads(tuning.receiverNf)}
                  </td>
                  <td class="nums" data-name=${label('resonances')}>
                    ${(tuning.transmitterResonanceHz / 1e3).toFixed(1)}, ${(tuning.receiverResonanceHz / 1e3).toFixed(1)} kHz
                  </td>
                  <td class="nums" data-name=${label('currentEnds')}>
                    ${tuning.maxOutputA.toFixed(2)} A (${tuning.worstA.toFixed(2)}–${tuning.bestA.toFixed(2)})
                    ${tuning.demandState === 'regulated' ? nothing : html`<span class="small">${tuning.demandState} at the demand</span>`}
                    ${
                      tuning.idleState === 'regulated'
                        ? nothing
                        : html`<span class="small">${tuning.idleState} when idle</span>`
                    }
                  </td>
                </tr>`,
            )}
          </tbody>
        </table>
      </div>
      <p class="soft">
        Transmitter’s part for both retuned: ${answer.transmitterParts.map(({ series, part }) => `${partText(part)} (${series})`).join(', ')}.
        Look at the map before you solder.
      </p>
      <oc-note>
        Resonant capacitors carry more than the supply: choose their voltage rating and kind (low loss, stable) for the peak
        voltage the design states, by their data sheet.
      </oc-note>`;
  }
}

function retuneSentence({
  now,
  receiver,
  both,
  transmitterTolerancePercent,
  receiverTolerancePercent,
}: RetuneAnswer): string {
  const ends = `with both parts at the worse ends of ± ${transmitterTolerancePercent} and ± ${receiverTolerancePercent} %`;
  if (both.worstA <= now.worstA * 1.01)
    return `The capacitors are as good as any here: ${now.worstA.toFixed(2)} A ${ends}.`;
  const alone = `${nanofarads(receiver.receiverNf)} at the receiver leaves ${receiver.worstA.toFixed(2)} A ${ends}, where now it is ${now.worstA.toFixed(2)} A.`;
  return both.worstA > receiver.worstA * 1.03
    ? `${alone} With ${nanofarads(both.transmitterNf)} at the transmitter and ${nanofarads(both.receiverNf)} at the receiver: ${both.worstA.toFixed(2)} A.`
    : alone;
}

/** Both capacitors in one step, so that one undo takes them back. */
function take({ store }: Session, { transmitterNf, receiverNf }: Tuning): void {
  const round = (value: number): number => Number(value.toPrecision(4));
  const first = withPath(store.document.peek(), ['transmitter', 'drive', 'seriesCapacitanceNf'], round(transmitterNf));
  const document = withPath(first, ['receiver', 'pickup', 'seriesCapacitanceNf'], round(receiverNf));
  store.run(replaceDesign, { document, label: 'Retune' });
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-rivals-retune': RivalsRetune;
  }
}
