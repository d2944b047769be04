import { html, LitElement, nothing, type TemplateResult } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { ReadingResult, Residual } from '../analysis/prove/fit-report.ts';
import { readingFacts } from '../analysis/prove/reading-checks.ts';
import { type ColumnKey, parseCell, READING_COLUMNS } from '../analysis/prove/readings-columns.ts';
import type { Design, ReadingDocument } from '../design/types.ts';
import { label, type TermId } from './glossary.ts';
import { proveReadingsStyle } from './prove-readings-style.ts';

export interface ReadingEditedDetail {
  readonly index: number;
  readonly key: ColumnKey;
  readonly value: number | boolean | null;
}

/** What was typed into a cell and could not be taken. */
export interface ReadingRefusedDetail {
  readonly index: number;
  readonly key: ColumnKey;
  /** Of the column, in words. */
  readonly name: string;
  readonly text: string;
  readonly required: string;
}

const HEADS: Readonly<Record<ColumnKey, TermId>> = Object.freeze({
  supplyV: 'readSupplyV',
  supplyA: 'readSupplyA',
  outputV: 'readOutputV',
  outputA: 'readOutputA',
  gapMm: 'readGap',
  offsetXMm: 'readX',
  offsetYMm: 'readY',
  frequencyKhz: 'readFrequency',
  rectifiedV: 'readRectified',
  receiverC: 'readReceiverC',
  transmitterC: 'readTransmitterC',
  regulated: 'readRegulated',
});

const SHORT: Readonly<Record<Residual['quantity'], string>> = Object.freeze({
  supplyA: 'supply A',
  frequencyHz: 'freq.',
  rectifiedV: 'rect. V',
  outputV: 'output V',
  receiverC: 'rec. °C',
  transmitterC: 'trans. °C',
});

/** Where a cell stands in the document. */
export function readingPath(index: number, key: ColumnKey): string {
  return `readings[${index}].${key}`;
}

/** Beyond so many standard deviations a row is marked. */
const FAR = 2.5;

/** How far a row is off; a row that the others do not foretell says so in its own line, so that no row moves when a fit comes. */
function offBy(result: ReadingResult | undefined, flags: readonly string[]): TemplateResult | string {
  if (result === undefined) return '';
  const told = result.flags.filter((flag) => !flags.includes(flag));
  const off = distanceOf(result);
  return told.length === 0 ? off : html`${off} <b class="bad" title=${told.join('; ')}>stands out</b>`;
}

function distanceOf(result: ReadingResult): TemplateResult | string {
  if (!result.regulated) {
    const { limitDistance } = result;
    if (limitDistance === null) return '';
    return limitDistance < -1
      ? html`<b class="bad">limit ${limitDistance.toFixed(1).replace('-', '\u2212')}</b>`
      : 'agrees';
  }
  if (result.residuals.length === 0) return '';
  const worst = result.residuals.reduce((a, b) => (Math.abs(b.distance) > Math.abs(a.distance) ? b : a));
  const text = `${worst.distance > 0 ? '+' : ''}${worst.distance.toFixed(1).replace('-', '\u2212')}`;
  const words = SHORT[worst.quantity];
  return Math.abs(worst.distance) > FAR
    ? html`<b class="bad">${text} ${words}</b>`
    : html`${text} <span>${words}</span>`;
}

/**
 * The readings as a table that is edited in place. Rows pasted into any cell are handed on whole.
 *
 * @fires reading-edited - {@link ReadingEditedDetail}
 * @fires reading-refused - {@link ReadingRefusedDetail}
 * @fires reading-removed - its index
 * @fires readings-pasted - the text
 */
@customElement('oc-prove-readings')
export class ProveReadings extends LitElement {
  static override readonly styles = proveReadingsStyle;

  @property({ attribute: false }) readings: readonly ReadingDocument[] = [];
  @property({ attribute: false }) results: readonly ReadingResult[] = [];
  @property({ attribute: false }) meters: Design['meters'] | null = null;
  /** Row that another figure points at; -1: none. */
  @property({ type: Number }) marked = -1;
  /** What was typed and could not be taken, by the path of the cell: `readings[1].gapMm`. */
  @property({ attribute: false }) refused: Readonly<
    Record<string, { readonly text: string; readonly required: string }>
  > = {};

