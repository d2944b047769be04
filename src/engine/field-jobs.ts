import { fieldLineSeeds, fieldLines } from '../analysis/pair/field-lines.ts';
import type { Design } from '../design/types.ts';

/** Jobs of the field lines. */
export const fieldJobs = {
  fieldSeeds: (a: { readonly design: Design }): Float64Array => fieldLineSeeds(a.design),
  fieldTrace: (a: { readonly design: Design; readonly seeds: Float64Array }): Float64Array[] =>
    fieldLines(a.design, a.seeds),
};
