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

function wind(coil: CoilDocument, leadSide: -1 | 1, at: string): { winding: Winding } | { faults: FaultDetail[] } {
  try {
    return { winding: windCoil(coilSpecOf(coil, leadSide)) };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return {
      faults: error.faults.map((fault) => {
        const below = documentPath(coil, fault.path);
        return { ...fault, path: below === '' ? at : `${at}.${below}` };
      }),
    };
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
  const transmitter = wind(design.transmitter.coil, -1, 'transmitter.coil');
  const receiver = wind(design.receiver.coil, 1, 'receiver.coil');
  if ('faults' in transmitter || 'faults' in receiver) {
    throw new InputError(
      ...('faults' in transmitter ? transmitter.faults : []),
      ...('faults' in receiver ? receiver.faults : []),
    );
  }
  const plates = (side: { ferrite: Design['transmitter']['ferrite']; metal: Design['transmitter']['metal'] }) => ({
    ferrite: ferriteOf(side.ferrite),
    metal: metalOf(side.metal),
  });
  return {
    transmitter: { winding: transmitter.winding, ...plates(design.transmitter) },
    receiver: { winding: receiver.winding, ...plates(design.receiver) },
  };
}

/** Why the coils of a design cannot be wound; empty where they can. */
export function windingFaults(design: Design): FaultDetail[] {
  try {
    linkSidesOf(design);
    return [];
  } catch (error) {
    if (error instanceof InputError) return [...error.faults];
    throw error;
  }
}
