import type { TemplateResult } from 'lit';
import { setValue } from '../state/commands/set-value.ts';
import type { Session } from '../state/session.ts';
import { type DimensionSpec, dimension } from './dimension.ts';

/** A number of the chain, edited where it stands: the value goes to its path as typed. */
export function pathField(
  session: Session,
  spec: Omit<DimensionSpec, 'commit'> & { readonly what: string },
): TemplateResult {
  const { what, ...rest } = spec;
  return dimension(session, {
    ...rest,
    commit: (value) => session.store.run(setValue, { path: spec.path, value, what }),
  });
}
