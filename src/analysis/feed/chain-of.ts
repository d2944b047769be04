import { currentAtOutput, demandOf } from '../../design/demand.ts';
import type { BoostDocument, CellDocument, ChargerDocument, Design, LoadDocument } from '../../design/types.ts';

/** The parts behind the receiver that the design names, with their paths. */
export interface Chain {
  readonly charger: ChargerDocument | null;
  readonly cell: CellDocument | null;
  /** Between cell and loads off the dock: the design's, or what stands behind the cell in a load's own chain. */
  readonly boost: BoostDocument | null;
  readonly chargerPath: string;
  readonly cellPath: string;
  readonly boostPath: string;
  /** What the loads that run beside the charging draw from the output, A. */
  readonly systemA: number;
  /** The loads that run away from the dock. */
  readonly awayLoads: readonly LoadDocument[];
}

/** Finds charger, cell and converter in a design. The first of each counts. */
export function chainOf(design: Design): Chain {
  const { loads, away } = design.demand;
  let charger: ChargerDocument | null = null;
  let cell: CellDocument | null = null;
  let boost: BoostDocument | null = away.through[0] ?? null;
  let chargerPath = '';
  let cellPath = '';
  let boostPath = boost === null ? '' : 'demand.away.through[0]';
  loads.forEach((load, i) => {
    load.through.forEach((step, j) => {
      const path = `demand.loads[${i}].through[${j}]`;
      if (step.kind === 'cell' && cell === null) {
        cell = step;
        cellPath = path;
        const before = load.through[j - 1];
        if (before?.kind === 'charger') {
          charger = before;
          chargerPath = `demand.loads[${i}].through[${j - 1}]`;
        }
      }
      if (step.kind === 'boost' && boost === null) {
        boost = step;
        boostPath = path;
      }
    });
  });
  const outputV = design.receiver.pickup.regulator.outputV;
  const { demandNames } = demandOf(design);
  const systemA = loads
    .filter((load) => demandNames.includes(load.name) && load.kind !== 'charging' && !load.through.some(isCell))
    .reduce((sum, load) => sum + currentAtOutput(load, outputV), 0);
  const awayLoads = loads.filter((load) => load.kind !== 'peak' && load.kind !== 'charging');
  return { charger, cell, boost, chargerPath, cellPath, boostPath, systemA, awayLoads };
}

function isCell(step: { readonly kind: string }): boolean {
  return step.kind === 'cell';
}
