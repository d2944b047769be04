import { demandOf } from '../design/demand.ts';
import type { Design } from '../design/types.ts';

/**
 * What each question depends on, as text: two designs with equal keys have equal answers, so a change of title or of a
 * reading recomputes nothing, and a move of the receiver leaves the map alone.
 */
export function poseKey(design: Design): string {
  const { transmitter, receiver, placement, stack } = design;
  const { ambientC, wantedMarginPercent, loads } = design.demand;
  // Of the loads only what they ask of the receiver: a change behind it, such as the hours on the dock, asks nothing anew.
  const demand = { ambientC, wantedMarginPercent, asked: demandOf(design), charging: namesOf(loads) };
  const assumed = (design.assumed ?? []).filter((path) => !path.startsWith('demand.'));
  return JSON.stringify({ transmitter, receiver, placement, stack, demand, assumed });
}

function namesOf(loads: Design['demand']['loads']): string[] {
  return loads.filter((load) => load.kind === 'charging').map((load) => load.name);
}

/** What a picture of the field depends on: both coils with their plates, and where the receiver lies. */
export function linkKeyOf(design: Design): string {
  const { transmitter, receiver, placement } = design;
  const { coil: coil1, ferrite: ferrite1, metal: metal1 } = transmitter;
  const { coil: coil2, ferrite: ferrite2, metal: metal2 } = receiver;
  return JSON.stringify([coil1, ferrite1, metal1, coil2, ferrite2, metal2, placement]);
}

export function mapKey(design: Design, spanMm: number): string {
  const { offsetXMm: _x, offsetYMm: _y, ...placement } = design.placement;
  return `${spanMm}|${poseKey({ ...design, placement: { ...placement, offsetXMm: 0, offsetYMm: 0 } })}`;
}
