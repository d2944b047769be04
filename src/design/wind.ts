import { type FaultDetail, InputError } from '../numerics/errors.ts';
import type { Winding } from '../physics/coil/types.ts';
import { windCoil } from '../physics/coil/winding.ts';
import type { LinkSide } from '../physics/field/types.ts';
import { formatPath, parsePath, valueAt } from './path.ts';
import { coilSpecOf, ferriteOf, metalOf } from './to-si.ts';
import type { CoilDocument, Design } from './types.ts';

/** A path inside a CoilSpec (`conductor.bundleDiameter`) as the document writes it (`conductor.bundleDiameterMm`). */
function documentPath(coil: CoilDocument, path: string): string {
  const parsed = parsePath(path);
  if (!parsed.ok) return path;
  const segments = parsed.segments;
  const last = segments[segments.length - 1];
  const millimetres = [...segments.slice(0, -1), `${last}Mm`];
  return formatPath(valueAt(coil, millimetres) === undefined ? segments : millimetres);
}

export type WindResult =
  | { readonly ok: true; readonly winding: Winding }
  | { readonly ok: false; readonly faults: readonly FaultDetail[] };

/** Winds one side's coil; faults carry the document's paths (`receiver.coil.conductor.bundleDiameterMm`). */
export function windSide(design: Design, side: 'transmitter' | 'receiver'): WindResult {
  const coil = design[side].coil;
  const at = `${side}.coil`;
  try {
    return { ok: true, winding: windCoil(coilSpecOf(coil, side === 'transmitter' ? -1 : 1)) };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const faults = error.faults.map((fault) => {
      const below = documentPath(coil, fault.path);
      return { ...fault, path: below === '' ? at : `${at}.${below}` };
    });
    return { ok: false, faults };
  }
}

/** Both sides of the link as the field model takes them. */
export interface LinkSides {
  readonly transmitter: LinkSide;
  readonly receiver: LinkSide;
}

/**
 * Winds both coils and puts their plates beside them.
 *
 * @throws InputError with the document's paths where a coil cannot be wound; both coils' faults at once.
 */
export function linkSidesOf(design: Design): LinkSides {
  const transmitter = windSide(design, 'transmitter');
  const receiver = windSide(design, 'receiver');
  if (!transmitter.ok || !receiver.ok) {
    throw new InputError(...(transmitter.ok ? [] : transmitter.faults), ...(receiver.ok ? [] : receiver.faults));
  }
  const plates = (side: 'transmitter' | 'receiver') => ({
    ferrite: ferriteOf(design[side].ferrite),
    metal: metalOf(design[side].metal),
  });
  return {
    transmitter: { winding: transmitter.winding, ...plates('transmitter') },
    receiver: { winding: receiver.winding, ...plates('receiver') },
  };
}

/** Why the coils of a design cannot be wound; empty where they can. */
export function windingFaults(design: Design): FaultDetail[] {
  return (['transmitter', 'receiver'] as const).flatMap((side) => {
    const wound = windSide(design, side);
    return wound.ok ? [] : [...wound.faults];
  });
}