  protected override render(): TemplateResult {
    return html`<div class="scroll" tabindex="0" role="region" aria-label=${label('benchReadings')} @paste=${this.#onPaste}>
      <table>
        <thead>
          <tr>
            <th scope="col">${label('readingNumber')}</th>
            ${READING_COLUMNS.map(({ key }) => html`<th scope="col">${label(HEADS[key])}</th>`)}
            <th scope="col">${label('readEfficiency')}</th>
            <th scope="col" class="off">${label('readOffBy')}</th>
            <td></td>
          </tr>
        </thead>
        <tbody>
          ${this.readings.map((reading, index) => this.#row(reading, index))}
        </tbody>
      </table>
    </div>`;
  }

  #row(reading: ReadingDocument, index: number): TemplateResult {
    const result = this.results[index];
    const facts = this.meters === null ? null : readingFacts(this.meters, reading);
    const flags = facts?.flags ?? [];
    const wrong = READING_COLUMNS.flatMap(({ key, name }) => {
      const cell = this.refused[readingPath(index, key)];
      return cell === undefined ? [] : [`${name}: must be ${cell.required}; received "${cell.text}"`];
    });
    const said = [...wrong, ...flags];
    return html`<tr class=${this.marked === index ? 'read' : ''}>
        <th scope="row">${index + 1}</th>
        ${READING_COLUMNS.map((column) => html`<td>${this.#cell(reading, index, column.key, column.name)}</td>`)}
        <td>${facts?.efficiency == null ? '' : `${(100 * facts.efficiency).toFixed(1)}\u00a0%`}</td>
        <td class="off">${offBy(result, flags)}</td>
        <td>
          <button
            type="button"
            aria-label=${`remove reading ${index + 1}`}
            @click=${() => this.#send('reading-removed', index)}
          >
            ×
          </button>
        </td>
      </tr>
      ${said.length === 0 ? nothing : html`<tr class="said"><td></td><td colspan="15">${said.join('; ')}</td></tr>`}`;
  }

  #cell(reading: ReadingDocument, index: number, key: ColumnKey, name: string): TemplateResult {
    const words = `${name}, reading ${index + 1}`;
    const value = reading[key];
    if (typeof value === 'boolean') {
      return html`<input
        type="checkbox"
        aria-label=${words}
        .checked=${value}
        @change=${(event: Event) => {
          const { checked } = event.target as HTMLInputElement;
          this.#send<ReadingEditedDetail>('reading-edited', { index, key, value: checked });
        }}
      />`;
    }
    const wrong = this.refused[readingPath(index, key)];
    return html`<input
      type="text"
      inputmode="decimal"
      autocomplete="off"
      aria-label=${words}
      aria-invalid=${wrong === undefined ? 'false' : 'true'}
      .value=${wrong?.text ?? (value === null ? '' : String(value))}
      @change=${(event: Event) => this.#take(index, key, name, event.target as HTMLInputElement)}
    />`;
  }

  #take(index: number, key: ColumnKey, name: string, field: HTMLInputElement): void {
    const taken = parseCell(key, field.value);
    if (!taken.ok) {
      const { value: text } = field;
      this.#send<ReadingRefusedDetail>('reading-refused', { index, key, name, text, required: taken.required });
      return;
    }
    // The same number in other words changes nothing that would be drawn anew.
    field.value = taken.value === null ? '' : String(taken.value);
    this.#send<ReadingEditedDetail>('reading-edited', { index, key, value: taken.value });
  }

  readonly #onPaste = (event: ClipboardEvent): void => {
    const text = event.clipboardData?.getData('text') ?? '';
    // A single cell is the browser's own affair.
    if (!/[\t\n;]/.test(text.trim())) return;
    event.preventDefault();
    this.#send('readings-pasted', text);
  };

  #send<T>(name: string, detail: T): void {
    this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'oc-prove-readings': ProveReadings;
  }
}
