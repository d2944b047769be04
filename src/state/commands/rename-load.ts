import type { DesignDocument } from '../../design/schema.ts';
import type { Command } from '../command.ts';
import { withLoads } from './loads-of.ts';

export interface RenameLoadArgs {
  readonly index: number;
  readonly name: string;
}

/** Gives a load another name, also where others run beside it. */
export const renameLoad: Command<RenameLoadArgs> = Object.freeze({
  name: 'rename-load',
  label: ({ name }: RenameLoadArgs) => `Rename a load to ${name}`,
  perform: (document: DesignDocument, { index, name }: RenameLoadArgs): DesignDocument => {
    const { loads } = document.demand;
    const before = loads[index]?.name;
    if (before === undefined || before === name) return document;
    const renamed = loads.map((load, i) => {
      const alongside = load.alongside?.map((other) => (other === before ? name : other));
      return { ...load, ...(alongside ? { alongside } : {}), ...(i === index ? { name } : {}) };
    });
    return withLoads(document, renamed);
  },
});
