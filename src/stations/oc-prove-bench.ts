import type { ReadonlySignal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { parseReadings, type RowFault, readingsCsv, rowFaultLine } from '../analysis/prove/readings-table.ts';
import type { DesignDocument } from '../design/schema.ts';
import { safeText } from '../numerics/errors.ts';
import { setValue } from '../state/commands/set-value.ts';
import type { Drafts } from '../state/drafts.ts';
import type { Session } from '../state/session.ts';
import { pathField } from './feed-fields.ts';
import { figure } from './figure.ts';
import { label } from './glossary.ts';
import { proveBenchStyle } from './prove-bench-style.ts';
import './prove-readings.ts';
import { type ReadingEditedDetail, type ReadingRefusedDetail, readingPath } from './prove-readings.ts';
import { StationElement } from './station-element.ts';
import { stationStyle } from './station-style.ts';

type Readings = NonNullable<DesignDocument['readings']>;

/** Accuracies of the meters: key, what it is of, caption, unit, largest. */
const METERS = [
  ['voltagePercent', 'volts', 'volts ±', '%', 100],
  ['voltageCountsMv', 'volts, digits', '±', 'mV', 10000],
  ['currentPercent', 'amps', 'amps ±', '%', 100],
  ['currentCountsMa', 'amps, digits', '±', 'mA', 10000],
] as const;

/** What was read at the bench: the table edited in place, the meters' accuracy, paste and import. */
@customElement('oc-prove-bench')
export class ProveBench extends StationElement {
  static override readonly styles = [stationStyle, proveBenchStyle];

  /** Row that a figure points at; -1: none. */
  @property({ type: Number }) marked = -1;
  @state() private _faults: readonly RowFault[] = [];
  /** The readings that stood when those were found: of others they are not said. */
  #foundBeside: Readings | undefined;
  @query('textarea') private _text!: HTMLTextAreaElement | null;

  protected watched({ store, fit }: Session): readonly ReadonlySignal<unknown>[] {
    return [store.resolved, store.snapshot, store.faults, fit.report, fit.fresh, fit.robust];
  }

  protected override render(): TemplateResult {
    const session = this.session;
    if (!session) return html``;
    const { store, fit } = session;
    const { design } = store.resolved.value;
    const report = fit.report.value;
    const wrong = store.document.value.readings === this.#foundBeside ? this._faults : [];
    return html`${figure(session, {
      title: label('benchReadings'),
      hint: 'type over any number; paste rows of a spreadsheet into a cell',
      chart: () => null,
      csv: design.readings.length > 0 ? () => readingsCsv(design.readings) : null,
      body: html`<oc-prove-readings
          .readings=${design.readings}
          .results=${fit.fresh.value ? (report?.readings ?? []) : []}
          .meters=${design.meters}
          .refused=${refusedCells(store.snapshot.value.drafts)}
          marked=${this.marked}
          @reading-edited=${(event: CustomEvent<ReadingEditedDetail>) => this.#edit(session, event.detail)}
          @reading-refused=${(event: CustomEvent<ReadingRefusedDetail>) => this.#refuse(session, event.detail)}
          @reading-removed=${(event: CustomEvent<number>) => this.#remove(session, event.detail)}
          @readings-pasted=${(event: CustomEvent<string>) => this.#take(session, event.detail, true)}
        ></oc-prove-readings>`,
    })}
      <p class="tools">
        <button type="button" class="quiet" @click=${() => this.#add(session)}>Add a reading</button>
        <label>
          <input
            type="checkbox"
            .checked=${fit.robust.value}
            @change=${(event: Event) => fit.setRobust((event.target as HTMLInputElement).checked)}
          />
          ${label('outliersCountLess')}
        </label>
      </p>
      <p class="meters">
        <span>${label('meterAccuracy')}:</span>
        ${METERS.map(([key, of, caption, unit, max]) =>
          pathField(session, {
            term: 'meterAccuracy',
            of,
            what: 'the accuracy of the meters',
            caption,
            path: `meters.${key}`,
            unit,
            value: design.meters[key],
            min: 0,
            max,
          }),
        )}
      </p>
      <details class="paste">
        <summary>${label('pasteReadings')}</summary>
        <textarea
          aria-label="rows of a spreadsheet"
          placeholder="supply V, supply A, output V, output A, gap mm, x mm, y mm, frequency kHz, rectified V, receiver °C, transmitter °C, holds"
        ></textarea>
        <p class="tools">
          <button type="button" class="quiet" @click=${() => this.#take(session, this._text?.value ?? '', true)}>Add these rows</button>
          <button type="button" class="quiet" @click=${() => this.#take(session, this._text?.value ?? '', false)}>Replace all readings</button>
          <label class="quiet">
            <input type="file" accept=".csv,.tsv,.txt,text/csv" @change=${(event: Event) => void this.#import(session, event)} />
            <span>Import a CSV file</span>
          </label>
        </p>
      </details>
      ${
        wrong.length === 0
          ? nothing
          : html`<ul class="bad" role="alert">
              ${wrong.slice(0, 8).map((fault) => html`<li>${rowFaultLine(fault)}</li>`)}
              ${wrong.length > 8 ? html`<li>and ${wrong.length - 8} more</li>` : nothing}
            </ul>`
      }`;
  }

  #put(session: Session, readings: Readings, what: string): void {
    session.store.run(setValue, { path: 'readings', value: readings, what });
  }

  #list(session: Session): Readings {
    return [...(session.store.document.value.readings ?? [])];
  }

  #edit(session: Session, { index, key, value }: ReadingEditedDetail): void {
    const list = this.#list(session);
    list[index] = { ...list[index], [key]: value };
    const what = `reading ${index + 1}`;
    session.store.mend(readingPath(index, key), what, () => this.#put(session, list, what));
  }

  #refuse({ store }: Session, { index, key, name, text, required }: ReadingRefusedDetail): void {
    const path = readingPath(index, key);
    const fault = { code: 'wrong-value', path, required, received: `"${safeText(text, 40)}"` };
    store.setDraft(path, { text, fault }, `${name}, reading ${index + 1}`);
  }

  #remove(session: Session, index: number): void {
    this.#put(
      session,
      this.#list(session).filter((_, i) => i !== index),
      `reading ${index + 1}`,
    );
  }

  /** A new row begins where the last one stood: place and supply rarely change from one reading to the next. */
  #add(session: Session): void {
    const list = this.#list(session);
    const last = list[list.length - 1];
    const { design } = session.store.resolved.value;
    const row = last
      ? { supplyV: last.supplyV, gapMm: last.gapMm, offsetXMm: last.offsetXMm, offsetYMm: last.offsetYMm }
      : { supplyV: design.transmitter.drive.supplyV, gapMm: design.placement.gapMm, offsetXMm: 0, offsetYMm: 0 };
    this.#put(session, [...list, { ...row, supplyA: null, outputV: null, outputA: null }] as Readings, 'a new reading');
  }

  #take(session: Session, text: string, beside: boolean): void {
    const { readings, faults } = parseReadings(text);
    this._faults = faults;
    if (readings.length > 0) {
      const list = beside ? this.#list(session) : [];
      this.#put(session, [...list, ...readings] as Readings, `${readings.length} pasted readings`);
    }
    this.#foundBeside = session.store.document.value.readings;
  }

  async #import(session: Session, event: Event): Promise<void> {
    const input = event.target as HTMLInputElement;
    const file = input.files?.[0];
    if (file) this.#take(session, await file.text(), true);
    input.value = '';
  }
}

/** The refused texts as the table shows them. */
function refusedCells(drafts: Drafts): Record<string, { text: string; required: string }> {
  return Object.fromEntries(
    Object.entries(drafts)
      .filter(([path]) => path.startsWith('readings['))
      .map(([path, { text, fault }]) => [path, { text, required: fault?.required ?? '' }]),
  );
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-prove-bench': ProveBench;
  }
}
