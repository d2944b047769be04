import type { FaultDetail } from '../numerics/errors.ts';
import { dividerOutputV } from './divider-output.ts';
import type { BoostDocument, CellDocument, Design } from './types.ts';

/** How far a stated output voltage may be from what its divider sets, relative. */
const OUTPUT_AGREEMENT = 0.01;

function conflict(path: string, required: string, received: string, hint?: string): FaultDetail {
  return { code: 'conflict', path, required, received, ...(hint === undefined ? {} : { hint }) };
}

function boostFaults(path: string, step: BoostDocument): FaultDetail[] {
  const at = `${path}.outputV`;
  if (Number.isNaN(step.outputV)) {
    const required = 'a number from 0.5 to 60 V, or a feedback divider that sets it';
    return [{ code: 'missing', path: at, required, received: 'nothing' }];
  }
  if (step.feedback === null) return [];
  const set = dividerOutputV(step.feedback);
  const text = `${Number(set.toPrecision(5))} V`;
  if (set < 0.5 || set > 60) {
    return [conflict(`${path}.feedback`, 'a divider that sets 0.5 to 60 V', text)];
  }
  if (Math.abs(step.outputV / set - 1) <= OUTPUT_AGREEMENT) return [];
  const hint = 'Leave outputV out, or change the divider.';
  return [conflict(at, `what the feedback divider sets, ${text}, within 1 %`, `${step.outputV} V`, hint)];
}

function cellFaults(path: string, cell: CellDocument): FaultDetail[] {
  const faults: FaultDetail[] = [];
  if (cell.emptyV >= cell.chargeVoltageV) {
    faults.push(conflict(`${path}.emptyV`, `less than chargeVoltageV (${cell.chargeVoltageV} V)`, `${cell.emptyV} V`));
  }
  const points = cell.restV;
  if (points.length === 0) return faults;
  const first = points[0][0];
  const last = points[points.length - 1][0];
  if (points.length < 2 || first !== 0 || last !== 1) {
    const received = `${points.length} from ${first} to ${last}`;
    faults.push(conflict(`${path}.restV`, 'at least two pairs, the first at charge 0, the last at 1', received));
  }
  for (let i = 1; i < points.length; i++) {
    const [charge, volts] = points[i];
    if (charge <= points[i - 1][0]) {
      faults.push(conflict(`${path}.restV[${i}][0]`, `more than ${points[i - 1][0]}, the charge before`, `${charge}`));
    }
    if (volts < points[i - 1][1]) {
      const required = `at least ${points[i - 1][1]} V: the voltage at rest does not fall with charge`;
      faults.push(conflict(`${path}.restV[${i}][1]`, required, `${volts} V`));
    }
  }
  const full = points[points.length - 1][1];
  if (full > cell.chargeVoltageV) {
    const required = `at most chargeVoltageV (${cell.chargeVoltageV} V)`;
    faults.push(conflict(`${path}.restV[${points.length - 1}][1]`, required, `${full} V`));
  }
  return faults;
}

/** Faults within the chains of the loads, docked and away. */
export function chainFaults(design: Design): FaultDetail[] {
  const docked = design.demand.loads.flatMap((load, i) =>
    load.through.flatMap((step, j) => {
      const path = `demand.loads[${i}].through[${j}]`;
      if (step.kind === 'boost') return boostFaults(path, step);
      return step.kind === 'cell' ? cellFaults(path, step) : [];
    }),
  );
  const away = design.demand.away.through.flatMap((step, j) => boostFaults(`demand.away.through[${j}]`, step));
  return [...docked, ...away];
}
