import type { DesignDocument } from '../../design/schema.ts';
import type { LoadDocument } from '../../design/types.ts';
import type { Command } from '../command.ts';
import { withLoads, without } from './loads-of.ts';

export interface SetLoadKindArgs {
  readonly index: number;
  readonly kind: LoadDocument['kind'];
}

/** Changes what kind of load it is. Only a peak has a length, and nothing runs beside a peak that does not last. */
export const setLoadKind: Command<SetLoadKindArgs> = Object.freeze({
  name: 'set-load-kind',
  label: ({ kind }: SetLoadKindArgs) => `Change a load to ${kind}`,
  perform: (document: DesignDocument, { index, kind }: SetLoadKindArgs): DesignDocument => {
    const { loads } = document.demand;
    const name = loads[index]?.name;
    if (name === undefined || loads[index]?.kind === kind) return document;
    const changed = loads.map((load, i) => {
      if (i !== index) return kind === 'peak' ? without(load, name) : load;
      const { durationMs: _length, ...lasting } = load;
      return { ...(kind === 'peak' ? load : lasting), kind };
    });
    return withLoads(document, changed);
  },
});
