import { html, type TemplateResult } from 'lit';
import type { ValueCommittedDetail } from '../parts/number-entry.ts';
import '../parts/oc-choice.ts';
import type { ChoiceMadeDetail } from '../parts/oc-choice.ts';
import '../parts/oc-unit-field.ts';
import type { Session } from '../state/session.ts';
import { label } from './glossary.ts';

/** How the picture is traced. */
export function traceChoices(
  { trace }: Session,
  magnification: number,
  magnify: (value: number) => void,
): TemplateResult {
  return html`<oc-choice
      label=${label('traceShape')}
      .options=${[{ value: 'whole', label: label('traceWhole') }, { value: 'half', label: label('traceHalf') }]}
      .value=${trace.half.value ? 'half' : 'whole'}
      @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) => {
        trace.half.value = event.detail.value === 'half';
      }}
    ></oc-choice>
    <oc-choice
      label=${label('traceAlong')}
      .options=${[
        { value: 'picture', label: label('traceByPicture') },
        { value: 'scale', label: label('traceByScale') },
      ]}
      .value=${trace.along.value}
      @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) => {
        trace.along.value = event.detail.value as 'picture' | 'scale';
      }}
    ></oc-choice>
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
  return html`<oc-unit-field
      label=${label('traceLength')}
      unit="mm"
      .value=${trace.scaleMm.value}
      .min=${0.1}
      .max=${1000}
      @value-committed=${(event: CustomEvent<ValueCommittedDetail>) => {
        trace.scaleMm.value = event.detail.value;
      }}
    ></oc-unit-field>
    <oc-unit-field
      label=${label('traceError')}
      unit="mm"
      .value=${trace.scaleErrorMm.value}
      .min=${0}
      .max=${100}
      @value-committed=${(event: CustomEvent<ValueCommittedDetail>) => {
        trace.scaleErrorMm.value = event.detail.value;
      }}
    ></oc-unit-field>
    <oc-unit-field
      label=${label('pitch')}
      unit="mm"
      .value=${pitchMm}
      .min=${0.01}
      .max=${100}
      hint="from the coil there is, with its turns and conductor"
      @value-committed=${(event: CustomEvent<ValueCommittedDetail>) => {
        trace.pitchMm.value = event.detail.value;
      }}
    ></oc-unit-field>`;
}
