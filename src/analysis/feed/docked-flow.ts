import { currentAtOutput } from '../../design/demand.ts';
import type { BoostDocument, Design, LoadDocument } from '../../design/types.ts';
import type { OperatingAnswer } from '../types.ts';
import { boostPoint } from './boost.ts';
import { chargerPoint } from './charger.ts';
import type { FlowLoss, FlowNode } from './flow.ts';

const lost = (id: string, name: string, watts: number, where: string): FlowLoss => ({ id, name, watts, where });

/**
 * The energy flow on the dock: from the supply through both boards to the loads that run at the same time, each through its
 * own chain. What the operating point delivers is shared among the loads as they ask.
 *
 * Accuracy: every stretch balances to 1e-9 of the supply's power (property test); the operating point itself to 1e-6.
 */
export function dockedFlow(design: Design, names: readonly string[], point: OperatingAnswer): FlowNode {
  const { losses } = point;
  const outputW = point.outputV * point.outputA;
  const loads = design.demand.loads.filter((load) => names.includes(load.name));
  const outputV = design.receiver.pickup.regulator.outputV;
  const asked = loads.map((load) => currentAtOutput(load, outputV));
  const sum = asked.reduce((total, amperes) => total + amperes, 0);
  const ends = loads.flatMap((load, i) => {
    const watts = sum > 0 && Number.isFinite(sum) ? (outputW * asked[i]) / sum : 0;
    return watts > 0 ? [loadNode(load, watts, outputV, point.cellC)] : [];
  });
  const steps: { id: string; name: string; side: FlowNode['side']; losses: FlowLoss[] }[] = [
    {
      id: 'supply',
      name: 'supply',
      side: 'transmitter',
      losses: [lost('loss:cable', 'cable and connectors', losses.supply, 'in the supply lead and its plugs')],
    },
    {
      id: 'transmitterBoard',
      name: 'transmitter board',
      side: 'transmitter',
      losses: [
        lost('loss:bridge', 'bridge', losses.bridge, 'in the switches on the transmitter board'),
        lost(
          'loss:transmitterIdle',
          'board itself',
          losses.transmitterIdle,
          'in the control parts of the transmitter board',
        ),
      ],
    },
    {
      id: 'transmitterCoil',
      name: 'transmitter coil',
      side: 'transmitter',
      losses: [
        lost(
          'loss:transmitterCoil',
          'transmitter coil',
          losses.transmitterCoil,
          'in the coil under the shelf, its ferrite and capacitor',
        ),
      ],
    },
    {
      id: 'receiverCoil',
      name: 'receiver coil',
      side: 'receiver',
      losses: [
        lost(
          'loss:receiverCoil',
          'receiver coil',
          losses.receiverCoil,
          'in the device: coil, ferrite and the metal behind it',
        ),
      ],
    },
    {
      id: 'rectifier',
      name: 'rectifier',
      side: 'receiver',
      losses: [lost('loss:rectifier', 'rectifier', losses.rectifier, 'on the receiver board')],
    },
    {
      id: 'regulator',
      name: 'regulator',
      side: 'receiver',
      losses: [lost('loss:regulator', 'regulator', losses.regulator, 'on the receiver board')],
    },
  ];
  let next = ends;
  let watts = ends.reduce((total, node) => total + node.watts, 0);
  if (ends.length === 0) {
    next = [{ id: 'output', name: 'output', side: 'receiver', watts: outputW, losses: [], next: [] }];
    watts = outputW;
  }
  for (const step of steps.toReversed()) {
    watts += step.losses.reduce((total, loss) => total + loss.watts, 0);
    next = [{ ...step, watts, next }];
  }
  return next[0];
}

/** What one load does with its power, chain by chain. */
function loadNode(load: LoadDocument, watts: number, outputV: number, cellC: number): FlowNode {
  return chainNode(load, 0, watts, outputV, cellC);
}

