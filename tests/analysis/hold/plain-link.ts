/** The demo without ferrite and metal, whose link model needs no plates and is ready at once. */
import { linkContext } from '../../../src/analysis/link/link-context.ts';
import { assembleLinkModel, type LinkModel } from '../../../src/analysis/link/link-model.ts';
import { planModel } from '../../../src/analysis/link/model-plan.ts';
import type { Design } from '../../../src/design/types.ts';
import { demo } from './demo-design.ts';

/** Wakes easily and asks for little, so that the margin falls smoothly through the wanted value. */
export function plainLink(holding: Parameters<typeof demo>[0] = {}): { design: Design; model: LinkModel } {
  const base = demo(holding);
  const typical = base.demand.loads.find((load) => load.kind === 'typical') ?? base.demand.loads[0];
  const design: Design = {
    ...base,
    transmitter: { ...base.transmitter, ferrite: null, metal: null },
    receiver: { ...base.receiver, ferrite: null, metal: null, pickup: { ...base.receiver.pickup, wakeV: 1 } },
    demand: {
      ...base.demand,
      loads: [
        { ...typical, name: 'playing', kind: 'typical', currentA: 0.48, durationMs: 0, alongside: [], through: [] },
        { ...typical, name: 'start-up', kind: 'peak', currentA: 0.75, durationMs: 2, alongside: [], through: [] },
      ],
    },
  };
  const plan = planModel(design);
  return { design, model: assembleLinkModel(linkContext(design), plan.attitude, plan.domain, []) };
}
