import { html, nothing, type TemplateResult } from 'lit';
import { conductorWidth } from '../physics/coil/conductor-size.ts';
import { ringsWarning } from '../physics/coil/rings-warning.ts';
import type { Winding } from '../physics/coil/types.ts';
import { label } from './labels.ts';

/** Pitch along the sides and how tightly the turns lie, which is what limits a shape. Empty for a single turn. */
export function windingFacts(winding: Winding): TemplateResult | typeof nothing {
  const pitches = [winding.pitchX, winding.pitchY].filter((pitch) => pitch > 0);
  if (pitches.length === 0) return nothing;
  const mm = (metres: number): string => (1000 * metres).toFixed(2);
  const [least, most] = [Math.min(...pitches), Math.max(...pitches)];
  const text = mm(least) === mm(most) ? mm(least) : `${mm(least)}–${mm(most)}`;
  const fill = (100 * conductorWidth(winding.spec.conductor)) / least;
  const warning = ringsWarning(winding);
  return html`<p class="facts">
      ${label('pitch').toLowerCase()} ${text}\u00a0mm, ${label('fill').toLowerCase()} ${Math.round(fill)}\u00a0%
    </p>
    ${warning === null ? nothing : html`<p class="facts warning">${warning}</p>`}`;
}
