import type { ReadonlySignal } from '@preact/signals-core';
import { css, html, nothing, type TemplateResult } from 'lit';
import { customElement } from 'lit/decorators.js';
import type { BoardBounds } from '../analysis/pair/board-bounds.ts';
import { boundsSentence } from '../analysis/pair/board-sentence.ts';
import type { Design } from '../design/types.ts';
import { UNKNOWN_PERCENT } from '../design/unknown-board.ts';
import '../parts/oc-progress.ts';
import { setValue } from '../state/commands/set-value.ts';
import type { Session } from '../state/session.ts';
import { formatBand } from '../units/format.ts';
import { label, type TermId } from './glossary.ts';
import { question } from './question.ts';
import { rivalsStyle } from './rivals-style.ts';
import { StationElement } from './station-element.ts';
import { stationStyle } from './station-style.ts';

interface Question {
  readonly term: TermId;
  readonly path: 'transmitter.drive.unknown' | 'receiver.pickup.unknown';
  readonly what: string;
}

const QUESTIONS: readonly Question[] = [
  { term: 'unknownSupply', path: 'transmitter.drive.unknown', what: 'supply' },
  { term: 'unknownWindow', path: 'transmitter.drive.unknown', what: 'frequency' },
  { term: 'unknownFirst', path: 'transmitter.drive.unknown', what: 'capacitor' },
  { term: 'unknownSecond', path: 'receiver.pickup.unknown', what: 'capacitor' },
  { term: 'unknownControl', path: 'transmitter.drive.unknown', what: 'control' },
];

const listed = (design: Design, { path }: Question): readonly string[] =>
  path === 'transmitter.drive.unknown' ? design.transmitter.drive.unknown : design.receiver.pickup.unknown;

/** Bought boards of which not everything is known: intervals over plausible ones. */
@customElement('oc-rivals-board')
export class RivalsBoard extends StationElement {
  static override readonly styles = [
    stationStyle,
    rivalsStyle,
    css`
      fieldset {
        all: unset;
        display: flex;
        flex-wrap: wrap;
        gap: 4px 26px;
        margin: 10px 0 10px;
      }
      legend {
        all: unset;
        float: left;
        color: var(--soft);
        font-size: var(--size-small, 13px);
        margin-right: 6px;
        line-height: 28px;
      }
      label {
        display: inline-flex;
        gap: 7px;
        align-items: center;
        min-height: 28px;
        cursor: pointer;
      }
      input {
        accent-color: var(--ink);
        width: 17px;
        height: 17px;
        margin: 0;
      }
      input:focus-visible {
        outline: 2px solid var(--ink);
        outline-offset: 2px;
      }
    `,
  ];

  protected watched({ store, pair }: Session): readonly ReadonlySignal<unknown>[] {
    return [store.resolved, pair.bounds, pair.boundsFresh, pair.boundsProgress, pair.boundsFailure];
  }

  protected override render(): TemplateResult {
    const session = this.session;
    if (!session) return html``;
    const { pair, store } = session;
    const { design } = store.resolved.value;
    const some = QUESTIONS.some((question) => listed(design, question).includes(question.what));
    const bounds = pair.bounds.value;
    const progress = pair.boundsProgress.value;
    return question({
      id: 'unknown-board',
      term: 'unknownBoard',
      answers: 'Which current and reach to count on where nobody has told you all of a bought board.',
      body: html`<details class="form" ?open=${some}>
      <summary>${label('sayUnknown')}</summary>
      <fieldset>
        <legend>${label('boardUnknown')}</legend>
        ${QUESTIONS.map(
          (question) =>
            html`<label
              ><input
                type="checkbox"
                .checked=${listed(design, question).includes(question.what)}
                @change=${(event: Event) => tick(session, question, (event.target as HTMLInputElement).checked)}
              />${label(question.term)}</label
            >`,
        )}
      </fieldset>
      <p class="soft">
        What is ticked is kept in the design. Every answer then takes the stated value as a guess: a capacitor within
        ${UNKNOWN_PERCENT.capacitor} %, a supply within ${UNKNOWN_PERCENT.supply} %, the window’s ends within
        ${UNKNOWN_PERCENT.frequency} %. The interval below goes further and tries the boards that the trade makes.
      </p>
      <div class="act">
        <button type="button" class="do" ?disabled=${!some} @click=${() => pair.askBounds()}>Try plausible boards</button>
        <oc-progress
          ?running=${progress !== null}
          .fraction=${progress?.fraction ?? null}
          stage=${progress?.stage ?? ''}
          @stop-requested=${() => pair.stopBounds()}
        ></oc-progress>
      </div>
      ${pair.boundsFailure.value === null ? nothing : html`<p role="alert">${pair.boundsFailure.value}</p>`}
      <div aria-live="polite">
        ${
          bounds && !progress
            ? html`<p class="verdict">
                ${boundsSentence(bounds)}
                ${pair.boundsFresh.value ? nothing : html`<span class="small">Of the design before it was changed.</span>`}
              </p>`
            : nothing
        }
      </div>
      ${bounds && !progress ? tableOf(bounds) : nothing}
    </details>`,
    });
  }
}

/** What is taken for each, and how much it matters; then the boards at the ends. */
function tableOf({ unknowns, alone, maxOutputA, reachMm }: BoardBounds): TemplateResult {
  const ends = [
    ['Least current', maxOutputA.low, `limited by ${maxOutputA.low.because}`],
    ['Most current', maxOutputA.high, `limited by ${maxOutputA.high.because}`],
    ['Least reach', reachMm.low, ''],
    ['Most reach', reachMm.high, ''],
  ] as const;
  return html`<div class="wide" tabindex="0" role="region" aria-label="What is not known">
      <table>
        <thead>
          <tr>
            <th scope="col">${label('boardUnknown')}</th>
            <th scope="col">${label('takenFor')}</th>
            <th scope="col">${label('aloneUnknown')}</th>
          </tr>
        </thead>
        <tbody>
          ${alone.map(
            ({ name, lowA, highA }) =>
              html`<tr>
                <th scope="row">${name}</th>
                <td data-name=${label('takenFor')}>${unknowns.find((entry) => entry.name === name)?.assumption}</td>
                <td class="nums" data-name=${label('aloneUnknown')}>${formatBand(lowA, highA, 'A', { fixedUnit: true })}</td>
              </tr>`,
          )}
        </tbody>
      </table>
    </div>
    <ul class="lines">
      ${ends.map(
        ([words, { board }, because]) =>
          html`<li><b>${words}</b>: ${board}${because === '' ? nothing : `; ${because}`}.</li>`,
      )}
    </ul>
    <p class="soft">
      Taken instead: common practice, no source. Every combination is solved, the current by the exact circuit with the
      bands of everything else at both ends; the reach on a map of few points. Before you rely on it, measure: a supply with a
      meter, a frequency with a coil of wire and an oscilloscope.
    </p>`;
}

function tick({ store }: Session, question: Question, on: boolean): void {
  const { design } = store.resolved.peek();
  const now = listed(design, question).filter((entry) => entry !== question.what);
  const value = on ? [...now, question.what] : now;
  store.run(setValue, { path: question.path, value, what: 'what is not known of a board' });
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-rivals-board': RivalsBoard;
  }
}
