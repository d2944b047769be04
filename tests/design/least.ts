import { parseDesign } from '../../src/design/resolve.ts';
import type { DesignDocument } from '../../src/design/schema.ts';
import type { Design } from '../../src/design/types.ts';
import { faultLine } from '../../src/numerics/errors.ts';

/** The design of a document that has no faults. */
export function resolved(document: unknown): { design: Design; defaultsTaken: string[] } {
  const result = parseDesign(document);
  if (!result.ok) throw new Error(result.faults.map(faultLine).join('\n'));
  return result;
}

export const wire = { kind: 'solid', diameterMm: 0.5 } as const;
const coil = {
  outline: { shape: 'circle', outerDiameterMm: 40, innerDiameterMm: 20 },
  turns: 10,
  conductor: wire,
} as const;

/** Nothing but what is required. */
export const LEAST: DesignDocument = {
  format: 'offcentre-design',
  version: 1,
  transmitter: { coil, drive: { supplyV: 5, seriesCapacitanceNf: 400 } },
  receiver: { coil, pickup: { seriesCapacitanceNf: 110, regulator: { outputV: 5 } } },
  placement: { gapMm: 4 },
  demand: { loads: [{ name: 'lamp', currentA: 0.2 }] },
};
