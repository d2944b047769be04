import type { ReadonlySignal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit';
import { customElement, query, state } from 'lit/decorators.js';
import '../charts/two-outlines.ts';
import type { TwoOutlines } from '../charts/two-outlines.ts';
import { type Difference, differences } from '../design/differences.ts';
import { STARTING_POINTS } from '../design/starting-points.ts';
import '../parts/oc-answer.ts';
import { takeOver } from '../state/commands/take-over.ts';
import type { Session } from '../state/session.ts';
import { placeAnswer, plainSpan, spansText } from './answer-line.ts';
import { besideCsv } from './beside-csv.ts';
import { type BesideSide, type BesideTrouble, besideAnswer, besideRows, besideWhy } from './beside-rows.ts';
import { besideStyle } from './beside-style.ts';
import { figure } from './figure.ts';
import { label } from './glossary.ts';
import { mapSpan } from './ranges.ts';
import { StationElement } from './station-element.ts';
import { stationStyle } from './station-style.ts';
import { word } from './word.ts';

/** A number with its band, which stands beneath it where there is no room beside it. */
function withBand(text: string): TemplateResult {
  const [, value, band] = /^(.*?)\s+(\(.*\))$/.exec(text) ?? [];
  return value === undefined ? html`${text}` : html`<span>${value}</span> <span class="band">${band}</span>`;
}

/** No line breaks between a number and its unit. */
const unbroken = (text: string): string => text.replace(/(\d) (?=[^\s\d,]{1,5}\b)/g, '$1\u00a0');

/** So many faults say enough; the rest shows when the design is on the table. */
const FAULTS_TOLD = 4;

/** Two designs: what differs, what each can do, and whether that is more than is known. */
@customElement('oc-beside')
export class BesidePage extends StationElement {
  static override readonly styles = [stationStyle, besideStyle];

  @state() private _reading = '';
  @query('oc-two-outlines') private _outlines!: TwoOutlines | null;

  protected watched({ store, answers, beside }: Session): readonly ReadonlySignal<unknown>[] {
    return [
      store.resolved,
      store.document,
      store.compare,
      store.faults,
      answers.pose,
      answers.poseFresh,
      answers.map,
      answers.mapFresh,
      beside.pose,
      beside.map,
      beside.failure,
      beside.faults,
    ];
  }

  protected override willUpdate(changed: Map<PropertyKey, unknown>): void {
    super.willUpdate(changed);
    const session = this.session;
    if (!session) return;
    const { store, answers, beside } = session;
    const other = beside.resolved.peek();
    const span = Math.max(mapSpan(store.resolved.peek()), other ? mapSpan(other) : 0);
    answers.want({ mapSpanMm: store.compare.peek() ? span : null, sweeps: null });
    beside.want(other ? span : null);
  }

  override disconnectedCallback(): void {
    this.session?.beside.want(null);
    super.disconnectedCallback();
  }

  protected override render(): TemplateResult {
    const session = this.session;
    if (!session) return html``;
    const document = session.store.compare.value;
    return document === null ? this.#nothingBeside(session) : this.#comparison(session);
  }

  #nothingBeside({ store }: Session): TemplateResult {
    return html`<oc-answer
        .stretches=${[plainSpan('Lay a second design beside this one to see what the change is worth.')]}
        why="A copy lets you change one thing and compare; or take one of the starting points."
        settled
      ></oc-answer>
      <p class="copy">
        <button class="do" @click=${() => store.setCompare(store.document.value)}>Lay a copy beside</button>
        <span>Then change this one; the copy stays as it is.</span>
      </p>
      <ul class="choices">
        ${STARTING_POINTS.map(
          (start) =>
            html`<li>
              <button class="quiet" @click=${() => store.setCompare(start.document)}>${start.name}</button>
              <span>${start.description}</span>
            </li>`,
        )}
      </ul>`;
  }

  #comparison(session: Session): TemplateResult {
    const { store, answers, beside } = session;
    const other = store.compare.value;
    const here: BesideSide = {
      pose: answers.poseFresh.value ? answers.pose.value : null,
      map: answers.mapFresh.value ? answers.map.value : null,
    };
    const there: BesideSide = { pose: beside.pose.value, map: beside.map.value };
    const hereName = store.document.value.title || 'Untitled';
    const otherTitle = other?.title || 'Untitled';
    const thereName = otherTitle === hereName ? 'The design beside' : otherTitle;
    const rows = besideRows(here, there);
    const list = differences(store.document.value, other);
    const trouble: BesideTrouble | null =
      beside.faults.value.length > 0 ? 'faulty' : beside.failure.value !== null ? 'failed' : null;
    return html`<oc-answer
        .stretches=${besideAnswer(here, there, thereName, trouble)}
        why=${besideWhy(here, there, trouble, store.faults.value.length > 0)}
      ></oc-answer>
      ${beside.failure.value === null ? nothing : html`<p class="failure" role="alert">${beside.failure.value}</p>`}
      <div class="two">
        <section class="here">
          <h2>${label('onTheTable')}</h2>
          <p class="name">${hereName}</p>
          <p class="says">${this.#says(session, here)}</p>
        </section>
        <section class="there">
          <h2>${label('beside')}</h2>
          <p class="name">${otherTitle}</p>
          ${this.#otherSays(session, there)}
        </section>
      </div>
      <p class="row">
        <button class="quiet" @click=${() => store.swapCompare()}>Change places</button>
        <button
          class="quiet"
          ?disabled=${list.length === 0}
          @click=${() => other && store.take({ document: other, drafts: {} }, 'Take over the design beside')}
        >
          Take it over whole
        </button>
        <button class="quiet" @click=${() => store.setCompare(null)}>Take away</button>
      </p>
      <div class="figs">
        ${figure(session, {
          title: label('bothSafe'),
          hint: 'point at it to read both',
          reading: this._reading || null,
          chart: () => this._outlines,
          csv: here.map && there.map ? () => besideCsv(here.map, there.map) : null,
          body: html`<oc-two-outlines
            .here=${here.map}
            .there=${there.map}
            hereName="on the table"
            thereName="beside"
            .tallest=${400}
            @reading-moved=${(event: CustomEvent<{ text: string } | null>) => {
              this._reading = event.detail?.text ?? '';
            }}
          ></oc-two-outlines>`,
        })}
        <div>
          <table class="numbers">
            <thead>
              <tr>
                <td></td>
                <th scope="col">${label('onTheTable')}</th>
                <th scope="col" class="second">${label('beside')}</th>
                <th scope="col">${label('difference')}</th>
              </tr>
            </thead>
            <tbody>
              ${rows.map(
                (row) =>
                  html`<tr>
                    <th scope="row">${word(row.term, 'large')}</th>
                    <td>${withBand(row.here)}</td>
                    <td>${withBand(row.there)}</td>
                    <td class=${row.verdict}>
                      ${row.difference}${row.verdict === 'within' ? html`<small>within the bands</small>` : nothing}
                    </td>
                  </tr>`,
              )}
            </tbody>
          </table>
        </div>
      </div>
      ${this.#differences(session, list)}`;
  }

  #says({ store, answers }: Session, { map, pose }: BesideSide): string {
    const { design, demand } = store.resolved.value;
    return spansText(placeAnswer({ design, demand, map, pose, quick: answers.quick.value, gapCentred: null }));
  }

  #otherSays({ beside }: Session, { map, pose }: BesideSide): TemplateResult {
    const other = beside.resolved.value;
    if (other) {
      const { design, demand } = other;
      return html`<p class="says">${spansText(placeAnswer({ design, demand, map, pose, quick: null, gapCentred: null }))}</p>`;
    }
    const faults = beside.faults.value;
    return html`<ul class="faults">
      ${faults
        .slice(0, FAULTS_TOLD)
        .map(
          (fault) =>
            html`<li><b>${fault.path}</b> must be ${unbroken(`${fault.required}; received ${fault.received}.`)} ${fault.hint ?? ''}</li>`,
        )}
      ${faults.length > FAULTS_TOLD ? html`<li>and ${faults.length - FAULTS_TOLD} more</li>` : nothing}
    </ul>`;
  }

  #differences({ store }: Session, list: readonly Difference[]): TemplateResult {
    const from = store.compare.value;
    if (list.length === 0) {
      return html`<section class="what">
        <h2>${label('whatDiffers')}</h2>
        <p>Nothing yet: change the design on the table, and what you change is listed here.</p>
      </section>`;
    }
    return html`<section class="what">
      <h2>${label('whatDiffers')}</h2>
      <table>
        <thead>
          <tr>
            <td></td>
            <th scope="col">${label('onTheTable')}</th>
            <th scope="col" class="second">${label('beside')}</th>
            <td></td>
          </tr>
        </thead>
        <tbody>
          ${list.map(
            ({ path, words, here, there }) =>
              html`<tr>
                <th scope="row">${words}</th>
                <td data-of=${label('onTheTable')}>${unbroken(here)}</td>
                <td data-of=${label('beside')}>${unbroken(there)}</td>
                <td class="take">
                  <button
                    class="quiet"
                    aria-label=${`Take over ${words}: ${there}`}
                    @click=${() => from && store.run(takeOver, { path, from, words })}
                  >
                    take over
                  </button>
                </td>
              </tr>`,
          )}
        </tbody>
      </table>
    </section>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-beside': BesidePage;
  }
}
