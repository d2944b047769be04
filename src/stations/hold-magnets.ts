import { html, type TemplateResult } from 'lit';
import '../charts/magnet-section.ts';
import type { MagnetResizedDetail } from '../charts/magnet-section.ts';
import type { Design, MagnetsDocument } from '../design/types.ts';
import '../parts/oc-choice.ts';
import type { ChoiceMadeDetail } from '../parts/oc-choice.ts';
import '../parts/oc-note.ts';
import { arrangeMagnets } from '../state/commands/arrange-magnets.ts';
import { setValue } from '../state/commands/set-value.ts';
import type { Session } from '../state/session.ts';
import { label } from './glossary.ts';
import { sectionFields } from './hold-fields.ts';

/** Direction of the forces shown, number of pairs, what they face. */
export function magnetChoices(
  { store }: Session,
  magnets: MagnetsDocument,
  axis: 'x' | 'y',
  onAxis: (axis: 'x' | 'y') => void,
): TemplateResult {
  return html`<div class="beneath">
    <oc-choice
      label=${label('forceDirection')}
      .options=${[{ value: 'x', label: label('alongX') }, { value: 'y', label: label('alongY') }]}
      .value=${axis}
      @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) => onAxis(event.detail.value as 'x' | 'y')}
    ></oc-choice>
    <oc-choice
      label=${label('magnetCount')}
      .options=${['1', '2', '3', '4'].map((value) => ({ value, label: value }))}
      .value=${String(magnets.positionsMm.length)}
      @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) =>
        store.run(arrangeMagnets, { pairs: Number(event.detail.value) })}
    ></oc-choice>
    <oc-choice
      label=${label('facing')}
      .options=${[{ value: 'magnet', label: label('facingMagnet') }, { value: 'steel', label: label('facingSteel') }]}
      .value=${magnets.facing}
      @choice-made=${(event: CustomEvent<ChoiceMadeDetail>) =>
        store.run(setValue, {
          path: 'holding.magnets.facing',
          value: event.detail.value,
          what: 'what the magnets face',
        })}
    ></oc-choice>
  </div>`;
}

/** One pair from the side, its numbers on it. */
export function magnetSection(session: Session, design: Design, magnets: MagnetsDocument): TemplateResult {
  return html`<oc-magnet-section
    .pair=${magnets}
    @magnet-resized=${(event: CustomEvent<MagnetResizedDetail>) => {
      const { what, value, phase } = event.detail;
      const name = label(what === 'gapMm' ? 'magnetGap' : 'magnetThickness').toLowerCase();
      session.store.run(setValue, { path: `holding.magnets.${what}`, value, what: name }, phase);
    }}
  >
    ${sectionFields(session, design)}
  </oc-magnet-section>`;
}

/** What strong magnets can do, beside their forces. */
export function magnetCautions({ store, hold }: Session): TemplateResult {
  const magnets = store.resolved.value.design.holding.magnets ? hold.report.value?.magnets : null;
  if (!magnets) return html``;
  return html`<oc-note class="cautions">${magnets.cautions.map((caution) => html`<span>${caution}</span> `)}</oc-note>`;
}