function chainNode(load: LoadDocument, at: number, watts: number, feedV: number, cellC: number): FlowNode {
  const step = load.through[at];
  const id = `${load.name}/${at}`;
  if (step === undefined) return { id, name: load.name, side: 'device', watts, losses: [], next: [] };
  if (step.kind === 'charger') {
    const after = load.through[at + 1];
    if (after?.kind !== 'cell') {
      const onW = step.topology === 'switching' ? watts * step.efficiency : (watts * Math.min(load.atV, feedV)) / feedV;
      const heat = lost(`${id}/heat`, 'charger', watts - onW, 'in the charger');
      return {
        id,
        name: 'charger',
        side: 'device',
        watts,
        losses: [heat],
        next: [chainNode(load, at + 1, onW, load.atV, cellC)],
      };
    }
    const chargeV = after.voltageV;
    // Terminal voltage that goes with the power: V = E + R I, with I V (or I Vin) = power.
    const currentA =
      step.topology === 'linear'
        ? watts / feedV
        : (2 * watts * step.efficiency) /
          (chargeV + Math.sqrt(chargeV * chargeV + 4 * after.resistanceOhm * watts * step.efficiency));
    const cellV = chargeV + after.resistanceOhm * currentA;
    const heatW = step.topology === 'linear' ? watts - currentA * cellV : watts * (1 - step.efficiency);
    const warm = after.resistanceOhm * currentA * currentA;
    const point = chargerPoint(step, currentA, feedV, cellV, cellC);
    const where = `in the charger, which settles near ${Math.round(point.temperatureC)} °C`;
    const stored: FlowNode = {
      id: `${load.name}/cell`,
      name: 'cell',
      side: 'device',
      watts: watts - heatW,
      losses: [lost(`${load.name}/cell/heat`, 'cell', warm, "in the cell's own resistance")],
      next: [
        {
          id: `${load.name}/stored`,
          name: 'into the cell',
          side: 'device',
          watts: watts - heatW - warm,
          losses: [],
          next: [],
        },
      ],
    };
    return {
      id,
      name: 'charger',
      side: 'device',
      watts,
      losses: [lost(`${id}/heat`, 'charger', heatW, where)],
      next: [stored],
    };
  }
  if (step.kind === 'boost') {
    // The converter's own current is taken in front of the source's resistance, as `currentAtOutput` does.
    const idleW = Math.min(watts, step.idleCurrentA * feedV);
    const inputA = (watts - idleW) / feedV;
    const sourceW = Math.min(watts - idleW, step.sourceResistanceOhm * inputA * inputA);
    const onW = (watts - sourceW - idleW) * step.efficiency;
    return {
      id,
      name: 'boost converter',
      side: 'device',
      watts,
      losses: [lost(`${id}/heat`, 'boost converter', watts - onW, 'in the boost converter and what leads to it')],
      next: [chainNode(load, at + 1, onW, step.outputV, cellC)],
    };
  }
  // A cell without a charger in front takes nothing.
  return { id, name: 'cell', side: 'device', watts, losses: [], next: [] };
}

/** The energy flow off the dock: from the cell through its converter to one load; null where the converter collapses. */
export function awayFlow(
  load: LoadDocument,
  cellV: number,
  cellOhm: number,
  boost: BoostDocument | null,
): FlowNode | null {
  const watts = load.currentA * load.atV;
  const point = boostPoint(cellV, cellOhm, watts, boost?.efficiency ?? 1);
  if (point.collapsed) return null;
  const idle = boost?.idleCurrentA ?? 0;
  const cellA = point.inputA + idle;
  const sourceW = cellOhm * cellA * cellA;
  const inW = cellV * cellA - sourceW;
  const used: FlowNode = { id: `${load.name}/away`, name: load.name, side: 'device', watts, losses: [], next: [] };
  const converter: FlowNode = {
    id: 'boost',
    name: 'boost converter',
    side: 'device',
    watts: inW,
    losses: [lost('boost/heat', 'boost converter', inW - watts, 'in the boost converter')],
    next: [used],
  };
  return {
    id: 'cell',
    name: 'cell',
    side: 'device',
    watts: cellV * cellA,
    losses: [lost('cell/heat', 'cell', sourceW, "in the cell's own resistance")],
    next: [boost === null ? { ...used, watts: inW } : converter],
  };
}
