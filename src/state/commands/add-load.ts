import type { DesignDocument } from '../../design/schema.ts';
import type { Command } from '../command.ts';
import { withLoads } from './loads-of.ts';

/** Puts one more load at the end, under a name that no other has: a tenth of an ampere to begin with. */
export const addLoad: Command<Record<string, never>> = Object.freeze({
  name: 'add-load',
  label: () => 'Add a load',
  perform: (document: DesignDocument): DesignDocument => {
    const { loads } = document.demand;
    let n = loads.length + 1;
    while (loads.some((load) => load.name === `load ${n}`)) n += 1;
    return withLoads(document, [...loads, { name: `load ${n}`, kind: 'typical', currentA: 0.1 }]);
  },
});
