import type { ReadonlySignal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit';
import { customElement, state } from 'lit/decorators.js';
import {
  type CoilReading,
  fromInductanceMeter,
  fromResonance,
  fromRingDown,
  withReading,
} from '../analysis/pair/unknown-coil.ts';
import { documentAsGiven } from '../design/resolve.ts';
import { InputError } from '../numerics/errors.ts';
import type { ValueCommittedDetail } from '../parts/number-entry.ts';
import '../parts/oc-choice.ts';
import type { ChoiceMadeDetail } from '../parts/oc-choice.ts';
import '../parts/oc-unit-field.ts';
import { replaceDesign } from '../state/commands/replace-design.ts';
import type { Session } from '../state/session.ts';
import { formatQuantity } from '../units/format.ts';
import type { UnitName } from '../units/unit-table.ts';
import { label, type TermId } from './glossary.ts';
import { question } from './question.ts';
import { rivalsStyle } from './rivals-style.ts';
import { StationElement } from './station-element.ts';
import { stationStyle } from './station-style.ts';

type Way = 'meter' | 'resonance' | 'ringDown' | 'ruler' | 'picture';
type Instrument = Exclude<Way, 'picture'>;

/** What was read; units as in the fields. */
interface Readings {
  readonly inductanceUh: number;
  readonly meterPercent: number;
  readonly frequencyKhz: number;
  readonly capacitanceNf: number;
  readonly capacitancePercent: number;
  readonly periods: number;
  readonly durationMs: number;
  readonly ratio: number;
  readonly rulerMm: number;
  readonly rulerTurns: number;
}

const START: Readings = {
  inductanceUh: 10,
  meterPercent: 2,
  frequencyKhz: 100,
  capacitanceNf: 100,
  capacitancePercent: 5,
  periods: 5,
  durationMs: 0.05,
  ratio: 2,
  rulerMm: 0.5,
  rulerTurns: 0,
};

/** Error of a frequency or of a time read off an instrument, %: common practice, no source. */
const TIME_PERCENT = 0.5;

/** A coil of which little is known: what a ruler, a meter, a resonance or a ring-down says of it. */
@customElement('oc-rivals-coil')
export class RivalsCoil extends StationElement {
  static override readonly styles = [stationStyle, rivalsStyle];

  @state() private _side: 'transmitter' | 'receiver' = 'receiver';
  @state() private _way: Way = 'meter';
  @state() private _read: Readings = START;

  protected watched({ store, pair }: Session): readonly ReadonlySignal<unknown>[] {
    return [store.resolved, pair.coilSizes, pair.coilSizesFailure];
  }

  protected override render(): TemplateResult {
    const session = this.session;
    if (!session) return html``;
    return question({
      id: 'unknown-coil',
      term: 'unknownCoil',
      answers: 'What a ruler, a meter, a known capacitor or a photograph says of a coil, and how sure that is.',
      body: html`<details class="form">
      <summary>${label('readCoil')}</summary>
      <div class="choices">
        <oc-choice
          label=${label('whichCoil')}
          .options=${[
            { value: 'receiver', label: label('receiver') },
            { value: 'transmitter', label: label('transmitter') },
          ]}
          .value=${this._side}
          @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) => {
            this._side = event.detail.value as 'transmitter' | 'receiver';
          }}
        ></oc-choice>
        <oc-choice
          label=${label('readWith')}
          .options=${[
            { value: 'meter', label: label('byMeter') },
            { value: 'resonance', label: label('byResonance') },
            { value: 'ringDown', label: label('byRingDown') },
            { value: 'ruler', label: label('byRuler') },
            { value: 'picture', label: label('byPicture') },
          ]}
          .value=${this._way}
          @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) => {
            this._way = event.detail.value as Way;
            // The board comes when somebody wants it.
            if (this._way === 'picture') void import('./oc-rivals-trace.ts');
          }}
        ></oc-choice>
      </div>
      ${
        this._way === 'picture'
          ? html`<oc-rivals-trace .session=${session} .side=${this._side}></oc-rivals-trace>`
          : this.#instrument(session, this._way)
      }
    </details>`,
    });
  }

  #instrument(session: Session, way: Instrument): TemplateResult {
    const result = this.#reading(session, way);
    return html`<div class="fields">${this.#fields(way)}</div>
      <div aria-live="polite">${typeof result === 'string' ? html`<p>${result}</p>` : this.#said(session, result)}</div>`;
  }

  #fields(way: Instrument): TemplateResult[] {
    const field = (term: TermId, unit: UnitName, key: keyof Readings): TemplateResult => html`<oc-unit-field
      label=${label(term)}
      unit=${unit}
      .value=${this._read[key]}
      .min=${0}
      @value-committed=${(event: CustomEvent<ValueCommittedDetail>) => {
        this._read = { ...this._read, [key]: event.detail.value };
      }}
    ></oc-unit-field>`;
    const capacitor = [
      field('knownCapacitor', 'nF', 'capacitanceNf'),
      field('capacitorError', '%', 'capacitancePercent'),
    ];
    switch (way) {
      case 'meter':
        return [field('meterReading', 'uH', 'inductanceUh'), field('meterError', '%', 'meterPercent')];
      case 'resonance':
        return [field('resonanceAt', 'kHz', 'frequencyKhz'), ...capacitor];
      case 'ringDown':
        return [
          field('swings', '1', 'periods'),
          field('swingTime', 'ms', 'durationMs'),
          field('swingRatio', '1', 'ratio'),
          ...capacitor,
        ];
      case 'ruler':
        return [field('rulerError', 'mm', 'rulerMm'), field('turnsError', 'turns', 'rulerTurns')];
    }
  }

  #reading(session: Session, way: Instrument): CoilReading | string {
    const { _read: read } = this;
    if (way === 'ruler') {
      const { coil } = session.store.resolved.value.design[this._side];
      const key = session.pair.askCoilSizes({ kind: 'ruler', coil, readingMm: read.rulerMm, turns: read.rulerTurns });
      const answer = session.pair.coilSizes.value;
      return answer?.key === key ? answer.value : (session.pair.coilSizesFailure.value ?? 'Being worked out …');
    }
    try {
      switch (way) {
        case 'meter':
          return fromInductanceMeter(read.inductanceUh * 1e-6, read.meterPercent);
        case 'resonance':
          return fromResonance({
            frequencyHz: read.frequencyKhz * 1e3,
            capacitanceF: read.capacitanceNf * 1e-9,
            frequencyPercent: TIME_PERCENT,
            capacitancePercent: read.capacitancePercent,
            bandwidthHz: null,
          });
        case 'ringDown':
          return fromRingDown({
            capacitanceF: read.capacitanceNf * 1e-9,
            capacitancePercent: read.capacitancePercent,
            periods: read.periods,
            durationS: read.durationMs * 1e-3,
            durationPercent: TIME_PERCENT,
            ratio: read.ratio,
          });
      }
    } catch (error) {
      if (error instanceof InputError) return error.message;
      throw error;
    }
  }

  #said(session: Session, reading: CoilReading): TemplateResult {
    const error = (reading.inductanceH * reading.inductanceTolerancePercent) / 100;
    const resistance =
      reading.resistanceOhm === null
        ? ''
        : `, ${formatQuantity(reading.resistanceOhm, 'ohm')}, Q ${reading.quality?.toFixed(0) ?? ''}`;
    return html`<p class="verdict">L = ${formatQuantity(reading.inductanceH, 'H', { error })}${resistance}.</p>
      <p class="soft">${reading.leaves}</p>
      ${
        this._way === 'ruler'
          ? nothing
          : html`<button type="button" class="do" @click=${() => this.#take(session, reading)}>Put it into the design</button>`
      }`;
  }

  #take({ store }: Session, reading: CoilReading): void {
    const design = withReading(store.resolved.peek().design, this._side, reading);
    store.run(replaceDesign, { document: documentAsGiven(design), label: 'Put a reading into the design' });
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-rivals-coil': RivalsCoil;
  }
}
