import { html, nothing, type TemplateResult } from 'lit';
import type { TracedLength, TracedOutline } from '../analysis/pair/trace-outline.ts';
import type { CoilReading } from '../analysis/pair/unknown-coil.ts';
import type { Design } from '../design/types.ts';
import type { Session } from '../state/session.ts';
import { formatQuantity } from '../units/format.ts';
import { label } from './glossary.ts';

/** What the marks on the picture give. */
export interface TraceState {
  readonly traced: TracedOutline | null;
  /** Why not; empty where all is well. */
  readonly fault: string;
  readonly design: Design | null;
  /** Of the question about its inductance. */
  readonly key: string;
}

/** Puts the traced outline into the design. */
export type TakeTrace = (design: Design, reading: CoilReading) => void;

/** What the trace says: sizes, inductance, what is wrong; and the way into the design. */
export function traceResult(
  session: Session,
  side: 'transmitter' | 'receiver',
  state: TraceState | null,
  take: TakeTrace,
): TemplateResult {
  const { points } = session.trace.marks.value;
  if (state === null)
    return html`<p>${points.length === 0 ? 'No point yet.' : `${points.length} of at least 3 points.`}</p>`;
  const { traced, fault, design, key } = state;
  const answer = session.pair.coilSizes.value;
  const reading = answer?.key === key && key !== '' ? answer.value : null;
  const size = ({ valueMm, halfMm }: TracedLength): string =>
    formatQuantity(valueMm / 1e3, 'm', { error: halfMm / 1e3 });
  const sure = reading ? (reading.inductanceH * reading.inductanceTolerancePercent) / 100 : 0;
  return html`${
    traced
      ? html`<dl>
          <div><dt>${label('traceWidth')}</dt><dd>${size(traced.width)}</dd></div>
          <div><dt>${label('traceHeight')}</dt><dd>${size(traced.height)}</dd></div>
          ${
            design
              ? html`<div>
                  <dt>${label('traceInductance')}</dt>
                  <dd>${reading ? formatQuantity(reading.inductanceH, 'H', { error: sure }) : '…'}</dd>
                </div>`
              : nothing
          }
        </dl>`
      : nothing
  }
  ${fault === '' ? nothing : html`<p class="wrong">${fault}</p>`}
  ${traced && design ? taken(session, side, design, traced.missingArea, reading, take) : nothing}`;
}

function taken(
  session: Session,
  side: 'transmitter' | 'receiver',
  design: Design,
  missingArea: number,
  reading: CoilReading | null,
  take: TakeTrace,
): TemplateResult {
  const failure = session.pair.coilSizesFailure.value;
  return html`${
    missingArea > 0.005
      ? html`<p>
          If the wire runs round between the points, ${(100 * missingArea).toFixed(1)} % of the area is left out: more points
          in the bends.
        </p>`
      : nothing
  }
    <button
      type="button"
      class="do"
      ?disabled=${!reading}
      @click=${() => reading && take(design, reading)}
    >
      Take it over
    </button>
    <p class="soft">
      ${design[side].coil.turns} turns, the traced one outermost. Ferrite and metal behind the coil stay as they are.
      ${
        reading
          ? `What the picture leaves open, ${reading.inductanceTolerancePercent.toFixed(1)} % of the inductance, widens the bands.`
          : (failure ?? '')
      }
    </p>`;
}
