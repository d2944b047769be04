import { type Demand, demandOf } from '../design/demand.ts';
import { parseDesign } from '../design/resolve.ts';
import type { DesignDocument } from '../design/schema.ts';
import { coilSpecOf } from '../design/to-si.ts';
import type { Design } from '../design/types.ts';
import { type FaultDetail, InputError } from '../numerics/errors.ts';
import type { Winding } from '../physics/coil/types.ts';
import { windCoil } from '../physics/coil/winding.ts';

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

type WindingResult = { readonly winding: Winding } | { readonly faults: readonly FaultDetail[] };

/** Windings of coils already seen: a drag of the offset winds nothing again. */
const wound = new Map<string, WindingResult>();

function wind(design: Design, side: 'transmitter' | 'receiver'): WindingResult {
  const spec = coilSpecOf(design[side].coil, side === 'transmitter' ? -1 : 1);
  const key = JSON.stringify(spec, (_, value) => (value instanceof Float64Array ? Array.from(value) : value));
  const known = wound.get(key);
  if (known) return known;
  let result: WindingResult;
  try {
    result = { winding: windCoil(spec) };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    result = { faults: error.faults };
  }
  if (wound.size > 32) wound.clear();
  wound.set(key, result);
  return result;
}

function placed(result: WindingResult, side: string): FaultDetail[] {
  if ('winding' in result) return [];
  return result.faults.map((fault) => ({
    ...fault,
    path: `${side}.coil${fault.path === '' ? '' : `.${fault.path}`}`,
  }));
}

/** Reads a document as the command line would, and winds its coils: a design, or everything that is wrong with it. */
export function resolveDocument(document: DesignDocument): Resolution {
  const parsed = parseDesign(document);
  if (!parsed.ok) return { ok: false, faults: parsed.faults };
  const transmitter = wind(parsed.design, 'transmitter');
  const receiver = wind(parsed.design, 'receiver');
  if (!('winding' in transmitter) || !('winding' in receiver)) {
    return { ok: false, faults: [...placed(transmitter, 'transmitter'), ...placed(receiver, 'receiver')] };
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
