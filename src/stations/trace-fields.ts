import type { Signal } from '@preact/signals-core';
import { html, nothing, type TemplateResult } from 'lit';
import type { ValueCommittedDetail } from '../parts/number-entry.ts';
import '../parts/oc-choice.ts';
import type { ChoiceMadeDetail } from '../parts/oc-choice.ts';
import '../parts/oc-unit-field.ts';
import type { Session } from '../state/session.ts';
import { label, type TermId } from './labels.ts';

/** How the picture is traced. */
export function traceChoices(
  { trace }: Session,
  magnification: number,
  magnify: (value: number) => void,
): TemplateResult {
  const rectangle = trace.known.value === 'rectangle';
  return html`<oc-choice
      label=${label('traceKnown')}
      .options=${[
        { value: 'length', label: label('traceByLength') },
        { value: 'rectangle', label: label('traceByRectangle') },
      ]}
      .value=${trace.known.value}
      @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) => {
        trace.known.value = event.detail.value as 'length' | 'rectangle';
      }}
    ></oc-choice>
    <oc-choice
      label=${label('traceShape')}
      .options=${[{ value: 'whole', label: label('traceWhole') }, { value: 'half', label: label('traceHalf') }]}
      .value=${trace.half.value ? 'half' : 'whole'}
      @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) => {
        trace.half.value = event.detail.value === 'half';
      }}
    ></oc-choice>
    ${
      rectangle
        ? nothing
        : html`<oc-choice
      label=${label('traceAlong')}
      .options=${[
        { value: 'picture', label: label('traceByPicture') },
        { value: 'scale', label: label('traceByScale') },
      ]}
      .value=${trace.along.value}
      @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) => {
        trace.along.value = event.detail.value as 'picture' | 'scale';
      }}
    ></oc-choice>`
    }
    <oc-choice
      label=${label('traceZoom')}
      .options=${['1', '2', '4'].map((value) => ({ value, label: `${value} ×` }))}
      .value=${String(magnification)}
      @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) => {
        magnify(Number(event.detail.value));
      }}
    ></oc-choice>`;
}

/** What is stated beside the picture. */
export function traceFields({ trace }: Session, pitchMm: number): TemplateResult {
  const field = (term: TermId, value: number, least: number, most: number, set: (value: number) => void, hint = '') =>
    html`<oc-unit-field
      label=${label(term)}
      unit="mm"
      .value=${value}
      .min=${least}
      .max=${most}
      hint=${hint}
      @value-committed=${(event: CustomEvent<ValueCommittedDetail>) => set(event.detail.value)}
    ></oc-unit-field>`;
  const length = (term: TermId, of: Signal<number>, hint = '') =>
    field(
      term,
      of.value,
      0.1,
      1000,
      (value) => {
        of.value = value;
      },
      hint,
    );
  return html`${
    trace.known.value === 'rectangle'
      ? html`${length('traceRectangleWidth', trace.widthMm, 'a bank card: 85.6 × 53.98 mm (ISO/IEC 7810)')}
          ${length('traceRectangleHeight', trace.heightMm)}`
      : length('traceLength', trace.scaleMm)
  }
  ${field('traceError', trace.scaleErrorMm.value, 0, 100, (value) => {
    trace.scaleErrorMm.value = value;
  })}
  ${field(
    'pitch',
    pitchMm,
    0.01,
    100,
    (value) => {
      trace.pitchMm.value = value;
    },
    'from the coil there is, with its turns and conductor',
  )}`;
}
