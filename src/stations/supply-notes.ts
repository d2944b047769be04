import { html, nothing, type TemplateResult } from 'lit';
import type { PoseAnswer } from '../analysis/types.ts';
import '../parts/oc-note.ts';
import { formatQuantity } from '../units/format.ts';
import { unbroken } from './supply-table.ts';

const NBSP = '\u00a0';

/**
 * What stands beside the numbers of an operating point: its state in words, resonant voltages with their caution, the supply's
 * part, the method, and what must be known (several operating points, touch, protocol stops that are not modelled).
 */
export function operatingNotes(pose: PoseAnswer | null): TemplateResult | typeof nothing {
  if (!pose) return nothing;
  const { operatingPoint: point, margin, notes } = pose;
  const volts = (value: number): string => formatQuantity(value, 'V', { space: NBSP, digits: 2 });
  const resonant = `Resonant voltages: transmitter ${volts(Math.max(point.transmitterCapacitorVPeak, point.transmitterCoilVPeak))}, receiver ${volts(Math.max(point.receiverCapacitorVPeak, point.receiverCoilVPeak))} peak at most.`;
  return html`<p class="said">
      ${unbroken(point.sentence)} ${resonant} ${unbroken(margin.supply.sentence)} Solved by ${point.methodWords}.
    </p>
    ${notes.map((note) => html`<p class="said">${unbroken(note)}</p>`)}
    ${
      point.highVoltage
        ? html`<oc-note
            >More than 50${NBSP}V peak stands on a series capacitor or coil. Do not touch it in operation; choose parts
            rated well above it.</oc-note
          >`
        : nothing
    }`;
}
