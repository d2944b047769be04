import type { Design, LoadDocument } from './types.ts';

/** A peak as the receiver's output sees it, with what runs alongside. */
interface PeakDemand {
  readonly name: string;
  readonly currentA: number;
  readonly durationMs: number;
}

export interface Demand {
  /** The worst continuous combination, at the receiver's output, A. */
  readonly demandA: number;
  /** The loads that make it up. */
  readonly demandNames: readonly string[];
  readonly peaks: readonly PeakDemand[];
  /** The smallest idle load, A; 0 where none is named. */
  readonly idleA: number;
}

/**
 * Current a boost converter draws from a source of open voltage `sourceV` behind `resistanceOhm`, A; Infinity where the
 * source cannot give the power. Source: power balance of source and converter, (E - R I) I = P / efficiency.
 */
export function boostInputA(sourceV: number, resistanceOhm: number, powerW: number): number {
  if (resistanceOhm === 0) return powerW / sourceV;
  const root = sourceV * sourceV - 4 * resistanceOhm * powerW;
  return root < 0 ? Number.POSITIVE_INFINITY : (2 * powerW) / (sourceV + Math.sqrt(root));
}

/**
 * Current that a load draws from the receiver's output, A.
 *
 * The chain is walked from the load back to the receiver. A linear charger passes its current on; a switching charger
 * and a boost converter pass power on over their efficiency; a cell carries what is behind it, so that the receiver sees
 * the charger in front of it at its set current (nothing, where no charger stands there). A load at another voltage than
 * the output's without a chain is taken at equal power. Infinity where a converter cannot draw its power.
 */
export function currentAtOutput(load: LoadDocument, outputV: number): number {
  let current = load.currentA;
  let voltage = load.atV;
  for (let i = load.through.length - 1; i >= 0; i--) {
    const step = load.through[i];
    const before = load.through[i - 1];
    const feed = before?.kind === 'cell' ? before.voltageV : before?.kind === 'boost' ? before.outputV : outputV;
    if (step.kind === 'boost') {
      current = boostInputA(feed, step.sourceResistanceOhm, (current * voltage) / step.efficiency) + step.idleCurrentA;
    } else if (step.kind === 'cell') {
      if (before?.kind !== 'charger') return 0;
      current = Number.POSITIVE_INFINITY;
      voltage = step.chargeVoltageV;
      continue;
    } else {
      current = Math.min(current, step.setCurrentA);
      if (step.topology === 'switching') current = (current * voltage) / (step.efficiency * feed);
    }
    voltage = feed;
  }
  return load.through.length === 0 ? (current * voltage) / outputV : current;
}

/** What the device asks of the receiver: worst continuous combination, each peak, idle. */
export function demandOf(design: Design): Demand {
  const outputV = design.receiver.pickup.regulator.outputV;
  const loads = design.demand.loads;
  const current = new Map(loads.map((load) => [load.name, currentAtOutput(load, outputV)]));
  const together = (load: LoadDocument) => {
    const names = [...new Set([load.name, ...load.alongside])];
    return { names, sum: names.reduce((total, name) => total + (current.get(name) ?? 0), 0) };
  };
  let worst: { names: string[]; sum: number } = { names: [], sum: 0 };
  for (const load of loads.filter((candidate) => candidate.kind !== 'peak')) {
    const candidate = together(load);
    if (candidate.sum > worst.sum || worst.names.length === 0) worst = candidate;
  }
  const idle = loads.filter((load) => load.kind === 'idle').map((load) => current.get(load.name) ?? 0);
  return {
    demandA: worst.sum,
    demandNames: worst.names,
    peaks: loads
      .filter((load) => load.kind === 'peak')
      .map((load) => ({ name: load.name, currentA: together(load).sum, durationMs: load.durationMs })),
    idleA: idle.length === 0 ? 0 : Math.min(...idle),
  };
}
