import { type Demand, demandOf } from '../design/demand.ts';
import { parseDesign } from '../design/resolve.ts';
import type { DesignDocument } from '../design/schema.ts';
import type { Design } from '../design/types.ts';
import { type WindResult, windSide } from '../design/wind.ts';
import type { FaultDetail } from '../numerics/errors.ts';
import type { Winding } from '../physics/coil/types.ts';

/** A design that holds together: every default filled in and both coils wound. */
export interface ResolvedDesign {
  readonly design: Design;
  readonly transmitter: Winding;
  readonly receiver: Winding;
  readonly demand: Demand;
  readonly defaultsTaken: readonly string[];
}

export type Resolution =
  | { readonly ok: true; readonly resolved: ResolvedDesign }
  | { readonly ok: false; readonly faults: readonly FaultDetail[] };

/** Windings of coils already seen: a drag of the offset winds nothing again. */
const wound = new Map<string, WindResult>();

function wind(design: Design, side: 'transmitter' | 'receiver'): WindResult {
  const key = `${side} ${JSON.stringify(design[side].coil)}`;
  const known = wound.get(key);
  if (known) return known;
  const result = windSide(design, side);
  if (wound.size > 32) wound.clear();
  wound.set(key, result);
  return result;
}

/** Reads a document as the command line would, and winds its coils: a design, or everything that is wrong with it. */
export function resolveDocument(document: DesignDocument): Resolution {
  const parsed = parseDesign(document);
  if (!parsed.ok) return { ok: false, faults: parsed.faults };
  const transmitter = wind(parsed.design, 'transmitter');
  const receiver = wind(parsed.design, 'receiver');
  if (!transmitter.ok || !receiver.ok) {
    return { ok: false, faults: [transmitter, receiver].flatMap((side) => (side.ok ? [] : side.faults)) };
  }
  return {
    ok: true,
    resolved: {
      design: parsed.design,
      transmitter: transmitter.winding,
      receiver: receiver.winding,
      demand: demandOf(parsed.design),
      defaultsTaken: parsed.defaultsTaken,
    },
  };
}
